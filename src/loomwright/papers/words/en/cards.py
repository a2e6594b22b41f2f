# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""The small papers that stay with the car: operating card, hood label, settings sheet, removal page."""

from collections.abc import Mapping
from types import MappingProxyType

CARD_TITLE = "Operating card"
CARD_SUBTITLE = "{kit} in the {car}. Keep it in the car."
HEAD_USE = "Start, stop, drive off"
START = "Start: {start}"
WAITS = "A cold diesel is heated first: after the request the starter stays still until the glow lamp is out, in hard frost up to half a minute. That is right; do not press again."
STOP = "Stop: {stop}"
REMOTE = "{name}. {start}"
ALSO = {
    "lock": "Lock: {how}",
    "unlock": "Unlock: {how}",
    "hatch": "Hatch or boot lid: {how}",
    "horn": "Horn: {how}",
}
RANGE = "Range: {range}"
RUN_TIME = "It stops by itself after {time}."
DRIVE_DOOR = "Driving off: the engine stops when {door}. Get in, shut the door, and start with {the_key} as always."
DRIVE = "Driving off: get in. {Take_over}. The engine runs on as after any start."
DRIVE_SEATED = "Sitting in the car with the doors shut while it runs: {Take_over_small}. The engine runs on."
DRIVE_BRAKE = "Driving off: get in and press the brake. The engine stops: the kit does not see your key, so it must. Start with {the_key} as always."
STOP_OWN = "Does nothing of that stop it? Then the kit has lost its supply: stop the engine with {the_key}."
STOPS = "It also stops when {events}."
STOP_HOOD = "the hood opens"
STOP_DOOR = "a door opens"
STOP_DRIVER_DOOR = "the driver's door opens"
STOP_BRAKE = "the brake pedal is pressed"
STOP_SELECTOR = "the selector leaves park"
OR = "or"
LOOK_HOOD = "hood shut"
LOOK_DOORS = "doors shut"
LOOK_DRIVER_DOOR = "driver's door shut"
LOOK_SELECTOR = "selector in park"
LOOK_BRAKE = "nobody on the brake pedal"
LOOK_KEY = "no key in the lock"
LOOK_ENGINE = "engine off"
DRIVER_SETTING = "{name}: {means}"
NEUTRAL = "In neutral the engine may start as in park, and the car can roll: only park and the parking brake hold it."
CARE = "Twice a year, and after any work under the dash or the hood: try that brake and hood still stop the engine."
HEAD_REPLIES = "What the parking lamps say"
REPLIES_TABLE = ("Lamps", "It says", "What to do")
REPLY_DO: Mapping[str, tuple[str, str]] = MappingProxyType({
    "heard": ("The request was heard.", "Wait. It checks first, then it starts."),
    "refused": ("It will not start now.", "Look: {looks}."),
    "running": ("The engine runs.", "Nothing."),
    "failed": ("It did not start, and tries no more.", "Stop by remote, start with {the_key}. Does that work? Try again later. Twice the same: call the shop."),
    "stopped": ("It has stopped.", "Nothing."),
    "service": ("The service mode is on.", "It starts nothing until you switch the mode off."),
})
HEAD_SERVICE = "Workshop, car wash, ferry, or a child at play: service mode"
SERVICE = "{service}"
SERVICE_FUSES = "To be quite sure, take the kit's fuses out: {fuses}. The car then runs on {its_key} only."
SERVICE_NONE = "Put every remote away where nobody finds it, and tell whoever works on the car what is fitted."
HEAD_HABITS = "What would start it by accident"
HABITS = (
    "A remote in a trouser pocket, under a bag, or in a child's hand. Carry it where nothing presses it.",
    "A remote left with a parked car, in a workshop, or with the key at a car park. Give the key without the remote.",
    "A second remote in a drawer at home, within reach of the car in the garage.",
    "Coming home: the car goes into the garage, and the remote in your pocket still reaches it. Lay it where nothing presses it, or use the service mode.",
    "A remote lent with the car to somebody who does not know it. Tell them, or keep it.",
    "Pressing again because nothing seems to happen. Look at the lamps first.",
)
HABIT_ATTEMPTS = "One request tries up to {count} times: the engine may start again by itself a moment after a start that failed. Stop it by remote before you lift the hood."
HABIT_TIMED = "The setting {name} is at {value}. It must stay so: a start by itself indoors can kill."
HEAD_LIMITS = "Limits that the shop has on record"
LIMITS_INTRO = "Other places have other rules, and rules change. Ask at your own."
LIMITS_TABLE = ("Place", "Engine may idle", "With nobody in the car", "Read in")
LIMIT_IDLE = "{minutes}"
LIMIT_NO_IDLE = "no limit on record"
UNATTENDED: Mapping[str, str] = MappingProxyType({
    "allowed": "allowed",
    "locked only": "only with the doors locked",
    "not allowed": "not allowed",
})
LIMIT_SOURCE = "{source}; read on {on}"

LABEL_TITLE = "This engine can start by itself"
LABEL_SUBTITLE = "Label for the underside of the hood: {car}"
LABEL_WARNING = "This engine can start by remote, without anybody at the car. Fan and belts take fingers and hands. Before you reach in: stop the engine, lay every remote away, and {before}"
LABEL_FUSES = "pull the plugs {plugs} of the starting kit's controller under the dash, or take the kit's fuses out: {fuses}."
FUSE_AT = "{labels} ({place})"
FUSE_REACHED = "{place}: {access} {tools}"
FUSE_TOOLS = "Tool: {tools}."
FUSES_REACHED = "How to get at the fuses. {places}"
LABEL_PLUGS = "pull the plugs {plugs} of the starting kit's controller under the dash."
LABEL_GARAGE = "Never let it run in a garage or any closed space. The exhaust kills."
LABEL_KIT = "Fitted: {kit}, revision {revision}."
LABEL_CUT = "Cut this label out and put it under clear film, or use the one from the bag."

SETTINGS_TITLE = "Settings sheet"
SETTINGS_SUBTITLE = "{kit}, revision {revision}, in the {car}"
HEAD_BOXES = "The boxes"
BOX_CONTROLLER = "Controller {name}, {hardware}, firmware {firmware} {version}"
BOX_MODULE = "Vehicle module {name}, {hardware}, firmware {firmware} {version}"
BOX_LOCKED = "Once it has learned, only these can still be changed on it: {which}."
BOX_SERIAL = "Serial number: __________________  Fitted on: __________________"
HEAD_SETTINGS = "Every setting"
SETTINGS_TABLE = ("Where", "Option", "Set to", "Choice", "Change it?", "Why")
CHANGE = "yes, it came as {default}"
AMONG = "{place}: {values}"
KEEP = "no, it came so"
WHY_SERVES = "It takes the place of a wire. {why}"
WHY_HOW = "{function}: {how}. {means}"
WHY_UNSERVED = "{function}: not served in this car. {means}"
WHY_PLAIN = "{means}"
HEAD_HOW_SET = "How to set the controller"
HEAD_LEARNED = "What must have been learned"
LEARNED = "{name}. Last answer: {reply} Done on: __________"
NOT_NEEDED = "Nothing has to be learned in this car."

REMOVAL_TITLE = "Removal page"
REMOVAL_SUBTITLE = "{kit} out of the {car}: back to stock"
HEAD_AFTER = "After it is out"
AFTER = (
    "{Turn_on}: every warning lamp lights and goes out as before the kit, the airbag lamp too.",
    "{Start_engine}: it starts at once and idles.",
)
AFTER_LOCKED = "The vehicle module is locked to this car once it has learned. Ask the shop before you use it in another one."
HEAD_FLAT = "After a flat or a changed battery"
FLAT_FUSES_OUT = "Before jump leads, a charger or another battery: take the kit's fuses out ({labels}). No remote start while a cable is on."
FLAT_CABLES = "Jump leads as the owner's manual of the car says: eye protection on, everything switched off, the last clamp on bare metal away from the battery. A spark there can make it burst."
FLAT_OWN_START = "Start on {its_key} first. Let the engine run for a while; the kit has no part in that."
FLAT_CAR = "What the car itself forgot is not the kit's doing: clock, radio code, window switches, idle. The owner's manual says how to teach it again."
FLAT_FUSES_IN = "{Key_out}. Put the kit's fuses back."
FLAT_TRY = "Ask for a start by remote, outdoors, as the first time. In this car the kit has learned nothing that it could forget. If it refuses twice, call the shop."
FLAT_LEARN = "Ask for a start by remote, outdoors, as the first time. If it refuses or stops at once, the kit has forgotten the car. Do these steps of part D of the guide once more: {names}."
FLAT_KEYS = "Keys of the car needed for that: {count}."
FLAT_SETTINGS = "Compare run time and lamps with the operating card and the settings sheet. If they differ, the settings are gone: set them again as in part D of the guide."
HEAD_SERVICE_MODE = "Service mode: the kit starts nothing"
HEAD_DEALER = "For the workshop"
DEALER = (
    "Fitted: {kit}, revision {revision}. It is joined at: {joined}.",
    "To find out whether a fault is the kit's: take the kit's fuses out and unplug {plugs}. The T-harness then only carries the car's own current, and the car was computed in that state too.",
    "The car was computed with the kit fitted, dead and taken out. Findings to put right in these states: {count}.",
)
DEALER_SOCKET = "The {label} plug of the kit sits in the {plug}. Kit's fuses out, pull it to connect a tester or to load software, and plug it back before the fuses."
DEALER_LEARN = "After a new engine computer, body computer, immobiliser or key: the kit must learn the car again, with these steps of part D of the guide: {names}."
DEALER_AIRBAGS = "No lead of the kit is joined to a wire of the airbags or belts. Work under the dash all the same with the battery off and {wait} waited."
