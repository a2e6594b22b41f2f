"""One fact of a kit document written otherwise, in the plan as it is: each edit is a kit of another make."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Literal

from loomwright.documents.kit import Terminal
from loomwright.faults.measured import measured
from loomwright.planning.installation import Installation, Joint

__all__ = ["KitFact", "KitOtherwise", "kit_otherwise"]

KitFact = Literal["terminal's kind", "terminal's rating", "terminal's fuse", "lead's size", "plug's rating"]

_OPPOSITE = MappingProxyType({
    "positive output": "negative output", "negative output": "positive output",
    "positive input": "negative input", "negative input": "positive input",
})  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class KitOtherwise:
    """One fact, as the kit document has it and as it might be, and the same plan with a kit in which it is so."""

    joint: Joint
    fact: KitFact
    written: str
    instead: str
    plan: Installation


def _with_terminal(plan: Installation, terminal: Terminal, **changes: Any) -> Installation:
    controller = plan.kit.controller
    terminals = tuple(t.model_copy(update=changes) if t.id == terminal.id else t for t in controller.terminals)
    changed = controller.model_copy(update={"terminals": terminals})
    return replace(plan, kit=plan.kit.model_copy(update={"controller": changed}))


def _with_size(plan: Installation, joint: Joint, area_mm2: float) -> Installation:
    """Return the plan with another size of the conductor of one joint, in the kit and at the joint."""
    mine = {"area_mm2": area_mm2}
    leads = tuple(lead.model_copy(update=mine) if lead.id == joint.lead else lead for lead in plan.kit.leads)
    branches = tuple(
        branch
        if branch.id != joint.branch
        else branch.model_copy(
            update={
                "conductors": tuple(
                    c.model_copy(update=mine) if (c.terminal, c.label) == (joint.terminal, joint.label) else c
                    for c in branch.conductors
                )
            }
        )
        for branch in plan.kit.branches
    )
    routes = tuple(
        replace(r, joints=tuple(replace(j, area_mm2=area_mm2) if j.id == joint.id else j for j in r.joints))
        for r in plan.routes
    )
    return replace(plan, routes=routes, kit=plan.kit.model_copy(update={"leads": leads, "branches": branches}))


def _edits(plan: Installation, joint: Joint, terminal: Terminal) -> Iterator[tuple[KitFact, str, str, Installation]]:
    other = _OPPOSITE.get(terminal.kind)
    if other is not None:
        yield "terminal's kind", terminal.kind, other, _with_terminal(plan, terminal, kind=other)
    if terminal.rating_a:
        half = terminal.rating_a / 2
        yield (
            "terminal's rating", measured(terminal.rating_a, "A"), measured(half, "A"),
            _with_terminal(plan, terminal, rating_a=half),
        )  # fmt: skip
    if terminal.fuse_a:
        twice = 2 * terminal.fuse_a
        yield (
            "terminal's fuse", measured(terminal.fuse_a, "A"), measured(twice, "A"),
            _with_terminal(plan, terminal, fuse_a=twice),
        )  # fmt: skip
    if joint.lead is not None or joint.branch is not None:
        half = joint.area_mm2 / 2
        size = _with_size(plan, joint, half)
        yield "lead's size", measured(joint.area_mm2, "mm²"), measured(half, "mm²"), size


def kit_otherwise(plan: Installation) -> tuple[KitOtherwise, ...]:
    """Return each fact of the kit document that the plan rests on, changed by itself.

    The other polarity, half of what a terminal carries, twice its fuse, half the size of a lead, half of what the pins
    of a T carry: what differs between two makes of one part (common practice). Each fact is changed once, at the first
    joint that rests on it.
    """
    terminals = {t.id: t for t in plan.kit.controller.terminals}
    branches = {b.id: b for b in plan.kit.branches}
    out: list[KitOtherwise] = []
    done: set[tuple[str, str]] = set()
    for joint in plan.joints:
        edits = list(_edits(plan, joint, terminals[joint.terminal]))
        branch = branches.get(joint.branch or "")
        if branch is not None and branch.kind == "t":
            half = branch.rating_a / 2
            kit = plan.kit.model_copy(
                update={
                    "branches": tuple(
                        b.model_copy(update={"rating_a": half}) if b.id == branch.id else b for b in plan.kit.branches
                    )
                }
            )
            was, then = measured(branch.rating_a, "A"), measured(half, "A")
            edits.append(("plug's rating", was, then, replace(plan, kit=kit)))
        for fact, written, instead, changed in edits:
            of = {"lead's size": joint.id, "plug's rating": joint.branch or ""}.get(fact, joint.terminal)
            if (fact, of) not in done:
                done.add((fact, of))
                out.append(KitOtherwise(joint=joint, fact=fact, written=written, instead=instead, plan=changed))
    return tuple(out)
