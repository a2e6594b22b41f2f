# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Le contrôle avant commande : questions, verdict en deux phrases, et ce qu'il faut encore savoir avant de commander."""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.papers.words.fr.cautions import IDLING, TAILPIPE, TIMED

TITLE = "Contrôle avant commande"
SUBTITLE = "{kit}, révision {revision}, pour la {car}"

ASK_KEYS = "Combien de vos clés démarrent le moteur ?"
KEYS_NONE = "aucune clé ne le démarre en ce moment. Une clé qui ouvre seulement la portière ne compte pas."
KEYS_SOME = "essayées l'une après l'autre, {count} et pas plus."
KEYS_ENOUGH = "essayées l'une après l'autre, {count} ou plus."
ASK_PARKED = "Où se trouve la voiture quand on doit la démarrer ?"
PARKED: Mapping[str, str] = MappingProxyType({
    "attached-garage": "Un garage qui partage un mur, un toit ou une porte avec des pièces où l'on vit ou travaille.",
    "enclosed-garage": "Un garage isolé, un parking couvert, un garage souterrain.",
    "street": "Une rue ou un stationnement ouvert, à ciel ouvert.",
    "private-ground": "Une allée ou une cour à vous, à ciel ouvert ou sous un abri sans murs.",
})
PARKED_SHORT: Mapping[str, str] = MappingProxyType({
    "attached-garage": "dans un garage attenant à un bâtiment",
    "enclosed-garage": "dans un garage fermé",
    "street": "dans une rue ou un stationnement ouvert",
    "private-ground": "sur un terrain privé à ciel ouvert",
})
ASK_PLACE = "Dans lequel de ces lieux la démarre-t-on ?"
PLACE_ELSEWHERE = "Aucun d'eux."

FITS = "{kit} convient à cette {car} : il assure tout ce qu'il doit, et les {states} états calculés ne montrent rien qui s'y oppose."
FITS_ALL = "{kit} convient à chacune des {cars} voitures que laissent vos réponses, de la même façon : il assure tout ce qu'il doit, et les {states} états calculés ne montrent rien qui s'y oppose."
DO_ORDER = "Vous pouvez le commander ; comparez encore une fois la liste ci-dessous à la voiture avant de le faire."
DO_ORDER_UNPROVEN = "Vous pouvez le commander ; personne n'a encore prouvé tous ses fils sur cette version, c'est pourquoi le guide vous les fait mesurer avant tout raccordement."
LACKS = "{kit} convient à cette {car}, mais laisse quelque chose de côté : {functions}."
LACKS_FIXES = "{kit} convient à cette {car}, mais laisse quelque chose de côté ({functions}), et il faut corriger {things}."
FIXES = "{kit} ne convient à cette {car} qu'une fois ceci corrigé : {things}."
ONE_THING = "{count} point"
THINGS = "{count} points"
ONE_THING_IS = "{count} point"
THINGS_ARE = "{count} points"
DO_READ = "Lisez la liste ci-dessous, et ne le commandez que si vous pouvez vous en passer."
DO_CALL = "Ne le commandez pas avant d'avoir parcouru la liste ci-dessous avec le fournisseur."
REFUSED = "{kit} ne doit pas être monté sur cette {car}, pour cette raison : {reason}."
REFUSED_ALL = "{kit} ne doit être monté sur aucune des {cars} voitures que laissent vos réponses, pour cette raison : {reason}."
OR_ELSE = ", ou pour celle-ci : "
DO_NOT = "Ne le commandez pas ; il conviendrait seulement à cette condition : {cure}."
DO_NOT_ANY = "Ne le commandez pas ; aucun réglage et aucun autre montage n'y change rien."
STOPPED = "{kit} ne convient pas à cette {car} : le circuit qu'il formerait montre {things} qui ne doivent pas être."
MISSING = "{kit} ne convient pas à cette {car} : il laisse de côté ce sans quoi aucun démarrage n'est permis : {functions}."
DO_NOT_STOPPED = "Ne le commandez pas ; la liste ci-dessous dit ce qui a été trouvé, et le fournisseur peut dire si un autre kit convient."
STOPPED_ALL = "{kit} ne convient à aucune des {cars} voitures que laissent vos réponses."
OPEN = "On ne sait pas encore si {kit} convient : il convient à {fitting} des {cars} voitures que laissent vos réponses, et pas aux autres."
OPEN_PLAN = "{kit} convient à chacune des {cars} voitures que laissent vos réponses, mais pas de la même façon."
UNASKED = "On ne sait pas encore si {kit} convient : vos réponses laissent {cars} voitures."
DO_ANSWER = "Ne le commandez pas avant d'avoir répondu aux questions ci-dessous."
DO_LOOK = "Ne le commandez pas tant que ceci {is_are} pas réglé : {axes}. Regardez encore la voiture, ou envoyez au fournisseur une photo de ce que demandent les questions ci-dessous."
IS = "n'est"
ARE = "n'est"
FEW_KEYS = "Ne le commandez pas encore : il lui faut {needed} de vos clés qui démarrent le moteur pour apprendre la voiture, et vous en avez {have} ; faites d'abord faire une clé."
NOT_THERE = "Ne le commandez pas avant d'avoir lu ce qu'en dit {place} : la limite est ci-dessous."

HEAD = "Le kit convient-il à la voiture ?"
HEAD_CUES = "Voici la voiture pour laquelle vaut ce contrôle"
CUE = "{axis} : {value}. Vous voyez : {cue}"
CUE_OPEN = "{axis} : {values}. Pas encore réglé."
CUE_SPARE = "{axis} : {values}. Cela ne change rien pour ce kit."
CUE_DIFFERS = "Si une ligne diffère de la voiture, le contrôle ne vaut pas : répondez de nouveau."
HEAD_OPEN = "Ce qui reste ouvert"
OPEN_CHOICE = "{value} : {cue}"
HEAD_EXCEPTIONS = "À savoir avant de commander"
UNSERVED = "{function} : {why} Cela marcherait à cette condition : {cure}."
FINDING = "{message} {advice}"
HEAD_KEYS = "Clés"
KEYS_NOT_NEEDED = "Aucune clé ne doit être apprise."
KEYS_OK = "L'apprentissage demande {needed} de vos clés qui démarrent le moteur ; vous en avez {have}."
KEYS_OPEN = "L'apprentissage demande {needed} de vos clés qui démarrent le moteur. Essayez chacune d'elles avant de commander."
KEYS_SHORT = "L'apprentissage demande {needed} de vos clés qui démarrent le moteur ; vous en avez {have}. Faites-en faire une et essayez-la d'abord : sans elle, le kit ne peut pas démarrer la voiture."
HEAD_PARKED = "Là où elle démarre"
PARKED_AT = "La voiture se trouve {where}."
SETTING_OFF = "{setting} : laissez-le sur « {off} ». Le kit ne démarre que si quelqu'un qui voit la voiture le demande."
TIMED_REFUSED = "Le démarrage par minuterie ou par le froid est refusé pour cette voiture : personne ne décide où elle se trouve à ce moment-là."
TIMED_ALLOWED = "Le démarrage par minuterie ou par le froid est votre propre décision : laissez-le désactivé dès que la voiture peut se trouver à l'intérieur."
HEAD_LIMIT = "Ce que dit le lieu"
LIMIT_IDLE = "{place} : un moteur peut tourner au ralenti {minutes} au plus."
LIMIT_NO_IDLE = "{place} : le fournisseur n'a trouvé aucune limite de ralenti."
LIMIT_ALLOWED = "Il peut tourner sans personne à bord."
LIMIT_LOCKED = "Il ne peut tourner sans personne à bord que si les portières sont verrouillées et qu'aucune clé n'est à l'intérieur."
LIMIT_FORBIDDEN = "Il ne doit pas tourner sans personne à bord. N'y utilisez pas de démarrage à distance."
LIMIT_SET = "Réglez la durée de marche sur {value}."
LIMIT_TOO_LONG = "Aucune des durées de marche du kit n'est aussi courte. N'y utilisez pas de démarrage à distance, ou arrêtez le moteur à la main à temps."
LIMIT_LOCK_SETTING = "Gardez « {setting} » activé, et emportez la clé."
LIMIT_LOCK_SELF = "Verrouillez les portières avant de demander un démarrage, et emportez la clé."
LIMIT_NO_LOCK = "Dans cette voiture, le kit ne peut pas verrouiller les portières : verrouillez-les vous-même avant de demander un démarrage, et emportez la clé."
LIMIT_SOURCE = "D'après {source}, lu par le fournisseur le {on}. Les limites changent et diffèrent d'un lieu à l'autre : renseignez-vous sur place avant de vous y fier."
DEFERS = "Ce contrôle dit ce qui a été calculé d'après les documents du fournisseur et vos réponses. La documentation d'atelier du constructeur, la loi de chez vous et l'avis d'un technicien agréé passent avant."

ATTACHED = (
    "DANGER",
    "Les gaz d'échappement d'un garage attenant à un bâtiment traversent murs et portes et tuent les gens qui y dorment, porte du garage ouverte ou non. Sortez la voiture à l'air libre, en la poussant ou en la conduisant, avant chaque démarrage, et ne demandez jamais de démarrage pendant qu'elle est à l'intérieur.",
)
ENCLOSED = (
    "DANGER",
    "Les gaz d'échappement s'accumulent dans un garage, porte ouverte ou non, et tuent quiconque s'y trouve. Sortez la voiture à l'air libre, en la poussant ou en la conduisant, avant chaque démarrage, et ne demandez jamais de démarrage pendant qu'elle est à l'intérieur.",
)
STREET = (
    "WARNING",
    "Une voiture qui tourne dans la rue sans personne à bord peut être volée ou rouler et blesser quelqu'un. Laissez-la en P, frein de stationnement serré, portières verrouillées, la clé sur vous, et en vue.",
)
PRIVATE = (
    "WARNING",
    "Des enfants et des animaux jouent autour d'une voiture à la maison. Une voiture qui démarre à côté d'eux peut les blesser. Regardez avant de demander un démarrage, et gardez l'échappement loin des portes et des fenêtres.",
)

CAUTIONS: Mapping[str, tuple[tuple[str, str], ...]] = MappingProxyType({
    "attached garage": (ATTACHED, TIMED),
    "enclosed garage": (ENCLOSED, TIMED),
    "garage unknown": (TIMED,),
    "street": (STREET, TAILPIPE),
    "private ground": (PRIVATE, TAILPIPE),
    "idling": (IDLING,),
})

ASKED = "{number}. {ask}"
OPTION = "   {number}  {value}"
OPTION_CUE = "   {number}  {value} : {cue}"
OPTION_NOT_SURE = "   n  pas sûr"
OPTION_BACK = "   b  retour à la question précédente"
NEVER = "   N'existe pas avec vos réponses : {values}. Si la voiture est ainsi, revenez en arrière : une réponse précédente n'était pas juste."
PROMPT = "Votre réponse"
NO_SUCH = "Répondez par un nombre de {first} à {last}, n ou b."
NO_BEFORE = "C'est la première question."
PLANNING = "planification"
PROVING = "vérification"
WEIGHING = "pesée"
PROGRESS = "{what} {done} sur {total}"
