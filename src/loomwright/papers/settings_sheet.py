"""The settings sheet: every option of the boxes, its value in this car, how to set it, and why this value."""

from collections.abc import Iterator, Mapping
from itertools import chain

from loomwright.documents.kit import Setting, SettingChoice
from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Readings
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Table, Text
from loomwright.papers.count_words import ordinal
from loomwright.papers.job import Job
from loomwright.papers.programming import dialogues_needed, exchange, setting_rows
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import capital, listed, say
from loomwright.papers.words.en import cards as words
from loomwright.papers.words.en import naming
from loomwright.papers.words.en import programming as programming_words
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["settings_sheet"]


def settings_sheet(
    installation: Installation, proof: Proof, readings: Readings, shop: Shop, marks: Mapping[str, str]
) -> Paper:
    """Return the sheet of all settings, each with the reason that the plan gives for it.

    Parameters
    ----------
    installation, proof, readings, shop
        What was planned, found and computed, and whom to call.
    marks
        What identifies this issue of the sheet; name -> text.
    """
    job = Job(installation=installation, proof=proof, readings=readings, shop=shop)
    return Paper(
        id="settings", title=words.SETTINGS_TITLE,
        subtitle=told(words.SETTINGS_SUBTITLE, kit=job.kit.name, revision=job.kit.revision, car=job.car.name),
        language="en", marks=job.marks(marks), blocks=tuple(_blocks(job)), footer=job.call_line,
    )  # fmt: skip


def _blocks(job: Job) -> Iterator[Block]:
    yield Heading(text=words.HEAD_BOXES, level=1, anchor="boxes")
    yield Bullets(items=tuple(_boxes(job)))
    yield Heading(text=words.HEAD_SETTINGS, level=1, anchor="settings")
    rows = tuple(_row(job, s, c, n) for s, c, n in setting_rows(job))
    yield Table(head=words.SETTINGS_TABLE, rows=rows, widths=(1.3, 1.7, 0.9, 1.6, 1.3, 2.9))
    for dialogue in job.kit.dialogues:
        if dialogue.kind == "programming":
            yield Heading(text=words.HEAD_HOW_SET, anchor=f"how-{dialogue.id}")
            lines = (exchange(job, dialogue, each, first=n == 0) for n, each in enumerate(dialogue.steps))
            yield Bullets(items=tuple(lines), numbered=True)
    yield Heading(text=words.HEAD_LEARNED, anchor="learned")
    learned = tuple(
        say(words.LEARNED, name=d.name, reply=d.steps[-1].reply) for d in dialogues_needed(job) if d.kind == "learning"
    )
    if learned:
        yield Bullets(items=learned, ticked=True)
    else:
        yield Paragraph(text=say(words.NOT_NEEDED))


def _boxes(job: Job) -> Iterator[Text]:
    box, module = job.kit.controller, job.kit.vehicle_module
    yield say(words.BOX_CONTROLLER, name=box.name, hardware=box.hardware, firmware=box.firmware, version=box.version)
    if module is not None:
        yield say(
            words.BOX_MODULE, name=module.name, hardware=module.hardware, firmware=module.firmware,
            version=module.version,
        )  # fmt: skip
        if module.locked and module.adjustable_when_locked:
            names = {s.id: s.name for s in job.kit.settings}
            which = listed((names.get(a, a) for a in module.adjustable_when_locked), naming.AND)
            yield say(words.BOX_LOCKED, which=which)
    yield say(words.BOX_SERIAL)


def _row(job: Job, setting: Setting, choice: SettingChoice, number: int) -> tuple[Text, ...]:
    trace = f"document:{job.kit.id}/settings/{setting.id}"
    count = Quantity(value=len(setting.choices), unit="", trace=trace, digits=0)
    nth = say(programming_words.CHOICE_OF, nth=ordinal(number), count=count)
    values: Text = tuple(chain.from_iterable((", ", c.value) for c in setting.choices))[1:]
    among = say(words.AMONG, place=nth, values=values)
    came = say(words.KEEP) if choice.value == setting.default else say(words.CHANGE, default=setting.default)
    return (setting.how or "",), (setting.name,), (choice.value,), among, came, _why(job, choice)


def _why(job: Job, choice: SettingChoice) -> Text:
    """Return why a choice is right in this car, from the route of the function it serves or needs."""
    if choice.serves is not None:
        for route in job.installation.routes:
            if route.function == choice.serves:
                return say(words.WHY_SERVES, why=job.lifted(route.why, f"route:{route.task}"))
    if choice.needs is not None:
        name = capital(choice.needs)
        for route in job.installation.routes:
            if route.function == choice.needs and route.how != "none":
                return say(words.WHY_HOW, function=name, how=naming.HOW[route.how], means=choice.means)
        return say(words.WHY_UNSERVED, function=name, means=choice.means)
    return say(words.WHY_PLAIN, means=choice.means)
