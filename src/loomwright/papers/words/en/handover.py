# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Part F: closing up, the sweep, the hand-over, operating, removal, and what was checked."""

HEAD = "Part F: close up and hand over"
TIE_DO = (
    "Tie each lead to the car's own wiring, with a tie every hand's length. No lead hangs free.",
    "Nothing touches a sharp edge, a heater pipe, or anything that moves.",
    "Nothing lies over an airbag, a knee pad or in the way of the column.",
    "Fix the controller with two ties, and the vehicle module beside it if there is one. Leave the ends of its leads a little slack. Shake the harness: nothing rattles or slips.",
)
LABEL_DO = "Stick the warning label to the underside of the hood: the one in the bag, or the printed sheet of that name. Tie the tag to the key ring if the bag holds one."
TIE_FUSES_OUT = "Take the kit's fuses out while you work here: {labels}."
TIE_FUSES_IN = "Now put the kit's fuses back in, before their places are closed."
TIE_SERVICE_ON = "At once switch on the service mode, so that nothing starts while you close the rest. {service}"
SERVICE_TRY = "The service mode is still on. Doors and hood shut, no foot on a pedal: ask for a start. It is refused. Then end the service mode."
TIE_SERVICE = "The button of the controller stays within reach with all panels on."
CLOSE_TITLE = "Everything tied up and closed"
CLOSE_DO = "Take every tool out. Then close one place after the other, each backwards from how you opened it."
CLOSE_PLACE = "{place}. You did: {access} Undo that, the last thing first."
CLOSE_COLD = "An airbag sits at: {places}. Battery off, and wait {wait}, before that panel goes on; then battery on."
CLOSE_SEE = "Every lead is tied. All screws and clips are in. No gap, no pinched lead."
CLOSE_IF_NOT = "Add a tie where a lead moves. A panel that does not close sits on a lead. Open it and lay the lead aside."
SWEEP_TITLE = "The last sweep: what moves, and the airbag lamp"
SWEEP_DO = (
    "Engine off, {key_on}. Press each pedal to the floor, three times.",
    "Turn the wheel from stop to stop. Tilt the column up and down.",
    "Foot on the brake: move the selector through every position and back to park.",
    "Move the seat back and forth.",
    "{Key_out}, wait a minute. {Turn_on} and watch the airbag lamp: it lights, and goes out after some seconds.",
)
SWEEP_SEE = "Nothing catches, drags or clicks under the dash. The airbag lamp lit and went out, and no new warning lamp stays on."
SWEEP_IF_NOT = "Tie away the lead that catches, and do the whole sweep again. Airbag lamp stays on or never lit: do not drive, have it read by a workshop, and call the shop."
AGAIN_TITLE = "What stops the engine, once more with everything closed"
AGAIN_DO = (
    "A panel that closes can pull a joint apart. So do these tests of part E once more, each as it stands there: {titles}.",
)
AGAIN_SEE = "Each of them stops the engine or keeps it from starting, as before."
AGAIN_IF_NOT = "{Stop_first}Do not use the kit. Open that place again as in part A, pull the kit's fuses, and go by \u201cIf not\u201d of that test."
HEAD_HAND_OVER = "Hand-over"
HAND_OVER = (
    "Every test of part E is passed.",
    "The airbag lamp lights and goes out.",
    "The warning label is under the hood, and the tag on the key ring if the bag holds one.",
    "Whoever drives the car has read the operating part below.",
    "Everybody who drives the car knows what the remotes do, and none is left in the car.",
    "This guide stays with the car's papers.",
)
HEAD_OPERATE = "How to use it"
HEAD_OPERATE_SAFELY = "What can hurt"
CARD_TELLS = "The operating card tells the same for the driver, with what the lamps say and the limits of some places. Put it in the car."
HEAD_REMOVE = "Taking the kit out again"
REMOVE_INTRO = "The car is then as it was before. Go backwards through the fitting. Where a lead was joined, tape the wire closed, or solder it and cover it with shrink tube where copper is hurt."
REMOVE_OFF = "{Key_out}, battery off, and wait {wait} for the airbags. Take the kit's fuses out."
REMOVE_OFF_TWO = "{Key_out}, the negative clamps of both batteries off, and wait {wait} for the airbags. Take the kit's fuses out."
REMOVE_CONTROLLER = "Unplug the controller."
REMOVE_T = "Take out the T-harness {label} and plug the car's own plug together until it clicks."
REMOVE_PLUG = "Pull the {label} plug out of the {plug}."
REMOVE_TAP = "Undo the joint of {label} at the {plug}, pin {pin}, {colour}."
REMOVE_ADDED = "Take off the {name} of {label} and close the hole."
REMOVE_CUT = "Take the {name} of {label} out of the wire at the {plug}, pin {pin}, {colour}. Join the two ends of that wire again, soldered and under shrink tube."
REMOVE_GROUND = "Undo {label}, and tighten the bolt again."
REMOVE_ON = "Battery on. {Start_engine}. Airbag lamp lights and goes out."
HEAD_CHECKED = "What was checked and what not"
CHECKED_PLAIN = (
    "This kit in this car was computed as one circuit, in {states} different states. In each of them it was asked what "
    "should be live and what dead, what each wire and fuse carries, and whether the car still works on {its_key} at each "
    "step of the fitting and with the kit dead."
)
CHECKED = (
    "This kit in this car was computed as one circuit: {nodes} points and {elements} elements, in {states} states, {points} "
    "solutions. In each of them it was asked what should be live and what dead, what each wire and fuse carries, and "
    "whether the car still works on {its_key} at each step of the fitting and with the kit dead."
)
CHECKED_RESIDUAL = "The worst leftover current of any solution was {residual}."
ASSUMED = (
    "Wire lengths and sizes that nobody measured were taken from the papers of the car family.",
    "The expected readings hold for the battery as you measured it; where a number is shown, for {battery} at rest.",
    "The car is stock: no alarm, no remote start, no trailer module added before.",
    "The joints are sound. No computation sees a bad joint; your meter does.",
)
NOT_CHECKED = (
    "Behaviour inside the car's own modules, and software of the car that changed since.",
    "Water, heat and rubbing over the years.",
    "The law of your place, your warranty and your insurance.",
)
HEAD_NOT_CHECKED = "Not checked"
HEAD_REMAINS = "Findings that remain"
NONE_REMAIN = "No broken rule was found."
REMAINS = "{severity}: {message}"
REMAINS_ADVICE = "{message} What to do: {advice}"
HEAD_UNPROVEN = "Wires nobody has proven on a car like yours"
UNPROVEN = "{function}, {plug}, pin {pin}, {colour}: {why}"
NONE_UNPROVEN = "Every wire this kit uses was measured on a car like yours."
ELSEWHERE_INTRO = "These wires were measured, but at another pin of the same wire. That the wire comes out at the pin you join is from the diagram: believe the meter."
ELSEWHERE = "{function}, {plug}, pin {pin}: measured at {places}"
ELSEWHERE_PIN = "{plug}, pin {pin}"
ELSEWHERE_UNTOLD = "{function}, {plug}, pin {pin}: measured, and not told at which pin"
MARK = "{key}: {value}"
