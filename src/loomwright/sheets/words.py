"""The sheets' own words, one catalogue per language: labels and buttons, never anything about a car or a kit."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from loomwright.papers.blocks import Quantity, ReadingField, Text, Verdict
from loomwright.papers.languages import ENGLISH, LANGUAGES
from loomwright.sheets.words_french import FRENCH_WORDS

__all__ = [
    "direction",
    "figure",
    "limit_words",
    "number_words",
    "plain",
    "quantity_words",
    "reading_unit",
    "rounded",
    "spoken",
    "without",
    "words_for",
]

_ENGLISH = {
    "contents": "Contents",
    "step": "Step",
    "steps": "steps",
    "of": "of",
    "page": "page",
    "prepare": "Prepare",
    "measure": "Measure",
    "join": "Join",
    "plug": "Plug",
    "program": "Program",
    "test": "Test",
    "close": "Close up",
    "stop": "Stop",
    "needs": "Before you begin",
    "battery": "battery",
    "battery on": "Battery connected",
    "battery off": "Battery disconnected",
    "key out": "key out",
    "key off": "key off",
    "key acc": "key at accessory",
    "key run": "key at run",
    "key crank": "key at start",
    "button out": "car switched off",
    "button off": "car switched off",
    "button acc": "car at accessory",
    "button run": "dash on, engine off",
    "button crank": "start button, foot on the brake",
    "panel": "open:",
    "still open": "still open:",
    "tool": "tool:",
    "place": "Where",
    "access": "Get there",
    "count": "Find the pin",
    "neighbours": "Beside it",
    "lead": "Kit lead",
    "wire": "Car wire",
    "do": "Do",
    "see": "See",
    "if not": "If not",
    "unproven": "Not proven on this car",
    "may stop": "You may stop here",
    "may stop words": "The car may be driven; do first what the step says for a break, if it says anything.",
    "turn": "Turn the plug around",
    "turned": "The same plug turned around",
    "seen": "As you see it",
    "keep off": "do not touch",
    "reading": "Reading",
    "clip": "Clip to",
    "probe": "Touch",
    "state": "With",
    "expect": "Should be",
    "lamp yes": "Test lamp",
    "lamp no": "No test lamp here",
    "limits": "What your reading means",
    "below battery": "Below the battery",
    "reads": "Your meter reads",
    "verdict": "Verdict",
    "meaning": "What it means",
    "right": "Right",
    "wrong": "Not right",
    "battery now": "Battery as just measured",
    "your reading": "Your reading",
    "below": "below the battery",
    "below short": "below",
    "above": "above the battery",
    "first": "1st",
    "second": "2nd",
    "up to": "up to {high}",
    "from": "{low} or more",
    "between": "{low} to {high}",
    "any": "anything else",
    "no unit": "",
    "row": "No.",
    "other": "If it shows something else",
    "shows": "Shows",
    "reads short": "reads",
    "first reading": "1st reading",
    "second reading": "2nd reading",
    "less": "Below the battery: what the battery showed less what you read.",
    "type number": "Type a number such as 12.4.",
    "type battery": "Type the battery first.",
    "no row": "No line of the table fits. Stop and report this reading.",
    "twice": "That is the second reading that does not fit. Stop here and report both.",
    "stop after two": "Does not fit the second time either? Go by \u201cIf not\u201d, and keep both for the shop.",
    "previous": "Back",
    "next": "Next",
    "whole": "All on one page",
    "single": "One step at a time",
    "more": "More",
    "dark": "Dark",
    "bright": "Bright",
    "awake": "Keep screen on",
    "asleep": "Let screen sleep",
    "speak": "Read aloud",
    "silent": "Stop reading",
    "again": "Start from the top",
    "resumed": "You were here last time.",
    "skip": "Skip to the contents",
    "tick": "to tick",
    "marks": "This paper",
    "film": "Film",
    "film at": "from",
    "hazard": "hazard",
    "danger": "DANGER",
    "warning": "WARNING",
    "caution": "CAUTION",
    "notice": "NOTICE",
    "scroll": "wide, can be scrolled sideways",
    "joint tap": "tap onto the wire",
    "joint T tapped": "T-harness, tapped",
    "joint T interrupted": "T-harness, cut in",
    "joint plug": "own plug",
    "joint ground point": "ground point",
    "joint added part": "added part",
    "joint bus": "over the data bus, no wire",
    "joint setting": "by a setting, no wire",
    "joint none": "not connected",
    "joint cut in": "the wire is cut",
    "factory harness side": "the car's own signal comes from the harness, drawn above",
    "factory plug side": "the car's own signal comes from the plug, drawn above",
    "plug and pin": "{plug}, pin\N{NO-BREAK SPACE}{pin}",
    "map door": "door",
    "map kick": "kick",
    "map panel": "panel",
    "map knee panel": "knee panel",
    "map column": "column",
    "map pedals": "pedals",
    "map stack": "centre stack",
    "map cluster": "cluster",
    "decimal": ".",
    "colon": ": ",
    "semicolon": "; ",
    "axis s": "s",
    "axis step": "step",
    "wait needed": "{temperature} °C: needs {time} s",
}
_CATALOGUES: Mapping[str, Mapping[str, str]] = MappingProxyType({"en": MappingProxyType(_ENGLISH), "fr": FRENCH_WORDS})
# ISO 639-1 codes of languages written from right to left in everyday use.
_RIGHT_TO_LEFT = frozenset({"ar", "fa", "he", "ur", "yi", "ps", "sd", "ug", "dv"})

_MINUS = "\N{MINUS SIGN}"
_FIXED_SPACE = "\N{NO-BREAK SPACE}"


def words_for(language: str) -> Mapping[str, str]:
    """Return the catalogue of a language, English where there is none for it; 'en-CA' counts as 'en'."""
    return _CATALOGUES.get(language.lower().partition("-")[0], _CATALOGUES["en"])


def spoken(language: str) -> Callable[[str], str]:
    """Return what says a colour or another word of a drawing in a language, English where there is none for it."""
    return LANGUAGES.get(language.lower().partition("-")[0], ENGLISH).of


def figure(value: float, language: str, spec: str = "g") -> str:
    """Return a number of a drawing, in a format of Python, with the decimal sign of a language."""
    return f"{value:{spec}}".replace(".", LANGUAGES.get(language.lower().partition("-")[0], ENGLISH).decimal)


def direction(language: str) -> str:
    """Return 'rtl' for a language written from right to left, else 'ltr'."""
    return "rtl" if language.lower().partition("-")[0] in _RIGHT_TO_LEFT else "ltr"


def number_words(value: float, digits: int) -> str:
    """Return a number with a fixed count of decimals and a true minus sign; zero has no sign."""
    text = f"{abs(value):.{digits}f}"
    negative = value < 0 and float(text) != 0
    return f"{_MINUS}{text}" if negative else text


def _number(quantity: Quantity) -> str:
    """Return the number of a quantity as the language of its paper writes it; a wire gauge by its name."""
    if quantity.unit == "AWG":
        return quantity.printed
    return number_words(quantity.value, quantity.digits).replace(".", quantity.decimal)


def quantity_words(quantity: Quantity) -> str:
    """Return a quantity as read on paper: '12.4 V' with a space that does not break, '40 %', '3' without a unit."""
    number = _number(quantity)
    return f"{number}{_FIXED_SPACE}{quantity.unit}" if quantity.unit else number


def rounded(quantity: Quantity) -> float:
    """Return the value as it is printed, so that whoever compares with it agrees with the page."""
    return float(f"{quantity.value:.{quantity.digits}f}")


def reading_unit(field: ReadingField) -> str:
    """Return the unit a reading is typed in: that of its limits, volts where it has none."""
    limits = (limit for v in field.verdicts for limit in (v.low, v.high) if limit is not None)
    return next((limit.unit for limit in limits), "V")


def plain(text: Text) -> str:
    """Return a run of strings and quantities as one string."""
    return "".join(run if isinstance(run, str) else quantity_words(run) for run in text)


def without(text: str, said: str) -> str:
    """Return a text without what stands beside it already."""
    return " ".join(text.replace(said, "").split()) if said else text


def limit_words(verdict: Verdict, words: Mapping[str, str]) -> str:
    """Return the limits of a verdict in words: 'up to 0.2 V', '0.2 V to 1.0 V', '3.0 V or more', 'anything else'."""
    low, high = verdict.low, verdict.high
    if low is not None and high is not None:
        same_unit = low.unit == high.unit
        first = _number(low) if same_unit else quantity_words(low)
        return words["between"].format(low=first, high=quantity_words(high))
    if high is not None:
        return words["up to"].format(high=quantity_words(high))
    if low is not None:
        return words["from"].format(low=quantity_words(low))
    return words["any"]
