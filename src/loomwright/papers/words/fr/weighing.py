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
AS_WRITTEN = "{circuit} à {pin}, {standing}. Si ce fait ({fact}) était « {instead} » et non « {written} »,"
PLANNED: Mapping[str, str] = MappingProxyType({
    "stop": "le kit comme prévu nuirait ou ne marcherait pas ({codes})",
    "fix": "le kit comme prévu marcherait en partie ({codes})",
    "none": "le kit comme prévu marcherait quand même",
})
ROUTES = " ; un nouveau plan assure autrement ceci : {tasks}, et {verdict}."
REFUSED = "le kit ne doit pas être monté du tout. {reason}"
QUIET = " ; le plan reste comme il est et {verdict}."
VERDICTS: Mapping[str, str] = MappingProxyType({
    "fits": "convient",
    "fits-with-exceptions": "convient avec des exceptions",
    "does-not-fit": "ne convient pas",
})
METER = "Mesurez {pin} avec {state} : {written} comme écrit, {instead} sinon."
SPREAD = "{circuit} à {pin}, {standing}. Rien n'a besoin d'être faux : avec {instead} que sa tolérance permet,"
SPREAD_METER = "Mesurez ce qu'il consomme tout allumé, et notez-le dans le document avec une tolérance plus étroite."
KIT_AS_WRITTEN = "La borne {terminal} du kit, {standing} par son document. Si ce fait ({fact}) était « {instead} » et non « {written} »,"
KIT_METER = "Aucune mesure dans la voiture ne le dit : lisez la pièce ou les données de son fabricant, et corrigez le document du kit."
NO_METER = "Aucune tension ne le dit : lisez le fusible, l'étiquette ou le schéma."
NOBODY = "Faits qui ne déplacent ni le plan ni un verdict : {count}."
CAR_AS_WRITTEN = "La voiture entière, selon son document. Si ce fait ({fact}) était « {instead} » et non « {written} »,"
CAR_METER: Mapping[str, str] = MappingProxyType({
    "gearbox": "Comptez les pédales et regardez le levier de vitesses.",
    "park interlock": (
        "Dehors, roues calées, frein de stationnement serré, pied fermement sur le frein et personne devant ni derrière la "
        "voiture : levier sur R, puis sur D, la clé ne doit pas faire tourner le démarreur."
    ),
    "immobiliser": (
        "Essayez dans la serrure une clé simplement taillée, sans puce : avec une clé codée, le démarreur ne bouge pas, ou le "
        "moteur cale aussitôt. Le document du système de clé de la voiture en nomme le type."
    ),
    "alternator": (
        "Mesurez à la batterie après dix minutes de route, tout éteint : un alternateur simple tient à peu près toute sa "
        "tension de charge, un alternateur piloté peut l'avoir laissée tomber sous 13 V."
    ),
    "idle speed": "Lisez le régime du moteur chaud sur P, tout éteint.",
    "starter current": "Mettez une pince ampèremétrique autour du câble de batterie et lancez le moteur chaud.",
    "battery rating": "Lisez le courant de démarrage à froid sur l'étiquette de la batterie.",
})
