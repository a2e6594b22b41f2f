"""What a match, readings and an order check look like as JSON: the keys of `papers.match_object` and `order_object`.

These are the objects that the command line prints with `--json`. A key too many or too few is an error here, so the
two cannot part.
"""

from typing import Literal

from pydantic import BaseModel, ConfigDict

__all__ = ["MatchResult", "OrderResult", "ReadingsResult"]

Verdict = Literal["fits", "fits-with-exceptions", "does-not-fit"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class _Car(_Part):
    vehicle: str
    choice: dict[str, str]
    kit: str
    kit_revision: str


class RejectedWay(_Part):
    """A way that was not taken, and the one fact that decided against it."""

    how: str
    what: str
    fact: str
    minutes: float | None


class InterfacePart(_Part):
    """The part between a lead of the kit and a wire of the car."""

    id: str
    part: str
    pattern: str
    why: str


class JointResult(_Part):
    """One place where the kit meets the car."""

    id: str
    kind: str
    terminal: str
    label: str
    colour: str
    stripe: str | None
    circuit: str | None
    pin: str | None
    place: str | None
    part: InterfacePart | None


class SettingResult(_Part):
    """A setting that serves a function instead of a wire."""

    id: str
    value: str


class RouteResult(_Part):
    """How one function is served."""

    task: str
    function: str
    how: str
    required: bool
    joints: list[JointResult]
    setting: SettingResult | None
    minutes: float
    why: str
    rejected: list[RejectedWay]
    pinned: str | None
    gated: str | None


class UnservedResult(_Part):
    """A function that nothing serves."""

    task: str
    function: str
    required: bool
    why: str
    would_fit_if: str
    rejected: list[RejectedWay]


class StateResult(_Part):
    """The state that something is said about."""

    words: str
    stage: str
    joined: int | None
    key: str
    active: list[str]
    commands: list[str]


class NumberResult(_Part):
    """One number behind a finding."""

    name: str
    value: float
    unit: str
    where: str


class FindingResult(_Part):
    """One thing that the proof found."""

    code: str
    severity: Literal["stop", "fix", "note"]
    subject: str
    message: str
    state: StateResult | None
    path: list[str]
    numbers: list[NumberResult]
    advice: str
    source: str


class UnprovenResult(_Part):
    """A circuit that the evidence does not prove on this car."""

    circuit: str
    status: str
    why: str


class LeadResult(_Part):
    """A lead that this car does not need."""

    label: str
    colour: str
    stripe: str | None
    where: str
    terminal: str
    clash: str | None


class ShownResult(_Part):
    """A reading that tells a wrong pin from the right one."""

    state: StateResult
    right_v: list[float]
    wrong_v: list[float]
    gap_v: float


class HarmResult(_Part):
    """What a joint on a wrong pin would do."""

    kind: str
    subject: str
    later: bool
    state: StateResult
    value: float


class WrongPinResult(_Part):
    """A pin at which a joint may be made by mistake."""

    joint: str
    pin: str
    landed: str
    how: str
    told_by: ShownResult | None
    harms: list[HarmResult]


class RefusalResult(_Part):
    """Why the kit must not be fitted."""

    code: str
    reason: str
    caution: str
    would_fit_if: str


class StandingResult(_Part):
    """What the parked, sleeping car draws."""

    car_a: float
    kit_a: float
    days_warm: float
    days_cold: float


class ProofResult(_Part):
    """How much was computed."""

    nodes: int
    elements: int
    states: int
    worst_residual: float
    standing: StandingResult | None


class MatchResult(_Car):
    """Whether a kit fits a car, how each function is served, and why not otherwise."""

    verdict: Verdict
    installation: str | None
    refusal: RefusalResult | None
    routes: list[RouteResult]
    unserved: list[UnservedResult]
    findings: list[FindingResult]
    unproven: list[UnprovenResult]
    unused_leads: list[LeadResult]
    wrong_pins: list[WrongPinResult]
    settings: dict[str, str]
    minutes: float | None
    proof: ProofResult | None


class LampResult(_Part):
    """The test lamp at a point."""

    allowed: bool
    lit: bool
    why: str


class ReadingResult(_Part):
    """What a meter must show at one point in one state."""

    id: str
    joint: str
    circuit: str | None
    node: str
    purpose: str
    state: StateResult
    clip: str
    lo_v: float
    hi_v: float
    nominal_v: float
    per_battery_volt: float
    driven: bool
    widened_v: float
    flicker: bool
    lamp: LampResult


class ReadingsResult(_Car):
    """Every reading of a kit in a car."""

    installation: str
    battery_v: float
    readings: list[ReadingResult]


class ChoiceResult(_Part):
    """One answer that a buyer may give."""

    value: str
    cue: str


class QuestionResult(_Part):
    """What to ask the buyer next."""

    id: str
    kind: str
    ask: str
    choices: list[ChoiceResult]
    not_built: list[str]


class ExceptionResult(_Part):
    """What does not work as wanted."""

    kind: str
    subject: str
    why: str
    advice: str


class LimitResult(_Part):
    """What is allowed at the buyer's place."""

    place: str
    idle_minutes: float | None
    unattended: str
    source: str
    on: str
    kept: bool
    run_time: str | None


class KeysResult(_Part):
    """Keys for learning."""

    needed: int
    have: int | None
    ok: bool | None


class OrderResult(_Part):
    """What the answers of a buyer come to."""

    verdict: Verdict | None
    settled: bool
    ready: bool
    two_sentences: list[str]
    vehicle: str
    kit: str
    kit_revision: str
    answers: dict[str, str]
    choice: dict[str, str] | None
    possible: list[dict[str, str]]
    open: list[str]
    makes_no_difference: list[str]
    question: QuestionResult | None
    refusals: list[RefusalResult]
    exceptions: list[ExceptionResult]
    unproven: list[str]
    keys: KeysResult
    parked: str | None
    timed_starts: bool
    settings_off: list[str]
    cautions: list[str]
    limit: LimitResult | None
