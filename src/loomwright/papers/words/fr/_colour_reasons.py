"""Pourquoi l'on prendrait une couleur pour une autre."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["COLOUR_REASONS"]

COLOUR_REASONS: Mapping[str, str] = MappingProxyType({
    "both are {colour}": "même couleur de fond ({colour})",
    "two shades of {colour}": "deux teintes de {colour}",
    "{base}, and a stripe may face away": "{base}, et un liseré peut être tourné de l'autre côté",
    "of the stripes, {stripe}": "pour les liserés, {stripe}",
    "both stripes are {colour}": "même liseré ({colour})",
    "{base}, and {stripes}": "{base}, et {stripes}",
    "base and stripe are the other way round": "fond et liseré sont inversés",
    "the same colour": "la même couleur",
    "orange and red run together under a warm lamp": "l'orange et le rouge se confondent sous une lampe chaude",
    "a dirty orange looks brown": "un orange sale paraît brun",
    "a faded orange looks yellow": "un orange passé paraît jaune",
    "a faded orange looks pink": "un orange passé paraît rose",
    "a dark red looks brown": "un rouge foncé paraît brun",
    "brown looks black in the shade": "le brun paraît noir dans l'ombre",
    "gold looks like a light brown": "l'or ressemble à un brun clair",
    "dark blue looks black in the shade": "le bleu foncé paraît noir dans l'ombre",
    "violet looks black in the shade": "le violet paraît noir dans l'ombre",
    "dark green looks black in the shade": "le vert foncé paraît noir dans l'ombre",
    "blue and violet run together under a warm lamp": "le bleu et le violet se confondent sous une lampe chaude",
    "turquoise is taken for blue": "on prend le turquoise pour du bleu",
    "turquoise is taken for green": "on prend le turquoise pour du vert",
    "dark green and dark blue run together in the shade": "le vert foncé et le bleu foncé se confondent dans l'ombre",
    "a faded violet looks pink": "un violet passé paraît rose",
    "a faded red looks pink": "un rouge passé paraît rose",
    "yellow looks white under a warm lamp": "le jaune paraît blanc sous une lampe chaude",
    "gold is taken for yellow": "on prend l'or pour du jaune",
    "a dirty white looks grey": "un blanc sale paraît gris",
    "grey and silver cannot be told apart": "on ne distingue pas le gris de l'argent",
    "silver is taken for white": "on prend l'argent pour du blanc",
    "the yellow half may face away": "la moitié jaune peut être tournée de l'autre côté",
    "the green half may face away": "la moitié verte peut être tournée de l'autre côté",
    "tan looks like a dirty white": "le beige foncé ressemble à un blanc sale",
    "tan looks like a dirty yellow": "le beige foncé ressemble à un jaune sale",
    "tan and pink run together under a warm lamp": "le beige foncé et le rose se confondent sous une lampe chaude",
    "tan and grey run together in the shade": "le beige foncé et le gris se confondent dans l'ombre",
    "a light green looks yellow under a warm lamp": "un vert clair paraît jaune sous une lampe chaude",
    "a faded pink looks white": "un rose passé paraît blanc",
    "a light blue looks grey under a warm lamp": "un bleu clair paraît gris sous une lampe chaude",
    "a faded light blue looks white": "un bleu clair passé paraît blanc",
})
