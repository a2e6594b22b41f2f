# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Page one of the guide: the car, the kit, the bag, the tools, the time, and when to stop."""

TITLE = "Fitting guide"
SUBTITLE = "{kit} in the {car}"
HEAD_START = "Before you begin"
INTRO = (
    "One action at a time: do it, look at what you should see, and go on only when you see it. Nobody is in a hurry. You "
    "measure everything first, then join with the battery off, then measure again."
)
HEAD_CAR = "Is this your car?"
CAR_NAME = "The papers are for one car only: {car}, built as below. Tick each line at the car itself."
CAR_NAMES = "The papers are for one car only: {car}, also sold as {others}, built as below. Tick each line at the car itself."
CUE = "{axis}: {value}. You see: {cue}"
CAR_DIFFERS = "If any line differs, stop and call. A kit for another variant can be on the wrong pins."
HEAD_KIT = "Is this your kit?"
KIT_NAME = "On the bag stands: {kit}, revision {revision}."
KIT_SERIAL = "Serial number: {where} Write it here before you call anybody: __________________"
HEAD_BAG = "What is in the bag?"
BAG_T = "T-harnesses, each two mating plugs on short wires: {labels}"
BAG_ONE_T = "A T-harness, two mating plugs on short wires: {labels}"
BAG_PLUG = "Plugs on a lead: {labels}"
BAG_ONE_PLUG = "A plug on a lead: {labels}"
BAG_HARNESS = "The harness of the kit: its plugs {plugs} with all leads in them, each with its label. The table below names them."
BAG_CONTROLLER = "The controller, {name}"
BAG_BOXES = "The controller, {name}, and the vehicle module, {module}"
BAG_PART = "{name}, already in the {label} lead"
BAG_NOT_USED = "{item}. Not used in this car: it stays in the bag"
BAG_IDLE_MODULE = "The vehicle module, {module}, and its leads. Not used in this car: it stays in the bag"
BAG_SHORT = "If something is missing, stop and call before you open the car."
HEAD_PLUGS = "The kit's plugs"
PLUGS_INTRO = (
    "Every lead already sits in its plug, fitted at the shop. You never pull one out and never push one in. The number of "
    "each place is printed beside it on the back of the plug, where the leads go in: that number is what this guide "
    "calls a place. In the table {first} is place {pin} of plug {plug}. Read the label on the lead as well."
)
PLUGS_TABLE = ("Plug/place", "Lead", "Length", "In this car")
PLUGS_PLACE = "{plug}/{pin}"
PLUGS_LEAD = "{label}, {colour}"
PLUGS_FUSED = "{length}, fuse {fuse}"
PLUGS_INSIDE = "in {label}"
PLUGS_JOIN = "joined"
PLUGS_WITH = "with {label}"
PLUGS_GROUND = "ground bolt"
PLUGS_ADDED = "to the {name}"
PLUGS_UNUSED = "not used"
PLUGS_FUSES = "A lead with a fuse has a holder for it near its far end, a hand's width from where it is joined or from its T. The fuses stay out until this guide says so; that of a lead that is not used stays out for good."
PLUGS_MODULE = "The vehicle module {module} is plugged to the {label} lead. It is left unplugged until part D."
PLUGS_MODULE_BY = "The vehicle module {module} is plugged to the {label} lead: {plug}. It is left unplugged until part D."
HEAD_WORDS = "Words of this guide"
WORDS = (
    "Controller: the box that starts the engine. Vehicle module: the smaller box that talks with the car over one of its wires.",
    "Body module: the car's own box for lamps, locks and horn.",
    "T-harness: short wires with a plug at each end that go between a plug of the car and the place where it was.",
    "Data wire, or bus: a wire on which the boxes of the car talk with each other.",
    "Tap connector: a clamp that joins a lead to a wire without cutting it. Use only the kind your shop sends or names. Crimp: to squeeze a metal sleeve firmly round a wire, with the tool made for it.",
    "GN/BK and the like: a colour in short, the base before the stroke and the stripe behind it. The drawn piece of wire beside it shows base and stripe.",
    "Place: a numbered hole of a plug. Pin: a place of a plug of the car.",
)
HEAD_TOOLS = "Tools"
TOOL_METER = "Digital meter, range 20 V direct current and ohms, with sharp thin probes; a long lead with two clips, with a fuse of one ampere at the clip for the battery, to bring battery negative to where you lie"
TOOL_LAMP = "Test lamp with a bulb, for the lines that allow it: it loads a joint as no meter does"
TOOL_OPEN = "To open up: {tools}"
TOOL_BATTERY = "Spanner for the nut of the battery clamp; cloth tape and cable ties"
TOOL_GROUND = "Spanners for the nut of the battery clamp and for the ground bolt; emery cloth; cloth tape and cable ties"
TOOL_JOIN = "Wire stripper, and a sharp knife to open insulation along the wire; a soldering iron for 12 V work, or the approved tap connectors of your shop, never both on one joint"
TOOL_CRIMP = "Where a wire is cut: crimp sleeves with their tool, if you do not solder"
TOOL_DRILL = "What the added part asks for: pencil, centre punch, drill, touch-up paint, a lump of putty"
TOOL_KEYS = "{count} working keys of this car, on the day: the kit learns them in part D, and without them it does not start the car. With fewer, have a key made before you begin"
TOOL_GUARD = "Eye protection, gloves, two wheel chocks; a helper who {turns_key} and presses pedals"
HEAD_TIME = "How long it takes"
TIME = (
    "A practised person is counted at {practised}, tests and closing up included. Take {beginner} for the first time, or a whole day with a break. Start "
    "in the morning, in daylight. You may stop where a step says that you may stop, and in parts A, B, D and E as told at the beginning of A, B and D."
)
TIME_COLD = "One test needs an engine that has stood cold overnight: plan a second morning for it, with the kit's fuses out until then."
HEAD_CALL = "When to stop and call"
CALL = "{call}"
CALL_WHEN = (
    "A plug, a pin or a wire is not as the picture shows it.",
    "A reading still does not fit when you have done what stands at \u201cIf not\u201d.",
    "Something smells, smokes, clicks by itself or gets warm.",
    "The airbag lamp stays on, or does not come on at all.",
    "You are unsure. A call costs less than a module.",
)
HEAD_WHO = "Who should not do this"
WHO = (
    "Who has never used a meter, with nobody beside them who has; who is tired, ill or alone with nobody in earshot.",
    "Who cannot lie under a dash for half an hour without hurry or pain.",
    "Whose car has a clutch pedal, thick orange cables, or warning lamps that were on before.",
    "Who may not: in some places fitting for pay needs a licence. Let a workshop do it, with this guide.",
)
HEAD_TERMS = "What holds besides"
DEFERS = (
    "This guide says what was checked, and under which assumptions. It does not replace the service information of the "
    "car's maker, the law of your place, or the practice of a licensed or certified technician: where they say something "
    "else, they hold."
)
HEAD_EXCEPTIONS = "What this kit does not do in this car"
UNSERVED = "{function}: {why} It would work if {cure}."
# What the buyer misses with a function that is not served, and would call about.
MISSED = {
    "accessory": "While the engine runs by remote, the radio and the wipers have no current.",
    "door switch": "The kit sees no door: an open one neither keeps the engine from starting nor stops it.",
    "factory alarm disarm": "The car's own alarm may sound when the engine starts by remote.",
    "hatch": "The remote does not open the hatch or boot lid.",
    "horn": "The horn does not sound by remote.",
    "lock": "The remote does not lock the doors.",
    "parking brake": "The kit does not see whether the parking brake is set.",
    "parking light": "The parking lamps do not show what the kit does.",
    "second ignition": "What hangs on that feed, in most cars the heater blower, stays off while the engine runs by remote.",
    "unlock": "The remote does not unlock the doors.",
}
FINDING = "{message} {advice}"
HEAD_CAUTIONS = "Read these first"
CAUTIONS_INTRO = "They hold for all of the work. A step names the ones that belong to it alone."
CAUTION_ITEM = "{word}: {text}"
HEAD_CAR_HAZARDS = "What can hurt in this car"

NOT_FITTED_TITLE = "Do not fit this kit"
NOT_FITTED = (
    "The check of this kit in this car found something that must not be. There is no fitting guide for it. Call the shop; "
    "keep the kit in its bag."
)
HEAD_BASELINE = "The untouched car"
BASELINE_INTRO = (
    "Look at the car before you touch it. What does not work now is not the kit's doing, and a fault found now saves a "
    "day later. Each reading has a table of what it means: a number on the border of two lines belongs to the upper "
    "one. Until something is joined, in part B, you may break off after any step and drive the car."
)
BASELINE_BATTERY_TITLE = "The battery at rest"
BASELINE_BATTERY_DO = (
    "Leave the car alone for an hour with {key_out} and the doors shut.",
    "Open the hood.",
    "Black probe on the negative post of the battery, red probe on the positive post.",
    "Write the reading down. You will need it.",
)
BASELINE_BATTERY_TWO = "This car has two batteries that feed it together. Measure at one of them, and at the same one each time; clip the long lead there as well."
BASELINE_BATTERY_SEE = "The reading fits the first line of the table."
BASELINE_BATTERY_IF_NOT = "Too low: charge the battery and measure again after an hour of rest. If it does not come up, or is too high once more, have battery and charging tested before you begin."
BASELINE_KEY_TITLE = "The car starts on {its_key}"
BASELINE_KEY_DO = (
    "{Turn_on} and look at the dash: the lamps come on.",
    "Watch the airbag lamp: it lights, and goes out after some seconds.",
    "{Start_engine}. It starts at once and idles.",
    "Turn it off again.",
)
BASELINE_KEY_SEE = "The car starts on {its_key}, and the airbag lamp lit and went out."
BASELINE_KEY_IF_NOT = "Do not begin: neither with a car that does not start on {its_key}, nor with an airbag lamp that stays on or never lights. Have that put right first."
BASELINE_WORKS_TITLE = "What the kit will touch works now"
BASELINE_WORKS = {
    "lock": "Lock the doors with the button. All of them lock.",
    "unlock": "Unlock the doors with the button. All of them unlock.",
    "parking light": "Switch the parking lamps on. All four corners light.",
    "horn": "Press the horn. It sounds.",
    "brake": "Press the brake pedal. A helper sees the stop lamps light.",
    "second ignition": "{Key_on}: the heater blower runs at every speed.",
    "accessory": "{Key_acc}: the radio plays.",
    "hatch": "Open the hatch or boot lid with its button. It opens.",
    "factory alarm disarm": "Lock the car with the key in the door and unlock it again. The alarm stays quiet.",
    "door switch": "Open each door. The inside lamp or the dash shows it.",
    "parking brake": "{Key_on}: set and release the parking brake. Its dash lamp lights and goes out.",
}
BASELINE_WORKS_SEE = "Everything works. Write down here what does not: __________________"
BASELINE_WORKS_IF_NOT = "What does not work now needs repair first, if the kit uses it. Call if you are not sure."
BATTERY_PROBE = "battery positive post"
BATTERY_CLIP = "battery negative post"
BATTERY_STATE = "{key_out}, doors shut, car at rest for an hour"
BATTERY_EXPECT = "{low} to {high}"
BATTERY_GOOD = "Right. Go on."
BATTERY_LOW = "Half empty. Charge it first, or the readings and the start go wrong."
BATTERY_HIGH = "A charger is on, or the engine just ran. Wait an hour and measure again."
LAMP_BATTERY = "it does not tell a full battery from a half empty one"
