# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Faces des connecteurs et plan de la zone des pieds."""

START_BESIDE = "Juste à côté se trouve la broche {pin}, {colour}, le fil du démarreur : une pointe qui le relie à un fil sous tension fait tourner le démarreur. N'y touchez pas."
NEVER_BESIDE = "{pin} {where}"
NEVER_PINS = "N'y touchez jamais : {pins} (airbag)."
MAP_CAPTION = "Où c'est : {place}"
MAP_WORDS = "Le tableau de bord vu depuis la place des pieds du conducteur. {place} : {words}"
