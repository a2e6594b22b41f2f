# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""The start: what a rehearsal and an exploration tell."""

TITLE = "The start, rehearsed"
SUBTITLE = "{kit}, revision {revision}, in {car}"
HEAD_SCENARIOS = "What comes of it"
SCENARIOS = ("case", "question", "answer", "seen")
YES = "yes"
NO = "NO"
SOLVES = "The network was solved {solves} times for all of it."
HEAD_EVENTS = "What happens when: {words}"
EVENTS = ("s", "what happens", "the kit is")
HEAD_PROPERTIES = "What holds in every order of events"
EXPLORED = "{states} states and {transitions} transitions were gone through in {explored} explorations: with sound wiring, and with every single fault of an input's wiring."
PROPERTIES = ("what must hold", "holds", "source")
HEAD_STORY = "How it is broken: {words}"
HEAD_SILENT = "Wires that nobody would miss"
SILENT_INTRO = "With each of these faults the car still starts by remote as ever, and a protection is gone. Only the test named with it shows that, and only without what is named last."
SILENT_ITEM = "If {faults}: {lost} The test that shows it: {tests}. It shows nothing with {masks}."
SILENT_LAST = "or"
MASKS_LAST = "or"
SILENT_NONE = "No single fault of an input's wiring passes unnoticed."
NOTICED = "{count} other faults are noticed at once: the car then does not start by remote, or nothing is lost."
HEAD_ADVICE = "How to set it"
DETECTION = "Engine speed by {detection}. {why}"
DISENGAGE = "Disengage speed {speed}. {why}"
CRANK = "A crank needs up to {time}. {why}"
WAITS = ("at", "the heater needs", "the kit waits", "enough")
WAIT_CAPTION = "Waiting time against temperature"
HEAD_CONTRADICTIONS = "Settings that contradict"
NOTHING_SAID = "This is an estimate from typical engines and batteries, not a measurement of this car."
