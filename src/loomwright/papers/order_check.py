"""The order check as a paper: the verdict in two sentences, the car it holds for, and what to know before ordering."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from loomwright.documents.vehicle import Axis
from loomwright.fitting.order import LimitCheck, OrderCheck
from loomwright.fitting.questions import ELSEWHERE, PARKED, Choice, Question, family_name
from loomwright.network.results import Finding
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Quantity, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.measures import minutes
from loomwright.papers.saying import capital, joined, lifted, listed, say
from loomwright.papers.words.en import naming
from loomwright.papers.words.en import order as words
from loomwright.planning.installation import Refusal, Unserved
from loomwright.sentences import clause, told

__all__ = ["open_questions", "order_blocks", "order_paper", "two_sentences", "worded"]

_NO_STARTS = "no"


def worded(question: Question) -> Question:
    """Return a question with the words of the catalogue, where the vehicle's document has none for it."""
    if question.kind == "axis":
        return question
    if question.kind == "keys":
        most = question.choices[-1].value
        cues = {c.value: (words.KEYS_ENOUGH if c.value == most else words.KEYS_SOME) for c in question.choices}
        cues["0"] = words.KEYS_NONE
        choices = tuple(replace(c, cue=told(cues[c.value], count=c.value)) for c in question.choices)
        return replace(question, ask=words.ASK_KEYS, choices=choices)
    if question.kind == "parking":
        choices = tuple(replace(c, cue=words.PARKED[c.value]) for c in question.choices)
        return replace(question, ask=words.ASK_PARKED, choices=choices)
    choices = tuple(replace(c, cue=words.PLACE_ELSEWHERE) if c.value == ELSEWHERE else c for c in question.choices)
    return replace(question, ask=words.ASK_PLACE, choices=choices)


def _count(value: int, trace: str) -> Quantity:
    return Quantity(value=value, unit="", trace=trace, digits=0)


def _cars(check: OrderCheck) -> Quantity:
    return _count(len(check.possible), "order:possible")


def two_sentences(check: OrderCheck) -> tuple[Text, Text]:
    """Return the verdict as a buyer understands it: whether and how the kit fits, and what to do."""
    kit = check.order.kit.name
    if not check.settled:
        return _open(check, kit)
    if check.verdict == "does-not-fit":
        return _does_not_fit(check, kit)
    first, second = _fits(check, kit) if check.verdict == "fits" else _with_exceptions(check, kit)
    if check.keys_ok is False:
        needed, have = _count(check.keys_needed, _keys_trace(check)), _count(check.keys or 0, "order:keys")
        second = say(words.FEW_KEYS, needed=needed, have=have)
    elif check.limit is not None and not check.limit.kept:
        second = say(words.NOT_THERE, place=check.limit.limit.place)
    return first, second


def _keys_trace(check: OrderCheck) -> str:
    return f"document:{check.order.vehicle.id}/traits/keys_to_learn"


def _open(check: OrderCheck, kit: str) -> tuple[Text, Text]:
    if check.question is not None and check.question.kind == "axis":
        return say(words.UNASKED, kit=kit, cars=_cars(check)), say(words.DO_ANSWER)
    results = [check.order.outcomes[variant].verdict for variant in check.possible]
    fitting = sum(1 for result in results if result != "does-not-fit")
    if fitting == len(results):
        first = say(words.OPEN_PLAN, kit=kit, cars=_cars(check))
    else:
        first = say(words.OPEN, kit=kit, fitting=_count(fitting, "order:outcomes"), cars=_cars(check))
    axes = listed(check.open, naming.AND)
    return first, say(words.DO_LOOK, axes=axes, is_are=words.IS if len(check.open) == 1 else words.ARE)


def _fits(check: OrderCheck, kit: str) -> tuple[Text, Text]:
    states = _count(check.states or 0, "proof:states")
    second = say(words.DO_ORDER_UNPROVEN if check.unproven else words.DO_ORDER)
    if len(check.possible) > 1:
        return say(words.FITS_ALL, kit=kit, cars=_cars(check), states=states), second
    return say(words.FITS, kit=kit, car=_car(check), states=states), second


def _with_exceptions(check: OrderCheck, kit: str) -> tuple[Text, Text]:
    lacks = listed(dict.fromkeys(e.function for e in check.exceptions if isinstance(e, Unserved)), naming.AND)
    fixes = sum(1 for e in check.exceptions if isinstance(e, Finding))
    count = _count(fixes, "proof:findings")
    car = _car(check)
    if not fixes:
        return say(words.LACKS, kit=kit, car=car, functions=lacks), say(words.DO_READ)
    if not lacks:
        things = say(words.ONE_THING_IS if fixes == 1 else words.THINGS_ARE, count=count)
        return say(words.FIXES, kit=kit, car=car, things=things), say(words.DO_CALL)
    things = say(words.ONE_THING if fixes == 1 else words.THINGS, count=count)
    return say(words.LACKS_FIXES, kit=kit, car=car, functions=lacks, things=things), say(words.DO_CALL)


def _does_not_fit(check: OrderCheck, kit: str) -> tuple[Text, Text]:
    results = [check.order.outcomes[variant].found for variant in check.possible]
    if all(isinstance(result, Refusal) for result in results):
        return _refused(check, kit)
    if len(check.possible) > 1:
        return say(words.STOPPED_ALL, kit=kit, cars=_cars(check)), say(words.DO_NOT_STOPPED)
    stops = sum(1 for e in check.exceptions if isinstance(e, Finding) and e.severity == "stop")
    if stops:
        things = say(words.ONE_THING if stops == 1 else words.THINGS, count=_count(stops, "proof:findings"))
        return say(words.STOPPED, kit=kit, car=_car(check), things=things), say(words.DO_NOT_STOPPED)
    lacks = dict.fromkeys(e.function for e in check.exceptions if isinstance(e, Unserved) and e.required)
    return (
        say(words.MISSING, kit=kit, car=_car(check), functions=listed(lacks, naming.AND)),
        say(words.DO_NOT_STOPPED),
    )  # fmt: skip


def _refused(check: OrderCheck, kit: str) -> tuple[Text, Text]:
    reasons = [lifted(_clause(r.reason), f"refusal:{r.code}") for r in check.refusals]
    reason = joined(*reasons, between=words.OR_ELSE)
    if len(check.possible) == 1:
        first = say(words.REFUSED, kit=kit, car=_car(check), reason=reason)
    else:
        first = say(words.REFUSED_ALL, kit=kit, cars=_cars(check), reason=reason)
    if len(check.refusals) > 1:
        return first, say(words.DO_NOT_ANY)
    refusal = check.refusals[0]
    return first, say(words.DO_NOT, cure=lifted(refusal.would_fit_if, f"refusal:{refusal.code}"))


def _clause(sentence: str) -> str:
    """Return a sentence as the end of another one."""
    return clause(sentence)


def _car(check: OrderCheck) -> str:
    return family_name(check.order.vehicle)


def order_paper(check: OrderCheck, marks: Mapping[str, str] | None = None) -> Paper:
    """Return the order check as a paper of its own."""
    kit = check.order.kit
    return Paper(
        id="order-check", title=words.TITLE,
        subtitle=told(words.SUBTITLE, kit=kit.name, revision=kit.revision, car=_car(check)), language="en",
        marks=dict(marks or {}), blocks=order_blocks(check),
    )  # fmt: skip


def order_blocks(check: OrderCheck, cues: bool = True) -> tuple[Block, ...]:
    """Return the blocks of the order check, beginning with a heading.

    Parameters
    ----------
    check
        The order check.
    cues
        False where the paper lists the car's cues elsewhere, as page one of the guide does.
    """
    return (
        Heading(text=words.HEAD),
        *(Paragraph(text=sentence) for sentence in two_sentences(check)),
        *_exceptions(check),
        *(_still_open(check) if not check.settled else ()),
        *(_cues(check) if cues else ()),
        *(_use(check) if check.verdict not in (None, "does-not-fit") else ()),
        Paragraph(text=say(words.DEFERS), small=True),
    )


def _use(check: OrderCheck) -> Iterator[Block]:
    """Yield what the buyer must have and do: keys, where it starts, what the place says."""
    yield from _keys(check)
    yield from _parked(check)
    if check.limit is not None:
        yield from _limit(check.limit)


def _exceptions(check: OrderCheck) -> Iterator[Block]:
    items: list[Text] = []
    for entry in check.exceptions if check.settled else ():
        if isinstance(entry, Unserved):
            trace = f"route:{entry.task}"
            why, cure = lifted(entry.why, trace), lifted(entry.would_fit_if, trace)
            items.append(say(words.UNSERVED, function=capital(entry.function), why=why, cure=cure))
        else:
            trace = f"finding:{entry.code}"
            message, advice = lifted(entry.message, trace), lifted(entry.advice, trace)
            items.append(say(words.FINDING, message=message, advice=advice))
    items += [lifted(f.message, f"finding:{f.code}") for f in (check.unproven if check.settled else ())]
    for refusal in check.refusals if check.settled else ():
        yield caution(("WARNING", "{words}"), words=lifted(refusal.caution, f"refusal:{refusal.code}"))
    if items:
        yield Heading(text=words.HEAD_EXCEPTIONS, level=3)
        yield Bullets(items=tuple(items))


def open_questions(check: OrderCheck) -> tuple[tuple[Axis, tuple[Choice, ...]], ...]:
    """Return the axes whose answer still changes something, each with the values that are still possible."""
    return tuple(
        (axis, tuple(Choice(value=v.value, cue=v.cue) for v in axis.values if v.value in _values(check, axis.id)))
        for axis in check.order.vehicle.axes
        if axis.id in check.open
    )


def _values(check: OrderCheck, axis: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(dict(variant)[axis] for variant in check.possible))


def _still_open(check: OrderCheck) -> Iterator[Block]:
    yield Heading(text=words.HEAD_OPEN, level=3)
    for axis, choices in open_questions(check):
        yield Paragraph(text=(axis.ask,))
        yield Bullets(items=tuple(say(words.OPEN_CHOICE, value=c.value, cue=c.cue) for c in choices))


def _cues(check: OrderCheck) -> Iterator[Block]:
    if not check.order.vehicle.axes:
        return
    yield Heading(text=words.HEAD_CUES, level=3)
    items: list[Text] = []
    for axis in check.order.vehicle.axes:
        values = _values(check, axis.id)
        if len(values) == 1:
            cue = next(v.cue for v in axis.values if v.value == values[0])
            items.append(say(words.CUE, axis=capital(axis.id), value=values[0], cue=cue))
        else:
            spare = axis.id in check.spare
            template = words.CUE_SPARE if spare else words.CUE_OPEN
            items.append(say(template, axis=capital(axis.id), values=listed(values, naming.OR)))
    yield Bullets(items=tuple(items), ticked=True)
    yield Paragraph(text=say(words.CUE_DIFFERS))


def _keys(check: OrderCheck) -> Iterator[Block]:
    yield Heading(text=words.HEAD_KEYS, level=3)
    if not check.keys_needed:
        yield Paragraph(text=say(words.KEYS_NOT_NEEDED))
        return
    needed = _count(check.keys_needed, _keys_trace(check))
    if check.keys is None:
        yield Paragraph(text=say(words.KEYS_OPEN, needed=needed))
        return
    template = words.KEYS_OK if check.keys_ok else words.KEYS_SHORT
    yield Paragraph(text=say(template, needed=needed, have=_count(check.keys, "order:keys")))


def _parked(check: OrderCheck) -> Iterator[Block]:
    if not check.cautions:
        return
    yield Heading(text=words.HEAD_PARKED, level=3)
    parked = check.answers.get(PARKED, "")
    if parked in words.PARKED_SHORT:
        yield Paragraph(text=say(words.PARKED_AT, where=words.PARKED_SHORT[parked]))
    for name in check.cautions:
        for entry in words.CAUTIONS[name]:
            yield caution(entry)
    yield Paragraph(text=say(words.TIMED_ALLOWED if check.timed_starts else words.TIMED_REFUSED))
    off = [say(words.SETTING_OFF, setting=setting.name, off=_NO_STARTS) for setting in check.settings_off]
    if off:
        yield Bullets(items=tuple(off))


def _limit(check: LimitCheck) -> Iterator[Block]:
    limit = check.limit
    trace = f"document:shop/local_limits/{limit.place}"
    yield Heading(text=words.HEAD_LIMIT, level=3)
    if limit.idle_minutes is None:
        idle = say(words.LIMIT_NO_IDLE, place=limit.place)
    else:
        idle = say(words.LIMIT_IDLE, place=limit.place, minutes=minutes(limit.idle_minutes, f"{trace}/idle_minutes"))
    items: list[Text] = [idle]
    if check.too_long:
        items.append(say(words.LIMIT_TOO_LONG))
    elif check.run_time is not None:
        items.append(say(words.LIMIT_SET, value=lifted(check.run_time, "document:kit/settings/run-time")))
    if limit.unattended == "allowed":
        items.append(say(words.LIMIT_ALLOWED))
    elif limit.unattended == "not allowed":
        items.append(say(words.LIMIT_FORBIDDEN))
    else:
        items.append(say(words.LIMIT_LOCKED))
        if not check.locks:
            items.append(say(words.LIMIT_NO_LOCK))
        elif check.lock_setting is not None:
            items.append(say(words.LIMIT_LOCK_SETTING, setting=check.lock_setting))
        else:
            items.append(say(words.LIMIT_LOCK_SELF))
    yield Bullets(items=tuple(items))
    yield Paragraph(text=say(words.LIMIT_SOURCE, source=limit.source, on=limit.on.isoformat()), small=True)
