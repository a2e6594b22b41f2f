"""What the proof hands on: findings, and readings with their bands."""

from dataclasses import dataclass
from typing import Literal

from loomwright.network.standing_draw import StandingDraw
from loomwright.network.states import State
from loomwright.planning.installation import Installation

__all__ = ["Band", "Finding", "LampRule", "Number", "Proof", "Reading", "Readings", "Verdict", "verdict"]

Verdict = Literal["fits", "fits-with-exceptions", "does-not-fit"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number inside a finding, with its unit and the point or element it belongs to."""

    name: str
    value: float
    unit: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One broken rule or remark about an installation."""

    code: str  # stable, documented in docs/reference/findings.md
    severity: Literal["stop", "fix", "note"]
    subject: str  # id of the element, circuit, route or lead
    message: str  # one or two plain sentences
    state: State | None
    path: tuple[str, ...]  # element ids the current takes
    numbers: tuple[Number, ...]
    advice: str
    source: str  # rule or published source


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What a 10 megohm meter shows on `point` in `state` [V].

    With the battery at `battery_v` at rest, the reading of a sound car lies in lo..hi; per volt of battery it moves by
    `per_battery_volt`. `driven` is false where nothing holds the point and the meter may show anything. `widened_v`
    tells by how much sampled cars widened the band, 0 where none escaped it.
    """

    point: str  # node id
    state: State
    lo: float
    hi: float
    nominal: float
    battery_v: float
    per_battery_volt: float
    driven: bool
    widened_v: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LampRule:
    """Whether a test lamp may be put on a point, and what it would do there."""

    allowed: bool
    kind: Literal["bulb lamp", "none"]
    lit: bool
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One thing a person may measure: where, in which state, what to expect, with which tool."""

    id: str  # '<joint or check id>@<stage>/<state>'
    joint: str  # joint id or check point id
    circuit: str | None
    node: str
    stage: str
    purpose: Literal["identify", "after joining", "check"]
    band: Band
    lamp: LampRule
    clip: Literal["battery negative", "battery positive"]  # where the meter's other lead goes
    flicker: bool  # pulses or data: a meter shows an average that moves


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """All readings of an installation, in fitting order."""

    installation: str
    battery_v: float
    readings: tuple[Reading, ...]

    def of(self, joint: str, purpose: str | None = None) -> tuple[Reading, ...]:
        """Return the readings of one joint or check point."""
        return tuple(r for r in self.readings if r.joint == joint and purpose in (None, r.purpose))


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """The solved installation: what was checked and what was found."""

    installation: Installation
    findings: tuple[Finding, ...]
    nodes: int
    elements: int
    states: tuple[State, ...]
    points: int  # operating points solved
    worst_residual: float
    standing: StandingDraw | None = None


def verdict(installation: Installation, findings: tuple[Finding, ...]) -> Verdict:
    """Any stop: does not fit; any fix or unserved wanted function: fits with exceptions; else it fits."""
    if any(f.severity == "stop" for f in findings) or any(u.required for u in installation.unserved):
        return "does-not-fit"
    if any(f.severity == "fix" for f in findings) or installation.unserved:
        return "fits-with-exceptions"
    return "fits"
