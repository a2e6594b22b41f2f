"""Page one of the guide and the cautions: car, kit, bag, tools, time, when to call, who should not."""

from collections.abc import Iterable, Iterator

from loomwright.papers.blocks import Block, Bullets, Caution, Heading, Paragraph, Text
from loomwright.papers.cautioning import everywhere, hazards, waiting
from loomwright.papers.job import Job
from loomwright.papers.kit_plugs import kit_plugs
from loomwright.papers.measures import AFTER_JOINING_MIN, FIRST_TIME, hours
from loomwright.papers.quantity import Quantity
from loomwright.papers.safety_tests import needed_for
from loomwright.papers.saying import capital, joined, listed, say
from loomwright.papers.words.en import naming
from loomwright.papers.words.en import page_one as words
from loomwright.planning.groups import HALVES
from loomwright.planning.leftovers import packed_branches
from loomwright.sentences import told, unstopped

__all__ = ["caution_list", "front_cautions", "page_one"]


def page_one(job: Job) -> Iterator[Block]:
    """Yield everything that is read before a tool is touched."""
    yield Heading(text=words.HEAD_START, level=1, anchor="start")
    yield Paragraph(text=job.say(words.INTRO))
    yield from _car(job)
    yield from _kit(job)
    yield from _exceptions(job)
    yield Heading(text=words.HEAD_BAG)
    yield Bullets(items=tuple(_bag(job)), ticked=True)
    yield Paragraph(text=job.say(words.BAG_SHORT))
    yield from kit_plugs(job)
    yield Heading(text=words.HEAD_TOOLS)
    yield Bullets(items=tuple(_tools(job)), ticked=True)
    yield Heading(text=words.HEAD_WORDS)
    yield Bullets(items=tuple(job.say(w) for w in words.WORDS))
    yield Heading(text=words.HEAD_TIME)
    yield Paragraph(text=_time(job))
    if any(n.test.id == "lamp" for n in needed_for(job)):
        yield Paragraph(text=job.say(words.TIME_COLD))
    yield Heading(text=words.HEAD_CALL)
    yield Paragraph(text=job.say(words.CALL, call=job.shop.call))
    yield Bullets(items=tuple(job.say(w) for w in words.CALL_WHEN))
    yield Heading(text=words.HEAD_WHO)
    yield Bullets(items=tuple(job.say(w) for w in words.WHO))


def _car(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_CAR)
    others = job.car.names[1:]
    if others:
        yield Paragraph(text=job.say(words.CAR_NAMES, car=job.car.name, others=listed(others, naming.OR)))
    else:
        yield Paragraph(text=job.say(words.CAR_NAME, car=job.car.name))
    yield Bullets(
        items=tuple(job.say(words.CUE, axis=capital(a), value=v, cue=cue) for a, v, cue in job.car.choice_words),
        ticked=True,
    )
    yield Paragraph(text=job.say(words.CAR_DIFFERS))


def _kit(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_KIT)
    yield Paragraph(text=job.say(words.KIT_NAME, kit=job.kit.name, revision=job.kit.revision))
    yield Paragraph(text=job.say(words.KIT_SERIAL, where=job.kit.serial_at))


def _exceptions(job: Job) -> Iterator[Block]:
    items: list[Text] = [
        joined(
            job.say(
                words.UNSERVED, function=u.function, why=job.lifted(u.why, f"route:{u.task}"),
                cure=job.lifted(u.would_fit_if, f"route:{u.task}"),
            ),
            job.say(words.MISSED[of]) if (of := HALVES.get(u.function, u.function)) in words.MISSED else (),
        )
        for u in job.installation.unserved
    ]  # fmt: skip
    items += [
        job.say(
            words.FINDING, message=job.lifted(f.message, f"finding:{f.code}"),
            advice=job.lifted(f.advice, f"finding:{f.code}"),
        )
        for f in job.proof.findings
        if f.severity == "fix"
    ]
    if items:
        yield Heading(text=words.HEAD_EXCEPTIONS)
        yield Bullets(items=tuple(items))


def _bag(job: Job) -> Iterator[Text]:
    kit = job.kit
    if kit.vehicle_module is None or not job.uses_module:
        yield job.say(words.BAG_CONTROLLER, name=kit.controller.name)
        if kit.vehicle_module is not None:
            yield job.say(words.BAG_IDLE_MODULE, module=kit.vehicle_module.name)
    else:
        yield job.say(words.BAG_BOXES, name=kit.controller.name, module=kit.vehicle_module.name)
    plugged = {j.branch for j in job.installation.joints}
    for kind, one, several in (("t", words.BAG_ONE_T, words.BAG_T), ("plug", words.BAG_ONE_PLUG, words.BAG_PLUG)):
        packed = [b for b in packed_branches(kit, job.installation.joints) if b.kind == kind]
        labels = [b.label for b in packed if b.id in plugged]
        if labels:
            yield job.say(one if len(labels) == 1 else several, labels=listed(labels, naming.AND))
        for branch in packed:
            if branch.id not in plugged:
                yield job.say(words.BAG_NOT_USED, item=told(one, labels=branch.label))
    plugs = dict.fromkeys(t.plug.upper() for t in kit.controller.terminals)
    yield job.say(words.BAG_HARNESS, plugs=listed(plugs, naming.AND))
    parts = {p.id: p for p in kit.parts}
    for joint in job.installation.joints:
        if joint.part is not None:
            yield job.say(words.BAG_PART, name=parts[joint.part.part].name, label=joint.label)
    used = {j.terminal for j in job.installation.joints if j.kind == "added part"}
    spare = [p.name for p in kit.added_parts if p.terminal not in used]
    for item in kit.bag:
        stays = any(item.startswith(name) for name in spare)
        yield job.say(words.BAG_NOT_USED, item=unstopped(item)) if stays else (item,)


def _tools(job: Job) -> Iterator[Text]:
    kinds = {j.kind for j in job.installation.joints}
    yield job.say(words.TOOL_METER)
    if any(r.lamp.allowed for r in job.readings.readings):
        yield job.say(words.TOOL_LAMP)
    opening = dict.fromkeys(t for p in job.places for t in job.car.places[p].tools)
    if opening:
        yield job.say(words.TOOL_OPEN, tools=listed(opening, naming.AND))
    yield job.say(words.TOOL_GROUND if "ground point" in kinds else words.TOOL_BATTERY)
    if kinds & {"tap", "cut in"}:
        yield job.say(words.TOOL_JOIN)
    if kinds & {"cut in", "added part"}:
        yield job.say(words.TOOL_CRIMP)
    if "added part" in kinds:
        yield job.say(words.TOOL_DRILL)
    yield job.say(words.TOOL_GUARD)
    keys = job.car.traits.keys_to_learn or 0
    if keys > 1 and job.uses_module:
        # Whoever has one key only must know it before a wire is cut, not when the kit asks for the second.
        trace = f"document:{job.car.vehicle}/traits/keys_to_learn"
        yield job.say(words.TOOL_KEYS, count=Quantity(value=keys, unit="", trace=trace, digits=0))


def _time(job: Job) -> Text:
    counted = job.installation.minutes + AFTER_JOINING_MIN
    return job.say(
        words.TIME,
        practised=hours(counted, "installation:minutes"),
        beginner=hours(FIRST_TIME * counted, "installation:minutes"),
    )


def front_cautions(job: Job) -> Iterator[Block]:
    """Yield the cautions that hold for all of the work, what can hurt in this car, and what holds besides.

    The first ones, on which lives hang, stand in their own frames; the rest are one list.
    """
    yield Heading(text=words.HEAD_CAUTIONS, level=1, anchor="cautions")
    yield Paragraph(text=job.say(words.CAUTIONS_INTRO))
    every = everywhere()
    yield every[0]
    yield every[1]
    yield waiting(job)
    yield caution_list(every[2:])
    own: tuple[Caution, ...] = hazards(job)
    if own:
        yield Heading(text=words.HEAD_CAR_HAZARDS)
        yield caution_list(own)
    yield Heading(text=words.HEAD_TERMS)
    yield Paragraph(text=job.say(words.DEFERS))
    if job.shop.terms:
        yield Bullets(items=tuple((t,) for t in job.shop.terms))


def caution_list(held: Iterable[Caution]) -> Bullets:
    """Return cautions as one list, each with its signal word."""
    return Bullets(items=tuple(say(words.CAUTION_ITEM, word=c.word, text=c.text) for c in held))
