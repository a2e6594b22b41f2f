"""Candidates for what the kit lives on: fused battery feeds and a bolt into bare metal."""

from collections.abc import Iterator

from loomwright.documents.vehicle import Circuit
from loomwright.planning.candidates import Candidate, End, RuledOut, Situation, Task, pin_words, slug
from loomwright.planning.installation import How
from loomwright.planning.loads import demand_a
from loomwright.planning.minutes import (
    CHARGING_V,
    CONTINUOUS_SHARE,
    GROUND_MINUTES,
    LOST_V,
    NOMINAL_V,
    PENALTIES,
    T_PIN_MINUTES,
    TAP_MINUTES,
)
from loomwright.planning.reach import airbag_near, ends_for
from loomwright.planning.sides import fuse_above, switches_to_rest
from loomwright.planning.wired import penalties_of
from loomwright.sentences import told, unstopped

__all__ = ["feed_candidates", "ground_candidates"]


def feed_candidates(at: Situation, task: Task) -> Iterator[Candidate | RuledOut]:
    """Yield every fused, unswitched pin from which a power input of the kit could be fed."""
    if not task.circuits:
        yield RuledOut(
            task=task.id, how="tap", what="a battery feed", fact="No battery feed of this car is recorded.",
            cure="a fused battery feed of this car were recorded", far=6,
        )  # fmt: skip
    for circuit in (at.car.circuits[c] for c in task.circuits):
        for end in ends_for(at, task, task.terminals[0], circuit):
            if isinstance(end, RuledOut):
                yield end
            elif end.pin is not None:
                yield _feed(at, task, circuit, end, end.pin)


def _feed(at: Situation, task: Task, circuit: Circuit, end: End, pin: str) -> Candidate | RuledOut:
    how: How = "T tapped" if end.kind == "T tapped" else "plug" if end.kind == "plug" else "tap"
    what = pin_words(at.car, pin)
    fuse = fuse_above(circuit, pin)
    if switches_to_rest(circuit, pin):
        return RuledOut(
            task=task.id, how=how, what=what, fact="A switch stands between it and the battery.",
            cure="the feed could be reached before its switch", far=5,
        )  # fmt: skip
    if fuse is None or fuse.fuse_a is None:
        return RuledOut(
            task=task.id, how=how, what=what, fact="No fuse is recorded before it, so nothing tells what it may give.",
            cure=told("the fuse of {circuit} were recorded", circuit=circuit.name or circuit.id), far=5,
        )  # fmt: skip
    terminal = at.terminal(task.terminals[0])
    branch = next((b.rating_a for b in at.kit.branches if b.id == end.branch), None)
    rating = min(x for x in (fuse.fuse_a, terminal.fuse_a, terminal.rating_a or None, branch) if x is not None)
    own = demand_a(at.car, circuit)
    # Loads are stated at 12 V; most of them draw more with the alternator running, less a volt lost on the way.
    share = CONTINUOUS_SHARE * NOMINAL_V / ((at.car.traits.charging_v or CHARGING_V) - LOST_V)
    return Candidate(
        id=f"{task.id}|{how}|{pin}|{end.lead or end.branch}|{slug(end.label)}", task=task.id, how=how, what=what,
        ends=(end,), minutes=TAP_MINUTES if how == "tap" else T_PIN_MINUTES, penalties=penalties_of(at, circuit, end),
        fuse=f"{circuit.id}/{fuse.from_}~{fuse.to}",
        run_limit_a=max(0.0, min(share * rating, share * fuse.fuse_a - own)),
        crank_limit_a=max(0.0, min(rating, fuse.fuse_a - own)),
    )  # fmt: skip


def ground_candidates(at: Situation, task: Task) -> Iterator[Candidate | RuledOut]:
    """Yield every named bolt of the car for every ground lead of the kit; a ground is never taken in a plug."""
    leads = [lead for lead in at.kit.leads if lead.terminal in task.terminals]
    later, why_later = PENALTIES["later ground"]
    for index, point in enumerate(at.car.grounds):
        penalties = [(index * later, why_later)] if index else []
        if airbag_near(at.car, point.place):
            penalties.append(PENALTIES["airbag place"])
        for lead in leads:
            yield Candidate(
                id=f"{task.id}|tap|{point.id}|{lead.id}", task=task.id, how="tap", what=unstopped(point.words),
                ends=(
                    End(
                        kind="ground point", terminal=lead.terminal, label=lead.label, colour=lead.colour,
                        stripe=lead.stripe, area_mm2=lead.area_mm2, length_m=lead.length_m, lead=lead.id,
                        place=point.place, at=point.id,
                    ),
                ),
                minutes=GROUND_MINUTES + (0.0 if lead.end == "ring" else 2.0),  # a bare end gets its ring first
                penalties=tuple(penalties),
            )  # fmt: skip
    if not at.car.grounds:
        yield RuledOut(
            task=task.id, how="tap", what="a ground point", fact="No ground point of this car is recorded.",
            cure="a ground point of this car were recorded", far=6,
        )  # fmt: skip
    if not leads:
        yield RuledOut(
            task=task.id, how="tap", what="a ground point", fact="The kit has no ground lead.",
            cure="the kit had a ground lead", far=4,
        )  # fmt: skip
