"""What is read at the free ends of the leads in part C, and what part A therefore reads at their wires."""

from collections.abc import Iterator, Mapping

from loomwright.documents.behaviour import SteppedInput
from loomwright.network.results import Reading
from loomwright.network.states import State
from loomwright.papers.job import Job
from loomwright.papers.slips import Slips
from loomwright.papers.telling import at_free_plugs, same_state
from loomwright.planning.installation import Joint

__all__ = ["asked_of_wires", "ends_of_leads", "read_at_ends"]


def ends_of_leads(job: Job) -> Mapping[str, Joint]:
    """Return the joints whose leads are read at their free ends, in the order of the controller's places."""
    joints = sorted(job.ordered_joints, key=job.socket)
    return {j.id: j for j in joints if job.readings.of(j.id, "after joining")}


def read_at_ends(job: Job, slips: Slips) -> tuple[tuple[str, Reading], ...]:
    """Return the readings at the free ends of the leads as (joint id, reading), sorted by state."""
    ends = ends_of_leads(job)
    every = {i: job.readings.of(i, "after joining") for i in ends}
    by_hand = {i: j.pin for i, j in ends.items() if j.pin is not None and j.kind in ("tap", "cut in")}
    return at_free_plugs(slips, every, by_hand)


def asked_of_wires(job: Job, slips: Slips) -> frozenset[str]:
    """Return the ids of readings that part A takes of a wire whatever they tell.

    Part C sends back to the wire where its lead shows something else, so the wire is read in the same state. And of a
    wire that tells several switches apart, the one is operated for which the lead is joined.
    """
    later: dict[str, list[State]] = {}
    for joint_id, reading in read_at_ends(job, slips):
        later.setdefault(joint_id, []).append(reading.band.state)
    return frozenset(
        r.id
        for joint in job.ordered_joints
        for r in job.readings.of(joint.id, "identify")
        if any(same_state(r.band.state, s) for s in later.get(joint.id, ())) or _own(job, joint, r)
    )


def _own(job: Job, joint: Joint, reading: Reading) -> bool:
    return any(when in reading.band.state.active for when in _switches(job, joint))


def _switches(job: Job, joint: Joint) -> Iterator[str]:
    """Yield what is done to the car where a wire with several switches is asked for the function of a joint."""
    behaviour = None if joint.circuit is None else job.car.circuits[joint.circuit].behaviour
    if isinstance(behaviour, SteppedInput):
        yield from (step.when for step in behaviour.steps if step.function == joint.function)
