
"""Plug faces and the map of the footwell."""

NEVER_PINS = "Never touch {pins}: airbag."
MAP_CAPTION = "Where it is: {place}"
MAP_WORDS = "The dash seen from the driver's footwell. {place}: {words}"
