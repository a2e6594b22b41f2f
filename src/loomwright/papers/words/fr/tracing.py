"""Phrases du document qui montre d'où vient une valeur."""

from collections.abc import Mapping
from types import MappingProxyType

TITLE = "D'où vient une valeur"
SUBTITLE = "{id}"
BAND = "Le multimètre est sur {node} et montre de {low} à {high}, {nominal} avec chaque valeur en son milieu."
KIND: Mapping[str, str] = MappingProxyType({
    "fed": "C'est par ce chemin qu'arrive le plus de courant, de la source au point :",
    "held": "Aucun courant n'arrive. Ce chemin tient le point à la borne négative de la batterie :",
})
NOT_HELD = "Aucun courant n'arrive, et rien ne tient le point : un multimètre peut montrer n'importe quoi."
HEAD = ("Élément", "Ce que c'est", "De", "À", "Chute", "Courant", "Écrit dans")
NO_DOCUMENT = "règle du programme"
