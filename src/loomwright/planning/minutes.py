"""What a way of fitting costs: minutes of work, minutes counted for less reliability, and margins of rating.

All of it is common practice of the trade, rounded; none of it is measured. A plan only needs the order to be right.
"""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.documents.functions import FunctionName

__all__ = [
    "CHARGING_V",
    "CONTINUOUS_SHARE",
    "CUT_IN_MINUTES",
    "GROUND_MINUTES",
    "LOST_V",
    "MOMENTARY",
    "NOMINAL_V",
    "PENALTIES",
    "PLUG_IN_MINUTES",
    "SETTING_MINUTES",
    "TAP_MINUTES",
    "T_PIN_MINUTES",
    "load_share",
]

NOMINAL_V = 12.0
"""Documents state loads and coils at this voltage [V]."""

CHARGING_V = 14.2
"""Voltage while the alternator charges, where the vehicle states none; common practice 13.5 to 14.7 V [V]."""

LOST_V = 1.0
"""What wires, contacts and fuses take of it at currents near a fuse's rating [V]; common practice."""

CONTINUOUS_SHARE = 0.75
"""A fuse, contact or output carries this share of its rating for as long as one likes; common practice."""

TAP_MINUTES = 8.0
"""Find the wire, measure it, bare it, join, insulate and tie up [min]; common practice."""

CUT_IN_MINUTES = 12.0
"""A tap's work, with the wire cut and both of its ends joined and insulated [min]; common practice."""

T_PIN_MINUTES = 0.5
"""One conductor of a T: made on the bench, measured once in the car [min]; common practice."""

PLUG_IN_MINUTES = 3.0
"""Open a vehicle plug, put the T between, check both latches [min]; once for each T or plug branch."""

GROUND_MINUTES = 4.0
"""Clean the metal, bolt the ring down, measure the drop [min]; common practice."""

SETTING_MINUTES = 1.0
"""One option set in the programming that is done anyway [min]."""

PENALTIES: Mapping[str, tuple[float, str]] = MappingProxyType({
    # What it is: minutes it counts for, and the words for it.
    "tap": (2.0, "a tap is a joint in a vehicle wire"),
    "data tap": (6.0, "a joint in a data wire disturbs the bus where it is not made well"),
    "unproven": (4.0, "nobody has measured this circuit on this variant"),
    "contradicted": (20.0, "the records about this circuit contradict each other"),
    "airbag wire": (6.0, "an airbag wire sits in the same plug"),
    "bulkhead": (15.0, "the lead has to be brought in from under the hood"),
    "airbag place": (3.0, "an airbag is near"),
    "bus": (1.0, "it hangs on the module's firmware"),
    "later ground": (0.5, "the vehicle document names another point first"),
    "cut in": (8.0, "a wire of the car is cut"),
    "contact": (4.0, "a part of the kit stands in a wire of the car"),
    "interrupted": (30.0, "the car then works only while the kit does"),
})

MOMENTARY: frozenset[FunctionName] = frozenset({
    "start", "second start", "brake", "lock", "unlock", "driver unlock", "horn", "hatch", "factory alarm arm",
    "factory alarm disarm", "start button", "brake line",
})  # fmt: skip
"""Functions that are on for seconds: they may use the whole rating."""


def load_share(function: FunctionName) -> float:
    """Return the share of a rating that the function may use."""
    return 1.0 if function in MOMENTARY else CONTINUOUS_SHARE
