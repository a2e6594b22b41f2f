# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate
"""The order check: its questions, its verdict in two sentences, and what else a buyer must know before ordering."""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.papers.words.en.cautions import IDLING, TAILPIPE, TIMED, Caution

TITLE = "Order check"
SUBTITLE = "{kit}, revision {revision}, for the {car}"

# The questions that no vehicle document has.
ASK_KEYS = "How many of your keys start the engine?"
KEYS_NONE = "no key starts it now. A key that only opens the door does not count."
KEYS_SOME = "tried one after the other, {count} of them and no more."
KEYS_ENOUGH = "tried one after the other, {count} of them or more."
ASK_PARKED = "Where does the car stand when it is to be started?"
PARKED: Mapping[str, str] = MappingProxyType({
    "attached-garage": "A garage that shares a wall, a roof or a door with rooms where people live or work.",
    "enclosed-garage": "A garage that stands by itself, a parking house, an underground garage.",
    "street": "A public street or an open parking lot, under the open sky.",
    "private-ground": "A drive or a yard of your own, under the open sky or a carport without walls.",
})
PARKED_SHORT: Mapping[str, str] = MappingProxyType({
    "attached-garage": "in a garage attached to a building",
    "enclosed-garage": "in an enclosed garage",
    "street": "on a street or an open lot",
    "private-ground": "on open private ground",
})
ASK_PLACE = "In which of these places is it started?"
PLACE_ELSEWHERE = "None of these."

# The verdict: two sentences each.
FITS = "{kit} fits this {car}: it serves everything it is meant to, and the {states} states computed show nothing against it."
FITS_ALL = "{kit} fits each of the {cars} cars that your answers leave, in the same way: it serves everything it is meant to, and the {states} states computed show nothing against it."
DO_ORDER = "You can order it; hold the list below against the car once more before you do."
DO_ORDER_UNPROVEN = "You can order it; nobody has proven all of its wires on this variant yet, so the guide has you measure them before anything is joined."
LACKS = "{kit} fits this {car}, but leaves something out: {functions}."
LACKS_FIXES = "{kit} fits this {car}, but leaves something out ({functions}), and {things} must be put right."
FIXES = "{kit} fits this {car} only once {things} put right."
ONE_THING = "{count} thing"
THINGS = "{count} things"
ONE_THING_IS = "{count} thing is"
THINGS_ARE = "{count} things are"
DO_READ = "Read the list below, and order it only if you can do without."
DO_CALL = "Do not order it before you have gone through the list below with the shop."
REFUSED = "{kit} must not be fitted to this {car}, because {reason}."
REFUSED_ALL = "{kit} must not be fitted to any of the {cars} cars that your answers leave, because {reason}."
OR_ELSE = ", or because "
DO_NOT = "Do not order it; it would fit only if {cure}."
DO_NOT_ANY = "Do not order it; no setting and no other way of fitting changes that."
STOPPED = "{kit} does not fit this {car}: the circuit that it would make shows {things} that must not be."
MISSING = "{kit} does not fit this {car}: it leaves out what no start may be without: {functions}."
DO_NOT_STOPPED = "Do not order it; the list below says what was found, and the shop can tell whether another kit fits."
STOPPED_ALL = "{kit} fits none of the {cars} cars that your answers leave."
OPEN = "It is not settled whether {kit} fits: it fits {fitting} of the {cars} cars that your answers leave, and not the others."
OPEN_PLAN = "{kit} fits each of the {cars} cars that your answers leave, but not in the same way."
UNASKED = "It is not settled yet whether {kit} fits: your answers leave {cars} cars."
DO_ANSWER = "Do not order it before the questions below are answered."
DO_LOOK = "Do not order it before {axes} {is_are} settled: look at the car again, or send the shop a picture of what the questions below ask for."
IS = "is"
ARE = "are"
FEW_KEYS = "Do not order it yet: it needs {needed} of your keys that start the engine to learn the car, and you have {have}, so have a key made first."
NOT_THERE = "Do not order it before you have read what {place} says about it: the limit stands below."

# The list below.
HEAD = "Does the kit fit the car?"
HEAD_CUES = "This is the car the check is for"
CUE = "{axis}: {value}. You see: {cue}"
CUE_OPEN = "{axis}: {values}. Not settled."
CUE_SPARE = "{axis}: {values}. It makes no difference to this kit."
CUE_DIFFERS = "If a line differs from the car, the check does not hold: answer again."
HEAD_OPEN = "What is still open"
OPEN_CHOICE = "{value}: {cue}"
HEAD_EXCEPTIONS = "What to know before you order"
UNSERVED = "{function}: {why} It would work if {cure}."
FINDING = "{message} {advice}"
HEAD_KEYS = "Keys"
KEYS_NOT_NEEDED = "No key has to be learned."
KEYS_OK = "Learning needs {needed} of your keys that start the engine; you have {have}."
KEYS_OPEN = "Learning needs {needed} of your keys that start the engine. Try each of them before you order."
KEYS_SHORT = "Learning needs {needed} of your keys that start the engine; you have {have}. Have one made and tried first: without it the kit cannot start the car."
HEAD_PARKED = "Where it starts"
PARKED_AT = "The car stands {where}."
SETTING_OFF = "{setting}: leave it at \"{off}\". The kit starts only when somebody who sees the car asks for it."
TIMED_REFUSED = "Starting by time or by cold is refused for this car: nobody decides where it stands at that moment."
TIMED_ALLOWED = "Starting by time or by cold is your own decision: leave it off whenever the car may stand indoors."
HEAD_LIMIT = "What the place says"
LIMIT_IDLE = "{place}: an engine may idle for {minutes} at most."
LIMIT_NO_IDLE = "{place}: the shop found no limit on idling."
LIMIT_ALLOWED = "It may run with nobody in the car."
LIMIT_LOCKED = "It may run with nobody in the car only while the doors are locked and no key is inside."
LIMIT_FORBIDDEN = "It may not run with nobody in the car. Do not use a remote start there."
LIMIT_SET = "Set the run time to {value}."
LIMIT_TOO_LONG = "None of the kit's run times is that short. Do not use a remote start there, or stop the engine by hand in time."
LIMIT_LOCK_SETTING = "Keep \"{setting}\" on, and take the key with you."
LIMIT_LOCK_SELF = "Lock the doors before you ask for a start, and take the key with you."
LIMIT_NO_LOCK = "In this car the kit cannot lock the doors: lock them yourself before you ask for a start, and take the key with you."
LIMIT_SOURCE = "From {source}, read by the shop on {on}. Limits change and differ from place to place: ask there before you rely on it."
DEFERS = "The check says what was computed from the shop's documents and your answers. The service information of the car's maker, the law of your place and the word of a licensed technician go before it."

# NFPA, carbon monoxide safety tips (2014); CDC, carbon monoxide prevention guidance.
ATTACHED: Caution = (
    "DANGER",
    "Exhaust gas from a garage that is attached to a building goes through walls and doors and kills people asleep in it, garage door open or not. Roll or drive the car out into the open before each start, and never ask for a start while it stands inside.",
)
ENCLOSED: Caution = (
    "DANGER",
    "Exhaust gas gathers in a garage, door open or not, and kills whoever is in it. Roll or drive the car out into the open before each start, and never ask for a start while it stands inside.",
)
# NHTSA letter of 5 June 1987; 625 ILCS 5/11-1401.
STREET: Caution = (
    "WARNING",
    "A car that runs on a street with nobody in it can be driven off or roll and hurt somebody. Leave it in park, parking brake set, doors locked, the key with you, and in sight.",
)
PRIVATE: Caution = (
    "WARNING",
    "Children and animals play around a car at home. A car that starts beside them can hurt them. Look before you ask for a start, and keep the exhaust away from doors and windows.",
)

CAUTIONS: Mapping[str, tuple[Caution, ...]] = MappingProxyType({
    "attached garage": (ATTACHED, TIMED),
    "enclosed garage": (ENCLOSED, TIMED),
    "garage unknown": (TIMED,),
    "street": (STREET, TAILPIPE),
    "private ground": (PRIVATE, TAILPIPE),
    "idling": (IDLING,),
})

# On the screen.
ASKED = "{number}. {ask}"
OPTION = "   {number}  {value}"
OPTION_CUE = "   {number}  {value}: {cue}"
OPTION_NOT_SURE = "   n  not sure"
OPTION_BACK = "   b  back to the question before"
NEVER = "   Not built with your answers: {values}. If the car is like that, go back: an answer before was not right."
PROMPT = "Your answer"
NO_SUCH = "Answer with a number from {first} to {last}, n or b."
NO_BEFORE = "This is the first question."
PLANNING = "planning"
PROVING = "proving"
WEIGHING = "weighing"
PROGRESS = "{what} {done} of {total}"
