"""What the start adds to the findings of an installation: what its rehearsals come to, and settings that contradict.

The circuit's own rules do not know time. `with_start` joins both, so that whoever shows findings shows all of them.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from loomwright.network.results import Finding, Number, Proof
from loomwright.network.states import State
from loomwright.planning.installation import Installation
from loomwright.sentences import told
from loomwright.starting.advice import crank_speed_rpm
from loomwright.starting.contradictions import Contradiction, contradictions
from loomwright.starting.port import Port
from loomwright.starting.record import Rehearsal
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.settings import StartSettings, start_settings
from loomwright.starting.silent import StartReport
from loomwright.starting.verdicts import PASS_V, Verdict, verdicts_of

__all__ = ["REHEARSED", "contradicting", "findings_of", "property_findings", "start_findings", "with_start"]

REHEARSED = ("warm", "weak-battery", "hood-cranking", "kit-fuse")
"""The rehearsals that decide something about this very car and kit which neither the circuit's rules nor the
exploration of every order of events tell: the voltage of a real crank, relays in a weak one, a starter that goes on by
itself, and an engine that goes on without the kit. Each takes some hundredths of a second."""

_ORDER = {"stop": 0, "fix": 1, "note": 2}


def with_start(proof: Proof) -> Proof:
    """Return a proof with the findings of the start among its own, in the order of all findings.

    Raises SolveError only where the network does not settle, which would be a fault of this program.
    """
    every = (*proof.findings, *start_findings(proof.installation))
    return replace(proof, findings=tuple(sorted(every, key=lambda f: (_ORDER[f.severity], f.code, f.subject))))


def start_findings(installation: Installation, settings: StartSettings | None = None) -> tuple[Finding, ...]:
    """Return what the start of an installation comes to, from the rehearsals that matter and from its settings.

    Parameters
    ----------
    installation
        Kit and car.
    settings
        How the controller is set; as the installation says where left out.

    Raises SolveError only where the network does not settle, which would be a fault of this program.
    """
    used = settings or start_settings(installation)
    port = Port(installation)
    runs = tuple(rehearse(installation, SCENARIOS[name], used, port) for name in REHEARSED)
    if not runs[0].asked:
        runs = runs[:1]  # a kit that never asks a warm engine's starter fails the others for the same reason
    speed = crank_speed_rpm(installation, used, port)
    return (
        *(f for run in runs for f in findings_of(installation, run)),
        *contradicting(contradictions(installation, used, speed)),
    )


def contradicting(found: Iterable[Contradiction]) -> Iterator[Finding]:
    """Yield a finding for each contradiction of the settings."""
    for one in found:
        yield Finding(
            code="settings-contradict", severity="fix", subject=one.subject, message=one.words, state=None, path=(),
            numbers=one.numbers, advice=one.advice, source="typical engines and batteries: common practice",
        )  # fmt: skip


def findings_of(installation: Installation, run: Rehearsal) -> Iterator[Finding]:
    """Yield a finding for each answer of a rehearsal that is no.

    A rehearsal that asks what another setting would do says nothing of the installation as it is.
    """
    if run.scenario.by_time:
        return
    verdicts = verdicts_of(run)
    # Where nothing started, what should have happened to the running engine never happened: that is one finding.
    dead = next((v for v in verdicts if v.id == "starts" and not v.holds), None)
    for verdict in verdicts:
        if verdict.holds or (dead is not None and verdict.id not in ("starts", "holds-up", "relay-holds")):
            continue
        if not run.asked and verdict.id in ("holds-up", "relay-holds"):
            continue  # where the starter was never asked to turn, nothing is known of what that does to the battery
        if verdict.id == "starter-off":
            yield _cranks_on(installation, run)
        elif verdict.id == "engine-stops" and run.scenario.id == "kit-fuse":
            yield _runs_on(installation, run)
        elif verdict.id in ("holds-up", "relay-holds"):
            yield _sags(installation, run, verdict)
        else:
            yield _other(installation, run, verdict)


def _state_at(run: Rehearsal, time_s: float) -> State | None:
    """Return the state of the circuit at a moment of a rehearsal."""
    past = [f.state for f in run.frames if f.time_s <= time_s + 1e-6]
    return past[-1] if past else None


def _joints(installation: Installation, *functions: str) -> tuple[str, ...]:
    return tuple(j.id for j in installation.joints if j.function in functions)


def _cranks_on(installation: Installation, run: Rehearsal) -> Finding:
    end_s, asked_s = run.cranks[-1][1], run.asked[-1][1]
    return Finding(
        code="crank-goes-on",
        severity="note",  # nothing in the kit can be put right; it is to be known and told
        subject=next(iter(_joints(installation, "start button", "start")), "start"),
        message=told(
            "When the hood is opened while the starter turns, the kit lets go at once, but the car's own computer "
            "cranks on for up to {time:.1f} s.", time=end_s - asked_s,
        ),
        state=_state_at(run, asked_s),
        path=_joints(installation, "start button", "brake line", "start"),
        numbers=(
            Number(name="cranks on for", value=end_s - asked_s, unit="s", where="starter"),
            Number(name="kit let go at", value=asked_s, unit="s", where="rehearsal"),
        ),
        advice="Nothing in the kit can stop that crank. Tell the buyer: nobody opens the hood of a car that may start, "
        "and whoever did keeps off until the starter stands. Keep the label under the hood.",
        source="a car's own computer cranks for ten seconds at most: common practice; NHTSA letter of 7 May 1984 (hood "
        "switch)",
    )  # fmt: skip


def _runs_on(installation: Installation, run: Rehearsal) -> Finding:
    last = run.moments[-1]
    lost_s = next(h.time_s for h in run.happenings if "main fuse" in h.words)
    return Finding(
        code="runs-on-without-kit",
        severity="note",  # nothing in the kit can be put right; it is to be known and told
        subject=next(iter(_joints(installation, "battery feed")), "battery feed"),
        message=told(
            "When the kit loses its supply while the engine runs, the car keeps its engine on by itself: {rpm:.0f} rpm "
            "after {time:.0f} s. Pedal, hood, door and run time no longer stop it.",
            rpm=last.rpm, time=last.time_s - lost_s,
        ),
        state=_state_at(run, last.time_s),
        path=_joints(installation, "battery feed"),
        numbers=(
            Number(name="engine", value=last.rpm, unit="rpm", where="engine"),
            Number(name="after", value=last.time_s - lost_s, unit="s", where="rehearsal"),
        ),
        advice="Tell the buyer how to stop the engine without the remote, with the car's own button, and never to let "
        "it run by remote where nobody would hear it. Seal the kit's fuses in their holders.",
        source="common practice: a button car holds its own ignition",
    )  # fmt: skip


def _sags(installation: Installation, run: Rehearsal, verdict: Verdict) -> Finding:
    warm = verdict.id == "holds-up"
    numbers = [Number(name="for an instant", value=run.lowest_v, unit="V", where="battery")]
    if run.cranking_v is not None:
        numbers.insert(0, Number(name="while it cranks", value=run.cranking_v, unit="V", where="battery"))
    if warm:
        numbers.append(Number(name="at least", value=PASS_V, unit="V", where="battery"))
    return Finding(
        code="crank-sags" if warm else "drops-out-in-crank",
        severity="fix",
        subject="battery",
        message=told("{words}: {found}.", words=run.scenario.words, found=verdict.found),
        state=_state_at(run, run.cranks[0][0]) if run.cranks else None,
        path=_joints(installation, "battery feed", "start"),
        numbers=tuple(numbers),
        advice="Look at the battery rating and the starter current of the vehicle document. If they are right, have "
        "the battery tested before the kit is fitted, and tell the buyer that a weak one does not start by remote."
        if warm
        else "Take the kit's feed nearer to the battery, with fewer joints, or a controller that bridges a longer dip.",
        source="cold-crank test of a 2004 service manual: 9.6 V while the engine is cranked"
        if warm
        else "ISO 16750-2, supply code A: a controller works down to 6 V",
    )  # fmt: skip


def _other(installation: Installation, run: Rehearsal, verdict: Verdict) -> Finding:
    return Finding(
        code="start-goes-wrong",
        severity="fix",
        subject=run.scenario.id,
        message=told(
            "{words}: {question} No: {found}.", words=run.scenario.words, question=verdict.words, found=verdict.found
        ),
        state=_state_at(run, run.moments[-1].time_s),
        path=_joints(installation, "start", "start button"),
        numbers=(Number(name="lasts", value=run.moments[-1].time_s, unit="s", where="rehearsal"),),
        advice="Rehearse that case by itself, look at the times in its picture, and change the setting or the route "
        "that decides it.",
        source="the rehearsal of this car and kit; engine and battery are typical ones: common practice",
    )  # fmt: skip


def property_findings(report: StartReport) -> Iterator[Finding]:
    """Yield a finding for each property that some order of events breaks, and for a silent fault that no test shows."""
    for held in report.properties:
        if not held.holds:
            yield Finding(
                code="protection-broken",
                severity="stop",
                subject=held.id,
                message=told("This does not hold in every order of events: {words}", words=held.words),
                state=None,
                path=(),
                numbers=(Number(name="steps of the story", value=float(len(held.story)), unit="", where=held.id),),
                advice="Read the story that breaks it, and change the setting or the input that it turns on.",
                source=held.source,
            )
    for fault in report.silent:
        if not fault.revealed_by:
            yield Finding(
                code="protection-untested",
                severity="stop",
                subject=fault.fault.id,
                message=told(
                    "No test shows that {fault}, and with it a protection is gone.", fault=fault.fault.words
                ),
                state=None,
                path=(fault.fault.id.partition("!")[0],),
                numbers=(),
                advice="Choose a route for that function whose loss is noticed, or a kit that reads it otherwise.",
                source="49 CFR 571.102 and 571.114: what keeps a car from starting in gear must be proved",
            )
