# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Part A: measuring with everything plugged in; and what every reading's table says."""

from collections.abc import Mapping
from types import MappingProxyType

HEAD = "Part A: measure, and join nothing yet"
INTRO = (
    "Every plug of the car stays plugged in. The battery is connected whenever you measure. You only touch wires with the meter. Measure "
    "each wire the kit will use, in this order. When all of them fit, you know the car is the one these papers speak of."
)
PROBING = (
    "How to touch a wire without hurting it: slide the thin probe in beside the wire, from the back of the plug, along "
    "the metal, until you feel it stop. It then holds by itself. Never stick the probe through the insulation."
)
BELOW = (
    "Most lines say how far below the battery a wire may be. Take the battery as you measured it, take the wire away "
    "from it: what is left counts. An example, {label}: the battery shows {battery}, the wire shows {shown}. That is {drop} "
    "below the battery, and just right; anything less is right as well, and so is a hair more than the battery."
)
CLIPPING = (
    "Clip the long lead to the negative post of the battery and bring its other end, clipped to the black probe of the "
    "meter, to where you lie: out at the rear corner of the hood on the driver's side, over the rubber seal, far from fan "
    "and belts, and in at the door. The seal gives way, so the hood shuts on the lead without hurting it, and so does a door shut gently on it. Only where a "
    "step says battery positive, move the clip there. The battery sinks a little while you "
    "work: measure it again at each new place, and after each time the engine ran."
)
OPENING = (
    "A panel comes off by hand force. If it does not, look for one more screw or clip; do not pull harder. Leave each "
    "place open until this guide closes it. If a plug is not there or looks different, stop and call."
)
OPEN_TITLE = "{place}"
OPEN_SEE = "You see {plugs}."
OPEN_SEE_NOTHING = "You can see and reach the place."
OPEN_IF_NOT = "If something does not come off by hand force, look for one more screw or clip. Do not pull harder. If you see no such plug, stop and call."
PLUG_LOOK = "the {name}: {look}"

TITLE = "The {function} wire, for {label}"
FIND_PLUG = "Find the {plug}. {look} Leave it plugged in."
FIND_SOCKET = "Find the {plug}. {look}"
SAME_PLUG = "Stay at the {plug}."
TOUCH = "Find pin {pin}: count, check what sits beside it, and touch the {colour} wire there from the back of the plug."
TOUCH_CONTACT = "Find pin {pin}: count, check the places beside it, and hold the tip of the probe against its metal contact. Touch it; do not push the probe into it."
OVER_PROBE = {
    "hood open": "For hood shut let the probe stand by itself, lead its wire out at the edge, and let the hood down gently until it catches.",
    "driver door open": "For the driver's door shut let the probe stand by itself, lead its wire and the long lead out at the edge of the door, shut the door gently on them, and read the meter outside.",
}
READ_EACH = "Read the meter in each state below, in this order. Afterwards: {key_out}."
CRANK = "Where the starter turns: one try for each such line, ten seconds apart. What the meter shows while it turns counts. If the engine fires, let go at once and turn it off. Nothing read in time? Try that line once more."
GLOW = "Each time the key is on wait until the glow lamp is out, and measure the battery anew with the key on before you read."
AWAKE = "Nothing at all with {key_out}? The boxes of the car may sleep: open and shut a door, and read within a minute."
RUNNING = "Where the engine runs let the probe stand by itself, and be away from belts, fan, exhaust and pedals before it is started. Lay the meter where you can read it from there. Take the probe out when the engine stands."
MARK = "Put a bit of tape with the word {label} on this wire. You join it in part B."

PLUG_TITLE = "The {plug}, for {label}"
PLUG_WHY = "Nothing is joined by hand here: {label} only plugs in, later. The meter shows that this plug is wired as these papers say. Its pins:"
PLUG_PIN = "{label}: pin {pin}, the car's wire is {colour}. {count}"
PLUG_READ = "Take the lines below one after the other: touch the pin the line names from the back of the plug, in the state it names. Afterwards: {key_out}."
PLUG_READ_CONTACT = "Take the lines below one after the other: touch the contact of the pin the line names lightly, in the state it names. Afterwards: {key_out}."
PLUG_COUNT = "{look} The place of each pin stands in the list."
PLUG_NEIGHBOURS = "Touch the pins of the list and no other."
PLUG_SEE = "Every reading fits: the plug is wired as these papers say."
PLUG_SAME = "pins {pins}"
PLUG_ALIKE = "The meter does not tell from each other: {pins}. That does no harm here: the plug goes in one way only."
SEE = "Every reading fits its table. It is the {function} wire."
SEE_ALIKE = "Every reading fits its table."
ALIKE = "The meter cannot tell this wire from {others}. Here only the place counts: count twice."
IF_NOT = "Touch again so that the probe sits firmly, measure the battery again, count again. If it differs twice, you are on another wire or the car is another one: stop, join nothing, and call the shop."
CLIP_NEGATIVE = "battery negative post, with the long lead"
CLIP_POSITIVE = "battery positive post, with the long lead"
PROBE_PIN = "{plug}, pin {pin}, {colour}"
PROBE_TERMINAL = "{plug}, place {pin}: {label}, {colour}"

EXPECT_NEAR = "at most {drop} below the battery ({volts} if it shows {battery})"
EXPECT_DROP = "{least} to {drop} below the battery ({low} to {high} if it shows {battery})"
EXPECT_DEAD = "nothing: {high} or less"
EXPECT_BETWEEN = "{low} to {high}"
EXPECT_MOVING = "a number that does not stand still (watch it for five seconds), between {low} and {high}"
EXPECT_AVERAGED = "{low} to {high}, moving or not"
EXPECT_FREE = "anything: nothing holds this wire now, so no reading is wrong"

GOOD = "Right."
GOOD_AVERAGED = "Right. It may keep moving or stand still: a meter averages pulses."
GOOD_MOVING = "Right, if the number keeps changing."
STANDS_STILL = "The number stands still: the probe does not touch, or it is another wire."
FREE = "Not telling. Go on."
LOW = "Too low: the probe touches badly. Touch again."
DEAD = "Dead: the probe does not touch, or it is the wrong place."
HIGH = "Too high for this wire."
LIVE = "Live where it should be dead."
BETWEEN_RIGHT_AND_LIVE = "Not dead. Something is still switched on, or it is the wrong place."
STARTER_IDLE = "The battery did not drop: the starter is not turning. Try again."
ON_SLIP = "{verdict} You may be on {pins}."

LAMP: Mapping[str, str] = MappingProxyType({
    "airbag": "it is an airbag wire",
    "data": "it would stop the data bus",
    "immobiliser": "it would disturb the key recognition",
    "electronic signal": "it would load an electronic signal",
    "operates a relay": "it would switch a relay on",
    "pulls the wire down": "it would pull the wire down and switch something on",
    "loads the wire": "it loads this wire, so it would not tell the truth",
    "meter only": "only the meter tells this",
    "fed firmly": "the lamp lights",
    "dead and fed by nothing": "the lamp stays dark",
})
LAMP_OTHER = "{why}"
UNPROVEN = "Nobody has measured this wire on a car built like yours ({why}). Believe the meter, not the papers: do not talk yourself into a reading that does not fit."
PIN_UNPROVEN = "This wire was measured at {places}. That it comes out at this pin is from the diagram: believe the meter."
PIN_UNPROVEN_UNTOLD = "This wire was measured, and the record does not tell at which pin. That it comes out here is from the diagram: believe the meter."
UNPROVEN_OF = "{labels}: {why}"
CONTRADICTED = "The records about this wire disagree ({why}). Believe the meter only: do not talk yourself into a reading that does not fit."
NOTE = "Good to know: {note}"
COLD_AGAIN = "At {places}: battery off, and wait {wait}, each time before that panel comes off or goes on."
BREAK_ANY = "You may break off after any step of this part, since nothing is joined yet: put the panels on by hand and take the long lead off the battery. The car may be driven so. Panels on by hand means: nothing loose is left on the floor, and a box, a brace or a panel that was bolted or screwed is fixed again."
BREAK = "Everything is measured, and nothing is joined yet. For a break, put the panels back by hand and take the long lead off the battery."
COLD = "An airbag sits where you open up at: {places}. There the battery comes off before the panel does, and goes on again to measure; the other places are opened with the battery on. Whenever that panel goes on again or comes off once more, for a break or at the end: battery off, and wait {wait} first."
