"""Candidates without a vehicle wire: a setting in its place, or a part that is added to the car."""

from collections.abc import Iterator

from loomwright.planning.candidates import Candidate, End, RuledOut, Situation, Task
from loomwright.planning.minutes import SETTING_MINUTES
from loomwright.sentences import told

__all__ = ["added_part_candidates", "setting_candidates"]


def setting_candidates(at: Situation, task: Task, served: frozenset[str]) -> Iterator[Candidate | RuledOut]:
    """Yield every choice of a setting that stands in for the wire.

    `served` are the functions that are a task here; a choice that needs another one cannot be had.
    """
    if task.kind in ("feed", "ground", "talk", "module"):
        return
    for setting in at.kit.settings:
        for choice in setting.choices:
            if choice.serves != task.function:
                continue
            what = told("the setting {setting}: {value}", setting=setting.name, value=choice.value)
            if choice.needs is not None and choice.needs not in served:
                yield RuledOut(
                    task=task.id, how="setting", what=what, fact=told(
                        "It needs {needs}, which is not joined here.", needs=choice.needs,
                    ),
                    cure=told("{needs} were wired", needs=choice.needs), far=4,
                )  # fmt: skip
                continue
            yield Candidate(
                id=f"{task.id}|setting|{setting.id}|{choice.value}", task=task.id, how="setting", what=what,
                setting=(setting.id, choice.value), needs=choice.needs, minutes=SETTING_MINUTES,
                penalties=((choice.penalty, "it is less reliable than a wire"),) if choice.penalty else (),
            )  # fmt: skip


def added_part_candidates(at: Situation, task: Task) -> Iterator[Candidate]:
    """Yield every part of the kit that serves the task by itself, gated until it has been tried in the car."""
    if task.kind != "sense":
        return
    leads = {lead.id: lead for lead in at.kit.leads}
    for part in at.kit.added_parts:
        if part.function != task.function:
            continue
        lead = leads[part.lead]
        end = End(
            kind="added part", terminal=part.terminal, label=lead.label, colour=lead.colour, stripe=lead.stripe,
            area_mm2=lead.area_mm2, length_m=lead.length_m, lead=lead.id, at=part.id,
        )  # fmt: skip
        yield Candidate(
            id=f"{task.id}|added part|{part.id}", task=task.id, how="added part", what=part.name, ends=(end,),
            gated=told("{part} fitted and tested", part=part.name), minutes=part.minutes, price=part.price,
        )  # fmt: skip
