
# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Plug faces and the map of the footwell."""

START_BESIDE = "Right beside it sits pin {pin}, {colour}, the start wire: a probe that bridges it to a live wire turns the starter. Keep off."
NEVER_BESIDE = "{pin} {where}"
NEVER_PINS = "Never touch {pins}: airbag."
MAP_CAPTION = "Where it is: {place}"
MAP_WORDS = "The dash seen from the driver's footwell. {place}: {words}"
