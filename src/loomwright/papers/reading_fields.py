"""From a computed band to a field on paper: what to touch, what it should show, and what other readings mean."""

from collections.abc import Collection
from dataclasses import dataclass

from loomwright.documents.behaviour import STIMULI
from loomwright.network.results import Band, LampRule, Reading
from loomwright.network.rules_live import DEAD_V, LIVE_SHARE
from loomwright.network.states import State
from loomwright.papers.blocks import Quantity, ReadingField, Text, Verdict
from loomwright.papers.doing import key_words
from loomwright.papers.job import Job
from loomwright.papers.measures import METER_V, down, up, volts
from loomwright.papers.saying import listed, say
from loomwright.papers.slips import Slips
from loomwright.papers.words.en import measuring as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Joint
from loomwright.sentences import linked, told

__all__ = ["Limits", "expect_text", "lamp_words", "limits_of", "must_move", "reading_field", "state_text"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The right band as a hand meter is read: [V], rounded outward, with the meter's own error allowed for.

    `relative` where the wire follows the battery: the limits then count as volts below it.
    """

    low: float
    high: float
    relative: bool
    battery_v: float

    @property
    def least_drop(self) -> float:
        """Fewest volts below the battery that are right."""
        return max(0.0, round(self.battery_v - self.high, 6))

    @property
    def most_drop(self) -> float:
        """Most volts below the battery that are right."""
        return max(0.0, round(self.battery_v - self.low, 6))


def limits_of(band: Band) -> Limits:
    """Return the band of a reading widened by what a hand meter may be off, rounded outward to its digit."""
    charging = "engine running" in band.state.active  # then the alternator rules, not the battery at rest
    relative = not charging and band.per_battery_volt > 0.5 and band.nominal > LIVE_SHARE * band.battery_v
    if relative:
        most = up(band.battery_v - band.lo + METER_V)
        least = down(band.battery_v - band.hi - METER_V)
        least = least if least > METER_V else 0.0
        return Limits(low=band.battery_v - most, high=band.battery_v - least, relative=True, battery_v=band.battery_v)
    low = down(band.lo - METER_V)
    return Limits(low=max(0.0, low), high=up(max(band.hi, 0.0) + METER_V), relative=False, battery_v=band.battery_v)


_NOT_BY_HAND = ("relay", "module", "transistor")


def _switch(job: Job, circuit: str | None, stimulus: str) -> str | None:
    """Return the switch by which a person does something to this very circuit, where that needs telling.

    One car has several buttons that lock and unlock it, and a key in the door is not the same as any of them.
    """
    if circuit is None or stimulus not in naming.AT_SWITCH:
        return None
    found = (s.switch for s in job.car.circuits[circuit].path if s.closed_when == stimulus)
    return next((s for s in found if s is not None and not any(w in s for w in _NOT_BY_HAND)), None)


def state_text(job: Job, state: State, circuit: str | None = None) -> str:
    """Return a state as what a person does: 'key on (run), engine off, brake pedal pressed'.

    With the circuit that is read, the switch is named where there are several of its kind in the car.
    """
    parts = [key_words(job.key_states, state)]
    for stimulus in sorted(state.active - {"engine running", "key in lock"}):
        switch = _switch(job, circuit, stimulus)
        parts.append(naming.DOING[stimulus] if switch is None else told(naming.AT_SWITCH[stimulus], switch=switch))
    return linked(parts, ", ")


def resting_text(
    job: Job, state: State, others: tuple[State, ...], circuit: str | None = None, rest: Collection[str] = ()
) -> str:
    """Return a state with those stimuli named as resting that another state of the same wire changes.

    `rest` are further stimuli by which the wire would show something else.
    """
    parts = [state_text(job, state, circuit)]
    for stimulus in sorted({s for other in others for s in other.active}.union(rest) - state.active):
        if STIMULI[stimulus] or stimulus not in naming.RESTING:
            continue
        if stimulus == "key in lock":
            continue  # the words for the key have said that
        switch = _switch(job, circuit, stimulus)
        parts.append(naming.RESTING[stimulus] if switch is None else told(naming.AT_SWITCH_RESTING, switch=switch))
    return linked(parts, ", ")


def expect_text(band: Band, trace: str, *, moving: bool = False) -> Text:
    """Return what the meter should show, in words with its numbers; `moving` where it shows the mean of pulses."""
    limits = limits_of(band)
    if not band.driven:
        return (words.EXPECT_FREE,)
    if moving:
        template = words.EXPECT_MOVING if limits.low <= METER_V else words.EXPECT_AVERAGED
        return say(template, low=volts(limits.low, trace), high=volts(limits.high, trace))
    if limits.relative:
        shown = {
            "drop": volts(limits.most_drop, trace), "battery": volts(limits.battery_v, trace),
            "low": volts(limits.low, trace), "high": volts(limits.high, trace),
        }  # fmt: skip
        if limits.least_drop > 0:
            return say(words.EXPECT_DROP, least=volts(limits.least_drop, trace), **shown)
        return say(words.EXPECT_NEAR, drop=shown["drop"], volts=shown["low"], battery=shown["battery"])
    if limits.low <= 0:
        return say(words.EXPECT_DEAD, high=volts(limits.high, trace))
    return say(words.EXPECT_BETWEEN, low=volts(limits.low, trace), high=volts(limits.high, trace))


def lamp_words(lamp: LampRule) -> str:
    """Return what the test lamp does, or why it is not used here."""
    return words.LAMP.get(lamp.why, told(words.LAMP_OTHER, why=lamp.why))


def _on_slip(job: Job, verdict: str, pins: tuple[str, ...]) -> str:
    if not pins:
        return verdict
    named = listed((job.pin_words(p) for p in pins[:3]), naming.OR)
    return told(words.ON_SLIP, verdict=verdict, pins=named)


def must_move(reading: Reading) -> bool:
    """Tell whether only a moving number shows that the probe touches: pulses whose mean may be as low as a free probe.

    Where it cannot be that low, a steady mean is as good: many meters average pulses.
    """
    return reading.flicker and limits_of(reading.band).low <= METER_V


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One stretch of readings [V] and what it means."""

    low: float
    high: float
    words: str
    good: bool = False


def _wrong_rows(state: State, limits: Limits) -> list[_Row]:
    """Return the stretches outside the right band: dead, in between, live."""
    live = LIVE_SHARE * limits.battery_v
    rows: list[_Row] = []
    if limits.low > DEAD_V:
        rows.append(_Row(low=DEAD_V, high=limits.low, words=words.LOW))
        rows.append(_Row(low=float("-inf"), high=DEAD_V, words=words.DEAD))
    elif limits.low > 0:
        rows.append(_Row(low=float("-inf"), high=limits.low, words=words.DEAD))
    if limits.high < live:
        rows.append(_Row(low=limits.high, high=live, words=words.BETWEEN_RIGHT_AND_LIVE))
        rows.append(_Row(low=live, high=float("inf"), words=words.LIVE if limits.low <= 0 else words.HIGH))
    elif limits.least_drop > 0:
        idle = words.STARTER_IDLE if state.key == "crank" else words.HIGH
        rows.append(_Row(low=limits.high, high=float("inf"), words=idle))
    return rows


def _verdict(row: _Row, limits: Limits, trace: str) -> Verdict:
    low, high = row.low, row.high
    if limits.relative:
        low, high = limits.battery_v - row.high, limits.battery_v - row.low
    shown_low: Quantity | None = None if low in (float("-inf"), 0.0) else volts(low, trace)
    shown_high: Quantity | None = None if high == float("inf") else volts(high, trace)
    return Verdict(low=shown_low, high=shown_high, words=row.words, good=row.good)


def _verdicts(job: Job, reading: Reading, pin: str | None, slips: Slips | None) -> tuple[Verdict, ...]:
    trace = f"reading:{reading.id}"
    if not reading.band.driven:
        return (Verdict(low=None, high=None, words=words.FREE, good=True),)
    limits = limits_of(reading.band)
    averaged = words.GOOD_AVERAGED if reading.flicker else words.GOOD
    good = words.GOOD_MOVING if must_move(reading) else averaged
    right = _Row(low=limits.low, high=limits.high, words=good, good=True)
    state = reading.band.state
    rows = [right]
    if must_move(reading):
        # A contact missed shows a number within the band, but one that stands still.
        rows.append(_Row(low=limits.low, high=limits.high, words=words.STANDS_STILL))
    for row in _wrong_rows(state, limits):
        found = slips.between(pin, state, row.low, row.high) if slips is not None and pin is not None else ()
        rows.append(_Row(low=row.low, high=row.high, words=_on_slip(job, row.words, found)))
    return tuple(_verdict(row, limits, trace) for row in rows)


def _probe(job: Job, joint: Joint, purpose: str) -> str:
    if purpose == "identify" and joint.pin is not None:
        plug = job.plug(joint)
        return told(
            words.PROBE_PIN, plug=plug.name if plug else "", pin=joint.pin.partition("/")[2], colour=job.wire(joint)
        )
    terminal = job.terminal(joint)
    return told(
        words.PROBE_TERMINAL,
        plug=terminal.plug.upper(),
        pin=terminal.pin,
        label=joint.label,
        colour=job.lead_colour(joint),
    )


def reading_field(
    job: Job, joint: Joint, reading: Reading, others: tuple[Reading, ...] = (), slips: Slips | None = None,
    state: str | None = None, rest: Collection[str] = (),
) -> ReadingField:  # fmt: skip
    """Return the field for one reading of a joint.

    `others` are the joint's readings of the same purpose: what they change is named as resting here, and so are the
    stimuli in `rest`. With `slips` a wrong reading names the pins that would show it. `state` replaces the words of
    the state.
    """
    band = reading.band
    pin = joint.pin if reading.purpose == "identify" else None
    return ReadingField(
        id=reading.id,
        clip=words.CLIP_POSITIVE if reading.clip == "battery positive" else words.CLIP_NEGATIVE,
        probe=_probe(job, joint, reading.purpose),
        state=(
            resting_text(
                job, band.state, tuple(r.band.state for r in others), joint.circuit, rest
            )
            if state is None
            else state
        ),
        expect=expect_text(band, f"reading:{reading.id}", moving=reading.flicker),
        relative=band.driven and limits_of(band).relative,
        verdicts=_verdicts(job, reading, pin, slips),
        lamp=lamp_words(reading.lamp),
        lamp_allowed=reading.lamp.allowed,
    )
