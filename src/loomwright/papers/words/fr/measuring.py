# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Partie A : mesurer, tout étant branché ; et ce que dit le tableau de chaque mesure."""

from collections.abc import Mapping
from types import MappingProxyType

HEAD = "Partie A : mesurer, sans rien raccorder encore"
INTRO = (
    "Tous les connecteurs de la voiture restent branchés. La batterie est branchée chaque fois que vous mesurez. Vous ne "
    "touchez les fils qu'avec le multimètre. Mesurez chaque fil que le kit utilisera, dans cet ordre. Quand tous "
    "correspondent, vous savez que la voiture est celle dont parlent ces documents."
)
PROBING = (
    "Comment toucher un fil sans l'abîmer : glissez la pointe fine le long du fil, par l'arrière du connecteur, contre le "
    "métal, jusqu'à sentir l'arrêt. Elle tient alors toute seule. Ne piquez jamais la pointe à travers l'isolant."
)
BELOW = (
    "La plupart des lignes disent de combien un fil peut montrer moins que la batterie. Prenez la batterie telle que vous l'avez "
    "mesurée, retranchez le fil : c'est le reste qui compte. Un exemple, {label} : la batterie montre {battery}, le fil "
    "montre {shown}. Cela fait {drop} de moins que la batterie, et c'est tout juste bon ; un écart plus petit est bon aussi, et un rien de plus que la batterie également."
)
CLIPPING = (
    "Pincez le long fil sur la borne négative de la batterie et amenez son autre bout, pincé sur la pointe noire du "
    "multimètre, là où vous êtes couché : il sort au coin arrière du capot côté conducteur, par-dessus le joint de "
    "caoutchouc, loin du ventilateur et des courroies, et entre par la portière. Le joint cède, si bien que le capot se "
    "ferme sur le fil sans l'abîmer ; une portière refermée doucement dessus ne l'abîme pas non plus. Seulement là où une étape dit borne positive, déplacez-y la pince. La batterie baisse "
    "un peu pendant que vous travaillez : mesurez-la de nouveau à chaque nouvel endroit, et chaque fois que le moteur a tourné."
)
OPENING = (
    "Un panneau se retire à la force de la main. S'il ne vient pas, cherchez encore une vis ou une agrafe ; ne tirez pas plus "
    "fort. Laissez chaque endroit ouvert jusqu'à ce que ce guide le referme. Si un connecteur n'est pas là ou a un autre "
    "aspect, arrêtez et appelez."
)
OPEN_TITLE = "{place}"
OPEN_SEE = "Vous voyez ceci : {plugs}."
OPEN_SEE_NOTHING = "Vous voyez et atteignez l'endroit."
OPEN_IF_NOT = "Si quelque chose ne vient pas à la force de la main, cherchez encore une vis ou une agrafe. Ne tirez pas plus fort. Si vous ne voyez pas ce connecteur, arrêtez et appelez."
PLUG_LOOK = "{name} : {look}"

TITLE = "Le fil « {function} », pour {label}"
FIND_PLUG = "Trouvez : {plug}. {look} Laissez-le branché."
FIND_SOCKET = "Trouvez : {plug}. {look}"
SAME_PLUG = "Restez à ce connecteur : {plug}."
TOUCH = "Trouvez la broche {pin} : comptez, vérifiez ce qui est à côté, et touchez-y le fil {colour} par l'arrière du connecteur."
TOUCH_CONTACT = "Trouvez la broche {pin} : comptez, vérifiez les places voisines, et tenez le bout de la pointe contre son contact de métal. Touchez-le ; n'enfoncez pas la pointe dedans."
OVER_PROBE = {
    "hood open": "Pour le capot fermé, laissez la pointe tenir seule, faites sortir son fil par le bord, et rabattez le capot doucement jusqu'à ce qu'il s'enclenche.",
    "driver door open": "Pour la portière du conducteur fermée, laissez la pointe tenir seule, faites sortir son fil et le long fil par le bord de la portière, fermez-la doucement sur eux, et lisez le multimètre dehors.",
}
READ_EACH = "Lisez le multimètre dans chaque état ci-dessous, dans cet ordre. Ensuite : {key_out}."
CRANK = "Là où le démarreur tourne : un essai pour chacune de ces lignes, à dix secondes d'intervalle. C'est ce que montre le multimètre pendant qu'il tourne qui compte. Si le moteur part, lâchez aussitôt et arrêtez-le. Vous n'avez rien pu lire à temps ? Essayez encore une fois cette ligne."
GLOW = "Chaque fois que le contact est mis, attendez que le témoin de préchauffage soit éteint, et mesurez de nouveau la batterie, contact mis, avant de lire."
AWAKE = "Rien du tout ainsi ({key_out}) ? Les boîtiers de la voiture dorment peut-être : ouvrez et fermez une portière, et lisez dans la minute."
RUNNING = "Là où le moteur tourne, laissez la pointe tenir seule, et écartez-vous des courroies, du ventilateur, de l'échappement et des pédales avant qu'il ne démarre. Posez le multimètre de façon à pouvoir le lire de là où vous êtes alors. Retirez la pointe quand le moteur est arrêté."
MARK = "Mettez sur ce fil un bout de ruban marqué {label}. Vous le raccordez dans la partie B."

PLUG_TITLE = "Pour {label} : {plug}"
PLUG_WHY = "Rien n'est raccordé à la main ici : {label} se branche seulement, plus tard. Le multimètre montre que ce connecteur est câblé comme le disent ces documents. Ses broches :"
PLUG_PIN = "{label} : broche {pin}, le fil de la voiture est {colour}. {count}"
PLUG_READ = "Suivez les lignes ci-dessous l'une après l'autre : touchez la broche que nomme la ligne par l'arrière du connecteur, dans l'état qu'elle nomme. Ensuite : {key_out}."
PLUG_READ_CONTACT = "Suivez les lignes ci-dessous l'une après l'autre : touchez légèrement le contact de la broche que nomme la ligne, dans l'état qu'elle nomme. Ensuite : {key_out}."
PLUG_COUNT = "{look} La place de chaque broche est dans la liste."
PLUG_NEIGHBOURS = "Touchez les broches de la liste et aucune autre."
PLUG_SEE = "Toutes les mesures correspondent : le connecteur est câblé comme le disent ces documents."
PLUG_SAME = "{pins}"
PLUG_ALIKE = "Le multimètre ne distingue pas ces broches entre elles : {pins}. Cela ne gêne pas ici : le connecteur ne va que dans un sens."
SEE = "Toutes les mesures correspondent à leur tableau. C'est bien le fil « {function} »."
SEE_ALIKE = "Toutes les mesures correspondent à leur tableau."
ALIKE = "Le multimètre ne distingue pas ce fil de : {others}. Ici, seule la place compte : comptez deux fois."
IF_NOT = "Touchez de nouveau pour que la pointe tienne bien, mesurez encore la batterie, recomptez. Si cela diffère deux fois, vous êtes sur un autre fil ou la voiture est une autre : arrêtez, ne raccordez rien, et appelez le fournisseur."
CLIP_NEGATIVE = "borne négative de la batterie, avec le long fil"
CLIP_POSITIVE = "borne positive de la batterie, avec le long fil"
PROBE_PIN = "{plug}, broche {pin}, {colour}"
PROBE_TERMINAL = "{plug}, alvéole {pin} : {label}, {colour}"

EXPECT_NEAR = "au plus {drop} de moins que la batterie ({volts} si elle a {battery})"
EXPECT_DROP = "de {least} à {drop} de moins ({low} à {high} si la batterie a {battery})"
EXPECT_DEAD = "presque rien : {high} ou moins"
EXPECT_BETWEEN = "{low} à {high}"
EXPECT_MOVING = "un nombre qui ne reste pas fixe (regardez cinq secondes), entre {low} et {high}"
EXPECT_AVERAGED = "{low} à {high}, que le nombre bouge ou non"
EXPECT_FREE = "n'importe quoi : rien ne tient ce fil en ce moment, donc aucune mesure n'est fausse"

GOOD = "Juste."
GOOD_AVERAGED = "Juste. Le nombre peut bouger ou rester fixe : un multimètre fait la moyenne des impulsions."
GOOD_MOVING = "Juste, si le nombre change sans cesse."
STANDS_STILL = "Le nombre reste fixe : la pointe ne touche pas, ou c'est un autre fil."
FREE = "Cela ne dit rien. Continuez."
LOW = "Trop bas : la pointe touche mal. Touchez de nouveau."
DEAD = "Hors tension : la pointe ne touche pas, ou c'est le mauvais endroit."
HIGH = "Trop haut pour ce fil."
LIVE = "Sous tension, alors que ce fil devrait être hors tension."
BETWEEN_RIGHT_AND_LIVE = "Pas hors tension. Quelque chose est encore allumé, ou c'est le mauvais endroit."
STARTER_IDLE = "La batterie n'a pas chuté : le démarreur ne tourne pas. Recommencez."
ON_SLIP = "{verdict} Vous êtes peut-être ici : {pins}."

LAMP: Mapping[str, str] = MappingProxyType({
    "airbag": "c'est un fil d'airbag",
    "data": "elle arrêterait le bus de données",
    "immobiliser": "elle gênerait la reconnaissance de la clé",
    "electronic signal": "elle chargerait un signal électronique",
    "operates a relay": "elle ferait coller un relais",
    "pulls the wire down": "elle tirerait le fil vers le bas et mettrait quelque chose en marche",
    "loads the wire": "elle charge ce fil, et ne dirait donc pas la vérité",
    "meter only": "seul le multimètre le dit",
    "fed firmly": "la lampe s'allume",
    "dead and fed by nothing": "la lampe reste éteinte",
})
LAMP_OTHER = "{why}"
UNPROVEN = "Personne n'a mesuré ce fil sur une voiture construite comme la vôtre ({why}). Croyez le multimètre, pas les documents : ne vous persuadez pas qu'une mesure est bonne quand elle ne correspond pas."
PIN_UNPROVEN = "Ce fil a été mesuré ailleurs : {places}. Seul le schéma dit qu'il arrive à cette broche : croyez le multimètre."
PIN_UNPROVEN_UNTOLD = "Ce fil a été mesuré, sans que le relevé dise à quelle broche. Seul le schéma dit qu'il arrive ici : croyez le multimètre."
UNPROVEN_OF = "{labels} : {why}"
CONTRADICTED = "Les relevés sur ce fil se contredisent ({why}). Ne croyez que le multimètre : ne vous persuadez pas qu'une mesure est bonne quand elle ne correspond pas."
NOTE = "Bon à savoir : {note}"
COLD_AGAIN = "Devant un airbag ({places}) : chaque fois, avant de retirer ou de remettre ce panneau, débranchez la batterie, et attendez {wait}."
BREAK_ANY = "Vous pouvez vous interrompre après chaque étape de cette partie, puisque rien n'est encore raccordé : remettez les panneaux à la main et détachez de la batterie le long fil. On peut rouler ainsi. Remettre les panneaux à la main veut dire : rien de détaché ne reste sur le plancher, et un boîtier, un renfort ou un panneau qui était boulonné ou vissé l'est de nouveau."
BREAK = "Tout est mesuré, et rien n'est encore raccordé. Pour une pause, remettez les panneaux à la main et détachez de la batterie le long fil."
COLD = "Un airbag se trouve là où vous ouvrez ceci : {places}. Là, la batterie est débranchée avant que le panneau ne soit retiré, puis rebranchée pour mesurer ; les autres endroits s'ouvrent batterie branchée. Chaque fois que ce panneau est remis ou retiré de nouveau, pour une pause ou à la fin : débranchez d'abord la batterie, et attendez {wait}."
