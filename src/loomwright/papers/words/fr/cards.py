# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Les petits documents qui restent avec la voiture : carte d'utilisation, étiquette, réglages, dépose."""

from collections.abc import Mapping
from types import MappingProxyType

CARD_TITLE = "Carte d'utilisation"
CARD_SUBTITLE = "{kit} dans la {car}. À garder dans la voiture."
HEAD_USE = "Démarrer, arrêter, partir"
START = "Démarrer : {start}"
WAITS = "Un diesel froid est d'abord préchauffé : après la demande, le démarreur reste immobile jusqu'à ce que le témoin de préchauffage s'éteigne, par grand froid jusqu'à une demi-minute. C'est normal ; n'appuyez pas de nouveau."
STOP = "Arrêter : {stop}"
REMOTE = "{name}. {start}"
ALSO = {
    "lock": "Verrouiller : {how}",
    "unlock": "Déverrouiller : {how}",
    "hatch": "Hayon ou coffre : {how}",
    "horn": "Avertisseur : {how}",
}
RANGE = "Portée : {range}"
RUN_TIME = "Le moteur s'arrête de lui-même après {time}."
DRIVE_DOOR = "Pour partir : le moteur s'arrête quand {door}. Montez, fermez la portière, et démarrez avec {the_key} comme toujours."
DRIVE = "Pour partir : montez. {Take_over}. Le moteur continue de tourner comme après un démarrage ordinaire."
DRIVE_SEATED = "Si vous êtes dans la voiture, portières fermées, pendant qu'il tourne : {Take_over_small}. Le moteur continue de tourner."
DRIVE_BRAKE = "Pour partir : montez et appuyez sur le frein. Le moteur s'arrête : le kit ne voit pas votre clé, il doit donc l'arrêter. Démarrez avec {the_key} comme toujours."
STOP_OWN = "Rien de cela ne l'arrête ? Alors le kit a perdu son alimentation : arrêtez le moteur avec {the_key}."
STOPS = "Il s'arrête aussi quand {events}."
STOP_HOOD = "le capot s'ouvre"
STOP_DOOR = "une portière s'ouvre"
STOP_DRIVER_DOOR = "la portière du conducteur s'ouvre"
STOP_BRAKE = "la pédale de frein est appuyée"
STOP_SELECTOR = "le sélecteur quitte P"
OR = "ou"
LOOK_HOOD = "capot fermé"
LOOK_DOORS = "portières fermées"
LOOK_DRIVER_DOOR = "portière du conducteur fermée"
LOOK_SELECTOR = "sélecteur en P"
LOOK_BRAKE = "personne sur la pédale de frein"
LOOK_KEY = "pas de clé dans le contacteur"
LOOK_ENGINE = "moteur arrêté"
DRIVER_SETTING = "{name} : {means}"
NEUTRAL = "Au point mort, le moteur peut démarrer comme en P, et la voiture peut se mettre à rouler toute seule : seuls P et le frein de stationnement la retiennent."
CARE = "Deux fois par an, et après tout travail sous le tableau de bord ou le capot : vérifiez que le frein et le capot arrêtent toujours le moteur."
HEAD_REPLIES = "Ce que disent les feux de position"
REPLIES_TABLE = ("Feux", "Cela veut dire", "Que faire")
REPLY_DO: Mapping[str, tuple[str, str]] = MappingProxyType({
    "heard": ("La demande a été reçue.", "Attendez. Le kit vérifie d'abord, puis il démarre."),
    "refused": ("Il ne démarrera pas maintenant.", "Regardez : {looks}."),
    "running": ("Le moteur tourne.", "Rien."),
    "failed": ("Il n'a pas démarré, et n'essaie plus.", "Arrêtez avec la télécommande, démarrez avec {the_key}. Cela marche ? Réessayez plus tard. Deux fois la même chose : appelez le fournisseur."),
    "stopped": ("Il s'est arrêté.", "Rien."),
    "service": ("Le mode service est actif.", "Rien ne démarre à distance tant que vous ne coupez pas ce mode."),
})
HEAD_SERVICE = "Garage, lavage, traversier ou enfant qui joue : mode service"
SERVICE = "{service}"
SERVICE_FUSES = "Pour être tout à fait sûr, retirez les fusibles du kit : {fuses}. La voiture ne démarre alors plus qu'avec {its_key}."
SERVICE_NONE = "Rangez toutes les télécommandes là où personne ne les trouve, et dites à quiconque travaille sur la voiture ce qui y est monté."
HEAD_HABITS = "Ce qui la démarrerait par accident"
HABITS = (
    "Une télécommande dans une poche de pantalon, sous un sac ou dans la main d'un enfant. Portez-la là où rien n'appuie dessus.",
    "Une télécommande laissée avec une voiture garée, au garage, ou avec la clé chez un voiturier. Donnez la clé sans la télécommande.",
    "Une deuxième télécommande dans un tiroir à la maison, à portée de la voiture au garage.",
    "En rentrant : la voiture va au garage, et la télécommande dans votre poche l'atteint encore. Posez-la là où rien n'appuie dessus, ou mettez le mode service.",
    "Une télécommande prêtée avec la voiture à quelqu'un qui ne la connaît pas. Expliquez-lui, ou gardez-la.",
    "Appuyer encore parce que rien ne semble se passer. Regardez d'abord les feux.",
)
HABIT_ATTEMPTS = "Une seule demande essaie jusqu'à {count} fois : le moteur peut repartir de lui-même un instant après un démarrage manqué. Arrêtez avec la télécommande avant de lever le capot."
HABIT_TIMED = "Le réglage « {name} » est sur « {value} ». Il doit y rester : un démarrage spontané à l'intérieur peut tuer."
HEAD_LIMITS = "Limites que le fournisseur a relevées"
LIMITS_INTRO = "Ailleurs, d'autres règles valent, et les règles changent. Renseignez-vous chez vous."
LIMITS_TABLE = ("Lieu", "Ralenti permis", "Sans personne à bord", "Lu dans")
LIMIT_IDLE = "{minutes}"
LIMIT_NO_IDLE = "pas de limite relevée"
UNATTENDED: Mapping[str, str] = MappingProxyType({
    "allowed": "permis",
    "locked only": "seulement portières verrouillées",
    "not allowed": "interdit",
})
LIMIT_SOURCE = "{source} ; lu le {on}"

LABEL_TITLE = "Ce moteur peut démarrer tout seul"
LABEL_SUBTITLE = "Étiquette pour le dessous du capot : {car}"
LABEL_WARNING = "Ce moteur peut démarrer à distance, sans personne près de la voiture. Le ventilateur et les courroies arrachent doigts et mains. Avant d'y mettre les mains : arrêtez le moteur, éloignez toutes les télécommandes, et {before}"
LABEL_FUSES = "débranchez les connecteurs {plugs} du boîtier de commande du kit, sous le tableau de bord, ou retirez les fusibles du kit : {fuses}."
FUSE_AT = "{labels} ({place})"
FUSE_REACHED = "{place} : {access} {tools}"
FUSE_TOOLS = "Outil : {tools}."
FUSES_REACHED = "Comment atteindre les fusibles. {places}"
LABEL_PLUGS = "débranchez les connecteurs {plugs} du boîtier de commande du kit, sous le tableau de bord."
LABEL_GARAGE = "Ne le laissez jamais tourner dans un garage ou un espace fermé. Les gaz d'échappement tuent."
LABEL_KIT = "Monté : {kit}, révision {revision}."
LABEL_CUT = "Découpez cette étiquette et protégez-la d'un film transparent, ou utilisez celle du sachet."

SETTINGS_TITLE = "Fiche de réglages"
SETTINGS_SUBTITLE = "{kit}, révision {revision}, dans la {car}"
HEAD_BOXES = "Les boîtiers"
BOX_CONTROLLER = "Boîtier de commande {name}, {hardware}, micrologiciel {firmware} {version}"
BOX_MODULE = "Module véhicule {name}, {hardware}, micrologiciel {firmware} {version}"
BOX_LOCKED = "Une fois l'apprentissage fait, on ne peut plus y changer que ceci : {which}."
BOX_SERIAL = "Numéro de série : __________________  Monté le : __________________"
HEAD_SETTINGS = "Tous les réglages"
SETTINGS_TABLE = ("Où", "Option", "Réglé sur", "Place", "À changer ?", "Pourquoi")
CHANGE = "oui, livré sur « {default} »"
AMONG = "{place} : {values}"
KEEP = "non, livré ainsi"
WHY_SERVES = "Cela remplace un fil. {why}"
WHY_HOW = "{function} : {how}. {means}"
WHY_UNSERVED = "{function} : pas assuré dans cette voiture. {means}"
WHY_PLAIN = "{means}"
HEAD_HOW_SET = "Comment régler le boîtier de commande"
HEAD_LEARNED = "Ce qui doit avoir été appris"
LEARNED = "{name}. Dernière réponse : {reply} Fait le : __________"
NOT_NEEDED = "Rien ne doit être appris dans cette voiture."

REMOVAL_TITLE = "Page de dépose"
REMOVAL_SUBTITLE = "{kit} hors de la {car} : retour à l'origine"
HEAD_AFTER = "Après la dépose"
AFTER = (
    "{Turn_on} : tous les voyants s'allument et s'éteignent comme avant le kit, celui des airbags aussi.",
    "{Start_engine} : il part aussitôt et tient le ralenti.",
)
AFTER_LOCKED = "Le module véhicule est lié à cette voiture une fois l'apprentissage fait. Demandez au fournisseur avant de l'utiliser dans une autre."
HEAD_FLAT = "Après une batterie à plat ou changée"
FLAT_FUSES_OUT = "Avant de brancher des câbles de démarrage ou un chargeur, ou de changer la batterie : retirez les fusibles du kit ({labels}). Pas de démarrage à distance tant qu'un câble est branché."
FLAT_CABLES = "Branchez les câbles de démarrage comme le dit le manuel de la voiture : lunettes de protection, tout éteint, la dernière pince sur du métal nu loin de la batterie. Une étincelle près d'elle peut la faire éclater."
FLAT_OWN_START = "Démarrez d'abord la voiture avec {its_key}. Laissez tourner le moteur un moment ; le kit n'y est pour rien."
FLAT_CAR = "Ce que la voiture elle-même a oublié ne vient pas du kit : horloge, code de la radio, vitres, ralenti. Le manuel de la voiture dit comment le lui réapprendre."
FLAT_FUSES_IN = "{Key_out}. Remettez les fusibles du kit."
FLAT_TRY = "Demandez un démarrage à distance, dehors, comme la première fois. Dans cette voiture, le kit n'a rien appris qu'il puisse oublier. S'il refuse deux fois, appelez le fournisseur."
FLAT_LEARN = "Demandez un démarrage à distance, dehors, comme la première fois. S'il est refusé ou s'arrête aussitôt, le kit a oublié la voiture. Refaites ces étapes de la partie D du guide : {names}."
FLAT_KEYS = "Clés de la voiture nécessaires pour cela : {count}."
FLAT_SETTINGS = "Comparez durée et feux avec la carte d'utilisation et la fiche de réglages. S'ils diffèrent, les réglages sont perdus : refaites-les comme dans la partie D du guide."
HEAD_SERVICE_MODE = "Mode service : le kit ne démarre rien"
HEAD_DEALER = "Pour le garage"
DEALER = (
    "Monté : {kit}, révision {revision}. Il est raccordé à : {joined}.",
    "Pour savoir si un défaut vient du kit : retirez les fusibles du kit et débranchez {plugs}. Le faisceau en T ne porte alors que le courant de la voiture elle-même, et la voiture a aussi été calculée dans cet état.",
    "La voiture a été calculée avec le kit monté, inactif et déposé. Constats à corriger dans ces états : {count}.",
)
DEALER_SOCKET = "Le connecteur {label} du kit est branché ici : {plug}. Fusibles du kit retirés, débranchez-le pour raccorder un appareil de diagnostic ou charger un logiciel, et rebranchez-le avant les fusibles."
DEALER_LEARN = "Après un calculateur moteur, un calculateur de carrosserie, un antidémarrage ou une clé neufs : le kit doit réapprendre la voiture, avec ces étapes de la partie D du guide : {names}."
DEALER_AIRBAGS = "Aucun fil du kit n'est raccordé à un fil des airbags ou des ceintures. Travaillez tout de même sous le tableau de bord batterie débranchée, après {wait} d'attente."
