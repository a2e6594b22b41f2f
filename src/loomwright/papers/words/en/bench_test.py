# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""The bench test: the kit on the bench before it goes out, without a car."""

from loomwright.papers.words.en.cautions import Word

TITLE = "Bench test"
SUBTITLE = "{kit}, revision {revision}, for {car}"
SUPPLY: tuple[Word, str] = (
    "CAUTION",
    "A bench supply without a limit burns a lead that touches another. Set {volts} and a limit of {limit}. Switch it off "
    "before you clip or unclip an output. Keep rings and watch straps off the clips.",
)
LAMPS: tuple[Word, str] = (
    "NOTICE",
    "Lamps stand for the car. Use small ones, no starter and no relay of a car: what hangs on a lead here must take less than the limit of the supply.",
)
INTRO = "Every wire in which one fault would not be noticed is tried here before the kit goes out, and once more in the car by whoever fits it (part E of the guide). Tick each step."
INTRO_PART = "Of the wires in which one fault would not be noticed, what a bench can show is tried here before the kit goes out; the rest is named under \u201cOnly in the car\u201d, and all of it is tried once more in the car by whoever fits it (part E of the guide). Tick each step."
SET_FIRST = "The tests hold for the options of the settings sheet. Set first what came otherwise: {changed}."
SET_ONE = "{name} to {value}"
LEARN_FIRST = "Then let the controller learn the idle once, with the pulses of the first test."
HEAD_RING = "Ring out first"
RING_INTRO = "Controller unplugged, supply off, the fuses in their holders. Meter on ohms or on its buzzer: each lead rings from its place in the kit's plug to its other end, and to no line of another place. A lead with a part in it rings up to the part."
RING = ("Kit's plug", "Lead", "Other end")
RING_PLACE = "{plug}/{pin}"
RING_PIN = "{label}, pin {pin}"
RING_PART = "at the {name}"
RING_PART_IN = "at the {name}, in {label}"
RING_RING = "its ring"
RING_BARE = "its bare end"
RING_DIODES = "The diode of {labels}, on the diode range: it conducts towards its band and not back."
RING_THROUGH = "Through {labels}: each pin of one end rings to the same pin of the other end, and to another pin only where the table gives both the same place."
RING_CUT = "Not so where the car's wire is interrupted: {pins}."
HEAD_CLIPS = "What is clipped where"
CLIPS = ("lead", "for", "on the bench")
POWER = "battery plus of the supply, each through its own fuse"
GROUND = "battery minus of the supply"
LAMP_TO_GROUND = "a lamp to minus"
LAMP_TO_PLUS = "a lamp to plus: this output pulls to ground"
AT_REST = "at rest: {clip}"
PULSES = "a source of square pulses, switched off"
CLIP = {"free": "hanging free", "ground": "on minus", "battery": "on plus"}
PLACE = "On the bench"
ACCESS = "Supply off until the first step says so."
HEAD_TESTS = "The tests"
START_TITLE = "A start"
START_DO = (
    "All leads as in the table. Switch the supply on.",
    "{start} First the lamp lights on {first}, then on {starter}.",
)
START_DO_AT_ONCE = "{start} The lamp lights on {starter}."
START_PULSES = "As soon as it lights on {starter}, switch the pulses on: {hertz} on {label}, as the engine gives at idle."
START_SUPPLY = "As soon as it lights on {starter}, turn the supply up to {volts}, as a charging car does. Leave it there for two seconds."
START_SEE = "The lamp goes out on {starter} and stays on, or comes on, on {running}. Then ask for a stop: all lamps go out."
LIMIT_TITLE = "No engine"
LIMIT_DO = "{start} Imitate no engine at all."
LIMIT_SEE = "The lamp lights on {starter} for no longer than {time}, no more than {attempts} times, and then all lamps go out by themselves."
REFUSE_TITLE = "No car, no start"
REFUSE_DO = "All leads as in the table. Switch the supply on and ask for a start with the remote. Wait for ten seconds."
REFUSE_SEE_ANSWER = "The lamp on {lamps} shows {reply}: the request was heard and refused. No lamp on {outputs} lights. This kit hears {heard} over the data bus; what it does not hear counts as the value that stops."
REFUSE_SEE = "No lamp on {outputs} lights. This kit hears {heard} over the data bus; what it does not hear counts as the value that stops."
REST_DO = "All else at rest: {rest}."
RUNNING_DO = "Start, and imitate the engine, as in the first test."
MOVE_DO = "Now {label}: {clip}."
AGAIN_DO = "Leave it so, imitate no engine, and ask for a start again. Wait for ten seconds."
ASK_DO = "Ask for a start with the remote. Wait for ten seconds."
BACK_DO = "Now {label} back: {clip}. Ask again: now it starts, so the kit heard you before. Then ask for a stop."
GONE_SEE = "All lamps on {outputs} go out at once, and none of them lights at the second request."
STILL_SEE = "No lamp on {starter} lights until the lead is put back."
LAMP_SEE = "The lamp lights on {first}. It stays dark on {starter} for as long as the lead stays so, and lights when it is put back."
RUNS_ON_SEE = "No lamp on {starter} lights at the second request. An engine that runs already is not stopped by this lead."
ANSWER_SEE = "The lamp on {lamps} answers the refused request: {reply}."
OUTPUTS_TITLE = "What else the remote asks for"
OUTPUT_DO = "{label}: {clip}. {how}"
END_TO_GROUND = "a lamp from its end for the car to minus"
END_TO_PLUS = "a lamp from its end for the car to plus"
OUTPUTS_SEE = "Each lamp lights when it is asked for, and at no other time."
IF_NOT = "The kit does not go out. Ring out {label} from its end to the controller, then try another controller."
IF_NOT_PLAIN = "The kit does not go out. Look at the settings first, then at the controller."
HEAD_CAR = "Only in the car"
CAR_INTRO = "What comes over the data bus, or needs an engine that runs, no bench shows. Whoever fits the kit does these tests by part E of the guide, before the hand-over."
CAR = "{title}: {fault}."
