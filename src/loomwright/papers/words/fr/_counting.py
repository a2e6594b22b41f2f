# ruff: noqa: E501 - a sentence on one line is easier to read and to correct
"""Trouver une broche : comment tenir le connecteur, comment compter, ce qu'il y a à côté, ce qu'on ne touche pas."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["COUNTING"]

_LINES = {"row": "rangée", "column": "colonne"}
_ENDS = {"top": "du haut", "bottom": "du bas", "left": "de gauche", "right": "de droite"}
_SIDES = {"top": "en haut", "bottom": "en bas", "left": "à gauche", "right": "à droite"}

COUNTING: Mapping[str, str] = MappingProxyType({
    "this pin": "cette broche",
    "these pins": "ces broches",
    "not this pin": "pas cette broche",
    "empty place": "place vide",
    "first": "première",
    "second": "deuxième",
    "third": "troisième",
    "place": "place",
    "count": "d'ici",
    "to {place}": "à {place}",
    "up": "vers le haut",
    "down": "vers le bas",
    "on the left": "à gauche",
    "on the right": "à droite",
    "on its left": "à sa gauche",
    "on its right": "à sa droite",
    "above it": "au-dessus",
    "below it": "au-dessous",
    "to the left": "vers la gauche",
    "to the right": "vers la droite",
    "beside it": "à côté",
    "1st": "1re",
    **{f"{{number}}{tail}": "{number}e" for tail in ("st", "nd", "rd", "th")},
    "Look at the side the wires go in, {mark} {edge}.": "Regardez le côté où entrent les fils, {mark} {edge}.",
    "Look into the open end, where the metal contacts show, {mark} {edge}.": "Regardez dans le bout ouvert, là où l'on voit les contacts de métal, {mark} {edge}.",
    "Seen from the wire side": "Vu du côté des fils",
    "Seen into the open end": "Vu par le bout ouvert",
    "{seen}, {mark} {edge}": "{seen}, {mark} {edge}",
    **{f"There is one {line}:": f"Il y a une seule {words} :" for line, words in _LINES.items()},
    **{f"{end} {line}": f"{words} {_ENDS[end]}" for line, words in _LINES.items() for end in _ENDS},
    **{
        f"{{nth}} {line} from the {end}": f"{{nth}} {words} en partant {_ENDS[end].replace('de gauche', 'de la gauche').replace('de droite', 'de la droite')}"
        for line, words in _LINES.items()
        for end in _ENDS
    },
    "{line}:": "{line} :",
    "{line}, next to the {mark}:": "{line}, près du {mark} :",
    "{line}, away from the {mark}:": "{line}, loin du {mark} :",
    "it is the only place there.": "c'est la seule place.",
    **{f"it is the first place at the {end.upper()} end.": f"c'est la première place, tout {_SIDES[end].upper()}." for end in _SIDES},
    **{
        f"count from the {end.upper()} end; it is the {{nth}} place of {{places}} ({{rule}}).": f"comptez en partant {words.replace('de gauche', 'de la gauche').replace('de droite', 'de la droite').upper()} ; c'est la {{nth}} place sur {{places}} ({{rule}})."
        for end, words in _ENDS.items()
    },
    "empty places count": "les places vides comptent",
    "empty places count; solid plastic without a hole does not": "les places vides comptent ; le plastique plein sans trou ne compte pas",
    "an empty place": "une place vide",
    "the {colour}": "le fil {colour}",
    "a {colour}": "un fil {colour}",
    "an {colour}": "un fil {colour}",
    **{
        f"the {{nth}} from the {first} of the {{alike}} {{colour}} wires of this {line}": f"le fil {{colour}} (la {{nth}} des {{alike}} places de cette couleur dans cette {words}, en partant {since})"
        for (line, words), first, since in zip(_LINES.items(), ("left", "top"), ("de la gauche", "du haut"), strict=True)
    },
    "The wire is {colour}.": "Le fil est {colour}.",
    "There is no wire in this place yet.": "Il n'y a pas encore de fil à cette place.",
    "It sits between {first}, {before}, and {second}, {after}.": "Il se trouve entre {first}, {before}, et {second}, {after}.",
    "The places {before} and {after} are empty.": "Les places {before} et {after} sont vides.",
    **{
        f"It is the last place at the {end} end, with {{neighbour}} {{where}}.": f"C'est la dernière place, tout {_SIDES[end]}, avec {{neighbour}} {{where}}."
        for end in _SIDES
    },
    **{f"It has no neighbour in its {line}.": f"Il n'a pas de voisin dans sa {words}." for line, words in _LINES.items()},
    **{f"Its {line} ends there.": f"Sa {words} s'arrête là." for line, words in _LINES.items()},
    "The same two sit beside another place of this plug as well, so count.": "Une autre place de ce connecteur a aussi ces deux voisins : comptez.",
    "From the {colour}, the only one in this plug, go {places} {way}.": "Depuis le fil {colour}, le seul de cette couleur dans ce connecteur, avancez de {places} {way}.",
    "1 place": "1 place",
    "{away} places": "{away} places",
    "The wire at pin {pins} looks much the same: go by the place, not by colour alone.": "Le fil de la broche {pins} lui ressemble beaucoup : fiez-vous à la place, pas à la seule couleur.",
    "The wires at pins {pins} look much the same: go by the place, not by colour alone.": "Les fils des broches {pins} lui ressemblent beaucoup : fiez-vous à la place, pas à la seule couleur.",
    "From here no wire shows its colour: go by the place alone.": "D'ici, aucun fil ne montre sa couleur : fiez-vous à la seule place.",
    "The place {where}, pin {pin}, is empty.": "La place {where}, broche {pin}, est vide.",
    "The place {where}, pin {pin}, has a contact; do not touch it.": "La place {where}, broche {pin}, a un contact ; n'y touchez pas.",
    "Do not touch pin {pin}, the {colour} {where}: {because}.": "Ne touchez pas la broche {pin}, le fil {colour} {where} : {because}.",
    "it is right next to it": "elle est juste à côté",
    **{f"{{where}} to the {side}": f"{{where}} vers la {words}" for side, words in (("left", "gauche"), ("right", "droite"))},
    "You end on pin {pin} if {cause}.": "Vous tombez sur la broche {pin} si {cause}.",
    "you are one place out": "vous vous trompez d'une place",
    "you count from the wrong end": "vous comptez par le mauvais bout",
    "you count in the wrong row": "vous comptez dans la mauvaise rangée",
    "you look at the other side of the plug": "vous regardez l'autre côté du connecteur",
    "you hold the plug upside down": "vous tenez le connecteur à l'envers",
    "you count only the places with wires": "vous ne comptez que les places avec des fils",
    "Pin {pin}: {colour}": "Broche {pin} : {colour}",
    "Not pin {pin}: {colour}": "Pas la broche {pin} : {colour}",
    "{pin}: {colour}": "{pin} : {colour}",
})
"""English sentence or pattern -> the same in French."""
