"""What planning hands on: routes, joints, parts and leads of one kit in one car."""

from dataclasses import dataclass
from typing import Literal

from loomwright.documents.car import Car
from loomwright.documents.functions import FunctionName
from loomwright.documents.kit import Kit

__all__ = [
    "CUTTING",
    "How",
    "Installation",
    "Joint",
    "PartPattern",
    "PartUse",
    "Refusal",
    "Rejected",
    "Route",
    "Unserved",
    "UnusedLead",
]

# 'plug' is a plug branch in a free socket of the car; 'bus' is a service of the vehicle module.
# 'cut in' opens the vehicle wire beside its plug and puts an interface part between the two ends.
How = Literal["T tapped", "T interrupted", "tap", "cut in", "plug", "bus", "setting", "added part", "none"]
PartPattern = Literal[
    "relay inverts", "relay boosts", "relay grounds", "relay changes over", "diode", "diode cuts in", "resistor"
]
CUTTING: frozenset[PartPattern] = frozenset({"relay changes over", "diode cuts in"})
"""Patterns that stand in an opened vehicle wire, between the factory's end and the driven end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejected:
    """An alternative that was not taken and the fact that decided against it."""

    how: How
    what: str  # the pin, lead, setting or part it would have used, in words
    fact: str  # one sentence
    minutes: float | None = None  # its cost where it was possible but dearer
    pinned: bool = False  # the builder had pinned it


@dataclass(frozen=True, slots=True, kw_only=True)
class PartUse:
    """One interface part in a route.

    `pattern` fixes how it is wired between the kit conductor and the vehicle wire:
    'relay inverts' (a negative kit output pulls the coil to ground, the other coil end and the contact take battery
    from `fed_from`, the contact puts it out), 'relay boosts' (a positive kit output feeds the coil, whose other end is
    grounded; the contact puts out battery from `fed_from`), 'relay grounds' (the contact grounds the vehicle wire; a
    positive output feeds the coil and `fed_from` is None, a negative one pulls it to ground and `fed_from` feeds it),
    'diode' (in series, band towards the vehicle for a positive output, away from it for a negative one),
    'resistor' (in series),
    'relay changes over' (the vehicle wire is open: common to its driven end, normally closed contact to its factory
    end, normally open contact to `fed_from`; the coil stands between output and ground for a positive output and
    between `fed_from` and output for a negative one),
    'diode cuts in' (the vehicle wire is open: the diode lets current through from its factory end to its driven end,
    band towards the driven end, and the kit's conductor is joined to the driven end).
    """

    id: str  # 'p:<function>/<part>'
    part: str  # id of the kit's InterfacePart
    pattern: PartPattern
    fed_from: str | None  # terminal id of the power input that feeds the relay
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """One place where the kit meets the car."""

    id: str  # 'j:<function>/<pin>' , stable under edits
    function: FunctionName
    kind: Literal["T tapped", "T interrupted", "tap", "cut in", "ground point", "plug", "added part"]
    terminal: str  # controller terminal id
    label: str  # printed on the kit lead or conductor
    colour: str
    stripe: str | None
    area_mm2: float
    length_m: float
    circuit: str | None  # vehicle circuit id; None at a ground point or an added part
    pin: str | None  # 'plug/pin'
    branch: str | None  # T or plug branch id
    lead: str | None
    place: str | None  # vehicle place id
    part: PartUse | None
    clash: str | None = None  # another vehicle wire near by with the very colours of this lead
    # Where the wire is open: on which side of the pin the factory's own signal comes from. The other end is driven.
    factory_side: Literal["harness side", "plug side"] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """How one function is served, and why so."""

    task: str  # 'ignition' or 'ignition:ign-2' where the car has several circuits of the function
    function: FunctionName
    how: How
    required: bool
    joints: tuple[Joint, ...]
    setting: tuple[str, str] | None  # (setting id, value) where a setting serves it
    minutes: float
    penalty: float
    why: str
    rejected: tuple[Rejected, ...]
    pinned: str | None = None  # the builder's reason
    gated: str | None = None  # what must be proven before use ('hood pin fitted and tested')


@dataclass(frozen=True, slots=True, kw_only=True)
class Unserved:
    """A function nothing serves and the single fact that would change that."""

    task: str
    function: FunctionName
    required: bool
    why: str
    would_fit_if: str
    rejected: tuple[Rejected, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class UnusedLead:
    """A lead or conductor this car does not need, and how to leave it."""

    label: str
    colour: str
    stripe: str | None
    where: str  # 'loose lead' or the branch's label
    terminal: str
    clash: str | None  # a vehicle wire it could be taken for


@dataclass(frozen=True, slots=True, kw_only=True)
class Installation:
    """One kit in one car: the routes chosen, what they use and what is left over."""

    id: str  # hash of the inputs
    car: Car
    kit: Kit
    settings: tuple[tuple[str, str], ...]  # every setting and its value
    routes: tuple[Route, ...]
    unserved: tuple[Unserved, ...]
    unused_leads: tuple[UnusedLead, ...]
    minutes: float

    @property
    def joints(self) -> tuple[Joint, ...]:
        """All joints in the order of the routes."""
        return tuple(j for r in self.routes for j in r.joints)


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """This kit must not be fitted to this car; it cannot be clicked away."""

    car: Car
    kit: Kit
    code: str
    reason: str
    caution: str
    would_fit_if: str
    unserved: tuple[Unserved, ...] = ()
