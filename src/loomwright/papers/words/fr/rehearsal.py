# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Le démarrage : ce que disent une répétition et une exploration."""

TITLE = "Le démarrage, répété"
SUBTITLE = "{kit}, révision {revision}, dans {car}"
HEAD_SCENARIOS = "Ce qu'il en résulte"
SCENARIOS = ("cas", "question", "réponse", "vu")
YES = "oui"
NO = "NON"
SOLVES = "Le réseau a été résolu {solves} fois pour tout cela."
HEAD_EVENTS = "Ce qui se passe dans ce cas : {words}"
EVENTS = ("s", "ce qui se passe", "le kit est")
HEAD_PROPERTIES = "Ce qui vaut dans tout ordre d'événements"
EXPLORED = "{states} états et {transitions} transitions ont été parcourus en {explored} explorations : avec un câblage sain, et avec chaque défaut isolé du câblage d'une entrée."
PROPERTIES = ("ce qui doit valoir", "vaut", "source")
HEAD_STORY = "Comment cela est enfreint : {words}"
HEAD_SILENT = "Fils dont personne ne remarquerait l'absence"
SILENT_INTRO = "Avec chacun de ces défauts, la voiture démarre toujours à distance comme d'habitude, et une protection a disparu. Seul l'essai nommé avec lui le montre, et seulement sans ce qui est nommé en dernier."
SILENT_ITEM = "Si {faults} : {lost} L'essai qui le montre : {tests}. Il ne montre rien avec {masks}."
SILENT_LAST = "ou"
MASKS_LAST = "ou"
SILENT_NONE = "Aucun défaut isolé du câblage d'une entrée ne passe inaperçu."
NOTICED = "{count} autres défauts se remarquent aussitôt : la voiture ne démarre alors pas à distance, ou rien n'est perdu."
HEAD_ADVICE = "Comment le régler"
DETECTION = "Régime moteur par {detection}. {why}"
DISENGAGE = "Régime de désengagement {speed}. {why}"
CRANK = "Un lancement demande jusqu'à {time}. {why}"
WAITS = ("à", "le préchauffage demande", "le kit attend", "suffisant")
WAIT_CAPTION = "Temps d'attente selon la température"
HEAD_CONTRADICTIONS = "Réglages qui se contredisent"
NOTHING_SAID = "C'est une estimation à partir de moteurs et de batteries typiques, pas une mesure de cette voiture."
