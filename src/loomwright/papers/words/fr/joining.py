# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Partie B : batterie débranchée, toutes les jonctions faites hors tension."""

HEAD = "Partie B : débrancher la batterie, et raccorder"
INTRO = (
    "Vous débranchez maintenant la batterie, et elle reste débranchée tant que vous raccordez. "
    "Batterie débranchée, rien ne peut faire d'étincelle ni démarrer. La masse vient en premier, le boîtier de commande en dernier."
)
BREAK_OFF = (
    "Si vous devez vous interrompre dans cette partie : couvrez de ruban chaque bout de fil libre, laissez les fusibles du "
    "kit retirés et le boîtier de commande débranché, remettez les panneaux à la main, attachez loin des "
    "pédales tout ce qui pend, et rebranchez la batterie. Avant de continuer : débranchez la batterie, et attendez {wait}. Après ces étapes, "
    "on peut rouler ainsi, une fois que la voiture a démarré avec {its_key} et que le voyant des airbags s'est allumé puis "
    "éteint ; elle marche comme avant, dans la limite de ce qui a été vérifié :"
)
BREAK_OFF_ALWAYS = (
    "Si vous devez vous interrompre dans cette partie : finissez l'étape, couvrez de ruban chaque bout de fil libre, laissez "
    "les fusibles du kit retirés et le boîtier de commande débranché, remettez les panneaux à la main, attachez loin des "
    "pédales tout ce qui pend, et rebranchez la batterie. Avant de continuer : débranchez la batterie, et attendez {wait}. Après "
    "chaque étape de cette partie, on peut rouler ainsi, une fois que la voiture a démarré avec {its_key} et que le voyant "
    "des airbags s'est allumé puis éteint ; elle marche comme avant, dans la limite de ce qui a été vérifié."
)
BREAK_OFF_ITEM = "après : {title}"
BREAK_OFF_NEVER = "Dans cette partie, il n'y a pas d'endroit où s'interrompre pour rouler. Finissez-la d'un trait, ou appelez."
NEVER_DRIVE = "Ne roulez jamais avec la batterie à moitié branchée ou un connecteur à moitié enfoncé."


GROUND_TITLE = "{label} au point de masse"
GROUND_DO = (
    "Trouvez le point de masse : {point}",
    "Dévissez le boulon. Gardez ce qui s'y trouve déjà.",
    "Frottez le métal à la toile émeri jusqu'à ce qu'il brille, et la cosse ronde du fil aussi.",
    "Posez la cosse {label}, {colour}, à plat sur le métal, avec les fils de la voiture par-dessus.",
    "Serrez le boulon fermement. Tirez sur le fil.",
)
GROUND_COUNT = "Le seul boulon nommé dans ce guide. {point}"
GROUND_NEIGHBOURS = "Ne touchez à aucun autre boulon : les fixations de ceinture, de siège, d'airbag, de frein, de direction et de carburant leur ressemblent."
GROUND_SEE = "La cosse ne tourne pas sous le boulon, et le multimètre correspond au tableau."
GROUND_IF_NOT = "Dévissez le boulon, nettoyez encore le métal et la cosse, et revissez. Si cela ne correspond pas la deuxième fois, revissez les fils de la voiture comme ils étaient, et appelez le fournisseur."
GROUND_WIRE = "métal nu"

TAP_TITLE = "{label} au fil {colour}"
HOW_HEAD = "Comment chaque fil est raccordé"
HOW = (
    "Reculez d'une largeur de main depuis le connecteur, là où il y a de la place. Écartez du faisceau, avec les doigts, le fil marqué de ruban, pas plus qu'il ne faut ; les fils d'airbag restent à leur place, avec ou sans gaine. Ouvrez dans l'isolant une fenêtre longue comme un doigt est large. N'entaillez pas le cuivre.",
    "Passez le bout nu du fil à travers le cuivre et autour, et soudez ; ou prenez le connecteur de piquage que nomme votre fournisseur et fermez-le comme il le demande. Tirez : cela tient.",
    "Mesurez maintenant, comme le dit le tableau de l'étape, avant de mettre le ruban. Multimètre sur ohms : touchez d'abord ses deux pointes ensemble et notez ce qu'il montre. C'est sa propre valeur : retranchez-la de chaque mesure. Les tableaux admettent {own} de plus, pour l'erreur possible du multimètre.",
    "Une pointe se glisse de nouveau le long du fil de la voiture par l'arrière du connecteur, comme dans la partie A, et y tient toute seule. L'autre touche le métal dans l'alvéole du connecteur du kit.",
    "Enroulez la jonction bien serré de ruban de tissu, un doigt au-delà du cuivre nu des deux côtés.",
    "Attachez le fil à ceux de la voiture, à l'écart des pédales et de l'arbre de direction, jamais à un fil d'airbag.",
)
TAP_DO = (
    "Trouvez le fil que vous avez marqué {label} : {plug}, broche {pin}, {colour}. Comptez encore une fois.",
    "Raccordez-y le fil {label}, {lead_colour}, comme il est dit sous : comment chaque fil est raccordé.",
)
CUT_DO = (
    "Trouvez le fil que vous avez marqué {label} : {plug}, broche {pin}, {colour}. Comptez encore une fois.",
    "Ce fil se coupe, il ne se pique pas. Coupez-le à une largeur de main du connecteur et dénudez les deux bouts. Le signal de la voiture arrive par {factory}.",
    "{ends}",
    "Soudez ou sertissez les deux bouts. Tirez : ils tiennent.",
    "Enroulez chaque jonction bien serré de ruban de tissu, un doigt au-delà du cuivre nu.",
    "Attachez le fil et sa pièce aux fils de la voiture, à l'écart des pédales et de l'arbre de direction.",
)
CUT_ENDS = {
    "relay changes over": "La pièce ({name}) s'intercale. À son fil marqué 87a : {factory}. À son fil marqué 30 : l'autre bout. Le fil {label} et tout ce qui alimente le relais sont déjà raccordés à la pièce : aucun autre de ses fils ne va à la voiture.",
    "diode cuts in": "La pièce ({name}) s'intercale, sa bague à l'opposé de ceci : {factory}. Le fil {label}, {lead_colour}, se raccorde au bout qui est du côté de la bague.",
}
CUT_FROM = {"harness side": "le bout qui s'éloigne du connecteur", "plug side": "le bout qui reste sur le connecteur"}
CUT_COMES = "Il y arrive depuis un autre connecteur : {plug}."
CUT_GOES = "L'autre bout du fil mène à ce connecteur : {plug}."
FACTORY = {"harness side": "côté du faisceau, à l'opposé du connecteur", "plug side": "côté du connecteur"}
WAY_OUT = "Menez le fil {label} hors de l'habitacle jusque-là. {through} Tenez-le à l'écart de l'échappement, du ventilateur, des courroies, de la charnière du capot, des pédales et de l'arbre de direction, et attachez-le à chaque largeur de main. Mettez-le sous gaine là où il passe contre la tôle ou la traverse, rendez le passe-fil étanche, et laissez le fil pendre en boucle juste avant le passe-fil, pour que l'eau s'en égoutte."
TAP_PART = "Le fil porte une pièce montée près de son bout ({name}). {pattern} Laissez-la en place, là où elle reste au sec."
TAP_PART_FED = "L'alimentation et la masse de cette pièce sont déjà raccordées dans le faisceau : aucun autre de ses fils ne va à la voiture."
TAP_SEE = "Vous pouvez tirer fermement et rien ne bouge. Aucun cuivre n'est visible. Le multimètre correspond au tableau."
TAP_SEE_PART = "Vous pouvez tirer fermement et rien ne bouge. Aucun cuivre n'est visible. Avec la pièce, un multimètre ne dit encore rien ; la partie E montre qu'elle marche."
CUT_IF_NOT = "Refaites les deux jonctions. Si elles ne tiennent pas la deuxième fois, retirez la pièce ({name}), raccordez ensemble les deux bouts du fil de la voiture, comme à l'origine, isolez-les, et appelez le fournisseur."
TAP_SPLIT = "Le fil {label} a un bout pour chacun des fils de la voiture auxquels il se raccorde : un pour celui-ci, et un pour {others}."
TAP_SPLIT_AT = "la broche {pin} ({plug})"
TAP_IF_NOT = "Refaites la jonction. Si cela ne correspond pas la deuxième fois, défaites-la, refermez le fil de la voiture avec du ruban, et appelez le fournisseur."
TAP_NEIGHBOURS = "Le ruban sur le fil dit {label}."
PART_WORDS = {
    "relay inverts": "Son relais met la tension de la batterie sur le fil quand le kit tire à la masse.",
    "relay boosts": "Son relais porte le courant à la place du kit.",
    "relay grounds": "Son relais met le fil à la masse pour le kit.",
    "diode": "Elle ne laisse passer le courant que dans un sens.",
    "resistor": "Elle fixe le niveau que lit la voiture.",
    "relay changes over": "Son relais fait passer le fil de la voiture au kit.",
    "diode cuts in": "Elle empêche le signal du kit de refluer dans la voiture.",
}

ADDED_TITLE = "{label} à la nouvelle pièce : {name}"
ADDED_DO = (
    "Endroit : {place}",
    "Posez-y la pièce ({name}) avec une boulette de mastic sur le bout de sa tige, retirez les mains, et fermez le capot doucement : le mastic montre jusqu'où il descend. Le capot fermé doit enfoncer la tige de la moitié de sa course, pas plus.",
    "Regardez derrière la tôle avant de percer : pas de fil, pas de tuyau. Percez au diamètre des vis de la pièce, ébavurez, peignez le bord ; laissez le métal nu là où s'appuie la patte.",
    "Vissez la pièce ({name}) sur ce métal nu, pour qu'elle ait une masse.",
    "Sertissez ou soudez le fil {label}, {lead_colour}, sur la borne de la pièce ({name}). Isolez et attachez.",
)
ADDED_WAY = "Passez-le par un passe-fil en caoutchouc du tablier."
ADDED_COUNT = "Une seule borne sur la pièce ({name}) ; il n'y a pas de broche à compter."
ADDED_NEIGHBOURS = "Ne touchez pas au contact d'origine dans la serrure du capot : il reste comme il est."
ADDED_WIRE = "aucun fil de la voiture"
ADDED_SEE = "Le multimètre montre un contact avec le capot ouvert, et aucun avec le capot fermé."
ADDED_IF_NOT = "Pliez ou déplacez la patte jusqu'à ce que ce soit le cas. Sinon, après deux essais, laissez le contact de capot de côté et appelez le fournisseur."

T_TITLE = "Faisceau en T {label} : {plug}"
T_DO = (
    "Trouvez : {plug}. {look}",
    "{opening}",
    "Regardez dans les deux moitiés : chaque contact droit, aucun repoussé.",
    "Enfoncez le connecteur de la voiture dans le T jusqu'au déclic.",
    "Enfoncez l'autre bout du T là où se trouvait le connecteur, jusqu'au déclic.",
    "Tirez doucement sur chaque connecteur. Aucun ne vient.",
    "Attachez le T, à l'écart de l'arbre de direction.",
)
T_DO_LATCH = "Regardez les deux verrous : chacun s'est accroché sur son ergot, et tout ce que vous avez bougé, tirette, levier ou boulon, est remis comme avant."
T_CARRIED = "{label} ({lead}) à la broche {pin} ({colour})"
T_COUNT = "Il ne va que dans un sens, verrou sur verrou ; il n'y a pas de broche à compter. À l'intérieur se rejoignent : {carried}. Toutes les autres broches passent tout droit."
PLUG_COUNT = "Il ne va que dans un sens ; il n'y a pas de broche à compter. À l'intérieur se rejoignent : {carried}."
T_NEIGHBOURS = "Un connecteur presque pareil ne doit pas y aller. Le bon : {look}"
T_SEE = "Deux déclics, et rien ne vient quand vous tirez. Le multimètre correspond au tableau."
T_SEE_PLAIN = "Deux déclics, et rien ne vient quand vous tirez."
T_IF_NOT = (
    "Retirez-le, cherchez un contact plié, et essayez encore une fois sans forcer. Si ce n'est pas bon la deuxième fois, "
    "rebranchez les connecteurs de la voiture comme à l'origine, et appelez le fournisseur."
)
PLUG_IF_NOT = "Ressortez-le, cherchez un contact plié, et essayez encore une fois sans forcer. S'il ne s'enfonce pas, laissez-le dehors, attachez-le, et appelez le fournisseur."
PLUG_TITLE = "Connecteur {label} dans sa prise : {plug}"
PLUG_DO = (
    "Trouvez : {plug}. {look}",
    "{opening}",
    "Enfoncez le connecteur {label} jusqu'à ce qu'il soit à fond tout autour.",
    "Tirez doucement. Il tient.",
)
PLUG_SEE = "Le connecteur est droit et tient quand vous tirez. Son fil se vérifie quand le module véhicule apprend la voiture."
PLUG_SEE_PLAIN = "Le connecteur est droit et tient quand vous tirez."

OHM_STATE = "batterie débranchée, {key_out}, multimètre sur ohms"
OHM_CLIP_WIRE = "de nouveau le long du fil de la voiture, comme dans la partie A : {plug}, broche {pin}"
OHM_CLIP_GROUND = "sur du métal nu de la carrosserie, loin du point de masse, par exemple la gâche de la portière"
OHM_PROBE = "au connecteur du kit {plug}, alvéole {pin}, fil {label}"
OHM_PROBE_HOLDER = "dans le porte-fusible vide du fil {label}, sur son contact du côté du raccord"
OHM_EXPECT = "{high} ou moins"
OHM_GOOD = "Juste : la jonction conduit."
OHM_BAD = "La jonction ne conduit pas, ou vous touchez un autre fil."
OHM_RESISTOR_EXPECT = "de {low} à {high}, la résistance dans le fil"
OHM_RESISTOR_LOW = "Trop bas pour la résistance de ce fil : un autre fil du kit, un autre fil de la voiture, ou un court-circuit."
OHM_OPEN_EXPECT = "pas de contact : OL, ou plus de {low}"
OHM_OPEN_GOOD = "Juste : le contact est ouvert."
OHM_OPEN_BAD = "Le contact ne s'ouvre pas : il n'est pas assez enfoncé."
OHM_HOOD_OPEN = "capot ouvert, batterie débranchée, multimètre sur ohms"
OHM_HOOD_SHUT = "capot fermé, batterie débranchée, multimètre sur ohms"

UNUSED_HEAD = "Fils qui restent inutilisés dans cette voiture"
UNUSED_INTRO = (
    "Ces fils n'ont pas de place dans cette voiture. Mettez un embout ou deux couches de ruban sur chaque bout nu, repliez-le "
    "et attachez-le au faisceau. Ne le coupez pas court, et n'en réunissez jamais deux."
)
UNUSED_INSIDE = "Dans le connecteur {where} et inutilisés ici : {labels}. Rien n'en sort, il n'y a donc rien à isoler."
UNUSED_CLASH = "Ne le prenez pas pour : {clash}."
UNUSED_TABLE = ("Fil", "Couleur", "Ne pas confondre")
CLASH_RIGHT = "{plug}, broche {pin} : {colour}"
NO_CLASH = "Rien"
