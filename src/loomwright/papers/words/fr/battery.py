# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Batterie débranchée, attente pour les airbags, batterie rebranchée."""

OFF_TITLE = "Débrancher la batterie"
OFF_DO = (
    "{Key_away}.",
    "Ouvrez le capot. Laissez une portière entrouverte pour ne pas vous enfermer dehors.",
    "Desserrez l'écrou de la cosse négative, celle marquée d'un moins, et retirez la cosse.",
    "Enveloppez la cosse d'un chiffon pour qu'elle ne puisse pas retomber sur la borne.",
)
OFF_SEE = "La cosse est retirée, le multimètre ne montre rien, et le plafonnier reste éteint quand vous ouvrez une portière."
OFF_IF_NOT = "Si le multimètre montre des volts ou si une lampe s'allume encore, il y a une deuxième batterie, ou vous avez retiré la mauvaise cosse. Arrêtez et appelez."
OFF_DO_TWO = (
    "{Key_away}.",
    "Ouvrez le capot. Laissez une portière entrouverte pour ne pas vous enfermer dehors.",
    "Cette voiture a deux batteries, reliées par un câble : avec une seule débranchée, la voiture reste sous tension. Desserrez l'écrou de la cosse négative, celle marquée d'un moins, sur une batterie, et retirez la cosse.",
    "Faites de même sur l'autre batterie.",
    "Enveloppez chaque cosse d'un chiffon pour qu'aucune ne puisse retomber sur sa borne.",
)
OFF_SEE_TWO = "Les deux cosses négatives sont retirées, le multimètre ne montre rien, et le plafonnier reste éteint quand vous ouvrez une portière."
OFF_IF_NOT_TWO = "Si le multimètre montre des volts ou si une lampe s'allume encore, une des deux cosses touche encore sa borne, ou vous avez retiré la mauvaise. Regardez les deux. Toujours une lampe : arrêtez et appelez."
OFF_PROVED = "Prouvez-le avec le multimètre en volts : une pointe sur la borne positive, l'autre sur du métal nu de la carrosserie. Il ne montre rien."
OFF_LEAD = "Détachez de la batterie le long fil, et rangez-le."
WAIT_TITLE = "Attendre pour les airbags"
WAIT_DO = "Attendez {wait} à partir de maintenant. Regardez l'heure."
WAIT_DO_UNKNOWN = "Cherchez le temps d'attente dans la documentation d'atelier du constructeur. Attendez au moins {wait}."
WAIT_WORKS = "Pendant ce temps, restez hors de la voiture, et assurez-vous que les fusibles du kit sont retirés de leurs porte-fusibles : {labels}."
WAIT_WORKS_NO_FUSE = "Pendant ce temps, restez hors de la voiture."
WAIT_LAY = "Puis disposez le kit dans la voiture : le boîtier de commande et ses connecteurs sous le tableau de bord, loin des pédales et de tout airbag, là où il pourra être attaché à un renfort ; de là, les fils le long de ceux de la voiture jusqu'à leur place."
WAIT_SEE = "Le temps est écoulé, et les fusibles du kit sont posés à côté de vous."
WAIT_IF_NOT = "Si vous n'êtes pas sûr du temps écoulé, attendez-le encore une fois."
ON_TITLE = "Rebrancher la batterie"
ON_DO = (
    "Regardez encore une fois : pas de cuivre à nu, pas d'outil, pas de bout de fil libre ; chaque fil inutilisé a son embout ou son ruban.",
    "{Key_out}. Les fusibles du kit sont retirés, le boîtier de commande est débranché.",
    "Retirez le chiffon et remettez la cosse négative sur sa borne.",
    "Serrez l'écrou.",
)
ON_DO_TWO = (
    "Regardez encore une fois : pas de cuivre à nu, pas d'outil, pas de bout de fil libre ; chaque fil inutilisé a son embout ou son ruban.",
    "{Key_out}. Les fusibles du kit sont retirés, le boîtier de commande est débranché.",
    "Retirez les chiffons et remettez la cosse négative sur sa borne à une batterie, puis à l'autre.",
    "Serrez les deux écrous.",
)
ON_COLD = "Personne n'est dans la voiture au moment où la cosse est remise, et rien n'est posé sur un airbag dont le panneau est retiré."
ON_SEE = "Le plafonnier s'allume avec une portière ouverte. Pas de fumée, pas d'odeur, rien ne chauffe. Une minuscule étincelle quand la cosse touche sa borne est normale ; c'est à cela que sert la protection des yeux."
ON_IF_NOT = "Odeur, fumée ou chaleur : retirez aussitôt la cosse. Ensuite, appelez. Le plafonnier ne s'allume pas : la cosse ne tient pas, ou le plafonnier est coupé à son interrupteur ; regardez les deux. Toujours rien : appelez."
ON_IF_NOT_TWO = "Odeur, fumée ou chaleur : retirez aussitôt les deux cosses. Ensuite, appelez. Le plafonnier ne s'allume pas : une cosse ne tient pas, ou le plafonnier est coupé à son interrupteur ; regardez les deux. Toujours rien : appelez."
