# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Part B: battery off, and every joint made dead."""

HEAD = "Part B: battery off, and join"
INTRO = (
    "Now the battery comes off, and stays off while you join. With the battery off nothing can spark or "
    "start. The ground comes first, the controller last."
)
BREAK_OFF = (
    "If you must break off in this part: cover each free lead end with tape, leave the kit's fuses out and the controller "
    "unplugged, put the panels on by hand, tie all that hangs clear of the pedals, and put the battery back on. Before you "
    "go on: battery off, and wait {wait}. After these steps the car may be driven so, once the engine has started on {its_key} "
    "and the airbag lamp has lit and gone out; it runs as before, so far as was checked:"
)
BREAK_OFF_ALWAYS = (
    "If you must break off in this part: finish the step, cover each free lead end with tape, leave the kit's fuses out "
    "and the controller unplugged, put the panels on by hand, tie all that hangs clear of the pedals, and put the battery "
    "back on. Before you go on: battery off, and wait {wait}. After each step of this part the car may be driven so, once the "
    "engine has started on {its_key} and the airbag lamp has lit and gone out; it runs as before, so far as was checked."
)
BREAK_OFF_ITEM = "after: {title}"
BREAK_OFF_NEVER = "In this part there is no place to break off and drive. Finish it in one go, or call."
NEVER_DRIVE = "Never drive with the battery half connected or a plug half in."


GROUND_TITLE = "{label} to the ground point"
GROUND_DO = (
    "Find the ground point: {point}",
    "Undo the bolt. Keep what already sits on it.",
    "Rub the metal bright with emery cloth, and the ring of the lead too.",
    "Put the {label} ring, {colour}, flat on the metal, with the car's own wires on top.",
    "Tighten the bolt firmly. Pull at the lead.",
)
GROUND_COUNT = "The only bolt named in this guide. {point}"
GROUND_NEIGHBOURS = "Leave every other bolt alone: seat-belt, seat, airbag, brake, steering and fuel fasteners look alike."
GROUND_SEE = "The ring does not turn under the bolt, and the meter fits the table."
GROUND_IF_NOT = "Undo the bolt, clean metal and ring again, and bolt it down again. If it does not fit the second time, bolt the car's own wires down as they were, and call the shop."
GROUND_WIRE = "bare metal"

TAP_TITLE = "{label} to the {colour} wire"
HOW_HEAD = "How each lead is joined"
HOW = (
    "Go a hand's width back from the plug, where there is room. Part the taped wire from its bundle with the fingers, no further than needed; airbag wires stay where they are, sleeve or not. Open a window in the insulation as long as a finger is wide. Do not nick the copper.",
    "Lay the bare end of the lead through and round the copper and solder it; or use the tap connector your shop names and press it shut as it asks. Pull: it holds.",
    "Now measure, as the table of the step says, before you tape. Meter on ohms: touch its two probes together first and note what it shows, for that is the meter's own: take it off each reading. The tables allow {own} more for what a meter may err.",
    "One probe goes in again beside the car's wire from the back of the plug, as in part A, and holds there by itself. The other touches the metal in the place of the kit's plug.",
    "Wrap the joint tight with cloth tape, a finger beyond the bare copper on both sides.",
    "Tie the lead to the car's wires, clear of pedals and steering shaft, never to an airbag wire.",
)
TAP_DO = (
    "Find the wire you taped {label}: {plug}, pin {pin}, {colour}. Count once more.",
    "Join the {label} lead, {lead_colour}, to it as told under: how each lead is joined.",
)
CUT_DO = (
    "Find the wire you taped {label}: {plug}, pin {pin}, {colour}. Count once more.",
    "This wire is cut, not tapped. Cut it a hand's width from the plug and bare both ends. The car's own signal comes out of {factory}.",
    "{ends}",
    "Solder or crimp both ends. Pull: they hold.",
    "Wrap each joint tight with cloth tape, a finger beyond the bare copper.",
    "Tie the lead and its part to the car's wires, clear of pedals and steering shaft.",
)
CUT_ENDS = {
    "relay changes over": "The {name} goes between. To its wire marked 87a: {factory}. To its wire marked 30: the other end. The {label} lead and all that feeds the relay are on it already: nothing else of it goes to the car.",
    "diode cuts in": "The {name} goes between, its band away from {factory}. The {label} lead, {lead_colour}, joins the end at the band.",
}
CUT_FROM = {"harness side": "the end that leads away from the plug", "plug side": "the end that stays on the plug"}
CUT_COMES = "It comes there from the {plug}."
CUT_GOES = "The other end leads on to the {plug}."
FACTORY = {"harness side": "side of the harness, away from the plug", "plug side": "side of the plug"}
WAY_OUT = "Lead the {label} lead out of the cabin to there. {through} Keep it clear of exhaust, fan, belts, hood hinge, pedals and steering shaft, and tie it every hand's width. Sleeve it where it passes metal, seal the grommet, and let it hang in a loop before the grommet, so that water drips off."
TAP_PART = "The lead has a {name} built in near its end. {pattern} Leave it in, and keep it where it stays dry."
TAP_PART_FED = "Its feed and its ground are joined in the harness already: nothing else of it goes to the car."
TAP_SEE = "You can pull firmly and nothing moves. No copper shows. The meter fits the table."
TAP_SEE_PART = "You can pull firmly and nothing moves. No copper shows. With the part in it a meter tells nothing yet; part E shows that it works."
CUT_IF_NOT = "Make both joints again. If they do not hold the second time, take the {name} out, join the two ends of the car's wire as they were, insulate them, and call the shop."
TAP_SPLIT = "The {label} lead has an end for each of its wires: one for this wire, and one for {others}."
TAP_SPLIT_AT = "pin {pin} of the {plug}"
TAP_IF_NOT = "Make the joint again. If it does not fit the second time, undo it, tape the car's wire closed, and call the shop."
TAP_NEIGHBOURS = "The tape on the wire says {label}."
PART_WORDS = {
    "relay inverts": "Its relay puts battery voltage on the wire when the kit pulls.",
    "relay boosts": "Its relay carries the current for the kit.",
    "relay grounds": "Its relay grounds the wire for the kit.",
    "diode": "It lets current through one way only.",
    "resistor": "It sets the level that the car reads.",
    "relay changes over": "Its relay switches the wire over from the car to the kit.",
    "diode cuts in": "It keeps the kit's signal from flowing back into the car.",
}

ADDED_TITLE = "{label} to the new {name}"
ADDED_DO = (
    "Place: {place}",
    "Stand the {name} there with a lump of putty on its tip, take your hands out, and shut the hood gently: the putty shows how low it comes. The shut hood must press the pin by half its way, not more.",
    "Look behind the metal before you drill: no wire, no pipe. Drill to the size of its screws, clean the edge, paint it; where the bracket sits leave bare metal.",
    "Screw the {name} down on that bare metal, so that it has ground.",
    "Crimp or solder the {label} lead, {lead_colour}, to the terminal of the {name}. Insulate and tie it.",
)
ADDED_WAY = "Lead it through a rubber grommet of the bulkhead."
ADDED_COUNT = "One terminal on the {name}; there is no pin to count."
ADDED_NEIGHBOURS = "Keep away from the car's own switch in the hood latch: it stays as it is."
ADDED_WIRE = "no wire of the car"
ADDED_SEE = "The meter shows contact with the hood open, and none with the hood shut."
ADDED_IF_NOT = "Bend or move the bracket until it does. If it does not after two tries, leave the hood pin off and call the shop."

T_TITLE = "T-harness {label} into the {plug}"
T_DO = (
    "Find the {plug}. {look}",
    "{opening}",
    "Look into both halves: every contact straight, none pushed back.",
    "Push the car's plug into the T until it clicks.",
    "Push the other end of the T into where the plug was, until it clicks.",
    "Pull gently at each plug. Neither comes off.",
    "Tie the T up, clear of the steering shaft.",
)
T_DO_LATCH = "Look at both latches: each one has snapped over its hook, and a slide, lever or bolt that you moved is back as it was."
T_CARRIED = "{label} ({lead}) at pin {pin} ({colour})"
T_COUNT = "It fits one way round only, latch over latch; there is no pin to count. Inside it meet: {carried}. Every other pin goes straight through."
PLUG_COUNT = "It fits one way round only; there is no pin to count. Inside it meet: {carried}."
T_NEIGHBOURS = "A plug that looks much the same must not go in. The right one: {look}"
T_SEE = "Two clicks, and nothing comes off when you pull. The meter fits the table."
T_SEE_PLAIN = "Two clicks, and nothing comes off when you pull."
T_IF_NOT = (
    "Take it out, look for a bent contact, and try once more without force. If it is not right the second time, plug "
    "the car's own plug together again, and call the shop."
)
PLUG_IF_NOT = "Take it out, look for a bent contact, and try once more without force. If it does not sit, leave it out, tie it up, and call the shop."
PLUG_TITLE = "{label} into the {plug}"
PLUG_DO = (
    "Find the {plug}. {look}",
    "{opening}",
    "Push the {label} plug in until it sits all the way round.",
    "Pull gently. It stays.",
)
PLUG_SEE = "The plug sits straight and stays when you pull. Its wire shows itself when the vehicle module learns the car."
PLUG_SEE_PLAIN = "The plug sits straight and stays when you pull."

OHM_STATE = "battery off, {key_out}, meter on ohms"
OHM_CLIP_WIRE = "one probe beside the car's wire again, as in part A: {plug}, pin {pin}"
OHM_CLIP_GROUND = "one probe on bare metal of the body, away from the ground point, such as the striker of the door"
OHM_PROBE = "the other probe at kit plug {plug}, place {pin}, lead {label}"
OHM_PROBE_HOLDER = "the other probe in the empty fuse holder of lead {label}, at its contact towards the joint"
OHM_EXPECT = "{high} or less"
OHM_GOOD = "Right: the joint conducts."
OHM_BAD = "The joint does not conduct, or you touch another wire."
OHM_RESISTOR_EXPECT = "{low} to {high}, the resistor in the lead"
OHM_RESISTOR_LOW = "Too low for the resistor of this lead: another lead, another wire, or a short."
OHM_OPEN_EXPECT = "no contact: OL, or more than {low}"
OHM_OPEN_GOOD = "Right: the switch is open."
OHM_OPEN_BAD = "The switch does not open: it is not pressed down far enough."
OHM_HOOD_OPEN = "hood open, battery off, meter on ohms"
OHM_HOOD_SHUT = "hood shut, battery off, meter on ohms"

UNUSED_HEAD = "Leads that stay unused in this car"
UNUSED_INTRO = (
    "These leads have no place in this car. Put an end cap or two layers of tape over each bare end, fold it back, and "
    "tie it to the harness. Do not cut it short, and never join two of them."
)
UNUSED_INSIDE = "Inside the {where} plug, and not used here: {labels}. Nothing of it comes out, so there is nothing to cap."
UNUSED_CLASH = "Do not take it for {clash}."
UNUSED_TABLE = ("Lead", "Colour", "Do not mix it up")
CLASH_RIGHT = "{plug}, pin {pin}: {colour}"
NO_CLASH = "None"
