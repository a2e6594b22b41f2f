# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Partie C : batterie rebranchée, les mêmes fils vus du côté du kit ; puis les connecteurs du boîtier de commande."""

HEAD = "Partie C : rebrancher la batterie, et mesurer du côté du kit"
INTRO = (
    "Le boîtier de commande est encore débranché. Vous mesurez aux connecteurs libres du kit, assis bien droit, sans "
    "tableau de bord au-dessus de la tête. Faites cette partie d'un trait : on ne quitte la voiture qu'après une étape qui le "
    "dit."
)
KEY_TITLE = "La voiture démarre avec {its_key}"
KEY_DO = (
    "Sélecteur en P, pied sur le frein. Aucun panneau et aucun fil ne se trouve près des pédales.",
    "{Turn_on}. Observez le voyant des airbags : il s'allume puis s'éteint.",
    "{Start_engine}, laissez-le au ralenti, arrêtez-le.",
)
OWN_SWITCH = "Essayez ce qui a été coupé pour y intercaler une pièce, chaque fois avec la commande d'origine de la voiture, comme avant le kit. Si l'un d'eux ne marche pas : débranchez la batterie, attendez {wait}, refaites ses deux jonctions."
KEY_BREAK_PLAIN = "Pour une pause : remettez les panneaux à la main, et attachez les connecteurs du kit, loin des pédales."
KEY_BREAK = "Pour une pause : remettez les panneaux à la main, et attachez les connecteurs du kit, loin des pédales. Ses fusibles sont encore retirés : le kit ne peut rien faire."
KEY_SEE = "La voiture démarre avec {its_key}, et le voyant des airbags s'est allumé puis éteint."
TRIED_SEE = "Tout ce que vous avez essayé marche."
KEY_IF_NOT = (
    "Le voyant des airbags reste allumé ou ne s'allume jamais : {key_off}, cherchez un connecteur jaune qui a été déplacé, ne roulez pas, et appelez le fournisseur. "
    "Pas de démarrage : débranchez la batterie, attendez {wait}, retirez chaque faisceau en T, rebranchez les connecteurs de la voiture comme à l'origine, rebranchez la batterie : la voiture démarre-t-elle maintenant ? Si oui, un connecteur du T n'était pas à fond : débranchez la batterie, attendez {wait}, rebranchez-le à fond. Si elle ne démarre toujours pas, appelez le fournisseur."
)
KEY_IF_NOT_PLAIN = "Le voyant des airbags reste allumé ou ne s'allume jamais : {key_off}, ne roulez pas, et appelez le fournisseur. Pas de démarrage : débranchez la batterie, attendez {wait}. Revoyez chaque jonction de la partie B, rebranchez la batterie : la voiture démarre-t-elle maintenant ? Sinon, défaites la dernière jonction faite, et appelez le fournisseur."
FUSES_AT = "Là où les fils rejoignent la voiture : {fuses}."
FUSES_TITLE = "Mettre les fusibles du kit"
FUSES_DO = (
    "{Key_out}.",
    "Mettez le fusible de chacun de ces fils dans son porte-fusible : {fuses}.",
)
FUSES_RATING = "{label} {rating}"
FUSES_OF_PARTS = "Un relais monté dans un fil a déjà son propre fusible : {fuses}. Laissez-le, et ne le confondez pas avec les autres."
FUSES_SEE = "Rien ne claque, rien ne chauffe."
FUSES_IF_NOT = "Un fusible saute, ou quelque chose claque ou chauffe : retirez tous les fusibles du kit, n'en mettez pas de plus gros. Cherchez du cuivre à nu, puis appelez le fournisseur."
TITLE = "Les fils aux connecteurs du boîtier de commande, avant de les brancher"
FIND = "Prenez en main les connecteurs libres du kit {plugs}. Suivez les lignes ci-dessous l'une après l'autre : touchez le contact que nomme la ligne par l'arrière du connecteur, dans l'état qu'elle nomme. La pointe ne relie jamais deux alvéoles : certaines sont sous tension, et l'une fait tourner le démarreur."
REST = "Là où une ligne ne dit rien d'autre : {rest}."
BRAKE_LAST = "Après la dernière ligne, serrez de nouveau le frein de stationnement, avant que quelqu'un n'enlève les cales."
GROUND_FIRST = "Pincez le long fil sur la borne positive de la batterie pour la première ligne, {label} ; un signe devant le nombre est sans importance. L'autre bout de ce long fil est alors sous tension : gardez-le sur la pointe, loin de tout métal. Remettez ensuite la pince sur la borne négative."
LOADED = "Un multimètre montre des volts même à travers un seul brin. Là où une ligne dit que la lampe d'essai s'allume, tenez-y aussi la lampe : elle doit briller franchement."
COUNT = "Le numéro de chaque alvéole est inscrit à côté d'elle sur le connecteur du kit."
NEIGHBOURS = "L'étiquette le dit aussi : lisez-la sur le fil, près du connecteur."
UNREAD = "Pas de ligne ici pour {labels} : avec une pièce dans le fil, le multimètre ne dit encore rien. La partie E montre que cela marche."
SEE = "Chaque fil montre ce que montrait son fil de la voiture. Les jonctions sont bonnes."
IF_NOT = (
    "Touchez de nouveau. Toujours faux : mesurez de nouveau ce fil de la voiture comme dans la partie A. Juste là et faux ici : la jonction ou le connecteur du T est mauvais ; retirez les fusibles du kit, débranchez la batterie, "
    "attendez {wait}, refaites-la. Deux fils intervertis : retirez les fusibles, débranchez la batterie, attendez {wait}, échangez-les là où ils rejoignent les fils de la voiture. Ensuite rebranchez la batterie, remettez les fusibles, et mesurez ici de nouveau. Toujours faux : arrêtez et appelez le fournisseur."
)
UNPLUG_TITLE = "Le boîtier de commande"
PLUG_UNUSED = "Ne branchez pas {plugs} : rien de cette voiture n'y est raccordé. Attachez à l'écart ce qui reste ainsi libre."
PLUG_DO = (
    "{Key_out}. Détachez de la batterie le long fil, et retirez de nouveau les fusibles du kit : {labels}.",
    "Enfoncez les connecteurs du kit dans le boîtier de commande, dans cet ordre : {plugs}. Chacun fait un déclic.",
    "Fixez le boîtier là où il ne peut pas tomber : attaché à un renfort, loin du chauffage et de tout airbag, son bouton et son témoin visibles et à portée de main depuis le siège du conducteur, pour la partie D.",
    "Remettez les fusibles du kit.",
)
PLUG_DO_NO_FUSE = "{Key_out}. Détachez de la batterie le long fil."
PLUG_MODULE = "Laissez le module véhicule {name} posé là où vous voyez son témoin. Vous en avez besoin dans la partie D."
PLUG_SEE = "Le boîtier reste silencieux : le démarreur ne tourne pas et les feux restent éteints."
PLUG_IF_NOT = "Si quelque chose démarre tout seul, retirez les fusibles du kit et appelez le fournisseur."
DEAD_TITLE = "La voiture démarre toujours avec {its_key}"
DEAD_IF_NOT = "Le voyant des airbags reste allumé ou ne s'allume jamais : {key_off}, ne roulez pas, et appelez le fournisseur. Pas de démarrage : retirez les fusibles du kit et essayez encore une fois. Notez les deux résultats et appelez le fournisseur."
STOP_DO = "Pour une pause : retirez de nouveau les fusibles du kit, pour que les télécommandes ne puissent rien faire, et remettez-les avant de continuer. Remettez les panneaux à la main et attachez le boîtier de commande, loin des pédales."
CONTROLLER_COUNT = "Chaque connecteur ne va que dans une prise et dans un seul sens. Le nom est inscrit à côté de la prise."
CONTROLLER_NEIGHBOURS = "Ne forcez pas un connecteur dans une prise qui porte un autre nom."
NO_STOP = "N'interrompez pas le travail ici pour rouler : le contrôle n'a pas montré que la voiture démarre avec {its_key} dans cet état. Continuez avec la partie D."
