
"""Names of things: functions, key positions, what people do, units, articles."""

from collections.abc import Mapping
from types import MappingProxyType

AND = "and"
CALL_LINE = "{shop}: {call}."
FOOTER = "Stuck? {shop}: {call}. Tell the number of the step and both readings."
OR = "or"
DOCUMENTS_FORMAT = "format {number}"
PLACE = "{name}: {words}"
NO_ACCESS = "Nothing to open."
OPENS_HERE = "You open it in this step."
STILL_OPEN = "Still open."
OPEN_ALL = "Still open, all of it."
OPEN_AGAIN = "Still open. If you closed it for a break, open it again the same way."
BESIDE_CAR = "Beside the car"
NO_STRIPE = "{colour}"
STRIPED = "{colour}/{stripe}"
LEAD = "{label}, {colour}"
PIN = "pin {pin}"
PIN_WIRE = "pin {pin}, {colour}"
PIN_WIRE_NAME = "pin {pin}, {colour} ({name})"
TERMINAL_SHORT = "{plug}/{pin} {function}"
FUNCTION_DIN = "{function} ({din})"
CABIN_PLACE = "In the driver's seat"
OUTSIDE_PLACE = "Beside the car, in the open air"
HOOD_PLACE = "At the battery"
UNDER_HOOD = "Under the hood"
HOOD_WORDS = "In most cars it is under the hood. If you do not find it, your owner's manual shows where it is."
CONTROLLER_PLACE = "At the controller"
CONTROLLER_WORDS = "The box of the kit, {name}, and the plugs of its harness. Let them hang where you can see them."
OPEN_HOOD = "Open the hood."
SIT_IN = "Sit in the driver's seat."
STAND_OUTSIDE = "Stand where you can see the car and nobody is near it."

# How one says the same thing about a car with a key and about one with a start button.
KEYED: Mapping[str, str] = MappingProxyType({
    "key_out": "key out",
    "Key_out": "Key out",
    "key_on": "key on",
    "Key_on": "Key on",
    "key_off": "key off",
    "Key_acc": "Key one step on",
    "Key_back": "Key back to on",
    "Key_away": "Take the key out and put it in your pocket",
    "its_key": "its key",
    "the_key": "the key",
    "turns_key": "turns the key",
    "Turn_on": "Turn the key on",
    "Start_engine": "Start the engine with the key",
    "Crank_try": "Turn the key to start for one second",
    "Take_over": "Turn the key on, not to start, then press the brake",
    "Stop_first": "",
})
START_GLOWN = "With the key on wait until the glow lamp is out, then start the engine with the key"
BUTTON: Mapping[str, str] = MappingProxyType({
    "key_out": "car switched off, key in your pocket",
    "Key_out": "Car switched off, key in your pocket",
    "key_on": "dash on",
    "Key_on": "Dash on",
    "key_off": "car switched off",
    "Key_acc": "Start button pressed once, foot off the brake",
    "Key_back": "Take the foot off the brake, and press the start button until the dash is on again",
    "Key_away": "Switch the car off and put every key of it well away from the car",
    "its_key": "its own start button",
    "the_key": "the start button",
    "turns_key": "presses the start button",
    "Turn_on": "Press the start button twice with the foot off the brake, until the dash is on",
    "Start_engine": "Start the engine with the start button, foot on the brake",
    "Crank_try": "Press the brake, press the start button for one second",
    "Take_over": "With the key on you, press the brake and then the start button once",
    "Stop_first": "If the engine runs, stop it with the start button first: without the kit it would run on. ",
})
KEY_BUTTON: Mapping[str, str] = MappingProxyType({
    "out": "car switched off",
    "off": "car switched off",
    "acc": "button pressed once, foot off the brake (accessory)",
    "run": "button pressed twice, foot off the brake (dash on, engine off)",
    "crank": "foot on the brake, a helper presses the button and the starter turns",
    "in lock": "car switched off",
    "any": "any",
    "running": "engine idling, started with the button by a helper",
})
KEY: Mapping[str, str] = MappingProxyType({
    "out": "key out",
    "off": "key out",
    "in lock": "key in the ignition lock, not turned",
    "acc": "key one step on (accessory)",
    "run": "key on (run), engine off",
    "crank": "key held in start by a helper for two seconds",
    "any": "key in any position",
    "running": "engine idling, started with the key by a helper",
})

# A car whose computer cranks by itself takes a start signal that lasts too long for a fault. Longest time that stays
# below its limit [s]: how the key is held in start, and how the starter is tried.
HELD: tuple[tuple[float, str, str], ...] = (
    (2.0, "key held in start by a helper for two seconds", "Turn the key to start for one second"),
    (1.0, "key held in start by a helper for one second, no longer", "Turn the key to start for one second, no longer"),
    (0.5, "key turned to start by a helper, who lets go at once", "Turn the key to start and let go at once"),
    (0.0, "key turned to start by a helper for a moment only", "Turn the key to start for a moment only"),
)

# The signal words of ANSI Z535.6 and ISO 3864-2, as a list of cautions writes them.
SIGNAL: Mapping[str, str] = MappingProxyType({
    "DANGER": "DANGER",
    "WARNING": "WARNING",
    "CAUTION": "CAUTION",
    "NOTICE": "NOTICE",
})

# What is done to make a stimulus differ from rest.
DOING: Mapping[str, str] = MappingProxyType({
    "brake pressed": "brake pedal pressed by a helper",
    "hood open": "hood open",
    "driver door open": "driver's door open",
    "passenger door open": "passenger's door open, the others shut",
    "hatch open": "hatch or boot lid open",
    "lamps on": "parking lamps switched on",
    "hazards on": "hazard lamps switched on",
    "horn pressed": "horn pressed for a moment",
    "lock pressed": "lock button held down",
    "unlock pressed": "unlock button held down",
    "in park": "selector out of park, foot on the brake",
    "parking brake set": "parking brake set",
    "key in lock": "key in the ignition lock",
    "engine running": "engine running, started with the key",
    "blower on": "heater blower switched on",
    "wipers on": "wipers switched on",
    "awake": "car asleep: locked and left alone for half an hour",
    "wait lamp lit": "while the glow lamp is lit",
    "window pressed": "a window switch held down",
    "retained accessory": "key just turned off, doors still shut",
    "turn left on": "left turn signal switched on",
    "turn right on": "right turn signal switched on",
    "start pressed": "start button held down, foot off the brake",
    "hatch pressed": "hatch or boot release held, doors unlocked",
    "key turned to lock": "a helper outside holds the key turned to lock in the shut driver's door",
    "key turned to unlock": "a helper outside holds the key turned to unlock in the shut driver's door",
})
# Where the switch itself is named: 'unlock held: lock cylinder of the driver's door'.
AT_SWITCH: Mapping[str, str] = MappingProxyType({
    "lock pressed": "lock held: {switch}",
    "unlock pressed": "unlock held: {switch}",
})
AT_SWITCH_RESTING = "nobody at the {switch}"
RESTING: Mapping[str, str] = MappingProxyType({
    "brake pressed": "brake pedal free",
    "hood open": "hood shut",
    "driver door open": "driver's door shut",
    "passenger door open": "passenger's door shut",
    "lamps on": "lamps off",
    "hazards on": "hazard lamps off",
    "horn pressed": "horn not pressed",
    "lock pressed": "lock button free",
    "unlock pressed": "unlock button free",
    "parking brake set": "parking brake released, wheels chocked",
    "key in lock": "key out of the lock",
    "retained accessory": "a door opened since it was switched off",
    "hatch open": "hatch or boot lid shut",
    "blower on": "heater blower off",
    "wipers on": "wipers off",
    "window pressed": "window switches free",
    "turn left on": "turn signal off",
    "turn right on": "turn signal off",
    "start pressed": "start button free",
    "hatch pressed": "hatch or boot release free",
    "key turned to lock": "no key in the driver's door",
    "key turned to unlock": "no key in the driver's door",
})

HOW: Mapping[str, str] = MappingProxyType({
    "T tapped": "through the T-harness, tapped",
    "T interrupted": "through the T-harness, cut in",
    "tap": "tapped",
    "plug": "with its own plug",
    "cut in": "cut into the wire",
    "bus": "over the data bus",
    "setting": "by a setting, no wire",
    "added part": "by an added part",
    "none": "not at all",
})
JOINT: Mapping[str, str] = MappingProxyType({
    "T tapped": "inside the T",
    "T interrupted": "inside the T, the wire is cut in",
    "tap": "tap onto the wire",
    "plug": "plug into the free socket",
    "cut in": "the wire is cut, the part between",
    "ground point": "ring under a bolt",
    "added part": "onto the added part",
})
# What a buyer reads instead of the short word of the records.
WHY_PLAIN: Mapping[str, str] = MappingProxyType({
    "only known from a sibling": "it is known from a sister model only",
    "only known from another variant": "it is known from a car of another build only",
    "only read from the maker's diagram": "it was read from the maker's diagram only",
    "only reported by a buyer": "a buyer reported it, nobody measured it",
})
STANDING: Mapping[str, str] = MappingProxyType({
    "proven": "proven",
    "unproven": "NOT PROVEN",
    "contradicted": "RECORDS DISAGREE",
})
SEVERITY: Mapping[str, str] = MappingProxyType({
    "stop": "STOP",
    "fix": "to be put right",
    "note": "note",
})
STAGE: Mapping[str, str] = MappingProxyType({
    "bare": "the untouched car",
    "fitting": "during the fitting",
    "fitted": "the kit fitted",
    "learned": "the kit fitted and learned",
    "kit dead": "the kit dead or unplugged",
    "removed": "the kit taken out again",
})
