# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Part C: battery on, and the same wires seen from the kit's side; then the controller's plugs."""

HEAD = "Part C: battery on, and measure from the kit's side"
INTRO = (
    "The controller is still unplugged. You measure at the free plugs of the kit, sitting upright, with no dash over your "
    "head. Each lead must show what its car wire showed in part A."
)
KEY_TITLE = "The car starts on {its_key}"
KEY_DO = (
    "Selector in park, foot on the brake.",
    "{Turn_on}. Watch the airbag lamp: it lights and goes out.",
    "{Start_engine}, let it idle, turn it off.",
)
KEY_SEE = "The car starts on {its_key}, and the airbag lamp lit and went out."
KEY_IF_NOT = (
    "Battery off. Take the T-harness out, plug the car's own plug together, battery on: does it start now? Then a T plug "
    "was not home. If it still does not start, call the shop."
)
FUSES_TITLE = "The kit's fuses go in"
FUSES_DO = (
    "{Key_out}.",
    "Put the fuse of each of these leads into its holder: {labels}.",
)
FUSES_RATING = "{label}: {rating}"
FUSES_SEE = "Nothing clicks, nothing gets warm."
FUSES_IF_NOT = "A fuse that blows: take all of them out, do not put a larger one in. Look for bare copper, then call the shop."
TITLE = "{label} at the kit's plug"
FIND = "Take the free kit plug {plug} in your hand and find place {pin}: the lead labelled {label}, {colour}."
TOUCH = "Touch the contact of place {pin} from the back of the kit's plug."
GROUND_TOUCH = "Clip the black lead of the meter to battery positive for this one; then touch place {pin}. A sign before the number does not matter."
READ_EACH = "Read the meter in each state below, in this order."
COUNT = "Kit plug {plug}: place {pin}, the number beside it. It comes from {plug_name}, pin {car_pin}."
COUNT_GROUND = "Kit plug {plug}: place {pin}, the number beside it."
NEIGHBOURS = "The label tells, not the place: read {label} on the lead."
SEE = "It shows what the car's wire showed. The joint is good."
IF_NOT = (
    "Measure the car's wire again as in part A. Right there and wrong here: the joint or the T plug is bad; battery off, "
    "make it again. Wrong twice: stop and call the shop."
)
UNPLUG_TITLE = "The controller"
PLUG_DO = (
    "{Key_out}. Take the kit's fuses out again: {labels}.",
    "Push the kit's plugs into the controller, in this order: {plugs}. Each one clicks.",
    "Fix the controller where it cannot fall: tied to a brace, away from the heater and from any airbag.",
    "Put the kit's fuses back in.",
)
PLUG_DO_NO_FUSE = "{Key_out}."
PLUG_MODULE = "Leave the vehicle module {name} lying where you can see its lamp. You need it in part D."
PLUG_SEE = "The controller stays quiet: the starter does not turn and the lamps stay dark."
PLUG_IF_NOT = "If anything starts by itself, take the kit's fuses out and call the shop."
DEAD_TITLE = "The car still starts on {its_key}"
DEAD_IF_NOT = "Take the kit's fuses out and try once more. Write down both results and call the shop."
STOP_TITLE = "You may stop here"
STOP_DO = "The kit is joined and asleep. The remotes do nothing yet. Put the panels on by hand and tie the controller up."
STOP_SEE = "The car drives on {its_key}."
STOP_IF_NOT = "If it does not, take the kit's fuses out and call the shop."
GROUND_WIRE = "bare metal"
CONTROLLER_COUNT = "Each plug fits one socket and one way round only. The name stands beside the socket."
CONTROLLER_NEIGHBOURS = "Do not force a plug into a socket with another name."
NO_STOP = "Do not break off and drive here: the check did not show that the car runs on {its_key} in this state. Go on with part D."
