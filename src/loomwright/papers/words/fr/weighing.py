# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Phrases du document qui classe les faits des documents selon ce qui en dépend."""

from collections.abc import Mapping
from types import MappingProxyType

TITLE = "Que mesurer ensuite"
SUBTITLE = "{kit} dans la {car}"
INTRO = (
    "Chaque point est un fait des documents et ce qui arriverait s'il était autre. Celui qui compte le plus est en premier. "
    "Mesurez-le sur cette version et notez la mesure comme preuve. Là où un circuit peut changer le verdict sans qu'aucun "
    "fait soit faux, dans la tolérance qui lui est permise, il est avant tous les autres."
)
NOTHING = "Tout ce que le kit rencontre dans cette voiture est mesuré. Avec --all, les faits prouvés sont pesés aussi."
AS_WRITTEN = "{circuit} à {pin}, {standing}. Si ce fait ({fact}) était {instead} au lieu de {written},"
PLANNED: Mapping[str, str] = MappingProxyType({
    "stop": "le kit comme prévu nuirait ou ne marcherait pas ({codes})",
    "fix": "le kit comme prévu marcherait en partie ({codes})",
    "none": "le kit comme prévu marcherait quand même",
})
ROUTES = " ; un nouveau plan assure {tasks} autrement et {verdict}."
QUIET = " ; le plan reste comme il est et {verdict}."
VERDICTS: Mapping[str, str] = MappingProxyType({
    "fits": "convient",
    "fits-with-exceptions": "convient avec des exceptions",
    "does-not-fit": "ne convient pas",
})
METER = "Mesurez {pin} avec {state} : {written} comme écrit, {instead} sinon."
SPREAD = "{circuit} à {pin}, {standing}. Rien n'a besoin d'être faux : avec {instead} que sa tolérance permet,"
SPREAD_METER = "Mesurez ce qu'il consomme tout allumé, et notez-le dans le document avec une tolérance plus étroite."
KIT_AS_WRITTEN = "La borne {terminal} du kit, {standing} par son document. Si ce fait ({fact}) était {instead} au lieu de {written},"
KIT_METER = "Aucune mesure dans la voiture ne le dit : lisez la pièce ou les données de son fabricant, et corrigez le document du kit."
NO_METER = "Aucune tension ne le dit : lisez le fusible, l'étiquette ou le schéma."
NOBODY = "Faits qui ne déplacent ni le plan ni un verdict : {count}."
