"""La page de montage : ce que fait un fil, ce que changent une coupure ou un court-circuit, où sont les choses."""

from collections.abc import Mapping
from types import MappingProxyType

CONDITION: Mapping[str, str] = MappingProxyType({
    "live": "sous tension",
    "dead": "hors tension",
    "up": "maintenu haut",
    "pulled": "tiré à la masse",
    "ground": "à la masse",
    "moving": "variable",
    "between": "entre les deux",
    "loose": "flottant",
})
CONDITION_MEANS: Mapping[str, str] = MappingProxyType({
    "live": "tension de batterie, alimenté fermement",
    "dead": "pas de tension",
    "up": "haut au repos, agit quand on le tire à la masse",
    "pulled": "haut au repos, quelque chose le tire à la masse",
    "ground": "relié à la borne négative de la batterie",
    "moving": "données ou impulsions : le multimètre montre une moyenne qui bouge",
    "between": "ni sous tension ni hors tension : un niveau, ou un défaut",
    "loose": "rien ne le tient, le multimètre peut montrer n'importe quoi",
})
BESIDE = "À côté de la voiture ou sous le capot"
BESIDE_WORDS = "Pas au niveau des pieds du conducteur."
PIN = "broche {pin}"
VOLTS = "{volts}"
GROUND_WIRE = "masse de la carrosserie"
KIT_RUNS = "le kit fait tourner le moteur"
KIT_ON = "le kit a activé {outputs}"
READS: Mapping[bool | None, str] = MappingProxyType({
    True: "en marche", False: "à l'arrêt", None: "ni l'un ni l'autre",
})  # fmt: skip
SENSE = "Le kit lit {function} comme {reads} ({volts})."
SENSE_WRONG = "Le kit lit {function} comme {reads} ({volts}) ; tout étant sain, comme {sound}."
BLOWN = "{what} s'ouvre : {current}, en {time} au plus tard."
CHATTERS = "Un relais bat : il colle et décolle sans fin."
PHASE: Mapping[str, str] = MappingProxyType({
    "": "rien n'est demandé au kit",
    "ignition on": "contact mis",
    "cranking": "démarreur en action",
    "running": "moteur en marche",
})
FLOATS = "n'importe quoi : rien ne tient alors ce fil"
ABOUT = "environ {volts:.1f} V"
ABOUT_MOVING = "environ {volts:.1f} V, variable"
NO_SCENARIO = "un état à la fois"
START_ENGINE_STILL = "Le moteur est à l'arrêt."
START_ENGINE = "Le moteur tourne à {rpm}."
START_ENGINE_CHANGES = "Le moteur passe de {before} à {rpm}."
START_BATTERY = "La batterie a {volts}."
START_BATTERY_DIPS = "La batterie a {volts}, {lowest} au plus bas."
START_STARTER = "Le démarreur prend jusqu'à {amps}."
START_KEY = "Position de la clé : {key}."
START_ON = "Le kit a activé {outputs}."
START_OFF = "Le kit n'a rien activé."
START_LASTS = "Cela reste ainsi pendant {time}."
START_HOLDS: Mapping[bool, str] = MappingProxyType({True: "Oui", False: "Non"})
KEY: Mapping[str, str] = MappingProxyType({
    "off": "à l'arrêt", "acc": "accessoires", "run": "contact", "crank": "démarrage",
})  # fmt: skip
