# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Première page du guide : la voiture, le kit, le sachet, les outils, le temps, et quand s'arrêter."""

TITLE = "Guide de montage"
SUBTITLE = "{kit} dans la {car}"
HEAD_START = "Avant de commencer"
INTRO = (
    "Une action à la fois : faites-la, regardez ce que vous devez voir, et ne continuez que si vous le voyez. Personne n'est "
    "pressé. Vous mesurez d'abord tout, puis vous raccordez batterie débranchée, puis vous mesurez de nouveau."
)
HEAD_CAR = "Est-ce votre voiture ?"
CAR_NAME = "Ces documents valent pour une seule voiture : {car}, construite comme ci-dessous. Cochez chaque ligne devant la voiture."
CAR_NAMES = "Ces documents valent pour une seule voiture : {car}, aussi vendue comme {others}, construite comme ci-dessous. Cochez chaque ligne devant la voiture."
CUE = "{axis} : {value}. Vous voyez : {cue}"
CAR_DIFFERS = "Si une ligne diffère, arrêtez et appelez. Un kit pour une autre version peut être sur les mauvaises broches."
HEAD_KIT = "Est-ce votre kit ?"
KIT_NAME = "Sur le sachet est écrit : {kit}, révision {revision}."
KIT_SERIAL = "Numéro de série : {where} Notez-le ici avant d'appeler qui que ce soit : __________________"
HEAD_BAG = "Que contient le sachet ?"
BAG_T = "Des faisceaux en T, chacun deux connecteurs jumeaux sur des fils courts : {labels}"
BAG_ONE_T = "Un faisceau en T, deux connecteurs jumeaux sur des fils courts : {labels}"
BAG_PLUG = "Des connecteurs au bout d'un fil : {labels}"
BAG_ONE_PLUG = "Un connecteur au bout d'un fil : {labels}"
BAG_HARNESS = "Le faisceau du kit : ses connecteurs {plugs} avec tous les fils dedans, chacun avec son étiquette. Le tableau ci-dessous les nomme."
BAG_CONTROLLER = "Le boîtier de commande, {name}"
BAG_BOXES = "Le boîtier de commande, {name}, et le module véhicule, {module}"
BAG_PART = "{name}, déjà dans le fil {label}"
BAG_NOT_USED = "{item}. Pas utilisé dans cette voiture : cela reste dans le sachet"
BAG_IDLE_MODULE = "Le module véhicule, {module}, et ses fils. Pas utilisés dans cette voiture : ils restent dans le sachet"
BAG_SHORT = "S'il manque quelque chose, arrêtez et appelez avant d'ouvrir la voiture."
HEAD_PLUGS = "Les connecteurs du kit"
PLUGS_INTRO = (
    "Chaque fil est déjà dans son connecteur, monté chez le fournisseur. Vous n'en retirez jamais et n'en enfoncez jamais. Le "
    "numéro de chaque alvéole est inscrit à côté d'elle à l'arrière du connecteur, là où entrent les fils : c'est ce numéro "
    "que ce guide appelle une alvéole. Dans le tableau, {first} est l'alvéole {pin} du connecteur {plug}. Lisez aussi "
    "l'étiquette sur le fil."
)
PLUGS_TABLE = ("Alvéole", "Fil", "Longueur", "Dans cette voiture")
PLUGS_PLACE = "{plug}/{pin}"
PLUGS_LEAD = "{label}, {colour}"
PLUGS_FUSED = "{length}, fusible {fuse}"
PLUGS_INSIDE = "dans {label}"
PLUGS_JOIN = "raccordé"
PLUGS_WITH = "avec {label}"
PLUGS_GROUND = "boulon de masse"
PLUGS_ADDED = "à la pièce : {name}"
PLUGS_UNUSED = "inutilisé"
PLUGS_FUSES = "Un fil à fusible porte un porte-fusible près de son extrémité, à une largeur de main de sa jonction ou de son T. Les fusibles restent retirés jusqu'à ce que ce guide le dise ; celui d'un fil inutilisé reste retiré pour de bon."
PLUGS_MODULE = "Le module véhicule {module} se branche au fil {label}. Il reste débranché jusqu'à la partie D."
PLUGS_MODULE_BY = "Le module véhicule {module} se branche au fil {label} ({plug}). Il reste débranché jusqu'à la partie D."
HEAD_WORDS = "Mots de ce guide"
WORDS = (
    "Boîtier de commande : le boîtier qui démarre le moteur. Module véhicule : le petit boîtier qui parle avec la voiture par un de ses fils.",
    "Module de carrosserie : le boîtier de la voiture pour les feux, le verrouillage et l'avertisseur.",
    "Faisceau en T : des fils courts avec un connecteur à chaque bout, qui se placent entre un connecteur de la voiture et l'endroit où il était.",
    "Fil de données, ou bus : un fil par lequel les boîtiers de la voiture se parlent.",
    "Connecteur de piquage : une pince qui raccorde un fil à un autre sans le couper. N'utilisez que le modèle que votre fournisseur envoie ou nomme. Sertir : serrer fermement un manchon de métal autour d'un fil, avec l'outil fait pour cela.",
    "GN/BK et autres : une couleur en abrégé, le fond avant la barre et le liseré après. Le bout de fil dessiné à côté montre le fond et le liseré.",
    "Alvéole : un trou numéroté d'un connecteur du kit. Broche : une place d'un connecteur de la voiture.",
)
HEAD_TOOLS = "Outils"
TOOL_METER = "Multimètre numérique, calibre 20 V continu et ohms, avec des pointes fines et aiguës ; un long fil avec deux pinces et un fusible d'un ampère près de la pince de batterie, pour amener la borne négative de la batterie là où vous êtes couché"
TOOL_LAMP = "Lampe d'essai à ampoule, pour les lignes qui la permettent : elle charge une jonction comme aucun multimètre ne le fait"
TOOL_OPEN = "Pour ouvrir : {tools}"
TOOL_BATTERY = "Clé pour l'écrou de la cosse de batterie ; ruban de tissu et colliers"
TOOL_GROUND = "Clés pour l'écrou de la cosse de batterie et pour le boulon de masse ; toile émeri ; ruban de tissu et colliers"
TOOL_JOIN = "Pince à dénuder, et un couteau bien affûté pour ouvrir l'isolant le long du fil ; un fer à souder pour travaux en 12 V, ou les connecteurs de piquage approuvés de votre fournisseur, jamais les deux sur une même jonction"
TOOL_CRIMP = "Là où un fil est coupé : des manchons à sertir avec leur pince, si vous ne soudez pas"
TOOL_DRILL = "Ce que demande la pièce ajoutée : crayon, pointeau, perceuse, peinture de retouche, une boulette de mastic"
TOOL_KEYS = "{count} clés de cette voiture qui marchent, le jour même : le kit les apprend dans la partie D, et sans elles il ne démarre pas la voiture. S'il en manque, faites-en faire une avant de commencer"
TOOL_GUARD = "Protection des yeux, gants, deux cales de roue ; un aide qui {turns_key} et appuie sur les pédales"
HEAD_TIME = "Combien de temps cela prend"
TIME = (
    "Pour une personne exercée, on compte {practised}, essais et fermeture compris. Prévoyez {beginner} la première fois, ou une journée entière avec une "
    "pause. Commencez le matin, à la lumière du jour. Vous pouvez vous arrêter là où une étape le dit, et dans les "
    "parties A, B, D et E comme il est dit au début de A, de B et de D."
)
TIME_COLD = "Un essai demande un moteur resté froid toute la nuit : prévoyez pour lui un deuxième matin, les fusibles du kit retirés jusque-là."
HEAD_CALL = "Quand arrêter et appeler"
CALL = "{call}"
CALL_WHEN = (
    "Un connecteur, une broche ou un fil n'est pas comme le montre l'image.",
    "Une mesure ne correspond toujours pas après que vous avez fait ce qui est dit à « Sinon ».",
    "Quelque chose sent, fume, claque tout seul ou chauffe.",
    "Le voyant des airbags reste allumé, ou ne s'allume pas du tout.",
    "Vous n'êtes pas sûr. Un appel coûte moins cher qu'un module.",
)
HEAD_WHO = "Qui ne devrait pas faire ce travail"
WHO = (
    "Une personne qui n'a jamais utilisé de multimètre et n'a à ses côtés personne qui sache s'en servir ; une personne fatiguée, malade, ou seule, sans quelqu'un à portée de voix.",
    "Une personne qui ne peut pas rester couchée une demi-heure sous un tableau de bord sans hâte ni douleur.",
    "Une personne dont la voiture a une pédale d'embrayage, de gros câbles orange, ou des voyants déjà allumés avant le travail.",
    "Une personne qui n'en a pas le droit : en certains lieux, monter contre paiement exige un permis. Laissez faire un garage, avec ce guide.",
)
HEAD_TERMS = "Ce qui vaut en outre"
DEFERS = (
    "Ce guide dit ce qui a été vérifié, et sous quelles hypothèses. Il ne remplace ni la documentation d'atelier du "
    "constructeur, ni la loi de chez vous, ni la pratique d'un technicien agréé ou certifié : là où ils disent autre chose, "
    "ce sont eux qui valent."
)
HEAD_EXCEPTIONS = "Ce que ce kit ne fait pas dans cette voiture"
UNSERVED = "{function} : {why} Cela marcherait à cette condition : {cure}."
MISSED = {
    "accessory": "Pendant que le moteur tourne à distance, la radio et les essuie-glaces n'ont pas de courant.",
    "door switch": "Le kit ne voit aucune portière : une portière ouverte n'empêche pas le démarrage et n'arrête pas le moteur.",
    "factory alarm disarm": "L'alarme d'origine peut sonner quand le moteur démarre à distance.",
    "hatch": "La télécommande n'ouvre pas le hayon ni le coffre.",
    "horn": "L'avertisseur ne sonne pas à distance.",
    "lock": "La télécommande ne verrouille pas les portières.",
    "parking brake": "Le kit ne voit pas si le frein de stationnement est serré.",
    "parking light": "Les feux de position ne montrent pas ce que fait le kit.",
    "second ignition": "Ce qui dépend de cette alimentation, dans la plupart des voitures le ventilateur du chauffage, reste arrêté pendant que le moteur tourne à distance.",
    "unlock": "La télécommande ne déverrouille pas les portières.",
}
FINDING = "{message} {advice}"
HEAD_CAUTIONS = "À lire d'abord"
CAUTIONS_INTRO = "Ces mises en garde valent pour tout le travail. Une étape nomme celles qui ne concernent qu'elle."
CAUTION_ITEM = "{word} : {text}"
HEAD_CAR_HAZARDS = "Ce qui peut blesser dans cette voiture"

NOT_FITTED_TITLE = "Ne montez pas ce kit"
NOT_FITTED = (
    "Le contrôle de ce kit dans cette voiture a trouvé quelque chose qui ne doit pas être. Il n'y a pas de guide de montage "
    "pour cela. Appelez le fournisseur ; gardez le kit dans son sachet."
)
HEAD_BASELINE = "La voiture d'origine"
BASELINE_INTRO = (
    "Examinez la voiture avant d'y toucher. Ce qui ne marche pas maintenant n'est pas la faute du kit, et un défaut trouvé "
    "maintenant épargne une journée plus tard. Chaque mesure a un tableau qui dit ce qu'elle signifie : un nombre à la limite de deux "
    "lignes appartient à celle du dessus. Tant que rien n'est raccordé, ce qui vient dans la partie B, vous pouvez vous interrompre après "
    "chaque étape et rouler."
)
BASELINE_BATTERY_TITLE = "La batterie au repos"
BASELINE_BATTERY_DO = (
    "Laissez la voiture tranquille une heure, {key_out} et portières fermées.",
    "Ouvrez le capot.",
    "Pointe noire sur la borne négative de la batterie, pointe rouge sur la borne positive.",
    "Notez la mesure. Vous en aurez besoin.",
)
BASELINE_BATTERY_TWO = "Cette voiture a deux batteries qui l'alimentent ensemble. Mesurez à l'une d'elles, et chaque fois à la même ; pincez-y aussi le long fil."
BASELINE_BATTERY_SEE = "La mesure correspond à la première ligne du tableau."
BASELINE_BATTERY_IF_NOT = "Trop bas : chargez la batterie et mesurez de nouveau après une heure de repos. Si elle ne remonte pas, ou si la mesure est de nouveau trop haute, faites contrôler la batterie et la charge avant de commencer."
BASELINE_KEY_TITLE = "La voiture démarre avec {its_key}"
BASELINE_KEY_DO = (
    "{Turn_on} et regardez le tableau de bord : les voyants s'allument.",
    "Observez le voyant des airbags : il s'allume, et s'éteint après quelques secondes.",
    "{Start_engine}. Il part aussitôt et tient le ralenti.",
    "Arrêtez-le.",
)
BASELINE_KEY_SEE = "La voiture démarre avec {its_key}, et le voyant des airbags s'est allumé puis éteint."
BASELINE_KEY_IF_NOT = "Ne commencez pas : ni avec une voiture qui ne démarre pas avec {its_key}, ni avec un voyant d'airbag qui reste allumé ou ne s'allume jamais. Faites d'abord réparer cela."
BASELINE_WORKS_TITLE = "Ce que le kit va toucher marche maintenant"
BASELINE_WORKS = {
    "lock": "Verrouillez les portières avec le bouton. Toutes se verrouillent.",
    "unlock": "Déverrouillez les portières avec le bouton. Toutes se déverrouillent.",
    "parking light": "Allumez les feux de position. Les quatre coins s'éclairent.",
    "horn": "Actionnez l'avertisseur. Il sonne.",
    "brake": "Appuyez sur la pédale de frein. Un aide voit s'allumer les feux stop.",
    "second ignition": "{Key_on} : le ventilateur de chauffage tourne à toutes les vitesses.",
    "accessory": "{Key_acc} : la radio joue.",
    "hatch": "Ouvrez le hayon ou le coffre avec son bouton. Il s'ouvre.",
    "factory alarm disarm": "Verrouillez la voiture avec la clé dans la portière et déverrouillez-la. L'alarme reste silencieuse.",
    "door switch": "Ouvrez chaque portière. Le plafonnier ou le tableau de bord le montre.",
    "parking brake": "{Key_on} : serrez et desserrez le frein de stationnement. Son voyant s'allume puis s'éteint.",
}
BASELINE_WORKS_SEE = "Tout marche. Notez ici ce qui ne marche pas : __________________"
BASELINE_WORKS_IF_NOT = "Ce qui ne marche pas maintenant doit d'abord être réparé, si le kit l'utilise. Appelez si vous n'êtes pas sûr."
BATTERY_PROBE = "borne positive de la batterie"
BATTERY_CLIP = "borne négative de la batterie"
BATTERY_STATE = "{key_out}, portières fermées, voiture au repos depuis une heure"
BATTERY_EXPECT = "{low} à {high}"
BATTERY_GOOD = "Juste. Continuez."
BATTERY_LOW = "À moitié vide. Chargez-la d'abord, sinon les mesures et le démarrage seront faux."
BATTERY_HIGH = "Un chargeur est branché, ou le moteur vient de tourner. Attendez une heure et mesurez de nouveau."
LAMP_BATTERY = "elle ne distingue pas une batterie pleine d'une batterie à moitié vide"
