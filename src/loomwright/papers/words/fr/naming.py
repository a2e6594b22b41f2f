# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Noms des choses : fonctions, positions de la clé, ce que font les gens, unités."""

from collections.abc import Mapping
from types import MappingProxyType

AND = "et"
CALL_LINE = "{shop} : {call}."
FOOTER = "Bloqué ? {shop} : {call}. Donnez le numéro de l'étape et les deux mesures."
OR = "ou"
DOCUMENTS_FORMAT = "format {number}"
PLACE = "{name} : {words}"
NO_ACCESS = "Rien à ouvrir."
OPENS_HERE = "Vous l'ouvrez à cette étape."
STILL_OPEN = "Encore ouvert."
OPEN_ALL = "Tout est encore ouvert."
OPEN_AGAIN = "Encore ouvert. Si vous l'aviez refermé pour une pause, rouvrez-le de la même façon."
BESIDE_CAR = "À côté de la voiture"
NO_STRIPE = "{colour}"
STRIPED = "{colour}/{stripe}"
LEAD = "{label}, {colour}"
PIN = "broche {pin}"
PIN_WIRE = "broche {pin}, {colour}"
PIN_WIRE_NAME = "broche {pin}, {colour} ({name})"
TERMINAL_SHORT = "{plug}/{pin} {function}"
FUNCTION_DIN = "{function} ({din})"
CABIN_PLACE = "Sur le siège du conducteur"
OUTSIDE_PLACE = "À côté de la voiture, en plein air"
HOOD_PLACE = "Près de la batterie"
UNDER_HOOD = "Sous le capot"
HOOD_WORDS = "Dans la plupart des voitures, elle est sous le capot. Si vous ne la trouvez pas, le manuel du propriétaire montre où elle est."
CONTROLLER_PLACE = "Au boîtier de commande"
CONTROLLER_WORDS = "Le boîtier du kit, {name}, et les connecteurs de son faisceau. Laissez-les pendre là où vous les voyez."
OPEN_HOOD = "Ouvrez le capot."
SIT_IN = "Asseyez-vous sur le siège du conducteur."
STAND_OUTSIDE = "Placez-vous là où vous voyez la voiture et où personne n'est près d'elle."

KEYED: Mapping[str, str] = MappingProxyType({
    "key_out": "clé retirée",
    "Key_out": "Clé retirée",
    "key_on": "contact mis",
    "Key_on": "Contact mis",
    "key_off": "contact coupé",
    "Key_acc": "Clé tournée d'un cran",
    "Key_back": "Ramenez la clé sur contact",
    "Key_away": "Retirez la clé et mettez-la dans votre poche",
    "its_key": "sa clé",
    "the_key": "la clé",
    "turns_key": "tourne la clé",
    "Turn_on": "Mettez le contact",
    "Start_engine": "Démarrez le moteur avec la clé",
    "Crank_try": "Tournez la clé sur démarrage pendant une seconde",
    "Stop_first": "",
    "Take_over": "Tournez la clé sur contact, sans aller jusqu'au démarrage, puis appuyez sur le frein",
})
START_GLOWN = "Contact mis, attendez que le témoin de préchauffage s'éteigne, puis démarrez le moteur avec la clé"
BUTTON: Mapping[str, str] = MappingProxyType({
    "key_out": "voiture arrêtée, clé dans votre poche",
    "Key_out": "Voiture arrêtée, clé dans votre poche",
    "key_on": "tableau de bord allumé",
    "Key_on": "Tableau de bord allumé",
    "key_off": "voiture arrêtée",
    "Key_acc": "Un appui sur le bouton de démarrage, sans toucher au frein",
    "Key_back": "Lâchez le frein, et appuyez sur le bouton de démarrage jusqu'à ce que le tableau de bord se rallume",
    "Key_away": "Arrêtez la voiture et éloignez-en bien toutes les clés",
    "its_key": "son propre bouton de démarrage",
    "the_key": "le bouton de démarrage",
    "turns_key": "appuie sur le bouton de démarrage",
    "Turn_on": "Appuyez deux fois sur le bouton de démarrage sans toucher au frein, jusqu'à ce que le tableau de bord s'allume",
    "Start_engine": "Démarrez le moteur avec le bouton de démarrage, pied sur le frein",
    "Crank_try": "Appuyez sur le frein, appuyez sur le bouton de démarrage pendant une seconde",
    "Stop_first": "Si le moteur tourne, arrêtez-le d'abord avec le bouton de démarrage : sans le kit, il continuerait de tourner. ",
    "Take_over": "La clé sur vous, appuyez sur le frein puis une fois sur le bouton de démarrage",
})
KEY_BUTTON: Mapping[str, str] = MappingProxyType({
    "out": "voiture arrêtée",
    "off": "voiture arrêtée",
    "in lock": "voiture arrêtée",
    "acc": "un appui sur le bouton, sans toucher au frein (accessoires)",
    "run": "deux appuis sur le bouton, sans toucher au frein (tableau de bord allumé, moteur arrêté)",
    "crank": "pied sur le frein, un aide appuie sur le bouton et le démarreur tourne",
    "any": "peu importe",
    "running": "moteur au ralenti, démarré par un aide avec le bouton",
})
KEY: Mapping[str, str] = MappingProxyType({
    "out": "clé retirée",
    "off": "clé retirée",
    "in lock": "clé dans le contacteur, pas tournée",
    "acc": "clé tournée d'un cran (accessoires)",
    "run": "contact mis, moteur arrêté",
    "crank": "clé tenue sur démarrage par un aide pendant deux secondes",
    "any": "clé dans n'importe quelle position",
    "running": "moteur au ralenti, démarré par un aide avec la clé",
})

HELD: tuple[tuple[float, str, str], ...] = (
    (2.0, "clé tenue sur démarrage par un aide pendant deux secondes", "Tournez la clé sur démarrage pendant une seconde"),
    (1.0, "clé tenue sur démarrage par un aide pendant une seconde, pas plus", "Tournez la clé sur démarrage pendant une seconde, pas plus"),
    (0.5, "clé tournée sur démarrage par un aide, qui la relâche aussitôt", "Tournez la clé sur démarrage et relâchez-la aussitôt"),
    (0.0, "clé tournée sur démarrage par un aide, un instant seulement", "Tournez la clé sur démarrage un instant seulement"),
)

SIGNAL: Mapping[str, str] = MappingProxyType({
    "DANGER": "DANGER",
    "WARNING": "AVERTISSEMENT",
    "CAUTION": "ATTENTION",
    "NOTICE": "AVIS",
})

DOING: Mapping[str, str] = MappingProxyType({
    "brake pressed": "pédale de frein appuyée par un aide",
    "hood open": "capot ouvert",
    "driver door open": "portière du conducteur ouverte",
    "passenger door open": "portière du passager ouverte, les autres fermées",
    "hatch open": "hayon ou coffre ouvert",
    "lamps on": "feux de position allumés",
    "hazards on": "feux de détresse allumés",
    "horn pressed": "avertisseur actionné un instant",
    "lock pressed": "bouton de verrouillage maintenu",
    "unlock pressed": "bouton de déverrouillage maintenu",
    "in park": "sélecteur hors de P, pied sur le frein",
    "parking brake set": "frein de stationnement serré",
    "key in lock": "clé dans le contacteur",
    "engine running": "moteur en marche, démarré avec la clé",
    "blower on": "ventilateur de chauffage en marche",
    "wipers on": "essuie-glaces en marche",
    "awake": "voiture en veille : verrouillée et laissée seule une demi-heure",
    "wait lamp lit": "pendant que le témoin de préchauffage est allumé",
    "window pressed": "un bouton de lève-vitre maintenu",
    "retained accessory": "contact tout juste coupé, portières encore fermées",
    "turn left on": "clignotant gauche en marche",
    "turn right on": "clignotant droit en marche",
    "start pressed": "bouton de démarrage maintenu, sans toucher au frein",
    "hatch pressed": "commande de hayon ou de coffre maintenue, portières déverrouillées",
    "key turned to lock": "un aide à l'extérieur tient la clé tournée sur verrouillage dans la portière fermée du conducteur",
    "key turned to unlock": "un aide à l'extérieur tient la clé tournée sur déverrouillage dans la portière fermée du conducteur",
})
AT_SWITCH: Mapping[str, str] = MappingProxyType({
    "lock pressed": "verrouillage maintenu : {switch}",
    "unlock pressed": "déverrouillage maintenu : {switch}",
})
AT_SWITCH_RESTING = "sans toucher à : {switch}"
RESTING: Mapping[str, str] = MappingProxyType({
    "brake pressed": "pédale de frein libre",
    "hood open": "capot fermé",
    "driver door open": "portière du conducteur fermée",
    "passenger door open": "portière du passager fermée",
    "lamps on": "feux éteints",
    "hazards on": "feux de détresse éteints",
    "horn pressed": "avertisseur au repos",
    "lock pressed": "bouton de verrouillage libre",
    "unlock pressed": "bouton de déverrouillage libre",
    "parking brake set": "frein de stationnement desserré, roues calées",
    "key in lock": "clé hors du contacteur",
    "hatch open": "hayon ou coffre fermé",
    "blower on": "ventilateur de chauffage arrêté",
    "wipers on": "essuie-glaces arrêtés",
    "window pressed": "boutons de lève-vitre libres",
    "turn left on": "clignotants arrêtés",
    "turn right on": "clignotants arrêtés",
    "retained accessory": "une portière ouverte depuis l'arrêt",
    "start pressed": "bouton de démarrage libre",
    "hatch pressed": "commande de hayon ou de coffre libre",
    "key turned to lock": "pas de clé dans la portière du conducteur",
    "key turned to unlock": "pas de clé dans la portière du conducteur",
})

HOW: Mapping[str, str] = MappingProxyType({
    "T tapped": "par le faisceau en T, en dérivation",
    "T interrupted": "par le faisceau en T, intercalé",
    "tap": "par piquage",
    "plug": "avec son propre connecteur",
    "cut in": "intercalé dans le fil",
    "bus": "par le bus de données",
    "setting": "par un réglage, sans fil",
    "added part": "par une pièce ajoutée",
    "none": "pas du tout",
})
JOINT: Mapping[str, str] = MappingProxyType({
    "T tapped": "dans le T",
    "T interrupted": "dans le T, intercalé dans le fil",
    "tap": "piquage sur le fil",
    "plug": "connecteur dans la prise libre",
    "cut in": "le fil est coupé, la pièce entre les bouts",
    "ground point": "cosse ronde sous un boulon",
    "added part": "sur la pièce ajoutée",
})
WHY_PLAIN: Mapping[str, str] = MappingProxyType({
    "only known from a sibling": "on ne le connaît que d'un modèle jumeau",
    "only known from another variant": "on ne le connaît que d'une voiture d'une autre version",
    "only read from the maker's diagram": "on l'a seulement lu dans le schéma du constructeur",
    "only reported by a buyer": "un acheteur l'a signalé, personne ne l'a mesuré",
})
STANDING: Mapping[str, str] = MappingProxyType({
    "proven": "prouvé",
    "unproven": "NON PROUVÉ",
    "contradicted": "RELEVÉS CONTRADICTOIRES",
})
SEVERITY: Mapping[str, str] = MappingProxyType({
    "stop": "ARRÊT",
    "fix": "à corriger",
    "note": "note",
})
STAGE: Mapping[str, str] = MappingProxyType({
    "bare": "la voiture d'origine",
    "fitting": "pendant le montage",
    "fitted": "le kit monté",
    "learned": "le kit monté, apprentissage fait",
    "kit dead": "le kit inactif ou débranché",
    "removed": "le kit déposé",
})
