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
SWEEP_SEE = "The pedals move freely through their whole way, and nothing lies near the selector."
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
READY_FUSES = "The kit's fuses are in: {labels}. You know where each sits and can reach it at once: its place is open until this part is passed."
FIRST_TITLE = "The first start by remote"
FIRST_TITLE_AFTER_LAMP = "A start by remote, seen from outside"
FIRST_DO = (
    "Selector in park, parking brake set, hood and doors shut, {key_out}. Stand beside the car.",
    "{start}",
    "Listen: the starter turns once and lets go as soon as the engine runs.",
    "Let it run for a minute.",
    "{stop}",
)
FIRST_KEYS = "Every key of this car lies far off, ten big steps from the car or more: else the car may start for the key, and the start proves nothing."
FIRST_IF_NOT_BUTTON = "Starter keeps grinding: the car's own computer cranks on for some seconds, so stand clear; then press the start button. Does it go on, take the battery clamp off. It does not stop when asked: press the start button. No start: do not try more than twice. Then call the shop."
FIRST_SEE = "The engine starts, runs, and stops when you ask it to. Lamps on and off as told."
FIRST_IF_NOT = "{Stop_first}Starter keeps grinding: ask it to stop, and pull the kit's fuses at once. It does not stop when asked: pull the fuses. No start: do not try more than twice. Then call the shop."
START = "Start the engine with the remote."
# What a needed test is called in the guide, by its id.
TITLES = {
    "brake": "Brake",
    "hood": "Hood",
    "selector": "Selector",
    "door": "Door",
    "key": "Key in the lock",
    "parking-brake": "Parking brake",
    "lamp": "The first start by remote, with a cold engine: the wait lamp",
}
# What must be at rest before a test, so that no other protection stops the engine in its place.
AT_REST = {
    "brake_pressed": "no foot on a pedal",
    "hood_open": "hood shut",
    "door_open": "all doors shut",
    "in_park": "selector in park",
    "parking_brake": "parking brake set",
    "key_in": "{key_out}",
}
DO = {
    "brake": (
        "Sit in the driver's seat, feet away from the pedals. All through this test: {at_rest}.",
        "{start}",
        "Press the brake pedal lightly, and keep it pressed.",
        "With the pedal pressed, ask for a start again. Wait for ten seconds.",
        "Let the pedal go.",
    ),
    "hood": (
        "A helper sits in the driver's seat, feet away from the pedals. The hood is shut. All through this test: {at_rest}.",
        "{start}",
        "The helper pulls the hood handle and touches nothing else. You stand beside the car and lift the hood.",
        "Leave it open, stand back, and ask for a start again. Wait for ten seconds. Then shut it.",
    ),
    "door": (
        "Stand outside, nobody in the car, all doors shut. All through this test: {at_rest}.",
        "{start}",
        "Open the driver's door without touching anything else.",
        "Leave it open, and ask for a start again. Wait for ten seconds. Then shut it.",
    ),
    "key": (
        "Sit in the driver's seat, engine off. All through this test: {at_rest}.",
        "Put the key in the ignition lock. Do not turn it.",
        "Ask for a start with the remote. Wait for ten seconds, hands and feet away from everything.",
        "Take the key out and ask again. Now the engine starts: so the kit heard you before, and it was the key that stopped it. {stop}",
    ),
    "parking-brake": (
        "Chock the wheels. Sit in the driver's seat, engine off: {at_rest}.",
        "Release the parking brake, feet away from the pedals.",
        "Ask for a start with the remote. Wait for ten seconds.",
        "Set the parking brake and ask again. Now the engine starts: so the kit heard you before. {stop}",
    ),
    "lamp": (
        "This is the first start by remote. The engine must be cold: best when the car has stood overnight.",
        "Sit in the driver's seat where you see the dash. All through this test: {at_rest}. Nobody in front of the car or behind it.",
        "Watch the glow lamp in the dash, and start the engine with the remote: {how}",
        "The lamp lights. Count how long it burns, and listen for the starter.",
        "When the engine has run for a minute: {stop}",
        "The lamp did not light, or for a moment only? Then the engine is too warm, and this test has shown nothing. Go on with the next test all the same, and do this one again on a cold morning, before you leave the car ready for the remote.",
    ),
}
SEE = {
    "brake": "The engine stops at once, and does not start while the pedal is pressed.",
    "hood": "The engine stops when the hood comes up, and does not start while it is open.",
    "door": "The engine stops within some seconds, and with the door open it does not start.",
    "key": "The starter stays still while the key is in the lock. It turns when the key is out.",
    "parking-brake": "The starter stays still while the parking brake is released. It turns when it is set.",
    "lamp": "The starter stays still for as long as the lamp burns. It turns only after the lamp has gone out.",
}
DOOR_SEE_RUNS = "With the door open it does not start. An engine that runs already is not stopped by the door."
# What is gone with an input that reads nothing any more, by the input.
LOST = {
    "brake_pressed": "the brake pedal no longer stops the engine",
    "hood_open": "the engine can start and run with the hood open",
    "door_open": "an opened door no longer stops the engine",
    "key_in": "the engine can start by remote with the key in the lock",
    "in_park": "the kit no longer sees that the selector is out of park",
    "parking_brake": "the kit no longer sees that the parking brake is released",
    "wait_lamp": "a cold engine is cranked before it is warm enough to fire",
    "engine": "the starter does not let go of the running engine",
}
HEAD_PROVED = "Wires that nobody would miss"
PROVED_INTRO = "One fault of these wires would not be noticed: the car starts by remote as ever, and a protection is gone. That is why part E has a test for each, alone."
PROVED = "If {fault}, {lost}. The test \u201c{title}\u201d shows it."
ALARM_NOTE = "The alarm is armed again once the engine runs: it may sound in this test. That is right; quiet it with the car's own key or remote."
ANSWERED = "To a refused start the parking lamps answer: {reply}. Without that the kit did not hear you: ask again from nearer."
GEAR_DO = (
    "Chock the wheels. Set the parking brake. Nobody in front of the car or behind it.",
    "Sit in the driver's seat, engine off: {at_rest}. {Turn_on}, do not start.",
    "Press the brake and keep the foot hard on it. Move the selector to drive.",
    "{Crank_try}. The starter must stay still: that is the car's own park switch, which the kit relies on. {Key_back}.",
)
GEAR_REMOTE = "Now hold the foot over the pedal, not on it: a pressed brake would stop a remote start by itself. Ask for a start with the remote. Wait for ten seconds. That the car is on does not keep this kit from starting, so the selector alone is what it meets. Then the foot hard on the brake again."
GEAR_NO_REMOTE = "Ask for no remote start here: with {the_key} on the kit refuses anyway, and that would prove nothing."
GEAR_AGAIN = "Foot hard on the brake, move the selector to reverse, and do the same there."
GEAR_END = "Press the brake, selector back to park, {key_out}. Then take the chocks away."
GEAR_SEE = "The starter does not turn, neither in drive nor in reverse."
GEAR_IF_NOT = "If the starter turns: press the brake, {key_off}, pull the kit's fuses, unplug the controller, and call the shop. Do not use the kit."
GEAR_FIRST_TITLE = "The car does not crank in gear"
GEAR_FIRST_IF_NOT = "If the starter turns: {key_off}. This car must not get the kit: its park switch is bad. Have it put right first."
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
TAKEOVER_STOPS_TITLE = "Getting in while it runs"
TAKEOVER_STOPS_DO = (
    "{start}",
    "With the key on you, press the brake.",
    "Start the car with {the_key} as always, then turn it off with {the_key}.",
)
TAKEOVER_STOPS_SEE = "The engine stops when you press the brake: the kit does not see your key, so it must. Then {the_key} starts and stops it as before the kit."
EXTRA_TITLE = "What else the kit touches"
EXTRA = {
    "lock": "Locking. {means} Try that: all doors lock.",
    "unlock": "Unlocking. {means} Try that: all doors unlock.",
    "parking light": "While the engine runs by remote the parking lamps show it, at all four corners. Stop it, and switch the parking lamps on with the car's own switch: all four corners light.",
    "horn": "Horn. {means} Try that: it sounds, and stops.",
    "hatch": "Hatch or boot lid. {means} Try that: it opens.",
    "factory alarm disarm": "Alarm. Get out, shut all doors, lock the car with its own key or remote, and wait until its alarm is armed. Start by remote: the alarm stays quiet.",
    "driver unlock": "Unlocking. {means} Try that: the doors do so.",
    "factory alarm arm": "Alarm. {means} Try that, with all doors shut: the lamp of the alarm shows it.",
    "accessory": "While it runs by remote the radio and the wipers have current.",
    "second ignition": "While it runs by remote the heater blower runs.",
    "parking brake": "{Start_engine}, selector in park, wheels chocked. Set and release the parking brake: its dash lamp follows, as it did before the kit.",
}
EXTRA_FEEDS = "While it runs by remote all of this works as with {the_key}: {feeds}."
EXTRA_LOCKED = "Locked. Get out, shut and lock all doors, and wait two minutes. Start by remote: it starts, and no alarm sounds."
EXTRA_SEE = "All of it works, as it did before the kit."
IF_NOT_PLAIN = "{Stop_first}Pull the kit's fuses, do not use the kit, and call the shop."
IF_NOT = "{Stop_first}Pull the kit's fuses and do not use the kit. {look} Fails twice: call the shop."
LOOK_BUS = "This comes over the data wire: look whether the {label} plug sits in the {plug}, put the fuses back, let the vehicle module learn again as in part D, and do this test again."
LOOK_JOINT = "Then battery off, wait {wait}, and make the joint of {label} again: {plug}, pin {pin}. {measure} Then do this test again."
LOOK_T = "Then battery off, wait {wait}, and look whether both ends of {branch} have clicked: {plug}, pin {pin}. {measure} Then do this test again."
LOOK_MEASURE = "Unplug the controller, battery on, fuses in, and measure the {label} lead as in part C. Fuses out, plug the controller in, fuses in."
LOOK_NO_MEASURE = "Battery on, fuses in."
LOOK_ADDED = "Look whether the shut hood presses the {name}. Then battery off, wait {wait}, unplug the controller, and measure the {label} lead on ohms as in its step of part B. Plug the controller in, battery on, fuses in, and do this test again."
LOOK_NOTHING = "Look at the plugs of the controller."
