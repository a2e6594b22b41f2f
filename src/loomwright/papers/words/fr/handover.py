# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Partie F : refermer, dernier contrôle, remise, utilisation, dépose, et ce qui a été vérifié."""

HEAD = "Partie F : refermer et remettre la voiture"
TIE_DO = (
    "Attachez chaque fil au câblage de la voiture, avec un collier à chaque longueur de main. Aucun fil ne pend.",
    "Rien ne touche un bord vif, un tuyau de chauffage ou quoi que ce soit qui bouge.",
    "Rien ne passe sur un airbag, un protège-genoux ou sur la course de la colonne.",
    "Fixez le boîtier de commande avec deux colliers, et le module véhicule à côté s'il y en a un. Laissez un peu de mou aux bouts de ses fils. Secouez le faisceau : rien ne cogne ni ne glisse.",
)
LABEL_DO = "Collez l'étiquette d'avertissement sous le capot : celle du sachet, ou la feuille imprimée de ce nom. Attachez la plaquette au porte-clés si le sachet en contient une."
TIE_FUSES_OUT = "Retirez les fusibles du kit pendant ce travail : {labels}."
TIE_FUSES_IN = "Remettez maintenant les fusibles du kit, avant de refermer leurs endroits."
TIE_SERVICE_ON = "Passez aussitôt en mode service, pour que rien ne démarre pendant que vous refermez le reste. {service}"
SERVICE_TRY = "Le mode service est encore actif. Portières et capot fermés, aucun pied sur une pédale : demandez un démarrage. Il est refusé. Quittez ensuite le mode service."
TIE_SERVICE = "Le bouton du boîtier de commande reste à portée, tous les panneaux remis."
CLOSE_TITLE = "Tout est attaché et refermé"
CLOSE_DO = "Sortez tous les outils. Refermez ensuite un endroit après l'autre, chacun dans l'ordre inverse de son ouverture."
CLOSE_PLACE = "{place}. Vous aviez fait : {access} Défaites cela, la dernière action d'abord."
CLOSE_COLD = "Un airbag se trouve ici : {places}. Débranchez la batterie, et attendez {wait}, avant de remettre ce panneau ; rebranchez ensuite la batterie."
CLOSE_SEE = "Tous les fils sont attachés. Toutes les vis et agrafes sont en place. Pas de jour, pas de fil pincé."
CLOSE_IF_NOT = "Ajoutez un collier là où un fil bouge. Un panneau qui ne se ferme pas repose sur un fil. Ouvrez-le et écartez le fil."
SWEEP_TITLE = "Dernier contrôle : ce qui bouge, et le voyant des airbags"
SWEEP_DO = (
    "Moteur arrêté, {key_on}. Enfoncez chaque pédale jusqu'au plancher, trois fois.",
    "Tournez le volant d'une butée à l'autre. Montez et descendez la colonne.",
    "Pied sur le frein : passez le sélecteur par toutes les positions et revenez en P.",
    "Avancez et reculez le siège.",
    "{Key_out}, attendez une minute. {Turn_on} et observez le voyant des airbags : il s'allume, et s'éteint après quelques secondes.",
)
SWEEP_SEE = "Rien n'accroche, ne frotte ni ne claque sous le tableau de bord. Le voyant des airbags s'est allumé puis éteint, et aucun nouveau voyant ne reste allumé."
SWEEP_IF_NOT = "Attachez à l'écart le fil qui accroche, et refaites tout le contrôle. Le voyant des airbags reste allumé ou ne s'est jamais allumé : ne roulez pas, faites lire les défauts par un garage, et appelez le fournisseur."
AGAIN_TITLE = "Ce qui arrête le moteur, essayé encore une fois, tout étant refermé"
AGAIN_DO = (
    "Un panneau qui se referme peut arracher une jonction. Refaites donc ces essais de la partie E, chacun comme il y est décrit : {titles}.",
)
AGAIN_SEE = "Chacun arrête le moteur ou l'empêche de démarrer, comme avant."
AGAIN_IF_NOT = "{Stop_first}N'utilisez pas le kit. Rouvrez l'endroit concerné comme dans la partie A, retirez les fusibles du kit, et faites ce qui est dit à « Sinon » dans cet essai."
HEAD_HAND_OVER = "Remise de la voiture"
HAND_OVER = (
    "Chaque essai de la partie E est réussi.",
    "Le voyant des airbags s'allume puis s'éteint.",
    "L'étiquette d'avertissement est sous le capot, et la plaquette au porte-clés si le sachet en contient une.",
    "La personne qui conduit la voiture a lu la partie utilisation ci-dessous.",
    "Toutes les personnes qui conduisent la voiture savent ce que font les télécommandes, et aucune n'est laissée dans la voiture.",
    "Ce guide reste avec les papiers de la voiture.",
)
HEAD_OPERATE = "Comment l'utiliser"
HEAD_OPERATE_SAFELY = "Ce qui peut blesser"
CARD_TELLS = "La carte d'utilisation dit la même chose pour le conducteur, avec ce que disent les feux et les limites de quelques lieux. Mettez-la dans la voiture."
HEAD_REMOVE = "Déposer le kit"
REMOVE_INTRO = "La voiture est ensuite comme avant. Défaites le montage dans l'ordre inverse. Là où un fil était raccordé, refermez l'isolant avec du ruban ; si le cuivre est abîmé, soudez et couvrez d'une gaine thermorétractable."
REMOVE_OFF = "{Key_out}, débranchez la batterie, et attendez {wait} pour les airbags. Retirez les fusibles du kit."
REMOVE_OFF_TWO = "{Key_out}, retirez les cosses négatives des deux batteries, et attendez {wait} pour les airbags. Retirez les fusibles du kit."
REMOVE_CONTROLLER = "Débranchez le boîtier de commande."
REMOVE_T = "Retirez le faisceau en T {label} et rebranchez le connecteur de la voiture comme à l'origine, jusqu'au déclic."
REMOVE_PLUG = "Tirez le connecteur {label} hors de sa prise : {plug}."
REMOVE_TAP = "Défaites la jonction de {label} : {plug}, broche {pin}, {colour}."
REMOVE_ADDED = "Retirez la pièce de {label} ({name}) et bouchez le trou."
REMOVE_CUT = "Retirez la pièce de {label} ({name}) du fil : {plug}, broche {pin}, {colour}. Réunissez les deux bouts de ce fil, soudés et sous gaine thermorétractable."
REMOVE_GROUND = "Défaites {label}, et resserrez le boulon."
REMOVE_ON = "Rebranchez la batterie. {Start_engine}. Le voyant des airbags s'allume puis s'éteint."
HEAD_CHECKED = "Ce qui a été vérifié et ce qui ne l'a pas été"
CHECKED_PLAIN = (
    "Ce kit dans cette voiture a été calculé comme un seul circuit, dans {states} états différents. Dans chacun, on a "
    "demandé ce qui doit être sous tension et ce qui doit être hors tension, ce que portent chaque fil et chaque fusible, "
    "et si la voiture démarre encore avec {its_key} à chaque étape du montage et avec le kit inactif."
)
CHECKED = (
    "Ce kit dans cette voiture a été calculé comme un seul circuit : {nodes} points et {elements} éléments, dans {states} "
    "états, {points} solutions. Dans chacun, on a demandé ce qui doit être sous tension et ce qui doit être hors tension, "
    "ce que portent chaque fil et chaque fusible, et si la voiture démarre encore avec {its_key} à chaque étape du montage "
    "et avec le kit inactif."
)
CHECKED_RESIDUAL = "Le plus grand courant résiduel d'une solution était de {residual}."
ASSUMED = (
    "Les longueurs et sections de fil que personne n'a mesurées viennent des documents de la famille de voitures.",
    "Les valeurs attendues valent pour la batterie telle que vous l'avez mesurée ; là où un nombre est donné, pour {battery} au repos.",
    "La voiture est d'origine : aucune alarme, aucun démarreur à distance, aucun module de remorque ajouté auparavant.",
    "Les jonctions sont saines. Aucun calcul ne voit une mauvaise jonction ; votre multimètre, si.",
)
NOT_CHECKED = (
    "Le comportement à l'intérieur des modules de la voiture, et les logiciels de la voiture modifiés depuis.",
    "L'eau, la chaleur et le frottement au fil des ans.",
    "La loi de chez vous, votre garantie et votre assurance.",
)
HEAD_NOT_CHECKED = "Non vérifié"
HEAD_REMAINS = "Constats qui restent"
NONE_REMAIN = "Aucune règle enfreinte n'a été trouvée."
REMAINS = "{severity} : {message}"
REMAINS_ADVICE = "{message} Que faire : {advice}"
HEAD_UNPROVEN = "Fils que personne n'a prouvés sur une voiture comme la vôtre"
UNPROVEN = "{function}, {plug}, broche {pin}, {colour} : {why}"
NONE_UNPROVEN = "Chaque fil qu'utilise ce kit a été mesuré sur une voiture comme la vôtre."
ELSEWHERE_INTRO = "Ces fils ont été mesurés, mais à une autre broche du même fil. Que le fil arrive à la broche que vous raccordez vient du schéma : croyez le multimètre."
ELSEWHERE = "{function}, {plug}, broche {pin} : mesuré à {places}"
ELSEWHERE_PIN = "{plug}, broche {pin}"
ELSEWHERE_UNTOLD = "{function}, {plug}, broche {pin} : mesuré, sans dire à quelle broche"
MARK = "{key} : {value}"
