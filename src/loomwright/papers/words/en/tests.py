# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""Part E: every safety test separately, with nothing else that could stop the engine."""

HEAD = "Part E: the first start by remote, and what must stop the engine"
INTRO = (
    "Each test tries one thing only. Before each: selector in park, parking brake set, hood and doors shut, nobody on a "
    "pedal, and {key_out} unless the step says otherwise. Else another protection stops the engine and the test proves "
    "nothing."
)
SWEEP_TITLE = "Nothing near the pedals"
SWEEP_DO = (
    "Press each pedal to the floor by hand. No lead moves with it.",
    "Tie away what is within a hand's width of the pedals, the steering shaft or the selector.",
)
SWEEP_SEE = "Pedals and selector move freely through their whole way."
SWEEP_IF_NOT = "Tie the leads again before you start the engine."
HEAD_READY = "Ready for the first remote start?"
READY_INTRO = "Tick every line. If one is not so, go back to its part."
READY = (
    "Part C: every lead read right, and the car starts on {its_key} with the kit in.",
    "The airbag lamp lights and goes out.",
    "All leads and the controller are tied clear of pedals, steering shaft and selector.",
    "Outdoors; nobody in front of the car, behind it or under it; tailpipe free.",
    "Selector in park, parking brake set, hood and doors shut, {key_out}.",
    "You know how to stop it: {stop}",
)
READY_LEARNED = "Part D: {name}: the last answer came."
READY_FUSES = "The kit's fuses are in: {labels}."
FIRST_TITLE = "The first start by remote"
FIRST_DO = (
    "Selector in park, parking brake set, hood and doors shut, {key_out}. Stand beside the car.",
    "{start}",
    "Listen: the starter turns once and lets go as soon as the engine runs.",
    "Let it run for a minute.",
    "{stop}",
)
FIRST_SEE = "The engine starts, runs, and stops when you ask it to. Lamps on and off as told."
FIRST_IF_NOT = "Starter keeps grinding: pull the kit's fuses at once. No start: do not try more than twice. Call the shop."
START = "Start the engine with the remote."
BRAKE_TITLE = "Brake"
BRAKE_DO = (
    "Sit in the driver's seat, feet away from the pedals, doors shut, {key_out}.",
    "{start}",
    "Press the brake pedal lightly, and keep it pressed.",
    "With the pedal pressed, ask for a start again.",
)
BRAKE_SEE = "The engine stops at once, and does not start while the pedal is pressed."
HOOD_TITLE = "Hood"
HOOD_DO = (
    "A helper sits in the driver's seat: feet away from the pedals, doors shut, {key_out}.",
    "{start}",
    "The helper pulls the hood handle. You stand beside the car and lift the hood.",
    "Leave it open, and ask for a start again. Then shut it.",
)
HOOD_SEE = "The engine stops when the hood comes up, and does not start while it is open."
DOOR_TITLE = "Door"
DOOR_DO = (
    "Stand outside, all doors shut, {key_out}.",
    "{start}",
    "Open the driver's door without touching anything else.",
    "Leave it open, and ask for a start again.",
)
DOOR_SEE = "The engine stops within some seconds, and with the door open it does not start."
DOOR_SEE_RUNS = "With the door open it does not start. An engine that runs already is not stopped by the door."
GEAR_TITLE = "Selector"
GEAR_DO = (
    "Chock the wheels. Set the parking brake. Nobody in front of the car or behind it.",
    "Sit in the driver's seat, doors shut, engine off. {Turn_on}, do not start.",
    "Press the brake, move the selector to drive, and take your foot off: hold it over the pedal.",
    "{Crank_try}. The starter must stay still: that is the car's own park switch, which the kit relies on. {Key_back}.",
)
GEAR_REMOTE = "Ask for a start with the remote. Wait for ten seconds. The kit does not see {the_key}, so the selector alone is what it meets."
GEAR_NO_REMOTE = "Ask for no remote start here: with {the_key} on the kit refuses anyway, and that would prove nothing."
GEAR_AGAIN = "Press the brake, move the selector to reverse, hold your foot over the pedal again, and do the same there."
GEAR_END = "Press the brake, selector back to park, {key_out}."
GEAR_SEE = "The starter does not turn, neither in drive nor in reverse, whatever asks for it."
GEAR_IF_NOT = "If the starter turns: press the brake, {key_off}, pull the kit's fuses, unplug the controller, and call the shop. Do not use the kit."
TIMEOUT_TITLE = "Time-out"
TIMEOUT_DO = (
    "Stand outside with a watch. All doors and the hood shut, {key_out}.",
    "{start} Note the time.",
    "Leave it alone. It must stop by itself after {time}.",
)
TIMEOUT_DO_UNKNOWN = "Leave it alone. It must stop by itself after the run time set in part D."
TIMEOUT_SEE = "It stops by itself, not much earlier and not later."
TAKEOVER_TITLE = "Take over with {the_key}"
TAKEOVER_DO = (
    "{start}",
    "{Take_over}.",
)
TAKEOVER_SEATED = "Sit in the driver's seat with all doors shut: an opened door stops the engine, as it should."
TAKEOVER_SEE = "The engine runs on, and now {the_key} turns it off."
EXTRA_TITLE = "What else the kit touches"
EXTRA = {
    "lock": "Locking. {means} Try that: all doors lock.",
    "unlock": "Unlocking. {means} Try that: all doors unlock.",
    "parking light": "While the engine runs by remote the parking lamps show it.",
    "horn": "Horn. {means} Try that: it sounds, and stops.",
    "hatch": "Hatch or boot lid. {means} Try that: it opens.",
    "factory alarm disarm": "Lock the car, wait a minute, start by remote: the alarm stays quiet.",
    "accessory": "While it runs by remote the radio and the wipers have current.",
    "second ignition": "While it runs by remote the heater blower runs.",
    "parking brake": "{Start_engine}, selector in park, wheels chocked. Set and release the parking brake: its dash lamp follows, as it did before the kit.",
}
EXTRA_SEE = "All of it works, as it did before the kit."
IF_NOT_PLAIN = "Pull the kit's fuses, do not use the kit, and call the shop."
IF_NOT = "Pull the kit's fuses and do not use the kit. {look} Fails twice: call the shop."
LOOK_BUS = "This comes over the data wire: look whether the {label} plug sits in the {plug}, and let the vehicle module learn again as in part D."
LOOK_JOINT = "Measure the {label} lead again as in part C, and make its joint again: {plug}, pin {pin}."
LOOK_ADDED = "Look whether the shut hood presses the {name}, and measure the {label} lead again as in part C."
LOOK_NOTHING = "Look at the plugs of the controller."
