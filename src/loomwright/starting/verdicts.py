"""What a rehearsal should come to, each as a question with an answer and the number that decides it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from loomwright.sentences import linked, told
from loomwright.starting.record import Rehearsal

__all__ = ["PASS_V", "VERDICTS", "Verdict", "verdicts_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """One answer: `found` is what was seen, in words with its number."""

    id: str
    words: str
    holds: bool
    found: str


_Answer = tuple[bool, str]
_AT_ONCE_S = 1.5
PASS_V = 9.6
"""Least voltage of a warm battery while the starter turns the engine, after its inrush [V]: cold-crank test of a 2004
sports-car service manual, and the half-load test of two makers' manuals at 20 degC and more."""
_LETS_GO_S = {"bus": 0.5, "wire": 0.5, "voltage": 1.5}
"""How long the starter may stay on after the engine has fired; a voltage takes longer to tell (common practice) [s]."""


def _when(r: Rehearsal, words: str) -> float | None:
    return next((h.time_s for h in r.happenings if h.words.startswith(words)), None)


def _starts(r: Rehearsal) -> _Answer:
    fired, running = _when(r, "the engine fires"), _when(r, "the kit: running")
    return running is not None, (
        "the engine never fires" if fired is None else told("fires at {fired:.1f} s", fired=fired)
    )


def _lets_go(r: Rehearsal) -> _Answer:
    fired, running = _when(r, "the engine fires"), _when(r, "the kit: running")
    if fired is None or running is None:
        return False, "the engine was not seen to run"
    return running - fired <= _LETS_GO_S[r.settings.detection], told(
        "the starter is off {late:.2f} s after firing", late=running - fired
    )


def _lives(r: Rehearsal) -> _Answer:
    return r.engine_lives, told("{rpm:.0f} rpm at the end", rpm=r.moments[-1].rpm)


def _stops(r: Rehearsal) -> _Answer:
    return not r.engine_lives, told("{rpm:.0f} rpm at the end", rpm=r.moments[-1].rpm)


def _nothing_on(r: Rehearsal) -> _Answer:
    return not any(m.outputs for m in r.moments), told(
        "outputs on in {count} moments", count=sum(bool(m.outputs) for m in r.moments)
    )


def _run_time(r: Rehearsal) -> _Answer:
    running, stopped = _when(r, "the kit: running"), _when(r, "the kit: stopping (run time)")
    if running is None or stopped is None:
        return False, "it was not stopped by the run time"
    wanted = r.settings.times_s["run time"]
    return abs(stopped - running - wanted) <= 1.0, told(
        "stopped after {minutes:.1f} min", minutes=(stopped - running) / 60
    )


def _all_off(r: Rehearsal) -> _Answer:
    outputs = r.moments[-1].outputs
    return not outputs, "all outputs off" if not outputs else told("still on: {outputs}", outputs=linked(outputs, ", "))


def _at_once(r: Rehearsal) -> _Answer:
    if r.stopped_after_s is None:
        return False, "the outputs did not go off"
    return r.stopped_after_s <= _AT_ONCE_S, told("off after {stopped_after_s:.2f} s", stopped_after_s=r.stopped_after_s)


def _starter_off(r: Rehearsal) -> _Answer:
    if not r.cranks or not r.asked:
        return True, "the starter did not turn"
    late = r.cranks[-1][1] - r.asked[-1][1]
    return late <= 0.2, told("the starter turns for {late:.1f} s after the kit has let go", late=max(late, 0.0))


def _cranks_bounded(r: Rehearsal) -> _Answer:
    longest = max((b - a for a, b in r.asked), default=0.0)
    return longest <= r.settings.times_s["crank limit"] + 0.05, told("longest request {longest:.1f} s", longest=longest)


def _relay_holds(r: Rehearsal) -> _Answer:
    lost = _when(r, "the kit has lost its supply")
    whole = lost is None and len(r.cranks) <= max(len(r.asked), 1)
    return whole, linked((_volts(r), "" if whole else "; relays or controller dropped out"), "")


def _volts(r: Rehearsal) -> str:
    """Tell the two lowest voltages apart: that of an instant, and the one that a meter shows."""
    if r.cranking_v is None:
        return told("battery down to {lowest_v:.1f} V; the starter did not run up", lowest_v=r.lowest_v)
    return told(
        "{cranking_v:.1f} V while it cranks, {lowest_v:.1f} V for an instant as the starter takes hold",
        cranking_v=r.cranking_v,
        lowest_v=r.lowest_v,
    )


def _holds_up(r: Rehearsal) -> _Answer:
    return r.cranking_v is not None and r.cranking_v >= PASS_V, told(
        "{volts}; at least {least} V", volts=_volts(r), least=PASS_V
    )


def _signal_short(r: Rehearsal) -> _Answer:
    longest = max((b - a for a, b in r.asked), default=0.0)
    most = r.hold_s
    return most is None or longest <= most, linked(
        (
            told("signal of {longest:.2f} s", longest=longest),
            ""
            if most is None
            else told(
                "at most {most:g} s",
                most=most,
            ),
        ),
        ", ",
    )


def _charge_back(r: Rehearsal) -> _Answer:
    return r.drawn_as <= 0.0, told("{charge_ah:+.2f} Ah in the battery", charge_ah=-r.drawn_as / 3600)


VERDICTS: Mapping[str, tuple[str, Callable[[Rehearsal], _Answer]]] = MappingProxyType({
    "starts": ("Does the engine start?", _starts),
    "lets-go": ("Does the starter let go in time?", _lets_go),
    "runs-on": ("Does the engine run on?", _lives),
    "stops-at-run-time": ("Is it stopped when its time is over?", _run_time),
    "all-off": ("Are all outputs off at the end?", _all_off),
    "charge-back": ("Is the battery charged by the run?", _charge_back),
    "relay-holds": ("Do relays and controller hold through the crank?", _relay_holds),
    "holds-up": ("Does the battery hold up while it cranks?", _holds_up),
    "never-cranks": ("Is no crank asked for?", lambda r: (not r.asked, told(
        "{count} requests to the starter", count=len(r.asked),
    ))),
    "starter-still": ("Does the starter stand still?", lambda r: (not r.cranks, told(
        "it turned {count} times", count=len(r.cranks),
    ))),
    "attempts-bounded": (
        "Are attempts bounded?", lambda r: (len(r.asked) <= r.settings.attempts, told(
            "{count} attempts", count=len(r.asked),
        )),
    ),
    "cranks-bounded": ("Is every crank bounded?", _cranks_bounded),
    "stops-at-once": ("Does the kit drop its outputs at once?", _at_once),
    "starter-off": ("Does the starter stop with them?", _starter_off),
    "engine-stays": (
        "Does the engine stay on for the driver?", _lives,
    ),
    "engine-stops": (
        "Does the engine stop?", _stops,
    ),
    "never-on": (
        "Does nothing come on?",
        _nothing_on,
    ),
    "one-attempt": ("Is there one attempt only?", lambda r: (len(r.asked) == 1, told(
        "{count} attempts", count=len(r.asked),
    ))),
    "no-restart": (
        "Does it stay off when the battery is back?",
        lambda r: (len(r.asked) <= 1, told("{count} requests to the starter in all", count=len(r.asked))),
    ),
    "signal-short": ("Is the start signal short enough for the car's computer?", _signal_short),
})  # fmt: skip


def verdicts_of(rehearsal: Rehearsal) -> tuple[Verdict, ...]:
    """Return the answers a scenario asks for."""
    out = []
    for name in rehearsal.scenario.expects:
        words, ask = VERDICTS[name]
        holds, found = ask(rehearsal)
        out.append(Verdict(id=name, words=words, holds=bool(holds), found=found))
    return tuple(out)
