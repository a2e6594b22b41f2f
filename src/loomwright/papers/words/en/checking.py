# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Part C: battery on, and the same wires seen from the kit's side; then the controller's plugs."""

HEAD = "Part C: battery on, and measure from the kit's side"
INTRO = (
    "The controller is still unplugged. You measure at the free plugs of the kit, sitting upright, with no dash over your "
    "head. Do this part in one go: the car is left only after a step that says so."
)
KEY_TITLE = "The car starts on {its_key}"
KEY_DO = (
    "Selector in park, foot on the brake. No panel and no lead lies near the pedals.",
    "{Turn_on}. Watch the airbag lamp: it lights and goes out.",
    "{Start_engine}, let it idle, turn it off.",
)
OWN_SWITCH = "Try what has been cut into, each with the car's own switch, as before the kit. If one does not work: battery off, wait {wait}, make its two joints again."
KEY_BREAK_PLAIN = "For a break: put the panels on by hand, and tie the kit's plugs up, clear of the pedals."
KEY_BREAK = "For a break: put the panels on by hand, and tie the kit's plugs up, clear of the pedals. Its fuses are still out, so that the kit can do nothing."
KEY_SEE = "The car starts on {its_key}, and the airbag lamp lit and went out."
TRIED_SEE = "All that you tried works."
KEY_IF_NOT = (
    "Airbag lamp stays on or never lights: {key_off}, look for a yellow plug that was moved, do not drive, and call the "
    "shop. No start: battery off, wait {wait}, take each T-harness out, plug the car's own plugs together, battery on: does "
    "it start now? Then a T plug was not home: battery off, wait {wait}, plug it in again. If it still does not start, call the shop."
)
KEY_IF_NOT_PLAIN = "Airbag lamp stays on or never lights: {key_off}, do not drive, and call the shop. No start: battery off, wait {wait}. Look at every joint of part B again, battery on: does it start now? If it still does not, undo the last joint you made, and call the shop."
FUSES_AT = "Where the leads meet the car: {fuses}."
FUSES_TITLE = "The kit's fuses go in"
FUSES_DO = (
    "{Key_out}.",
    "Put the fuse of each of these leads into its holder: {fuses}.",
)
FUSES_RATING = "{label} {rating}"
FUSES_OF_PARTS = "A relay in a lead has its own fuse in already: {fuses}. Leave it, and do not mix it up with the others."
FUSES_SEE = "Nothing clicks, nothing gets warm."
FUSES_IF_NOT = "A fuse blows, or something clicks or gets warm: take all of them out, do not put a larger one in. Look for bare copper, then call the shop."
TITLE = "The leads at the controller's plugs, before these go in"
FIND = "Take the free kit plugs {plugs} in your hand. Take the lines below one after the other: touch the contact the line names from the back of the plug, in the state it names. The probe never bridges two places: some of them are live, and one turns the starter."
REST = "Where a line says nothing else: {rest}."
BRAKE_LAST = "After the last line set the parking brake again, before anybody takes the chocks away."
GROUND_FIRST = "Clip the long lead to battery positive for the first line, {label}; a sign before the number does not matter. Its other end is live then: keep it on the probe and off all metal. Then clip it back to battery negative."
LOADED = "A meter shows volts even through one strand. Where a line says that the test lamp lights, hold the lamp there as well: it must burn bright."
COUNT = "The number of each place stands beside it on the kit's plug."
NEIGHBOURS = "The label tells as well: read it on the lead at the plug."
UNREAD = "No line here for {labels}: with a part in the lead the meter tells nothing yet. Part E shows that it works."
SEE = "Each lead shows what its car wire showed. The joints are good."
IF_NOT = (
    "Touch again. Still wrong: measure that car wire again as in part A. Right there and wrong here: the joint or the T plug is bad; the kit's fuses out, battery off, "
    "wait {wait}, make it again. Two leads exchanged: fuses out, battery off, wait {wait}, change them over where they meet the car's wires. Then battery on, fuses in, and measure here again. Still wrong: stop and call the shop."
)
UNPLUG_TITLE = "The controller"
PLUG_UNUSED = "Nothing of this car hangs on {plugs}: leave it out, and tie it up."
PLUG_DO = (
    "{Key_out}. Take the long lead off the battery, and the kit's fuses out again: {labels}.",
    "Push the kit's plugs into the controller, in this order: {plugs}. Each one clicks.",
    "Fix the controller where it cannot fall: tied to a brace, away from the heater and from any airbag, its button and lamp in sight and reach of the driver's seat for part D.",
    "Put the kit's fuses back in.",
)
PLUG_DO_NO_FUSE = "{Key_out}. Take the long lead off the battery."
PLUG_MODULE = "Leave the vehicle module {name} lying where you can see its lamp. You need it in part D."
PLUG_SEE = "The controller stays quiet: the starter does not turn and the lamps stay dark."
PLUG_IF_NOT = "If anything starts by itself, take the kit's fuses out and call the shop."
DEAD_TITLE = "The car still starts on {its_key}"
DEAD_IF_NOT = "Airbag lamp stays on or never lights: {key_off}, do not drive, and call the shop. No start: take the kit's fuses out and try once more. Write down both results and call the shop."
STOP_DO = "For a break: take the kit's fuses out again, so that the remotes can do nothing, and put them back in before you go on. Put the panels on by hand and tie the controller up, clear of the pedals."
CONTROLLER_COUNT = "Each plug fits one socket and one way round only. The name stands beside the socket."
CONTROLLER_NEIGHBOURS = "Do not force a plug into a socket with another name."
NO_STOP = "Do not break off and drive here: the check did not show that the car runs on {its_key} in this state. Go on with part D."
