"""The order in which a kit is fitted: ground first, then taps place by place, plugs, and the controller's plug last."""

from dataclasses import dataclass
from typing import Literal

from loomwright.planning.installation import Installation, Joint

__all__ = ["CONTROLLER_ACTION", "FitAction", "action_of", "fitting_order"]

CONTROLLER_ACTION = "controller"


@dataclass(frozen=True, slots=True, kw_only=True)
class FitAction:
    """One thing the buyer joins: a lead, an added part, a plug or T with all its conductors, or the controller.

    A lead that is cut in counts as a tap; its joint tells that the wire is opened for it.
    """

    id: str
    kind: Literal["ground", "tap", "added part", "plug", "T", "controller"]
    joints: tuple[Joint, ...]
    place: str | None
    branch: str | None


def _sense_first(installation: Installation, joint: Joint) -> int:
    """Within a place, wires that only listen come before wires the kit drives: a slip then does least."""
    kinds = {t.id: t.kind for t in installation.kit.controller.terminals}
    return 0 if kinds[joint.terminal].endswith("input") else 1


def fitting_order(installation: Installation) -> tuple[FitAction, ...]:
    """Return the actions in fitting order; the buyer may stop after any of them only where the proof says so."""
    joints = installation.joints
    actions: list[FitAction] = [
        FitAction(id=j.id, kind="ground", joints=(j,), place=j.place, branch=None)
        for j in joints
        if j.kind == "ground point"
    ]
    taps = [j for j in joints if j.kind in ("tap", "cut in")]
    order = list(dict.fromkeys(j.place for j in taps))
    taps.sort(key=lambda j: (order.index(j.place), _sense_first(installation, j), j.id))
    actions += [FitAction(id=j.id, kind="tap", joints=(j,), place=j.place, branch=None) for j in taps]
    actions += [
        FitAction(id=j.id, kind="added part", joints=(j,), place=j.place, branch=None)
        for j in joints
        if j.kind == "added part"
    ]
    branches = {b.id: b for b in installation.kit.branches}
    for kind in ("plug", "t"):
        for branch in branches.values():
            held = tuple(j for j in joints if j.branch == branch.id)
            if held and branch.kind == kind:
                name: Literal["plug", "T"] = "plug" if kind == "plug" else "T"
                actions.append(
                    FitAction(id=f"{name}:{branch.id}", kind=name, joints=held, place=held[0].place, branch=branch.id)
                )
    actions.append(FitAction(id=CONTROLLER_ACTION, kind="controller", joints=(), place=None, branch=None))
    return tuple(actions)


def action_of(order: tuple[FitAction, ...], joint: str) -> int:
    """Return the number (from 1) of the action that makes a joint."""
    return next(n for n, action in enumerate(order, 1) if any(j.id == joint for j in action.joints))
