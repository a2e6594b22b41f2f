"""Part D of the guide: options set, and the kit let to learn the car, as press and reply."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from loomwright.documents.kit import Dialogue, DialogueStep, Setting, SettingChoice
from loomwright.papers.blocks import Block, Heading, Paragraph, Step, Table, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.cold import cold_again
from loomwright.papers.count_words import ordinal
from loomwright.papers.job import Job
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import joined, listed, say
from loomwright.papers.stepping import SEAT, Key, at_controller, lines, needs
from loomwright.papers.words.en import cautions, naming
from loomwright.papers.words.en import programming as words
from loomwright.sentences import told

__all__ = ["changed_settings", "dialogues_needed", "engine_learned", "exchange", "programming", "setting_rows"]


def setting_rows(job: Job) -> tuple[tuple[Setting, SettingChoice, int], ...]:
    """Return every setting with the choice of the plan and that choice's number in the list."""
    values = dict(job.installation.settings)
    out = []
    for setting in job.kit.settings:
        value = values.get(setting.id, setting.default)
        number = next(n for n, c in enumerate(setting.choices, 1) if c.value == value)
        out.append((setting, setting.choices[number - 1], number))
    return tuple(out)


def changed_settings(job: Job) -> tuple[tuple[Setting, SettingChoice, int], ...]:
    """Return the settings that must be changed from how they come."""
    return tuple(row for row in setting_rows(job) if row[1].value != row[0].default)


def dialogues_needed(job: Job) -> tuple[Dialogue, ...]:
    """Return the dialogues of this car in their order: the module learns, options are set, the controller learns.

    The module learns where it serves anything, in the way that wants as many keys as this car does where there are
    several; the controller's options are set where one differs; and what else can be learned is learned where a wire
    brings pulses to count.
    """
    ways = _ways_to_learn(job)
    wanted = job.car.traits.keys_to_learn
    right = next((d for d in ways if d.keys == wanted and wanted is not None), ways[0] if ways else None)
    change = any(s.of == "controller" for s, _, _ in changed_settings(job))
    learn_car = [right] if right is not None and job.uses_module else []
    program = [d for d in job.kit.dialogues if d.kind == "programming" and change]
    return (*learn_car, *program, *engine_learned(job))


def engine_learned(job: Job) -> tuple[Dialogue, ...]:
    """Return the dialogues by which the controller learns the engine, where a wire brings pulses to count."""
    ways = _ways_to_learn(job)
    pulses = any(job.terminal(j).kind == "pulse input" for j in job.installation.joints)
    return tuple(d for d in job.kit.dialogues if d.kind == "learning" and d not in ways and pulses)


def _ways_to_learn(job: Job) -> tuple[Dialogue, ...]:
    """Return the dialogues by which the vehicle module may learn a car, the one that its document names first."""
    module = job.kit.vehicle_module
    own = None if module is None else module.learning
    learning = [d for d in job.kit.dialogues if d.kind == "learning" and (d.id == own or d.keys is not None)]
    return tuple(sorted(learning, key=lambda d: d.id != own))


def programming(job: Job) -> Iterator[Block]:
    """Yield part D."""
    yield Heading(text=words.HEAD, level=1, anchor="part-d")
    yield Paragraph(text=say(words.INTRO))
    stop = job.sound_in("kit dead") and bool(job.fused)
    if stop:
        yield Paragraph(text=job.say(words.BREAK, labels=listed(job.fused, naming.AND)))
        yield from (Paragraph(text=t) for t in cold_again(job))
    yield caution(cautions.LEARNING)
    dialogues = dialogues_needed(job)
    if not changed_settings(job):
        yield Paragraph(text=say(words.NOTHING_TO_SET))
    yield from _untold(job, dialogues)
    for setting, choice, _ in changed_settings(job):
        if _by_jumper(job, setting):
            yield _jumper(job, setting, choice)
    taught = [_dialogue(job, dialogue) for dialogue in dialogues]
    if taught and stop:
        taught[-1] = replace(taught[-1], do=(*taught[-1].do, say(words.BREAK_DO), *cold_again(job)), may_stop=True)
    yield from taught


def _by_jumper(job: Job, setting: Setting) -> bool:
    return setting.of == "vehicle module" and job.kit.vehicle_module is not None


def _untold(job: Job, dialogues: tuple[Dialogue, ...]) -> Iterator[Block]:
    """Yield what must be changed and no step changes: a kit without a dialogue for its options."""
    programs = any(d.kind == "programming" for d in dialogues)
    left = [row for row in changed_settings(job) if not _by_jumper(job, row[0]) and not programs]
    if left:
        yield Heading(text=words.SETTINGS_HEAD)
        yield Paragraph(text=say(words.SETTINGS_INTRO))
        yield _table(job, left)


def _table(job: Job, settings: Iterable[tuple[Setting, SettingChoice, int]]) -> Table:
    rows = []
    for setting, choice, number in settings:
        nth = say(
            words.CHOICE_OF, nth=ordinal(number),
            count=Quantity(
                value=len(setting.choices), unit="", trace=f"document:{job.kit.id}/settings/{setting.id}", digits=0
            ),
        )  # fmt: skip
        rows.append(((setting.how or "",), (setting.name,), (choice.value,), nth))
    return Table(head=words.SETTINGS_TABLE, rows=tuple(rows), widths=(1.2, 2.0, 1.2, 1.0))


def _jumper(job: Job, setting: Setting, choice: SettingChoice) -> Step:
    module = job.kit.vehicle_module
    spot = at_controller(job)
    return Step(
        id=f"set:{setting.id}", title=told(words.SET_JUMPER_TITLE, how=setting.how, name=setting.name), kind="program",
        needs=needs("on", "out"), place=spot.words, access=spot.access,
        do=lines(
            words.SET_JUMPER_DO, module="" if module is None else module.name, how=setting.how or "",
            name=setting.name, value=choice.value, means=choice.means,
        ),
        see=say(words.SET_JUMPER_SEE), if_not=say(words.SET_JUMPER_IF_NOT),
    )  # fmt: skip


def exchange(job: Job, dialogue: Dialogue, step: DialogueStep, *, first: bool) -> Text:
    """Return one press with its answer and its way out: they belong together on the page."""
    if step.within_s is None or first:
        press = say(words.PRESS, press=step.press)
    else:
        trace = f"document:{job.kit.id}/dialogues/{dialogue.id}/within_s"
        seconds = Quantity(value=step.within_s, unit="s", trace=trace, digits=0)
        press = say(words.PRESS_WITHIN, seconds=seconds, press=step.press)
    way_out = () if step.way_out is None else say(words.WAY_OUT, way_out=step.way_out)
    return joined(press, say(words.REPLY, reply=step.reply), way_out)


def _to_set(job: Job, setting: Setting, choice: SettingChoice, number: int) -> Text:
    """Return an option to set, with what its number and its choice mean in presses."""
    trace = f"document:{job.kit.id}/settings/{setting.id}"
    nth = Quantity(value=number, unit="", trace=trace, digits=0)
    how = setting.how or setting.name
    item = re.search(r"\d+", how)
    if item is None:
        return say(words.CHOICE_ITEM_PLAIN, how=how, name=setting.name, value=choice.value, nth=nth)
    count = Quantity(value=float(item[0]), unit="", trace=trace, digits=0)
    return say(words.CHOICE_ITEM, how=how, name=setting.name, value=choice.value, item=count, nth=nth)


def _dialogue(job: Job, dialogue: Dialogue) -> Step:
    do = [exchange(job, dialogue, step, first=n == 0) for n, step in enumerate(dialogue.steps)]
    module = job.kit.vehicle_module
    learns_car = module is not None and dialogue in _ways_to_learn(job)
    if learns_car and module is not None:
        keys = job.car.traits.keys_to_learn
        if keys:
            trace = f"document:{job.car.vehicle}/traits/keys_to_learn"
            do.insert(0, say(words.KEYS, count=Quantity(value=keys, unit="", trace=trace, digits=0)))
        names = {s.id: s.name for s in job.kit.settings}
        if module.locked and module.adjustable_when_locked:
            which = listed((names.get(a, a) for a in module.adjustable_when_locked), naming.AND)
            do.append(say(words.LOCKED, which=which))
    if dialogue.kind == "programming":
        choices = [
            joined(say(words.CHOICES_TO_SET), _to_set(job, s, c, n))
            for s, c, n in changed_settings(job)
            if s.of == "controller"
        ]
        do[:0] = [*choices, *([say(words.CHOICES_ONE_BY_ONE)] if len(choices) > 1 else [])]
    key: Key = "out" if dialogue.key == "off" else dialogue.key
    runs = learns_car or dialogue.kind == "learning"
    return Step(
        id=f"dialogue:{dialogue.id}", title=dialogue.name, kind="program", needs=needs("on", key), place=SEAT.words,
        access=SEAT.access, do=tuple(do), see=say(words.SEE, reply=dialogue.steps[-1].reply),
        if_not=say(words.IF_NOT),
        cautions=(
            *((caution(cautions.CRANKING),) if runs else ()), *((caution(cautions.HIDDEN_KEY),) if learns_car else ())
        ),
    )  # fmt: skip
