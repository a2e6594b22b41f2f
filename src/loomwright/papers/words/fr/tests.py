# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Partie E : chaque essai de protection séparément, sans rien d'autre qui puisse arrêter le moteur."""

HEAD = "Partie E : le premier démarrage à distance, et ce qui doit arrêter le moteur"
INTRO = (
    "Chaque essai n'essaie qu'une seule chose. Avant chacun : sélecteur en P, frein de stationnement serré, capot et portières "
    "fermés, personne sur une pédale, et {key_out} sauf si l'étape dit autre chose. Sinon, une autre protection arrête le "
    "moteur et l'essai ne prouve rien."
)
SWEEP_TITLE = "Rien près des pédales"
SWEEP_DO = (
    "Enfoncez chaque pédale à la main jusqu'au plancher. Aucun fil ne bouge avec elle.",
    "Attachez à l'écart ce qui est à moins d'une largeur de main des pédales, de l'arbre de direction ou du sélecteur.",
)
SWEEP_SEE = "Les pédales bougent librement sur toute leur course, et rien ne se trouve près du sélecteur."
SWEEP_IF_NOT = "Attachez de nouveau les fils avant de démarrer le moteur."
HEAD_READY = "Prêt pour le premier démarrage à distance ?"
READY_INTRO = "Cochez chaque ligne. Si l'une n'est pas vraie, revenez à sa partie."
READY = (
    "Partie C : chaque fil a donné la bonne mesure, et la voiture démarre avec {its_key}, le kit en place.",
    "Le voyant des airbags s'allume puis s'éteint.",
    "Tous les fils et le boîtier de commande sont attachés à l'écart des pédales, de l'arbre de direction et du sélecteur.",
    "Dehors ; personne devant la voiture, derrière ou dessous ; tuyau d'échappement libre.",
    "Sélecteur en P, frein de stationnement serré, capot et portières fermés, {key_out}.",
    "Vous savez comment l'arrêter : {stop}",
)
READY_LEARNED = "Partie D : {name} : la dernière réponse est venue."
READY_FUSES = "Les fusibles du kit sont en place : {labels}. Vous savez où est chacun et pouvez l'atteindre aussitôt : son endroit reste ouvert jusqu'à ce que cette partie soit réussie."
FIRST_TITLE = "Le premier démarrage à distance"
FIRST_TITLE_AFTER_LAMP = "Un démarrage à distance, vu de l'extérieur"
FIRST_DO = (
    "Sélecteur en P, frein de stationnement serré, capot et portières fermés, {key_out}. Tenez-vous à côté de la voiture.",
    "{start}",
    "Écoutez : le démarreur tourne une fois et lâche dès que le moteur tourne.",
    "Laissez-le tourner une minute.",
    "{stop}",
)
FIRST_KEYS = "Toutes les clés de cette voiture sont loin d'elle, à dix grands pas ou plus : sinon, c'est peut-être la clé qui permet le démarrage, et il ne prouve rien."
FIRST_IF_NOT_BUTTON = "Le démarreur continue de tourner : le calculateur de la voiture le fait tourner de lui-même quelques secondes encore, restez donc à l'écart ; appuyez ensuite sur le bouton de démarrage. S'il tourne toujours, débranchez la batterie, cosse négative. Le moteur ne s'arrête pas quand vous le demandez : appuyez sur le bouton de démarrage. Pas de démarrage : n'essayez pas plus de deux fois. Ensuite, appelez le fournisseur."
FIRST_SEE = "Le moteur démarre, tourne, et s'arrête quand vous le demandez. Les feux s'allument et s'éteignent comme annoncé."
FIRST_IF_NOT = "{Stop_first}Le démarreur continue de tourner : demandez l'arrêt avec la télécommande, et retirez aussitôt les fusibles du kit. Le moteur ne s'arrête pas quand vous le demandez : retirez les fusibles. Pas de démarrage : n'essayez pas plus de deux fois. Ensuite, appelez le fournisseur."
START = "Démarrez le moteur avec la télécommande."
TITLES = {
    "brake": "Frein",
    "hood": "Capot",
    "selector": "Sélecteur",
    "door": "Portière",
    "key": "Clé dans le contacteur",
    "parking-brake": "Frein de stationnement",
    "lamp": "Le premier démarrage à distance, moteur froid : le témoin de préchauffage",
}
AT_REST = {
    "brake_pressed": "aucun pied sur une pédale",
    "hood_open": "capot fermé",
    "door_open": "toutes les portières fermées",
    "in_park": "sélecteur en P",
    "parking_brake": "frein de stationnement serré",
    "key_in": "{key_out}",
}
DO = {
    "brake": (
        "Asseyez-vous sur le siège du conducteur, les pieds loin des pédales. Pendant tout cet essai : {at_rest}.",
        "{start}",
        "Appuyez légèrement sur la pédale de frein, et gardez-la appuyée.",
        "La pédale appuyée, demandez de nouveau un démarrage. Attendez dix secondes.",
        "Relâchez la pédale.",
    ),
    "hood": (
        "Un aide est assis sur le siège du conducteur, les pieds loin des pédales. Le capot est fermé. Pendant tout cet essai : {at_rest}.",
        "{start}",
        "L'aide tire la poignée du capot et ne touche à rien d'autre. Vous êtes à côté de la voiture et soulevez le capot.",
        "Laissez-le ouvert, reculez, et demandez de nouveau un démarrage. Attendez dix secondes. Ensuite, fermez-le.",
    ),
    "door": (
        "Tenez-vous dehors, personne dans la voiture, toutes les portières fermées. Pendant tout cet essai : {at_rest}.",
        "{start}",
        "Ouvrez la portière du conducteur sans toucher à rien d'autre.",
        "Laissez-la ouverte, et demandez de nouveau un démarrage. Attendez dix secondes. Ensuite, fermez-la.",
    ),
    "key": (
        "Asseyez-vous sur le siège du conducteur, moteur arrêté. Pendant tout cet essai : {at_rest}.",
        "Mettez la clé dans le contacteur. Ne la tournez pas.",
        "Demandez un démarrage avec la télécommande. Attendez dix secondes, mains et pieds loin de tout.",
        "Retirez la clé et demandez encore. Maintenant le moteur démarre : le kit vous entendait donc avant, et c'est la clé qui l'arrêtait. {stop}",
    ),
    "parking-brake": (
        "Calez les roues. Asseyez-vous sur le siège du conducteur, moteur arrêté : {at_rest}.",
        "Desserrez le frein de stationnement, les pieds loin des pédales.",
        "Demandez un démarrage avec la télécommande. Attendez dix secondes.",
        "Serrez le frein de stationnement et demandez encore. Maintenant le moteur démarre : le kit vous entendait donc avant. {stop}",
    ),
    "lamp": (
        "C'est le premier démarrage à distance. Le moteur doit être froid : de préférence après une nuit à l'arrêt.",
        "Asseyez-vous sur le siège du conducteur, là où vous voyez le tableau de bord. Pendant tout cet essai : {at_rest}. Personne devant ni derrière la voiture.",
        "Observez le témoin de préchauffage au tableau de bord, et démarrez le moteur avec la télécommande : {how}",
        "Le témoin s'allume. Comptez combien de temps il reste allumé, et écoutez le démarreur.",
        "Quand le moteur a tourné une minute : {stop}",
        "Le témoin ne s'est pas allumé, ou un instant seulement ? Alors le moteur est trop chaud, et cet essai n'a rien montré. Continuez tout de même avec l'essai suivant, et refaites celui-ci par un matin froid, avant de laisser la voiture prête pour la télécommande.",
    ),
}
SEE = {
    "brake": "Le moteur s'arrête aussitôt, et ne démarre pas tant que la pédale est appuyée.",
    "hood": "Le moteur s'arrête quand le capot se lève, et ne démarre pas tant qu'il est ouvert.",
    "door": "Le moteur s'arrête en quelques secondes, et ne démarre pas avec la portière ouverte.",
    "key": "Le démarreur reste immobile tant que la clé est dans le contacteur. Il tourne quand la clé est retirée.",
    "parking-brake": "Le démarreur reste immobile tant que le frein de stationnement est desserré. Il tourne quand il est serré.",
    "lamp": "Le démarreur reste immobile aussi longtemps que le témoin est allumé. Il ne tourne qu'une fois le témoin éteint.",
}
DOOR_SEE_RUNS = "Avec la portière ouverte, il ne démarre pas. Un moteur qui tourne déjà n'est pas arrêté par la portière."
LOST = {
    "brake_pressed": "la pédale de frein n'arrête plus le moteur",
    "hood_open": "le moteur peut démarrer et tourner capot ouvert",
    "door_open": "l'ouverture d'une portière n'arrête plus le moteur",
    "key_in": "le moteur peut démarrer à distance avec la clé dans le contacteur",
    "in_park": "le kit ne voit plus que le sélecteur a quitté P",
    "parking_brake": "le kit ne voit plus que le frein de stationnement est desserré",
    "wait_lamp": "un moteur froid est lancé avant d'être assez chaud pour partir",
    "engine": "le démarreur ne lâche pas le moteur qui tourne",
}
HEAD_PROVED = "Fils dont personne ne remarquerait l'absence"
PROVED_INTRO = "Un défaut de l'un de ces fils passerait inaperçu : la voiture démarre à distance comme toujours, et une protection a disparu. C'est pourquoi la partie E a un essai pour chacun, séparément."
PROVED = "Si {fault}, {lost}. L'essai « {title} » le montre."
ALARM_NOTE = "L'alarme se réarme dès que le moteur tourne : elle peut sonner pendant cet essai. C'est normal ; faites-la taire avec la clé ou la télécommande d'origine de la voiture."
ANSWERED = "À un démarrage refusé, les feux de position répondent : {reply}. Sans cela, le kit ne vous a pas entendu : redemandez de plus près."
GEAR_DO = (
    "Calez les roues. Serrez le frein de stationnement. Personne devant ni derrière la voiture.",
    "Asseyez-vous sur le siège du conducteur, moteur arrêté : {at_rest}. {Turn_on}, sans démarrer.",
    "Appuyez sur le frein et gardez le pied fermement dessus. Passez le sélecteur en D.",
    "{Crank_try}. Le démarreur doit rester immobile : c'est le contact de stationnement de la voiture, sur lequel le kit s'appuie. {Key_back}.",
)
GEAR_REMOTE = "Tenez maintenant le pied au-dessus de la pédale, pas dessus : un frein appuyé empêcherait à lui seul un démarrage à distance. Demandez un démarrage avec la télécommande. Attendez dix secondes. Ce kit démarre aussi contact mis : seul le sélecteur peut donc l'en empêcher. Ensuite, le pied de nouveau fermement sur le frein."
GEAR_NO_REMOTE = "Ne demandez pas ici de démarrage à distance : tant que {the_key} maintient le contact, le kit refuse de toute façon, et cela ne prouverait rien."
GEAR_AGAIN = "Le pied fermement sur le frein, passez le sélecteur en R, et refaites la même chose."
GEAR_END = "Appuyez sur le frein, sélecteur de nouveau en P, {key_out}. Retirez ensuite les cales."
GEAR_SEE = "Le démarreur ne tourne ni en D ni en R."
GEAR_IF_NOT = "Si le démarreur tourne : appuyez sur le frein, {key_off}, retirez les fusibles du kit, débranchez le boîtier de commande, et appelez le fournisseur. N'utilisez pas le kit."
GEAR_FIRST_TITLE = "Le démarreur ne tourne pas avec un rapport engagé"
GEAR_FIRST_IF_NOT = "Si le démarreur tourne : {key_off}. Cette voiture ne doit pas recevoir le kit : son contact de stationnement est mauvais. Faites-le d'abord réparer."
TIMEOUT_TITLE = "Durée de marche"
TIMEOUT_DO = (
    "Tenez-vous dehors avec une montre. Toutes les portières et le capot fermés, {key_out}.",
    "{start} Notez l'heure.",
    "Laissez-le tranquille. Il doit s'arrêter de lui-même après {time}.",
)
TIMEOUT_DO_UNKNOWN = "Laissez-le tranquille. Il doit s'arrêter de lui-même après la durée de marche réglée dans la partie D."
TIMEOUT_SEE = "Il s'arrête de lui-même, guère plus tôt et pas plus tard."
TAKEOVER_TITLE = "Prendre le relais avec {the_key}"
TAKEOVER_DO = (
    "{start}",
    "{Take_over}.",
)
TAKEOVER_SEATED = "Asseyez-vous sur le siège du conducteur, toutes les portières fermées : une portière ouverte arrête le moteur, comme il se doit."
TAKEOVER_SEE = "Le moteur continue de tourner, et maintenant {the_key} l'arrête."
TAKEOVER_STOPS_TITLE = "Monter à bord pendant qu'il tourne"
TAKEOVER_STOPS_DO = (
    "{start}",
    "La clé sur vous, appuyez sur le frein.",
    "Démarrez la voiture avec {the_key} comme toujours, puis arrêtez-la avec {the_key}.",
)
TAKEOVER_STOPS_SEE = "Le moteur s'arrête quand vous appuyez sur le frein : le kit ne voit pas votre clé, il doit donc l'arrêter. Ensuite, {the_key} le démarre et l'arrête comme avant le kit."
EXTRA_TITLE = "Ce que le kit touche d'autre"
EXTRA = {
    "lock": "Verrouillage. {means} Essayez : toutes les portières se verrouillent.",
    "unlock": "Déverrouillage. {means} Essayez : toutes les portières se déverrouillent.",
    "parking light": "Pendant que le moteur tourne à distance, les feux de position le montrent, aux quatre coins. Arrêtez-le, et allumez les feux de position avec la commande de la voiture : les quatre coins s'éclairent.",
    "horn": "Avertisseur. {means} Essayez : il sonne, et s'arrête.",
    "hatch": "Hayon ou coffre. {means} Essayez : il s'ouvre.",
    "factory alarm disarm": "Alarme. Descendez, fermez toutes les portières, verrouillez la voiture avec sa propre clé ou télécommande, et attendez que son alarme soit armée. Démarrez à distance : l'alarme reste silencieuse.",
    "driver unlock": "Déverrouillage. {means} Essayez : les portières font ce qui est dit.",
    "factory alarm arm": "Alarme. {means} Essayez, toutes portières fermées : le voyant de l'alarme le montre.",
    "accessory": "Pendant que le moteur tourne à distance, la radio et les essuie-glaces sont alimentés.",
    "second ignition": "Pendant que le moteur tourne à distance, le ventilateur de chauffage tourne.",
    "parking brake": "{Start_engine}, sélecteur en P, roues calées. Serrez et desserrez le frein de stationnement : son voyant suit, comme avant le kit.",
}
EXTRA_FEEDS = "Pendant que le moteur tourne à distance, tout ceci marche comme avec {the_key} : {feeds}."
EXTRA_LOCKED = "Voiture verrouillée. Descendez, fermez et verrouillez toutes les portières, et attendez deux minutes. Démarrez à distance : le moteur démarre, et aucune alarme ne sonne."
EXTRA_SEE = "Tout cela marche, comme avant le kit."
IF_NOT_PLAIN = "{Stop_first}Retirez les fusibles du kit, n'utilisez pas le kit, et appelez le fournisseur."
IF_NOT = "{Stop_first}Retirez les fusibles du kit et n'utilisez pas le kit. {look} Deux échecs : appelez le fournisseur."
LOOK_BUS = "Cela passe par le fil de données : voyez si le connecteur {label} est bien enfoncé ({plug}), remettez les fusibles, refaites l'apprentissage du module véhicule comme dans la partie D, et refaites cet essai."
LOOK_JOINT = "Puis débranchez la batterie, attendez {wait}, et refaites la jonction de {label} : {plug}, broche {pin}. {measure} Puis refaites cet essai."
LOOK_T = "Puis débranchez la batterie, attendez {wait}, et voyez si les deux bouts de {branch} sont bien encliquetés : {plug}, broche {pin}. {measure} Puis refaites cet essai."
LOOK_MEASURE = "Débranchez le boîtier de commande, rebranchez la batterie, remettez les fusibles, et mesurez le fil {label} comme dans la partie C. Retirez les fusibles, rebranchez le boîtier, remettez les fusibles."
LOOK_NO_MEASURE = "Rebranchez la batterie, remettez les fusibles."
LOOK_ADDED = "Voyez si le capot fermé appuie sur la pièce ({name}). Puis débranchez la batterie, attendez {wait}, débranchez le boîtier de commande, et mesurez le fil {label}, multimètre sur ohms, comme à son étape de la partie B. Rebranchez le boîtier, rebranchez la batterie, remettez les fusibles, et refaites cet essai."
LOOK_NOTHING = "Regardez les connecteurs du boîtier de commande."
