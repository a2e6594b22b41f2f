# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Cautions: hazard, consequence and how to avoid it, each with its signal word.

Signal words follow ANSI Z535.6 and ISO 3864-2: WARNING where death or serious injury could follow, DANGER where it
will, CAUTION for lesser injury, NOTICE where nobody is hurt. The source of each rule stands beside it.
"""

from typing import Literal

Word = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
Caution = tuple[Word, str]

# NFPA, carbon monoxide safety tips (2014); CDC, carbon monoxide prevention guidance.
GARAGE: Caution = (
    "DANGER",
    "Never run this engine in a garage or any closed space, door open or not. Exhaust gas you cannot smell will kill. "
    "Do all of this work outdoors.",
)
# The same sources, for whoever uses the kit.
GARAGE_USE: Caution = (
    "DANGER",
    "Never start or run this engine in a garage or any closed space, door open or not. Exhaust gas you cannot smell will "
    "kill.",
)
# NFPA, carbon monoxide safety tips (2014).
TAILPIPE: Caution = (
    "WARNING",
    "Clear snow and leaves from the tailpipe before each start. A blocked pipe can fill the car with deadly gas.",
)
TIMED: Caution = (
    "WARNING",
    "Never switch on starting by time or by cold if the car may stand indoors. It starts where it stands, and the gas "
    "can kill. Leave that setting off.",
)
# 49 CFR 571.305 (orange covering); NFPA, 25 October 2012 (the 12 V battery does not make a hybrid safe).
HIGH_VOLTAGE: Caution = (
    "WARNING",
    "Thick orange cable, or cable in orange tube, is high voltage and can kill, even with the battery disconnected. Do not "
    "touch it; a thin orange wire among others is an ordinary one. This kit is not for a hybrid, an electric or a 48 V car: "
    "stop if you find one in front of you.",
)
# NHTSA interpretation 24473.drn: no rule asks a manual gearbox for a start interlock.
MANUAL: Caution = (
    "WARNING",
    "Not for a manual gearbox. The car can leap forward the moment the starter turns. Stop if the car has a clutch pedal.",
)
# Waiting times of the makers' workshop manuals run from seconds to ten minutes; the car's own figure rules.
AIRBAG_WAIT: Caution = (
    "WARNING",
    "An airbag can still fire after the battery is off, and can hurt you badly. After the negative cable is off, wait "
    "{wait} before you work on. Plug in nothing that feeds the car meanwhile: it keeps the airbags live.",
)
AIRBAG_WAIT_UNKNOWN: Caution = (
    "WARNING",
    "An airbag can still fire after the battery is off, and can hurt you badly. The waiting time of this car is not on "
    "record. Look it up in the maker's service information before you work on. Wait never less than {wait}. Plug in "
    "nothing that feeds the car meanwhile: it keeps the airbags live.",
)
# Honda workshop manual 2001, p. 23-28; Mitsubishi workshop manual, group 52B: yellow covering, never splice or repair.
AIRBAG_WIRES: Caution = (
    "WARNING",
    "Wiring in a yellow sleeve and yellow plugs belong to the airbags. Cutting, tapping or measuring them can fire an "
    "airbag, or keep it from working in a crash. Leave them alone. A plain yellow wire without a sleeve may be "
    "something else, and an airbag wire may leave its sleeve before it enters a plug: this guide names the pins.",
)
AIRBAG_PINS: Caution = (
    "WARNING",
    "In this plug these are airbag wires, sleeve or not: {pins}. Touching one with a meter or a lamp can fire an "
    "airbag. Count past it, and keep off its wire behind the plug as well.",
)
HAZARD_AIRBAG: Caution = ("WARNING", "{words} Keep off: it can fire and hurt you badly.")
HAZARD_HIGH_VOLTAGE: Caution = ("WARNING", "{words} It can kill. Do not touch it.")
HAZARD_MOVING: Caution = ("WARNING", "{words} It can catch fingers and sleeves. Keep clear of it.")
HAZARD_HOT: Caution = ("CAUTION", "{words} It burns. Let it cool first.")
HAZARD_SHARP: Caution = ("CAUTION", "{words} It cuts. Keep your hands off the edge.")
# Makers' workshop manuals (Mazda, Nissan, Mitsubishi, Acura): no lamp or tester on airbag circuits.
METER: Caution = (
    "WARNING",
    "Measure with a digital meter. Use a test lamp only where a step allows it. A lamp or a meter on an airbag wire can "
    "fire the airbag, and a lamp on the wrong wire can switch something on under your hands.",
)
# Univ. of Wisconsin System, battery safety; 29 CFR 1917.157.
BATTERY: Caution = (
    "WARNING",
    "A spark at the battery can make it burst and throw acid. Wear eye protection and keep flames away.",
)
RINGS: Caution = (
    "CAUTION",
    "A ring or watch strap that bridges the battery gets red hot at once. Take them off before you go to the battery.",
)
# 33 CFR 183.455 (boats; the principle); common practice in cars.
FUSES_OUT: Caution = (
    "WARNING",
    "A live lead that touches metal can start a fire. Leave the kit's fuses ({labels}) out of their holders until this "
    "guide says so.",
)
# Common practice; makers' manuals on airbag ground points.
GROUND: Caution = (
    "WARNING",
    "Use the ground point named here and no other. Never loosen a seat-belt, seat, airbag, brake, steering or fuel fastener: it "
    "may fail when somebody needs it. Do not drill a hole for one.",
)
# Common practice.
COLOUR: Caution = (
    "NOTICE",
    "The colour of a wire is a hint, not proof. Measure every wire as the step says before you join anything to it.",
)
PEDALS: Caution = (
    "WARNING",
    "A wire caught by a pedal, the steering shaft or the selector can cost you control of the car. Tie every lead clear "
    "of them before the car moves.",
)
# 49 CFR 571.102 S3.1.3; NHTSA interpretation nht88-4.51.
INTERLOCKS: Caution = (
    "WARNING",
    "Never bridge or fake the park switch, the hood switch or the brake pedal. The car could start in gear, or with "
    "somebody's hands in the engine.",
)
HOOD: Caution = (
    "WARNING",
    "This engine may start at any time. Before anybody reaches under the hood, switch on the service mode or "
    "pull the kit's fuses, and lay every remote away from the car and from yourself. A starting engine takes fingers.",
)
CLASH: Caution = (
    "NOTICE",
    "Your {label} lead is {colour}. In the same plug sits what looks much like it: {other}. Do not join those: the right "
    "wire is {right}.",
)
DATA: Caution = (
    "NOTICE",
    "This wire carries data. A test lamp or a second of contact with ground stops the car's modules. Use the meter only.",
)
BRITTLE: Caution = (
    "NOTICE",
    "The latch of this plug breaks easily. Press it fully before you pull, and never lever it with a screwdriver.",
)
CUTS: Caution = (
    "CAUTION",
    "Trim edges, fans and exhaust parts cut and burn. Wear gloves, let the engine cool, and keep sleeves and hair clear.",
)
MEMORY: Caution = (
    "NOTICE",
    "With the battery off, the radio may ask for its code, and the clock and window switches forget their settings. "
    "Write the radio code down first, and leave a window a little open.",
)
# Purpose of 49 CFR 571.102 S3.1.3: a parked car must not lurch when the starter turns.
CRANKING: Caution = (
    "WARNING",
    "In this step the starter turns and the engine may start: it can pull you in. Outdoors, selector in park, parking "
    "brake set, nobody at the engine.",
)
LEARNING: Caution = (
    "WARNING",
    "Do not ask for a remote start before this guide says so. The kit does not know the engine yet and could hold the "
    "starter in too long, or start while somebody is in the way.",
)
# CMVSS 114 (aim of immobilisation); common practice.
HIDDEN_KEY: Caution = (
    "NOTICE",
    "Do not hide a key or a key chip in the car. It helps a thief, and your insurer may refuse to pay.",
)
# 47 CFR 15.21.
RADIO: Caution = (
    "NOTICE",
    "Do not open or alter the remote or its receiver. Changes that are not approved can end your right to use them.",
)
# 49 CFR 571.102; method common practice. With the foot on the brake the kit refuses anyway: the test proves nothing.
GEAR_TEST: Caution = (
    "WARNING",
    "If something is wrong, the car moves in this test and can crush a person. Chock the wheels, set the parking brake, "
    "keep the space in front and behind clear. Keep the foot hard on the brake; only where the step asks for "
    "a remote start hold it over the brake, not on it, since a pressed brake stops a remote start by itself and the test would "
    "prove nothing. Not sure? Have a workshop do it. If the starter turns, press "
    "the brake, switch the car off, pull the kit's fuses and call the shop.",
)
GEAR_FIRST: Caution = (
    "WARNING",
    "If something is wrong, the car moves in this test and can crush a person. Chock the wheels, set the parking brake, "
    "keep the space in front and behind clear, and the foot hard on the brake throughout. Not sure? Have a workshop do it.",
)
KIT_LIVE: Caution = (
    "WARNING",
    "From now on the kit has power. It should start nothing before part D is done, but do not trust that: a starting "
    "engine takes fingers. Before anybody reaches under the hood, pull the kit's fuses.",
)
HOOD_TEST: Caution = (
    "WARNING",
    "The engine may run in this test. Fan and belts take fingers. Nobody reaches under the hood, and whoever opens it "
    "stands beside the car, not in front.",
)
# 49 CFR 571.208 S4.5.2 (airbag lamp); list common practice.
HAND_OVER: Caution = (
    "WARNING",
    "Do not use the kit and do not hand the car over until every test of this part is passed, and the airbag lamp "
    "lights and goes out. A kit that fails one test can hurt somebody: pull its fuses and call.",
)
# NHTSA, child safety advice; 49 CFR 571.118.
CHILDREN: Caution = (
    "WARNING",
    "Never leave a child, a pet or anybody who cannot get out alone in a car that runs by remote. Windows can move and "
    "heat can kill.",
)
# NHTSA letter of 5 June 1987; 625 ILCS 5/11-1401.
LEAVING: Caution = (
    "WARNING",
    "Each time you leave the car ready for a remote start: selector in park, parking brake set, doors locked. A car that "
    "starts in another state can roll and hurt somebody.",
)
# USDA Forest Service, 0851 1816-SDTDC (2008).
GRASS: Caution = (
    "WARNING",
    "Do not park over dry grass or leaves. A hot exhaust can set them on fire.",
)
# State and city idling rules; EPA420-B-06-004 (2006).
IDLING: Caution = (
    "NOTICE",
    "Many places limit how long an engine may idle, or forbid leaving it running. Ask for the rules of your state, your "
    "city and your landlord, and set the run time to the shortest that does.",
)
# Common practice.
MISMATCH: Caution = (
    "WARNING",
    "Never go on with a reading that does not fit: do what stands at \u201cIf not\u201d. Where that ends, put the car's own wiring back as it was and call. A kit on a wrong wire "
    "can start a fire or start the car in gear.",
)
REFUSED: Caution = ("WARNING", "{words}")
EXHAUST_PLACE: Caution = (
    "WARNING",
    "The engine runs in this part. Be outdoors, with nobody in front of or behind the car. Exhaust gas kills in closed "
    "rooms.",
)
CHOCKS: Caution = (
    "WARNING",
    "A car with its parking brake released can roll over you. Chock a wheel at both sides before you release it.",
)
