"""How a wire is read where that is not plain: behind something shut, with the starter or the engine turning."""

from collections.abc import Iterable, Iterator

from loomwright.documents.behaviour import STIMULI, GroundSwitch, SteppedInput
from loomwright.network.results import Reading
from loomwright.papers.blocks import Caution, Text
from loomwright.papers.cautioning import for_measuring
from loomwright.papers.job import Job
from loomwright.papers.slips import Slips
from loomwright.papers.words.en import measuring as words
from loomwright.planning.installation import Joint

__all__ = ["over_probe", "reading_cautions", "turning"]


_KEY_IN_DOOR = frozenset(s for s in STIMULI if s.startswith("key turned to"))
"""What somebody does at the lock of the driver's door, which is shut for it."""


def over_probe(job: Job, joint: Joint, found: tuple[Reading, ...], slips: Slips) -> Iterator[Text]:
    """Yield how a wire is read with that shut which must stand open to reach it."""
    behind = None if joint.place is None else job.car.places[joint.place].behind
    told_of = {s for r in found for s in (*r.band.state.active, *slips.rest(joint.pin or "", r.band.state))}
    in_door = behind == "driver door open" and not told_of.isdisjoint(_KEY_IN_DOOR)
    if behind is not None and (behind in told_of or in_door):
        yield job.say(words.OVER_PROBE[behind])


def turning(job: Job, found: tuple[Reading, ...]) -> Iterator[Text]:
    """Yield how to read while the starter turns, the glow plugs heat or the engine runs, and where a box may sleep."""
    circuits = [r.circuit for r in found if r.circuit is not None]
    if any(r.band.state.key == "crank" for r in found):
        yield job.say(words.CRANK)
    if job.car.traits.fuel == "diesel" and any(r.band.state.key == "run" for r in found):
        yield job.say(words.GLOW)
    resting = any(r.band.state.key == "off" and "key in lock" not in r.band.state.active for r in found)
    if resting and _held(job, circuits):
        yield job.say(words.AWAKE)
    if any(r.band.state.holds("engine running") for r in found):
        yield job.say(words.RUNNING)


def _held(job: Job, circuits: Iterable[str]) -> bool:
    """Tell whether a wire of these is held up by a box of the car, which lets go of it when it sleeps."""
    return any(isinstance(job.car.circuits[c].behaviour, GroundSwitch | SteppedInput) for c in circuits)


def reading_cautions(job: Job, joint: Joint, found: tuple[Reading, ...]) -> tuple[Caution, ...]:
    """Return the cautions of reading a wire in these states."""
    states = [r.band.state for r in found]
    return for_measuring(
        job, joint, cranks=any(s.key == "crank" or "engine running" in s.active for s in states),
        parking_brake=any("parking brake set" in s.active for s in states),
    )  # fmt: skip
