"""Where the two ends of an opened wire lead: told by the plugs they reach, which no look from one side can mistake."""

from collections.abc import Iterator

from loomwright.documents.vehicle import Circuit, Segment
from loomwright.papers.blocks import Text
from loomwright.papers.job import Job, plug_of
from loomwright.papers.words.en import joining as words
from loomwright.planning.installation import Joint
from loomwright.planning.sides import between

__all__ = ["ends_lead_to"]


def ends_lead_to(job: Job, joint: Joint) -> Iterator[Text]:
    """Yield from which plug the car's own signal comes and to which the other end leads, where the path names one."""
    if joint.circuit is None or joint.pin is None or joint.factory_side is None:
        return
    circuit = job.car.circuits[joint.circuit]
    back = between(circuit, joint.pin, "source")
    if not back:
        return
    source = _first_plug(circuit, joint.pin, back[0], onward=False)
    load = _first_plug(circuit, joint.pin, back[0], onward=True)
    if source is not None:
        yield job.say(words.CUT_COMES, plug=job.car.plugs[source].name)
    if load is not None:
        yield job.say(words.CUT_GOES, plug=job.car.plugs[load].name)


def _first_plug(circuit: Circuit, pin: str, back: Segment, *, onward: bool) -> str | None:
    """Return the nearest other plug of the path on one side of a pin: towards the source, or away from it."""
    first = [s for s in circuit.path if pin in (s.from_, s.to) and (s is back) is not onward]
    seen, waiting = {pin}, [s.to if s.from_ == pin else s.from_ for s in first]
    while waiting:
        node = waiting.pop(0)
        seen.add(node)
        if "/" in node and plug_of(node) != plug_of(pin):
            return plug_of(node)
        for s in circuit.path:
            if node in (s.from_, s.to):
                other = s.to if s.from_ == node else s.from_
                waiting += [other] if other not in seen else []
    return None
