"""docs/reference/nomenclature.md: one unit per quantity, the words of the trade, functions, stimuli, states, ids."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import get_args

from loomwright.documents.behaviour import STIMULI, KeyPosition
from loomwright.documents.functions import FUNCTIONS
from loomwright.network.states import Stage
from loomwright.planning.installation import How
from loomwright.units import UNITS
from tools.reference.markdown import code, page, table

__all__ = ["HOWS", "KEYS", "STAGES", "WORDS", "nomenclature_page"]

_SUFFIX: Mapping[str, str] = MappingProxyType({
    "A": "_a", "Ah": "_ah", "F": "_f", "H": "_h", "Hz": "_hz", "N": "_n", "V": "_v", "W": "_w", "degC": "_c", "m": "_m",
    "mm": "_mm", "mm2": "_mm2", "ohm": "_ohm", "rpm": "_rpm", "s": "_s",
})  # fmt: skip
_EXTRA: Mapping[str, str] = MappingProxyType({"mm2": "AWG (4/0 to 40)", "degC": "degF, K"})

WORDS: Mapping[str, str] = MappingProxyType({
    "plug, pin": "a connector housing, and one numbered place in it",
    "face": "the drawing of a plug, from the wire side or from the mating side",
    "circuit": "one conductor's job in the vehicle, from its source to its loads",
    "function": "what a circuit or a terminal is for",
    "positive trigger": "a wire that works something by battery voltage",
    "negative trigger": "a wire that works something by being pulled to ground",
    "reversing": "a wire that rests at ground and goes live to turn a motor one way",
    "stepped": "one wire for several switches, told apart by resistance",
    "harness, branch, lead, splice": "what a kit's wiring is made of: all of it, a plug end, a loose wire with a "
    "label, a joint inside",
    "T-harness": "a piece between a vehicle plug and its mate; it carries each pin through, tapped or interrupted",
    "tap": "a joint made onto a vehicle wire without cutting it",
    "controller": "the start controller: the box that asks for a start, cranks and watches",
    "vehicle module": "the box that talks on the vehicle's data bus",
    "programming": "setting options",
    "learning": "a box getting to know the car",
    "test and programming": "the step after fitting",
    "route": "how one function is served",
    "takeover": "the driver's key or fob takes the running engine over",
    "stimulus": "something that happens to the car: a pedal, a door, a switch, the running engine",
    "state": "how far the fitting is, where the key is, which stimuli hold, and what the kit commands",
    "story": "states in order; relays carry their position from one to the next",
    "band": "the least and the largest reading of a sound car",
    "finding": "a rule that an installation breaks in some state, or a remark",
    "refusal": "the answer that a kit must not be fitted to a car",
    "proven, unproven, contradicted": "the standing of a circuit on one car: measured and agreeing; not measured on "
    "this variant; somebody saw something else",
})  # fmt: skip

HOWS: Mapping[str, str] = MappingProxyType({
    "T tapped": "through a T-harness, with a branch to the kit; the factory wire goes on",
    "T interrupted": "through a T-harness, with the factory wire cut in two and the kit between",
    "tap": "by a lead joined onto the vehicle wire",
    "cut in": "by an interface part between the two ends of the vehicle wire, which is cut beside its plug",
    "plug": "by a plug of the kit in a free socket of the car",
    "bus": "over the data bus, by the vehicle module",
    "setting": "by a setting instead of a wire",
    "added part": "by a part added to the car, such as a hood pin",
    "none": "not at all",
})  # fmt: skip

STAGES: Mapping[str, str] = MappingProxyType({
    "bare": "the untouched car",
    "fitting": "some steps of the fitting are done",
    "fitted": "everything is joined",
    "learned": "the vehicle module knows the car",
    "kit dead": "everything is joined and the kit has no power",
    "removed": "the kit is out and the plugs are back",
})  # fmt: skip

KEYS: Mapping[str, str] = MappingProxyType({
    "off": "key off, or out",
    "acc": "key in accessory",
    "run": "key on",
    "crank": "key held in start",
})  # fmt: skip

_DOES = {
    "feed": "takes its current there",
    "drive": "operates it",
    "sense": "reads it",
    "talk": "exchanges data",
    "leave": "never touches it",
}


def _units() -> str:
    rows = []
    for unit, (quantity, spellings) in UNITS.items():
        written = ", ".join([*spellings, *([_EXTRA[unit]] if unit in _EXTRA else [])])
        name = f"{quantity} (drawings and parts)" if unit == "mm" else quantity
        rows.append((name, unit, code(_SUFFIX[unit]), written))
    return table(("quantity", "unit", "name ends in", "what one may write"), rows)


def _functions() -> str:
    rows = [
        (code(name), facts.gist, facts.din, _DOES[facts.kit], "yes" if facts.needed else "")
        for name, facts in FUNCTIONS.items()
    ]
    return table(("function", "what it is", "DIN 72552", "the kit", "no start without it"), rows)


def nomenclature_page() -> str:
    """Return the page.

    Raises LookupError where a unit, stage, key position or way of serving has no words here.
    """
    for wanted, told in (
        (UNITS, _SUFFIX), (get_args(How), HOWS), (get_args(Stage), STAGES), (get_args(KeyPosition), KEYS),
    ):  # fmt: skip
        if missing := set(wanted) - set(told):
            raise LookupError(f"no words for {', '.join(sorted(missing))}")
    stimuli = [(code(name), "holds" if rest else "does not hold") for name, rest in STIMULI.items()]
    return page(
        "Units and words",
        "## Units\n\nInside there is one unit per quantity, and the name of every value ends in it. In documents one "
        "may write other units of the same kind as a text, such as `\"30 cm\"`. A text without a unit is refused: that "
        "is the commonest way to be wrong by a factor of a thousand. Time of work is in minutes and ends in `minutes`.",
        _units(),
        "## Words\n\nOne word for one thing, the same in documents, on the papers and in the code.",
        table(("word", "what it means"), WORDS.items()),
        "## Functions",
        _functions(),
        "## How a function is served",
        table(("way", "what it means"), ((code(k), HOWS[k]) for k in get_args(How))),
        "## Key positions",
        table(("position", "what it means"), ((code(k), KEYS[k]) for k in get_args(KeyPosition))),
        "## Stimuli",
        table(("stimulus", "when nobody touches anything"), stimuli),
        "## Stages",
        table(("stage", "what it means"), ((code(k), STAGES[k]) for k in get_args(Stage))),
        "## Ids\n\nIds are paths of words that people chose, and stay the same when something else changes.",
        table(
            ("begins with", "what it is"),
            [
                (code("c:<plug>/<pin>"), "a pin of the car; `:h` at its end is the harness side, `:m` the module side"),
                (code("s:<circuit>/<name>"), "a splice"),
                (code("v:<circuit>/<from>~<to>"), "a wire, fuse or switch of the vehicle"),
                (code("t:<plug>/<pin>"), "a T-harness at this pin"),
                (code("k:<terminal>"), "a terminal of the controller; `:lead` at its end is the end of its lead"),
                (code("p:<function>/<part>"), "an interface part"),
                (code("j:<function>/<pin>"), "a joint"),
            ],
        ),
    )
