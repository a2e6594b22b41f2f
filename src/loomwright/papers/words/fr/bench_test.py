# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""L'essai à l'établi : le kit à l'établi avant de partir, sans voiture."""

TITLE = "Essai à l'établi"
SUBTITLE = "{kit}, révision {revision}, pour la {car}"
SUPPLY = (
    "CAUTION",
    "Une alimentation d'établi sans limite brûle un fil qui en touche un autre. Réglez {volts} et une limite de {limit}. Éteignez-la avant de pincer ou de dépincer une sortie. Tenez bagues et bracelets loin des pinces.",
)
LAMPS = (
    "NOTICE",
    "Des lampes remplacent la voiture. Prenez-en de petites, pas de démarreur et pas de relais de voiture : ce qui pend ici à un fil doit prendre moins que la limite de l'alimentation.",
)
INTRO = "Chaque fil dont un défaut passerait inaperçu est essayé ici avant que le kit ne parte, et encore une fois dans la voiture par la personne qui le monte (partie E du guide). Cochez chaque étape."
INTRO_PART = "Pour les fils dont un défaut passerait inaperçu, ce qu'un établi peut montrer est essayé ici avant que le kit ne parte ; le reste est nommé sous « Seulement dans la voiture », et tout est essayé encore une fois dans la voiture par la personne qui monte le kit (partie E du guide). Cochez chaque étape."
SET_FIRST = "Les essais valent pour les options de la feuille de réglages. Réglez d'abord ce qui est livré autrement : {changed}."
SET_ONE = "{name} sur {value}"
LEARN_FIRST = "Faites ensuite apprendre une fois le ralenti au boîtier de commande, avec les impulsions du premier essai."
HEAD_RING = "D'abord, sonner les fils"
RING_INTRO = "Boîtier de commande débranché, alimentation éteinte, les fusibles dans leurs porte-fusibles. Multimètre sur ohms ou sur le bip : chaque fil sonne de sa place dans le connecteur du kit à son autre bout, et à aucune ligne d'une autre place. Un fil qui porte une pièce sonne jusqu'à la pièce."
RING = ("Connecteur du kit", "Fil", "Autre bout")
RING_PLACE = "{plug}/{pin}"
RING_PIN = "{label}, broche {pin}"
RING_PART = "à la pièce ({name})"
RING_PART_IN = "à la pièce ({name}), dans {label}"
RING_RING = "sa cosse à œillet"
RING_BARE = "son bout dénudé"
RING_DIODES = "Diode de {labels}, multimètre sur le calibre diode : elle conduit vers sa bague, et pas dans l'autre sens."
RING_THROUGH = "À travers {labels} : chaque broche d'un bout sonne à la même broche de l'autre bout, et à une autre broche seulement là où le tableau donne la même place aux deux."
RING_CUT = "Pas là où le fil de la voiture est interrompu : {pins}."
HEAD_CLIPS = "Ce qu'on pince et où"
CLIPS = ("fil", "pour", "à l'établi")
POWER = "borne positive de l'alimentation, chacun par son propre fusible"
GROUND = "borne négative de l'alimentation"
LAMP_TO_GROUND = "une lampe vers la borne négative"
LAMP_TO_PLUS = "une lampe vers la borne positive : cette sortie tire à la masse"
AT_REST = "au repos : {clip}"
PULSES = "une source d'impulsions carrées, éteinte"
CLIP = {"free": "en l'air", "ground": "sur la borne négative", "battery": "sur la borne positive"}
PLACE = "À l'établi"
ACCESS = "Alimentation éteinte jusqu'à ce que la première étape le dise."
HEAD_TESTS = "Les essais"
START_TITLE = "Un démarrage"
START_DO = (
    "Tous les fils comme dans le tableau. Allumez l'alimentation.",
    "{start} D'abord la lampe s'allume sur {first}, puis sur {starter}.",
)
START_DO_AT_ONCE = "{start} La lampe s'allume sur {starter}."
START_PULSES = "Dès qu'elle s'allume sur {starter}, allumez les impulsions : {hertz} sur {label}, comme les donne le moteur au ralenti."
START_SUPPLY = "Dès qu'elle s'allume sur {starter}, montez l'alimentation à {volts}, comme le fait une voiture qui charge. Laissez-la là deux secondes."
START_SEE = "La lampe s'éteint sur {starter} et reste, ou s'allume, sur {running}. Demandez ensuite l'arrêt : toutes les lampes s'éteignent."
LIMIT_TITLE = "Pas de moteur"
LIMIT_DO = "{start} N'imitez aucun moteur."
LIMIT_SEE = "La lampe s'allume sur {starter} pendant {time} au plus, {attempts} fois au plus, puis toutes les lampes s'éteignent d'elles-mêmes."
REFUSE_TITLE = "Pas de voiture, pas de démarrage"
REFUSE_DO = "Tous les fils comme dans le tableau. Allumez l'alimentation et demandez un démarrage avec la télécommande. Attendez dix secondes."
REFUSE_SEE_ANSWER = "La lampe sur {lamps} montre {reply} : la demande a été reçue et refusée. Aucune lampe sur {outputs} ne s'allume. Ce kit lit ceci par le bus de données : {heard} ; ce qu'il n'y lit pas compte comme la valeur qui arrête."
REFUSE_SEE = "Aucune lampe sur {outputs} ne s'allume. Ce kit lit ceci par le bus de données : {heard} ; ce qu'il n'y lit pas compte comme la valeur qui arrête."
REST_DO = "Tout le reste au repos : {rest}."
RUNNING_DO = "Démarrez, et imitez le moteur, comme dans le premier essai."
MOVE_DO = "Maintenant {label} : {clip}."
AGAIN_DO = "Laissez-le ainsi, n'imitez aucun moteur, et demandez de nouveau un démarrage. Attendez dix secondes."
ASK_DO = "Demandez un démarrage avec la télécommande. Attendez dix secondes."
BACK_DO = "Maintenant {label} de nouveau : {clip}. Demandez encore : maintenant il démarre, le kit vous entendait donc avant. Demandez ensuite l'arrêt."
GONE_SEE = "Toutes les lampes sur {outputs} s'éteignent aussitôt, et aucune d'elles ne s'allume à la deuxième demande."
STILL_SEE = "Aucune lampe sur {starter} ne s'allume avant que le fil ne soit remis."
LAMP_SEE = "La lampe s'allume sur {first}. Elle reste éteinte sur {starter} aussi longtemps que le fil reste ainsi, et s'allume quand il est remis."
RUNS_ON_SEE = "Aucune lampe sur {starter} ne s'allume à la deuxième demande. Un moteur qui tourne déjà n'est pas arrêté par ce fil."
ANSWER_SEE = "La lampe sur {lamps} répond à la demande refusée : {reply}."
OUTPUTS_TITLE = "Ce qu'on demande d'autre avec la télécommande"
OUTPUT_DO = "{label} : {clip}. {how}"
END_TO_GROUND = "une lampe de son bout côté voiture vers la borne négative"
END_TO_PLUS = "une lampe de son bout côté voiture vers la borne positive"
OUTPUTS_SEE = "Chaque lampe s'allume quand on la demande, et à aucun autre moment."
IF_NOT = "N'expédiez pas ce kit. Vérifiez la continuité de {label} de son bout jusqu'au boîtier de commande, puis essayez un autre boîtier."
IF_NOT_PLAIN = "N'expédiez pas ce kit. Regardez d'abord les réglages, puis le boîtier de commande."
HEAD_CAR = "Seulement dans la voiture"
CAR_INTRO = "Ce qui passe par le bus de données, ou demande un moteur qui tourne, aucun établi ne le montre. La personne qui monte le kit fait ces essais selon la partie E du guide, avant la remise."
CAR = "{title} : {fault}."
