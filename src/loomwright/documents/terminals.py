"""Terminal numbers of DIN 72552: what each means, and which function of this trade it stands for, if any.

A number is shown small beside the trade's word, never instead of it: makers use the numbers loosely.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from loomwright.documents.functions import FunctionName

__all__ = ["TERMINALS", "Label", "Terminal", "terminal", "terminals_of"]

Label = Literal["published", "from memory", "common practice"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal:
    """One terminal number, its meaning, the function it stands for (None where none does), and how sure that is."""

    number: str
    meaning: str
    function: FunctionName | None
    label: Label


def _published(number: str, meaning: str, function: FunctionName | None = None) -> Terminal:
    return Terminal(number=number, meaning=meaning, function=function, label="published")


def _memory(number: str, meaning: str, function: FunctionName | None = None) -> Terminal:
    return Terminal(number=number, meaning=meaning, function=function, label="from memory")


def _practice(number: str, meaning: str, function: FunctionName | None = None) -> Terminal:
    return Terminal(number=number, meaning=meaning, function=function, label="common practice")


# Source: DIN 72552, "Klemmenbezeichnungen in Kraftfahrzeugen". "Published" means that public lists of the standard's
# numbers were read; the standard itself was not. The functions are this trade's words for them (common practice).
TERMINALS: Mapping[str, Terminal] = MappingProxyType(
    {
        each.number: each
        for each in (
            _published("1", "ignition coil, low-voltage side", "tach"),
            _published("4", "ignition coil, high voltage"),
            _published("15", "switched positive after the ignition switch, in run and start", "ignition"),
            _memory("15a", "output of the ballast resistor to coil and starter"),
            _practice("15R", "switched positive in the accessory position, maker's usage", "accessory"),
            _published("17", "glow plugs, start", "glow plugs"),
            _published("19", "glow plugs, preheat", "glow plugs"),
            _published("29", "battery positive that is cut off in a crash"),
            _published("30", "battery positive, direct", "battery feed"),
            _published("30a", "positive of the second battery"),
            _published("30g", "switched positive, not the same as 15"),
            _published("31", "battery negative or ground", "ground"),
            _published("31b", "ground through a switch"),
            _published("32", "motor, return"),
            _published("33", "motor, main terminal"),
            _memory("45", "output of a separate starter relay"),
            _memory("49", "flasher, input"),
            _memory("49a", "flasher, output"),
            _published("50", "starter control", "start"),
            _memory("51", "alternator, direct current at the rectifier"),
            _published("53", "wiper motor, positive", "wiper"),
            _memory("53a", "wiper motor, positive to the park switch"),
            _memory("54", "stop lamps", "stop light"),
            _memory("55", "fog lamp"),
            _memory("56", "headlamp feed"),
            _memory("56a", "high beam and its tell-tale"),
            _memory("56b", "low beam", "lighting"),
            _memory("57", "parking lamps", "parking light"),
            _memory("57L", "parking lamp, left", "parking light left"),
            _memory("57R", "parking lamp, right", "parking light right"),
            _memory("58", "side, tail, number-plate and panel lamps", "parking light"),
            _memory("58L", "side and tail lamps, left", "parking light left"),
            _memory("58R", "side and tail lamps, right", "parking light right"),
            _memory("58d", "panel lamps, dimmed"),
            _memory("61", "charge warning", "charge"),
            _memory("71", "horn", "horn"),
            _memory("72", "alarm"),
            _memory("75", "radio, lighter", "accessory"),
            _published("85", "relay coil, end (negative or switched ground)"),
            _published("86", "relay coil, start (positive)"),
            _published("87", "relay, make contact"),
            _published("87a", "relay, break contact"),
            _memory("87b", "relay, second make contact"),
            _memory("88", "relay with make contact, input"),
            _memory("88a", "relay with make contact, output"),
            _memory("B+", "alternator, battery positive"),
            _memory("B-", "alternator, battery negative"),
            _memory("D+", "alternator, charge warning and field start", "charge"),
            _memory("DF", "alternator, field"),
            _memory("L", "turn lamps, left", "turn light left"),
            _memory("R", "turn lamps, right", "turn light right"),
            _memory("C", "turn tell-tale"),
        )
    }
)


def terminal(number: str) -> Terminal:
    """Return the terminal of a number.

    Raises
    ------
    ValueError
        Where the number is not in the list.
    """
    found = TERMINALS.get(number)
    if found is None:
        msg = f"found terminal {number!r}, expected a number of DIN 72552: {', '.join(TERMINALS)}"
        raise ValueError(msg)
    return found


def terminals_of(function: FunctionName) -> tuple[Terminal, ...]:
    """Return the terminals that stand for a function of the trade, in the order of the list; none for most."""
    return tuple(each for each in TERMINALS.values() if each.function == function)
