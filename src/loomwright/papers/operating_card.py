"""The operating card for whoever drives the car, and the same as a part of the guide."""

from collections.abc import Iterator, Mapping

from loomwright.documents.shop import LocalLimit, Shop
from loomwright.network.results import Proof, Readings
from loomwright.papers.after_flat import after_flat
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Table, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.cold import cold_again
from loomwright.papers.fuse_places import fuses_found, fuses_reached
from loomwright.papers.job import Job
from loomwright.papers.measures import minutes
from loomwright.papers.page_one import caution_list
from loomwright.papers.programming import setting_rows
from loomwright.papers.quantity import Quantity
from loomwright.papers.safety_tests import door_stops, driver_only, hands_over, run_time, stops_by
from loomwright.papers.saying import joined, listed, say
from loomwright.papers.words.en import cards as words
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import handover as guide_words
from loomwright.planning.installation import Installation
from loomwright.sentences import small, told
from loomwright.starting.modes import REST, Mode, changed
from loomwright.starting.settings import start_settings
from loomwright.starting.step import step

__all__ = ["operating", "operating_card", "service"]

_ATTEMPTS = "attempts"
"""The setting that says how often the kit tries."""


def operating_card(
    installation: Installation, proof: Proof, readings: Readings, shop: Shop, marks: Mapping[str, str]
) -> Paper:
    """Return the card that stays in the car: how to start, stop and drive off, replies, service mode, local limits.

    What stops the engine and what the lamps reply is asked of the controller's own step function, as it is set here.

    Parameters
    ----------
    installation, proof, readings
        What was planned, found and computed.
    shop
        Whom to call, and the limits it has on record.
    marks
        What identifies this issue of the sheet; name -> text.
    """
    job = Job(installation=installation, proof=proof, readings=readings, shop=shop)
    return Paper(
        id="operating-card", title=words.CARD_TITLE,
        subtitle=told(words.CARD_SUBTITLE, kit=job.kit.name, car=job.car.name), language="en", marks=job.marks(marks),
        blocks=tuple(_card(job)), footer=job.call_line,
    )  # fmt: skip


def operating(job: Job) -> Iterator[Block]:
    """Yield the guide's part about using the kit."""
    yield Heading(text=guide_words.HEAD_OPERATE, level=1, anchor="operating")
    yield from _cautions()
    yield Bullets(items=(*_use(job), *service(job)))
    yield Paragraph(text=job.say(guide_words.CARD_TELLS))


def _card(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_USE, level=1, anchor="use")
    yield Bullets(items=tuple(_use(job)))
    rows = tuple(_replies(job))
    if rows:
        yield Heading(text=words.HEAD_REPLIES)
        yield Table(head=words.REPLIES_TABLE, rows=rows, widths=(1.2, 2.0, 3.4))
    yield Heading(text=words.HEAD_SERVICE, anchor="service")
    yield Bullets(items=tuple(service(job)))
    yield Heading(text=words.HEAD_FLAT, anchor="flat-battery")
    yield Bullets(items=tuple(after_flat(job)), numbered=True)
    yield Heading(text=words.HEAD_HABITS, anchor="habits")
    yield Bullets(items=tuple(_habits(job)))
    yield Heading(text=guide_words.HEAD_OPERATE_SAFELY, anchor="cautions")
    yield from _cautions()
    if job.shop.local_limits:
        yield Heading(text=words.HEAD_LIMITS, anchor="limits")
        yield Paragraph(text=job.say(words.LIMITS_INTRO))
        rows = tuple(_limit(job, limit) for limit in job.shop.local_limits)
        yield Table(head=words.LIMITS_TABLE, rows=rows, widths=(1.4, 1.2, 1.6, 3.0))


def _cautions() -> Iterator[Block]:
    held = [
        caution(entry)
        for entry in (
            cautions.GARAGE_USE, cautions.CHILDREN, cautions.LEAVING, cautions.TAILPIPE, cautions.TIMED, cautions.GRASS,
            cautions.HOOD, cautions.IDLING, cautions.HIDDEN_KEY, cautions.RADIO,
        )
    ]  # fmt: skip
    yield held[0]
    yield caution_list(held[1:])


def _use(job: Job) -> Iterator[Text]:
    several = len(job.kit.remotes) > 1
    for remote in job.kit.remotes:
        start = job.say(words.START, start=remote.start)
        yield job.say(words.REMOTE, name=remote.name, start=start) if several else start
        yield job.say(words.STOP, stop=remote.stop)
        for function, template in words.ALSO.items():
            how = getattr(remote, function)
            if how is not None and function in job.served:
                yield job.say(template, how=how)
    if start_settings(job.installation).wait != "none":
        yield job.say(words.WAITS)
    if job.kit.controller.range_note is not None:
        yield job.say(words.RANGE, range=job.kit.controller.range_note)
    time = run_time(job)
    if time is not None:
        yield job.say(words.RUN_TIME, time=time)
    for setting, choice, _ in setting_rows(job):
        if setting.for_driver:
            yield job.say(words.DRIVER_SETTING, name=setting.name, means=choice.means)
    yield job.say(words.STOPS, events=listed(_stop_events(job), words.OR))
    if "in_park" not in start_settings(job.installation).senses:
        yield job.say(words.NEUTRAL)
    if job.has_button:
        yield job.say(words.STOP_OWN)  # its engine is its own, and runs on without the kit
    if not hands_over(job):
        yield job.say(words.DRIVE_DOOR, door=_door(job)) if door_stops(job) else job.say(words.DRIVE_BRAKE)
    elif door_stops(job):  # whoever gets in opens one, and no key is in the lock yet
        yield job.say(words.DRIVE_DOOR, door=_door(job))
        take = job.words["Take_over"]
        yield job.say(words.DRIVE_SEATED, Take_over_small=small(take))
    else:
        yield job.say(words.DRIVE)
    yield job.say(words.CARE)


def _door(job: Job) -> str:
    return words.STOP_DRIVER_DOOR if driver_only(job) else words.STOP_DOOR


def _stop_events(job: Job) -> Iterator[str]:
    """Yield what stops the running engine, as the controller of this installation is set and wired."""
    if stops_by(job, "hood_open", True):
        yield words.STOP_HOOD
    if door_stops(job):
        yield _door(job)
    if stops_by(job, "brake_pressed", True):
        yield words.STOP_BRAKE
    if stops_by(job, "in_park", False):
        yield words.STOP_SELECTOR


def _looks(job: Job) -> Iterator[str]:
    """Yield what keeps a start from beginning, of what the kit reads in this car."""
    senses = start_settings(job.installation).senses
    yield words.LOOK_HOOD
    if "door_open" in senses:
        yield words.LOOK_DRIVER_DOOR if driver_only(job) else words.LOOK_DOORS
    if "in_park" in senses:
        yield words.LOOK_SELECTOR
    yield words.LOOK_BRAKE
    if "key_in" in senses:
        yield words.LOOK_KEY
    yield words.LOOK_ENGINE


def _replies(job: Job) -> Iterator[tuple[Text, ...]]:
    """Yield what the parking lamps say, as the step function of the controller answers; nothing without lamps."""
    settings = start_settings(job.installation)
    if not any(r.function.startswith("parking light") and r.how != "none" for r in job.installation.routes):
        return
    asked = {
        "heard": (Mode(), {"request": "start"}, ()),
        "refused": (Mode(), {"request": "start", "hood_open": True}, ()),
        "running": (Mode(name="cranking", attempts=1), {"engine": "running"}, ()),
        "failed": (Mode(name="cranking", attempts=settings.attempts), {"engine": "cranking"}, ("crank limit",)),
        "stopped": (Mode(name="running", attempts=1), {"engine": "running", "request": "stop"}, ()),
        "service": (Mode(), {"valet": True}, ()),
    }
    for name, (mode, changes, expired) in asked.items():
        if name == "service" and job.kit.service is None:
            continue
        decision = step(mode, changed(REST, changes), frozenset(expired), settings)  # type: ignore[arg-type]
        means, do = words.REPLY_DO[name]
        for reply in decision.replies:
            looks = listed(_looks(job), naming.AND)
            yield (reply.partition(":")[0],), job.say(means), job.say(do, looks=looks)


def service(job: Job) -> Iterator[Text]:
    """Yield how the kit is kept from starting anything: by its own mode where it has one, and by its fuses."""
    if job.kit.service is not None:
        yield job.say(words.SERVICE, service=job.kit.service)
    if job.fused:
        yield job.say(words.SERVICE_FUSES, fuses=fuses_found(job))
        reached = fuses_reached(job)
        if reached:
            yield joined(job.say(words.FUSES_REACHED, places=joined(*reached)), *cold_again(job))
    elif job.kit.service is None:
        yield job.say(words.SERVICE_NONE)


def _habits(job: Job) -> Iterator[Text]:
    yield from job.lines(words.HABITS)
    attempts = start_settings(job.installation).attempts
    if attempts > 1 and _ATTEMPTS in dict(job.installation.settings):
        trace = f"document:{job.kit.id}/settings/{_ATTEMPTS}"
        yield job.say(words.HABIT_ATTEMPTS, count=Quantity(value=attempts, unit="", trace=trace, digits=0))
    for setting, choice, _ in setting_rows(job):
        if setting.id == "start-in-cold":
            yield job.say(words.HABIT_TIMED, name=setting.name, value=choice.value)


def _limit(job: Job, limit: LocalLimit) -> tuple[Text, ...]:
    idle: Text = (words.LIMIT_NO_IDLE,)
    if limit.idle_minutes is not None:
        trace = f"document:{job.shop.id}/local_limits"
        idle = job.say(words.LIMIT_IDLE, minutes=minutes(limit.idle_minutes, trace))
    source = say(words.LIMIT_SOURCE, source=limit.source, on=limit.on.isoformat())
    return (limit.place,), idle, (words.UNATTENDED[limit.unattended],), source
