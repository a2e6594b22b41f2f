# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Battery off, the wait for the airbags, battery on."""

OFF_TITLE = "Battery off"
OFF_DO = (
    "{Key_away}.",
    "Open the hood. Leave one door a little open so that you cannot lock yourself out.",
    "Undo the nut of the negative clamp, the one marked with a minus, and lift the clamp off.",
    "Wrap a cloth round the clamp so that it cannot fall back.",
)
OFF_SEE = "The clamp is off, the meter shows nothing, and the inside lamp stays dark when you open a door."
OFF_IF_NOT = "If the meter shows volts or a lamp still lights, there is a second battery or the wrong clamp is off. Stop and call."
# Two batteries that feed one car together: one clamp off leaves it live.
OFF_DO_TWO = (
    "{Key_away}.",
    "Open the hood. Leave one door a little open so that you cannot lock yourself out.",
    "This car has two batteries, joined by a cable: with one of them off the car is still live. Undo the nut of the negative clamp, the one marked with a minus, at one battery, and lift the clamp off.",
    "Do the same at the other battery.",
    "Wrap a cloth round each clamp so that neither can fall back.",
)
OFF_SEE_TWO = "Both negative clamps are off, the meter shows nothing, and the inside lamp stays dark when you open a door."
OFF_IF_NOT_TWO = "If the meter shows volts or a lamp still lights, one of the two clamps still touches its post, or the wrong one is off. Look at both. Still a lamp: stop and call."
OFF_PROVED = "Prove it with the meter on volts: one probe on the positive post, the other on bare metal of the body. It shows nothing."
OFF_LEAD = "Take the long lead off the battery and put it away."
WAIT_TITLE = "Wait for the airbags"
WAIT_DO = "Wait {wait} from now. Look at the clock."
WAIT_DO_UNKNOWN = "Look up the waiting time in the maker's service information. Wait at least {wait}."
WAIT_WORKS = "Meanwhile stay out of the car, and see that the kit's fuses are out of their holders: {labels}."
WAIT_WORKS_NO_FUSE = "Meanwhile stay out of the car."
WAIT_LAY = "Then lay the kit out in the car: the controller with its plugs under the dash, away from the pedals and from any airbag, where it can later be tied to a brace; the leads from there along the car's own wires to where they belong."
WAIT_SEE = "The time is over, and the kit's fuses lie beside you."
WAIT_IF_NOT = "If you are not sure of the time, wait it once more."
ON_TITLE = "Battery on"
ON_DO = (
    "Look once more: no bare copper, no tool, no loose lead end; every unused lead has its cap.",
    "{Key_out}. The kit's fuses are out, the controller is unplugged.",
    "Take the cloth off and put the negative clamp back on its post.",
    "Tighten the nut.",
)
ON_DO_TWO = (
    "Look once more: no bare copper, no tool, no loose lead end; every unused lead has its cap.",
    "{Key_out}. The kit's fuses are out, the controller is unplugged.",
    "Take the cloths off and put the negative clamp back on its post at one battery, then at the other.",
    "Tighten both nuts.",
)
ON_COLD = "Nobody is in the car while the clamp goes on, and nothing lies on an airbag that is uncovered."
ON_SEE = "The inside lamp lights with a door open. No smoke, no smell, nothing warm. A tiny spark as the clamp touches its post is normal; that is what the eye protection is for."
ON_IF_NOT = "Smell, smoke or heat: clamp off at once. Then call. No lamp: the clamp does not sit, or the lamp is switched off; look at both. Still none: call."
ON_IF_NOT_TWO = "Smell, smoke or heat: both clamps off at once. Then call. No lamp: a clamp does not sit, or the lamp is switched off; look at both. Still none: call."
