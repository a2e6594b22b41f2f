"""Part A of the guide: a plug into which nothing is joined by hand is checked in one step."""

from collections.abc import Iterator, Mapping, Sequence

from loomwright.network.fitting_order import FitAction
from loomwright.network.results import Reading
from loomwright.papers.blocks import Step, Text
from loomwright.papers.count_words import LATCH, look_words, place_words
from loomwright.papers.going import Going, arrive, find_plug, first_seen
from loomwright.papers.job import Job, plug_of
from loomwright.papers.pin_face import mark_of, never_words, pin_count, plug_face
from loomwright.papers.probing import over_probe, reading_cautions, turning
from loomwright.papers.reading_fields import reading_field
from loomwright.papers.saying import joined, listed
from loomwright.papers.slips import Slips
from loomwright.papers.stepping import needs
from loomwright.papers.telling import of_plug, rules_out
from loomwright.papers.unproven import pin_words, unproven_of
from loomwright.papers.words.en import measuring as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Joint
from loomwright.sentences import linked, told

__all__ = ["measure_plug"]


def _same_for_the_meter(job: Job, found: Mapping[str, tuple[Reading, ...]], slips: Slips) -> Text:
    """Return the sentence about measured pins that no reading tells from each other, or nothing."""

    def same(p: str, q: str) -> bool:
        return not any(rules_out(slips, r, q) for r in found[p]) and not any(rules_out(slips, r, p) for r in found[q])

    groups = dict.fromkeys(tuple(q for q in found if q == p or same(p, q)) for p in found)
    alike = [
        told(words.PLUG_SAME, pins=listed((p.partition("/")[2] for p in group), naming.AND))
        for group in groups
        if len(group) > 1
    ]
    return job.say(words.PLUG_ALIKE, pins=linked(alike, "; ")) if alike else ()


def _pin_lines(job: Job, joints: tuple[Joint, ...]) -> Iterator[Text]:
    for joint in joints:
        plug = job.plug(joint)
        counted = place_words(pin_count(job, joint.pin or ""), LATCH if plug is None else mark_of(plug))
        pin = (joint.pin or "").partition("/")[2]
        yield job.say(words.PLUG_PIN, label=joint.label, colour=job.wire(joint), pin=pin, count=counted)


def _by_words(taken: Sequence[tuple[str, Reading]], slips: Slips) -> tuple[tuple[str, Reading], ...]:
    """Keep lines together whose state is told in the same words: what else must be at rest differs from pin to pin."""
    order = {state: n for n, state in enumerate(dict.fromkeys(r.band.state for _, r in taken))}
    return tuple(sorted(taken, key=lambda t: (order[t[1].band.state], slips.rest(t[0], t[1].band.state))))


def measure_plug(job: Job, action: FitAction, joints: tuple[Joint, ...], going: Going) -> Step:
    """Return the one step that checks a plug into which nothing is joined by hand."""
    branch = next(b for b in job.kit.branches if b.id == action.branch)
    by_pin = {j.pin: j for j in joints if j.pin is not None}
    plug_id = plug_of(next(iter(by_pin)))
    plug = job.car.plugs[plug_id]
    photos, films = job.in_car(*first_seen(job, plug, going))
    here = arrive(job, joints[0].place, going)
    every = {pin: job.readings.of(j.id, "identify") for pin, j in by_pin.items()}
    taken = _by_words(of_plug(going.slips, every, going.asked), going.slips)
    found = tuple(r for _, r in taken)
    chosen = {pin: tuple(r for p, r in taken if p == pin) for pin in by_pin}
    count = pin_count(job, next(iter(by_pin)))
    shutting = dict.fromkeys(t for p, j in by_pin.items() for t in over_probe(job, j, chosen[p], going.slips))
    held = dict.fromkeys(c for j in joints for c in reading_cautions(job, j, found))
    key = found[0].band.state.key
    free_socket = plug.seen_side == "mating"
    return Step(
        id=f"measure:{action.id}", title=told(words.PLUG_TITLE, plug=plug.name, label=branch.label), kind="measure",
        needs=needs("on", key if key != "off" else "out", panel=job.car.places[plug.place].name, tool=here.tool),
        place=here.place, access=here.access,
        do=(
            find_plug(job, plug_id, going), job.say(words.PLUG_WHY, label=branch.label), *_pin_lines(job, joints),
            job.say(words.PLUG_READ_CONTACT if free_socket else words.PLUG_READ), *turning(job, found), *shutting,
        ),
        see=joined(job.say(words.PLUG_SEE), _same_for_the_meter(job, every, going.slips)), if_not=job.say(words.IF_NOT),
        label=branch.label, count=told(words.PLUG_COUNT, look=look_words(count.side, count.latch, mark_of(plug))),
        neighbours=linked((words.PLUG_NEIGHBOURS, never_words(job, plug_id))),
        face=plug_face(job, plug_id, tuple(p.partition("/")[2] for p in by_pin), only_marked=True),
        picture=here.picture, photos=photos, films=films,
        readings=tuple(
            reading_field(job, by_pin[p], r, chosen[p], rest=going.slips.rest(p, r.band.state)) for p, r in taken
        ),
        unproven=unproven_of(job, joints, pin_words), cautions=(*here.cautions, *held),
    )  # fmt: skip
