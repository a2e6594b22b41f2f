# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Mises en garde : danger, conséquence et comment l'éviter, chacune avec son mot de signalement.

Les mots sont ceux du catalogue anglais ; `naming.SIGNAL` dit comment ils s'écrivent ici. La source de chaque règle est
notée dans le catalogue anglais.
"""

GARAGE = (
    "DANGER",
    "Ne faites jamais tourner ce moteur dans un garage ou un espace fermé, porte ouverte ou non. Les gaz d'échappement tuent sans qu'on les sente. Faites tout ce travail dehors.",
)
GARAGE_USE = (
    "DANGER",
    "Ne démarrez jamais et ne laissez jamais tourner ce moteur dans un garage ou un espace fermé, porte ouverte ou non. Les gaz d'échappement tuent sans qu'on les sente.",
)
TAILPIPE = (
    "WARNING",
    "Dégagez la neige et les feuilles du tuyau d'échappement avant chaque démarrage. Un tuyau bouché peut remplir la voiture d'un gaz mortel.",
)
TIMED = (
    "WARNING",
    "N'activez jamais le démarrage par minuterie ou par le froid si la voiture peut se trouver à l'intérieur. Elle démarre là où elle est, et le gaz peut tuer. Laissez ce réglage désactivé.",
)
HIGH_VOLTAGE = (
    "WARNING",
    "Un gros câble orange, ou un câble sous gaine orange, est sous haute tension et peut tuer, même batterie débranchée. N'y touchez pas ; un fil orange mince parmi d'autres est un fil ordinaire. Ce kit n'est pas fait pour une voiture hybride, électrique ou à réseau 48 V : arrêtez si vous en avez une devant vous.",
)
MANUAL = (
    "WARNING",
    "Pas pour une boîte manuelle. La voiture peut bondir en avant dès que le démarreur tourne. Arrêtez si la voiture a une pédale d'embrayage.",
)
AIRBAG_WAIT = (
    "WARNING",
    "Un airbag (coussin gonflable) peut encore se déclencher après que la batterie est débranchée, et vous blesser gravement. Une fois le câble négatif retiré, attendez {wait} avant de continuer. Ne branchez entre-temps rien qui alimente la voiture : cela garde les airbags sous tension.",
)
AIRBAG_WAIT_UNKNOWN = (
    "WARNING",
    "Un airbag (coussin gonflable) peut encore se déclencher après que la batterie est débranchée, et vous blesser gravement. Le temps d'attente de cette voiture n'est pas relevé. Cherchez-le dans la documentation d'atelier du constructeur avant de continuer. N'attendez jamais moins de {wait}. Ne branchez entre-temps rien qui alimente la voiture : cela garde les airbags sous tension.",
)
AIRBAG_WIRES = (
    "WARNING",
    "Les câbles sous gaine jaune et les connecteurs jaunes appartiennent aux airbags (coussins gonflables). Les couper, y faire un piquage ou y mesurer peut déclencher un airbag, ou l'empêcher d'agir lors d'un accident. N'y touchez pas. Un simple fil jaune sans gaine peut être autre chose, et un fil d'airbag peut quitter sa gaine avant d'entrer dans un connecteur : ce guide nomme les broches.",
)
AIRBAG_PINS = (
    "WARNING",
    "Dans ce connecteur, ceci appartient aux airbags, avec ou sans gaine : {pins}. Y toucher avec un multimètre ou une lampe peut déclencher un airbag. À compter, mais à ne jamais toucher, ni la broche ni son fil derrière le connecteur.",
)
HAZARD_AIRBAG = ("WARNING", "{words} N'y touchez pas : il peut se déclencher et vous blesser gravement.")
HAZARD_HIGH_VOLTAGE = ("WARNING", "{words} Cela peut tuer. N'y touchez pas.")
HAZARD_MOVING = ("WARNING", "{words} Cela peut happer les doigts et les manches. Tenez-vous à l'écart.")
HAZARD_HOT = ("CAUTION", "{words} Cela brûle. Laissez d'abord refroidir.")
HAZARD_SHARP = ("CAUTION", "{words} Cela coupe. N'approchez pas les mains du bord.")
METER = (
    "WARNING",
    "Mesurez avec un multimètre numérique. N'utilisez une lampe d'essai que là où une étape le permet. Une lampe ou un multimètre sur un fil d'airbag peut déclencher l'airbag, et une lampe sur le mauvais fil peut mettre quelque chose en marche sous vos mains.",
)
BATTERY = (
    "WARNING",
    "Une étincelle près de la batterie peut la faire éclater et projeter de l'acide. Protégez-vous les yeux et tenez les flammes à l'écart.",
)
RINGS = (
    "CAUTION",
    "Une bague ou un bracelet de montre qui court-circuite la batterie chauffe au rouge aussitôt. Enlevez-les avant d'aller à la batterie.",
)
FUSES_OUT = (
    "WARNING",
    "Un fil sous tension qui touche du métal peut mettre le feu. Laissez les fusibles du kit ({labels}) hors de leurs porte-fusibles jusqu'à ce que ce guide le dise.",
)
GROUND = (
    "WARNING",
    "Utilisez le point de masse nommé ici et aucun autre. Ne desserrez jamais une fixation de ceinture, de siège, d'airbag, de frein, de direction ou de carburant : elle peut céder quand quelqu'un en a besoin. Ne percez pas de trou pour cela.",
)
COLOUR = (
    "NOTICE",
    "La couleur d'un fil est un indice, pas une preuve. Mesurez chaque fil comme le dit l'étape avant d'y raccorder quoi que ce soit.",
)
PEDALS = (
    "WARNING",
    "Un fil pris par une pédale, l'arbre de direction ou le sélecteur peut vous faire perdre la maîtrise de la voiture. Attachez tous les fils à l'écart de ceux-ci avant que la voiture ne roule.",
)
INTERLOCKS = (
    "WARNING",
    "Ne pontez et ne simulez jamais le contact de stationnement (P), le contact de capot ou la pédale de frein. La voiture pourrait démarrer avec un rapport engagé, ou avec les mains de quelqu'un dans le moteur.",
)
HOOD = (
    "WARNING",
    "Ce moteur peut démarrer à tout moment. Avant que quiconque mette les mains sous le capot, passez en mode service ou retirez les fusibles du kit, et posez toutes les télécommandes loin de la voiture et de vous. Un moteur qui démarre arrache les doigts.",
)
CLASH = (
    "NOTICE",
    "Votre fil {label} est {colour}. Dans le même connecteur, ceci lui ressemble beaucoup : {other}. N'y raccordez rien. Le bon fil est ici : {right}.",
)
DATA = (
    "NOTICE",
    "Ce fil transporte des données. Une lampe d'essai ou une seconde de contact avec la masse arrête les modules de la voiture. Utilisez seulement le multimètre.",
)
BRITTLE = (
    "NOTICE",
    "Le verrou de ce connecteur casse facilement. Enfoncez-le à fond avant de tirer, et ne faites jamais levier avec un tournevis.",
)
CUTS = (
    "CAUTION",
    "Les bords des garnitures, les ventilateurs et l'échappement coupent et brûlent. Portez des gants, laissez refroidir le moteur, et tenez manches et cheveux à l'écart.",
)
MEMORY = (
    "NOTICE",
    "Batterie débranchée, la radio peut demander son code, et l'horloge et les lève-vitres oublient leurs réglages. Notez d'abord le code de la radio, et laissez une vitre un peu ouverte.",
)
CRANKING = (
    "WARNING",
    "À cette étape, le démarreur tourne et le moteur peut partir : il peut vous happer. Dehors, sélecteur en P, frein de stationnement serré, personne près du moteur.",
)
LEARNING = (
    "WARNING",
    "Ne demandez aucun démarrage à distance avant que ce guide le dise. Le kit ne connaît pas encore le moteur : il pourrait tenir le démarreur engagé trop longtemps, ou démarrer alors que quelqu'un est trop près.",
)
HIDDEN_KEY = (
    "NOTICE",
    "Ne cachez ni clé ni puce de clé dans la voiture. Cela aide un voleur, et votre assureur peut refuser de payer.",
)
RADIO = (
    "NOTICE",
    "N'ouvrez pas et ne modifiez pas la télécommande ni son récepteur. Une modification non approuvée peut vous retirer le droit de les utiliser.",
)
GEAR_TEST = (
    "WARNING",
    "Si quelque chose ne va pas, la voiture bouge pendant cet essai et peut écraser une personne. Calez les roues, serrez le frein de stationnement, gardez l'espace libre devant et derrière. Gardez le pied fermement sur le frein ; ne le tenez au-dessus du frein, sans y toucher, que là où l'étape demande un démarrage à distance, car un frein appuyé empêche à lui seul un démarrage à distance, et l'essai ne prouverait rien. Vous n'êtes pas sûr ? Faites faire cet essai par un garage. Si le démarreur tourne, appuyez sur le frein, arrêtez la voiture, retirez les fusibles du kit et appelez le fournisseur.",
)
GEAR_FIRST = (
    "WARNING",
    "Si quelque chose ne va pas, la voiture bouge pendant cet essai et peut écraser une personne. Calez les roues, serrez le frein de stationnement, gardez l'espace libre devant et derrière, et le pied fermement sur le frein tout du long. Vous n'êtes pas sûr ? Faites faire cet essai par un garage.",
)
KIT_LIVE = (
    "WARNING",
    "À partir de maintenant, le kit est alimenté. Il ne devrait rien démarrer avant la fin de la partie D, mais ne vous y fiez pas : un moteur qui démarre arrache les doigts. Avant que quiconque mette les mains sous le capot, retirez les fusibles du kit.",
)
HOOD_TEST = (
    "WARNING",
    "Le moteur peut tourner pendant cet essai. Le ventilateur et les courroies arrachent les doigts. Personne ne met les mains sous le capot, et la personne qui l'ouvre se tient à côté de la voiture, pas devant.",
)
HAND_OVER = (
    "WARNING",
    "N'utilisez pas le kit et ne remettez pas la voiture avant que chaque essai de cette partie soit réussi et que le voyant des airbags s'allume puis s'éteigne. Un kit qui échoue à un seul essai peut blesser quelqu'un : retirez ses fusibles et appelez.",
)
CHILDREN = (
    "WARNING",
    "Ne laissez jamais seuls un enfant, un animal ou une personne qui ne peut pas sortir dans une voiture qui tourne à distance. Les vitres peuvent bouger et la chaleur peut tuer.",
)
LEAVING = (
    "WARNING",
    "Chaque fois que vous laissez la voiture prête pour un démarrage à distance : sélecteur en P, frein de stationnement serré, portières verrouillées. Une voiture qui démarre dans un autre état peut rouler et blesser quelqu'un.",
)
GRASS = (
    "WARNING",
    "Ne vous garez pas sur de l'herbe sèche ou des feuilles. Un échappement chaud peut y mettre le feu.",
)
IDLING = (
    "NOTICE",
    "Bien des lieux limitent la durée du ralenti ou interdisent de laisser tourner le moteur. Renseignez-vous sur les règles de votre région, de votre ville et du propriétaire des lieux, et réglez la durée de marche au plus court qui suffit.",
)
MISMATCH = (
    "WARNING",
    "Ne continuez jamais avec une mesure qui ne correspond pas : faites ce qui est dit à « Sinon ». Quand il n'y a plus rien d'autre à y faire, remettez le câblage de la voiture comme il était et appelez. Un kit sur le mauvais fil peut mettre le feu ou démarrer la voiture avec un rapport engagé.",
)
REFUSED = ("WARNING", "{words}")
EXHAUST_PLACE = (
    "WARNING",
    "Le moteur tourne dans cette partie. Soyez dehors, sans personne devant ni derrière la voiture. Les gaz d'échappement tuent dans un espace fermé.",
)
CHOCKS = (
    "WARNING",
    "Une voiture dont le frein de stationnement est desserré peut vous rouler dessus. Calez une roue des deux côtés avant de le desserrer.",
)
