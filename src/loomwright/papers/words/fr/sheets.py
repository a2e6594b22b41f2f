# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate

"""Le plan de câblage du monteur, la table des valeurs attendues, et le rapport d'un accord."""

from collections.abc import Mapping
from types import MappingProxyType

PLAN_TITLE = "Plan de câblage"
PLAN_SUBTITLE = "{kit}, révision {revision}, dans la {car}"
VERDICT: Mapping[str, str] = MappingProxyType({
    "fits": "Il convient. Rien n'a été trouvé qui doive être corrigé.",
    "fits-with-exceptions": "Il convient avec des exceptions. Lisez-les ci-dessous avant que le kit ne quitte l'établi.",
    "does-not-fit": "Il ne convient pas. N'expédiez pas ce kit pour cette voiture.",
})
HEAD_VERDICT = "Verdict"
VERDICT_COUNTS = "{stop} à ne pas laisser passer, {fix} à corriger, {note} à noter ; fonctions souhaitées non assurées : {unserved}."
VARIANT = "{ask} {value} : {cue}"
HEAD_VARIANT = "La voiture"
HEAD_ROUTES = "Chemins"
ROUTES_TABLE = ("Pour", "Fil de la voiture", "Jonction", "Fil du kit", "Broche du kit", "Entre", "État")
WIRELESS_TABLE = ("Pour", "Comment", "Par")
ROUTES_CAPTION = "Par connecteur et par lieu, dans l'ordre du montage. Le nombre entre parenthèses est celui de DIN 72552 ; les bornes d'un relais ont aussi ses nombres. Le porte-fusible d'un fil est à son extrémité côté voiture, à une largeur de main de la jonction ou du T : un fil est protégé par ce qui se trouve avant lui."
KIT_LEAD = "{label}, {colour}, {size}, {length}"
WIRE_END = "broche {pin}, {colour} : {name}"
JOINT_IN = "{joint} : {branch}"
FACTORY_FROM = "le signal de la voiture vient du {side}"
CAR_WIRE = "{colour} : {plug}, broche {pin} : {name}"
GROUND_END = "{words}"
ADDED_END = "{name} : {place}"
BUS_END = "module véhicule {name}, micrologiciel {firmware} {version}"
SETTING_END = "{name} : {value}"
NO_PART = "aucun"
PART = "{name} : {ends}"
THROUGH = " à travers {fuse}"
PART_ENDS: Mapping[str, Mapping[str, str]] = MappingProxyType({
    "positive": MappingProxyType({
        "relay boosts": "86 au fil du kit, 85 à {ground}, 30 à {feed}{through}, 87 au fil de la voiture",
        "relay grounds": "86 au fil du kit, 85 à {ground}, 30 à {ground}, 87 au fil de la voiture",
        "relay changes over": "86 au fil du kit, 85 à {ground}, 87 à {feed}{through}, 87a au bout du {side}, 30 à l'autre bout",
        "diode": "dans le fil du kit, bague vers le fil de la voiture",
        "diode cuts in": "du bout du {side} à l'autre bout, bague vers l'autre bout ; le fil du kit à l'autre bout",
        "resistor": "dans le fil du kit",
    }),
    "negative": MappingProxyType({
        "relay inverts": "85 au fil du kit, 86 à {feed}, 30 à {feed}{through}, 87 au fil de la voiture",
        "relay grounds": "85 au fil du kit, 86 à {feed}, 30 à {ground}, 87 au fil de la voiture",
        "relay changes over": "85 au fil du kit, 86 à {feed}, 87 à {feed}{through}, 87a au bout du {side}, 30 à l'autre bout",
        "diode": "dans le fil du kit, bague vers le kit",
        "diode cuts in": "du bout du {side} à l'autre bout, bague vers l'autre bout ; le fil du kit à l'autre bout",
        "resistor": "dans le fil du kit",
    }),
})
STANDING_WHY = "{standing} : {why}"
HEAD_DRAWING = "Le dessin"
DRAWING_CAPTION = "De chaque broche du kit au fil de la voiture"
DRAWING_WORDS = "Les contacts sont dessinés au repos, et un fil de la voiture de son connecteur à son faisceau ; les traits interrompus ne sont pas prouvés. Un faisceau en T laisse passer tout droit chaque autre broche de son connecteur. Le petit nombre est celui de DIN 72552."
HEAD_CUT = "Fils à couper et à étiqueter"
CUT_CAPTION = "Les fils libres de ce kit, les plus gros d'abord. Longueur du connecteur du kit jusqu'au bout ; ajoutez ce que prennent vos cosses. Imprimez chaque étiquette deux fois, pour les deux bouts. Les fils d'un T se font avec le T."
CUT_TABLE = ("Étiquette", "Fil", "Section", "Longueur", "Place du kit", "Autre bout")
CUT_PLACE = "{plug}/{pin}"
CUT_HOLDER = "porte-fusible avec {rating}"
CUT_PART = "{name} monté dans le fil"
CUT_CAP = "embout"
CUT_ENDS: Mapping[str, str] = MappingProxyType({"bare": "nu", "ring": "cosse ronde pour le boulon de masse"})
HEAD_THROUGH = "Ce que les faisceaux en T laissent passer"
THROUGH_INTRO = "Le courant de la voiture elle-même passe aussi par les T. Ce courant a été calculé dans chaque état et reste dans ces limites ; celui qu'un défaut pourrait y faire passer, c'est le fusible de la voiture qui le limite."
THROUGH_T = "{label} : contacts prévus pour {rating}, fils traversants de {size}."
THROUGH_FUSE = "Le plus gros fusible de la voiture en amont de ce T : {fuse}, pour la broche {pin}."
THROUGH_LARGER = "Ce fusible dépasse ce que les contacts permettent : fabriquez ce T avec des contacts prévus pour ce fusible, si l'on en trouve."
HEAD_SUPPLIES = "Fils des relais"
SUPPLIES_INTRO = "Ce ne sont pas des fils pour la voiture : ils vont, dans le faisceau, de l'alimentation ou de la masse du kit à un relais. Le fusible se trouve là où l'alimentation est prise, pour qu'elle soit protégée sur toute sa longueur. Pratique courante : un relais près du bout de son fil ; coupez ses fils à cette longueur."
SUPPLY = "{label} : de {feed}, par un fusible de {rating}, au contact du relais, {size} au moins ; à la bobine, {coil}"
SUPPLY_COIL = "{label} : de {at}, {coil}"
CUT_SUMS = "De chaque section, en tout :"
CUT_OF_SIZE = "{size} : {length}"
WHERE_PLUG = "{plug}, {place}"
WHERE_GROUND = "Point de masse, {place}"
WHERE_NONE = "Sans fil"
SPLICED = "Épissure : la broche {pin} du kit sert aussi {others}."
SPLICED_TO = "{label} à la broche {pin}"
HEAD_WHY = "Pourquoi ainsi, et pourquoi pas autrement"
WHY = "{task} : {why}"
PINNED = "Fixé par le monteur : {reason}"
GATED = "Seulement à cette condition : {gate}."
REJECTED_TABLE = ("Au lieu de", "Autre voie", "Avec", "Fait décisif", "Temps")
HEAD_SETTINGS = "Réglages"
SETTINGS_TABLE = ("Option", "Valeur", "Signifie", "Réglé à", "Livré sur")
HEAD_UNUSED = "Fils sans place dans cette voiture"
UNUSED_TABLE = ("Fil", "Couleur", "Borne du kit", "Où", "Peut être pris pour")
HEAD_UNSERVED = "Non assuré"
UNSERVED_TABLE = ("Fonction", "Pourquoi", "Elle serait assurée si")
REQUIRED = "{function} (exigé)"
HEAD_FINDINGS = "Constats"
FINDINGS_TABLE = ("Poids", "Quoi", "Quand", "Que faire", "Règle")
NO_FINDINGS = "Aucune règle n'est enfreinte dans aucun état."
HEAD_UNPROVEN = "Circuits non prouvés"
UNPROVEN_TABLE = ("Circuit", "Où", "Pourquoi")
ALL_PROVEN = "Chaque circuit utilisé est prouvé sur cette version."
HEAD_CHECKED = "Ce qui a été vérifié, sous quelles hypothèses"
CHECKED_FAMILIES = "Des états ont été résolus pour : {stages}."
SPREADS = "Chaque fil, contact, fusible et charge a été pris dans sa dispersion indiquée ; les valeurs attendues en sont les plages."
NOTHING = "aucun"

READINGS_TITLE = "Valeurs attendues"
READINGS_SUBTITLE = "{kit} dans la {car}, batterie au repos {battery}"
READINGS_INTRO = (
    "Ce que montre un multimètre de 10 mégohms sur une voiture saine. Mesurez d'abord la batterie ; là où une ligne dit de "
    "moins que la batterie, c'est la batterie telle que vous l'avez mesurée qui compte."
)
READINGS_TABLE = ("Point", "Étape", "État", "Doit être", "Volts", "Pince", "Lampe")
PURPOSE: Mapping[str, str] = MappingProxyType({
    "identify": "fil de la voiture, avant de raccorder",
    "after joining": "au connecteur du kit, raccordé",
    "check": "contrôle",
})
VOLTS = "{low} à {high}"
POINT_JOINT = "{label}, {function} : {plug}, broche {pin}, {colour}"
POINT_TERMINAL = "{label}, {function} : connecteur du kit {plug}, alvéole {pin}"
POINT_BATTERY = "bornes de la batterie"
CLIP: Mapping[str, str] = MappingProxyType({"battery negative": "négative", "battery positive": "positive"})

REPORT_TITLE = "Est-ce que cela convient ?"
REPORT_SUBTITLE = "{kit}, révision {revision}, dans la {car}"
REFUSED = "Il ne convient pas, et ne doit pas être monté."
REFUSED_IF = "Il conviendrait à cette condition : {cure}."
REFUSED_CODE = "Code : {code}"
REPORT_ROUTES = ("Fonction", "Comment", "Fil du kit", "À travers", "Fil de la voiture", "État")
REPORT_TIME = "Travail compté : {minutes}."
REPORT_UNSERVED = "Non assuré : {function}. {why} Elle serait assurée à cette condition : {cure}."
REPORT_FINDING = "{severity} : {message} {advice}"
REPORT_UNPROVEN = "Non prouvé sur cette voiture : {wire}."
REPORT_UNUSED = "Fils inutilisés : {labels}."
REPORT_SETTING = "{name} : {value}"
REPORT_SETTINGS = "Réglages qui diffèrent de la livraison : {settings}."
HEAD_REPORT_ROUTES = "Comment chaque fonction est assurée"
HEAD_REPORT_OPEN = "Ce qui est ouvert"
HEAD_REPORT_BUYER = "Ce que l'acheteur doit avoir"
REPORT_PART = "{kind} {size}"
REPORT_BUYER = "{function} : {needed}."
HEAD_NOT_DRAWN = "Pas encore dessiné"
NOT_DRAWN_INTRO = "Les documents ne nomment aucune photo de ce qui suit. Elles aideraient le plus l'acheteur ; cochez celles que vous avez prises."
ALL_DRAWN = "Les documents nomment une photo de chaque connecteur, emplacement et pièce du kit que l'acheteur doit trouver."
NOT_DRAWN_PLUG = "À sa place ({place}), vu de là où la personne est couchée, verrou et première broche visibles : {plug}"
NOT_DRAWN_PLACE = "Comment ouvrir : {place}"
NOT_DRAWN_GROUND = "Le point de masse : {point}"
NOT_DRAWN_SOCKET = "Connecteur du kit {plug} vu de l'arrière, les numéros de ses alvéoles visibles"
NOT_DRAWN_BRANCH = "Le bout {label} du faisceau"
NOT_DRAWN_BOXES = "Le boîtier de commande avec son étiquette de série, ses porte-fusibles, et le module véhicule s'il y en a un"
FUSE_NAME = "Fusible {rating}\N{NO-BREAK SPACE}A"
FUNCTION_OF = "{function}, {which}"
THE_SAME = "pareil"
NO_UNUSED = "Chaque fil a une place."
ALWAYS = "toujours"
WHEN = "{stage} : {state}"
NO_LAMP = "pas de lampe : {why}"
NOT_PROVED = "C'est prévu, mais pas vérifié."
REPORT_WIRE = "{plug}, broche {pin}, {colour}"
