"""Wiring mistakes sown at random into a plan: what a builder or a buyer does wrong, as the circuit that comes of it."""

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from loomwright.documents.behaviour import StartRequest
from loomwright.documents.kit import Terminal
from loomwright.faults.landing import landings
from loomwright.network.elements import Element, Netlist, line, relabel
from loomwright.network.joining import joined_netlist
from loomwright.planning.installation import Installation, Joint

__all__ = ["KINDS", "Sown", "sow"]


@dataclass(frozen=True, kw_only=True)
class Sown:
    """One mistake: the plan by which it is judged, the circuit as it was built, and what a finding may name it by."""

    kind: str
    what: str
    plan: Installation
    netlist: Netlist
    names: frozenset[str]


def _with_joints(plan: Installation, changes: dict[str, dict[str, Any]]) -> Installation:
    return replace(
        plan,
        routes=tuple(
            replace(r, joints=tuple(replace(j, **changes.get(j.id, {})) for j in r.joints)) for r in plan.routes
        ),
    )


def _with_terminal(plan: Installation, terminal: str, **changes: Any) -> Installation:
    terminals = tuple(
        t.model_copy(update=changes) if t.id == terminal else t for t in plan.kit.controller.terminals
    )  # fmt: skip
    controller = plan.kit.controller.model_copy(update={"terminals": terminals})
    return replace(plan, kit=plan.kit.model_copy(update={"controller": controller}))


def _terminal(plan: Installation, joint: Joint) -> Terminal:
    return next(t for t in plan.kit.controller.terminals if t.id == joint.terminal)


def _of_joint(*joints: Joint) -> set[str]:
    named = {n for j in joints for n in (j.id, j.circuit or "", f"k:{j.terminal}", j.terminal)}
    return named | {j.part.id for j in joints if j.part is not None}


def _built(kind: str, what: str, plan: Installation, built: Installation, *joints: Joint, **more: Any) -> Sown:
    return Sown(
        kind=kind, what=what, plan=plan, netlist=joined_netlist(built),
        names=frozenset({*_of_joint(*joints), *more.get("names", ())} - {""}),
    )  # fmt: skip


def _edited(
    kind: str, what: str, plan: Installation, edit: Callable[[Element], Element | None], names: set[str]
) -> Sown:
    netlist = joined_netlist(plan)
    elements = [changed for e in netlist.elements if (changed := edit(e)) is not None]
    return Sown(
        kind=kind, what=what, plan=plan, netlist=Netlist.of(elements, netlist.joints_made),
        names=frozenset(names - {""}),
    )


def _on_wires(plan: Installation) -> list[Joint]:
    return [j for j in plan.joints if j.pin is not None and j.kind in ("tap", "T tapped")]


def _moved(plan: Installation) -> Iterator[Callable[[], Sown]]:
    for joint in _on_wires(plan):
        for landing in landings(plan.car, joint.pin or ""):
            if joint.kind == "T tapped" and landing.pin.partition("/")[0] != (joint.pin or "").partition("/")[0]:
                continue  # a T's conductor ends in its own plug
            yield lambda j=joint, at=landing.pin: _built(  # type: ignore[misc]
                "moved to a wrong pin", f"{j.id} to {at}", plan, _with_joints(plan, {j.id: {"pin": at}}), j,
                names={plan.car.pins[at].circuit},
            )  # fmt: skip


def _swapped(plan: Installation) -> Iterator[Callable[[], Sown]]:
    wires = _on_wires(plan)
    for n, one in enumerate(wires):
        for other in wires[n + 1 :]:
            if one.kind == other.kind and one.place == other.place and one.branch == other.branch:
                yield lambda a=one, b=other: _built(  # type: ignore[misc]
                    "two leads swapped", f"{a.id} with {b.id}", plan,
                    _with_joints(plan, {a.id: {"pin": b.pin}, b.id: {"pin": a.pin}}), a, b,
                )  # fmt: skip


def _crossed(plan: Installation) -> Iterator[Callable[[], Sown]]:
    """Two conductors in each other's place of the controller's plug."""
    for n, one in enumerate(plan.joints):
        for other in plan.joints[n + 1 :]:
            if _terminal(plan, one).plug != _terminal(plan, other).plug or one.terminal == other.terminal:
                continue

            def cross(e: Element, a: Joint = one, b: Joint = other) -> Element:
                ends = {f"{a.id}/lead": f"k:{b.terminal}:lead", f"{b.id}/lead": f"k:{a.terminal}:lead"}
                return relabel(e, a=ends[e.id]) if e.id in ends else e

            yield lambda a=one, b=other, how=cross: _edited(  # type: ignore[misc]
                "crossed at the controller", f"{a.id} with {b.id}", plan, how, _of_joint(a, b)
            )


def _wrong_output(plan: Installation) -> Iterator[Callable[[], Sown]]:
    """The conductor of an output in the place of another output that this car leaves free."""
    used = {j.terminal for j in plan.joints}
    free = [t for t in plan.kit.controller.terminals if t.kind.endswith("output") and t.id not in used]
    for joint in plan.joints:
        if not _terminal(plan, joint).kind.endswith("output"):
            continue
        for terminal in free:

            def change(e: Element, j: Joint = joint, t: Terminal = terminal) -> Element:
                return relabel(e, a=f"k:{t.id}") if e.id == f"{j.id}/lead" else e

            yield lambda j=joint, t=terminal, how=change: _edited(  # type: ignore[misc]
                "output of another function", f"{j.id} on {t.id}", plan, how, _of_joint(j)
            )


def _left_off(plan: Installation) -> Iterator[Callable[[], Sown]]:
    for joint in plan.joints:
        yield lambda j=joint: _edited(  # type: ignore[misc]
            "joined to nothing", j.id, plan, lambda e: None if e.id == j.id else e, _of_joint(j)
        )


def _fuse(plan: Installation) -> Iterator[Callable[[], Sown]]:
    for joint in plan.joints:
        rating = _terminal(plan, joint).fuse_a
        if rating is not None:
            for kind, fuse in (("fuse left out", None), ("fuse too large", 2.0 * rating), ("fuse too small", 5.0)):
                built = _with_terminal(plan, joint.terminal, fuse_a=fuse)
                yield lambda k=kind, j=joint, b=built: _built(k, j.id, plan, b, j)  # type: ignore[misc]


def _thin(plan: Installation) -> Iterator[Callable[[], Sown]]:
    """The lead of something that carries amperes, drawn as a signal wire."""
    for joint in plan.joints:
        terminal = _terminal(plan, joint)
        if terminal.kind in ("power in", "relay output") and joint.area_mm2 > 0.5:
            built = _with_joints(plan, {joint.id: {"area_mm2": 0.35}})
            yield lambda j=joint, b=built: _built("lead too thin", j.id, plan, b, j)  # type: ignore[misc]


def _in_series(plan: Installation) -> Iterator[Callable[[], Sown]]:
    for joint in plan.joints:
        terminal = _terminal(plan, joint)
        for kind, wanted, ohms in (
            ("ground at a painted point", ("ground",), (2.0, 20.0)),
            ("bad joint", ("power in", "relay output"), (0.5, 5.0)),
        ):
            if terminal.kind in wanted:
                for ohm in ohms:
                    yield lambda k=kind, j=joint, r=ohm: _edited(  # type: ignore[misc]
                        k, f"{j.id}, {r} ohm", plan,
                        lambda e: relabel(e, shape=line(1.0 / r)) if e.id == j.id else e, {*_of_joint(j), "k:ground"},
                    )  # fmt: skip


def _parts(plan: Installation) -> Iterator[Callable[[], Sown]]:
    for joint in plan.joints:
        use = joint.part
        if use is None:
            continue
        if use.pattern not in ("relay changes over", "diode cuts in"):
            bare = _with_joints(plan, {joint.id: {"part": None}})
            yield lambda j=joint, b=bare: _built("interface part missing", j.id, plan, b, j)  # type: ignore[misc]
        if use.pattern.startswith("diode"):

            def turn(e: Element, name: str = use.id) -> Element:
                return relabel(e, a=e.b, b=e.a) if e.id == name else e

            yield lambda j=joint, how=turn: _edited(  # type: ignore[misc]
                "diode reversed", j.id, plan, how, _of_joint(j)
            )
        elif use.pattern.startswith("relay"):
            for name in ("coil", "contact"):
                yield lambda j=joint, n=name, u=use: _edited(  # type: ignore[misc]
                    "relay without a wire", f"{j.id}, {n}", plan,
                    lambda e: None if n == "contact" and e.id == f"{u.id}/contact"
                    else relabel(e, shape=line(1e-12)) if n == "coil" and e.id == f"{u.id}/coil" else e,
                    _of_joint(j),
                )  # fmt: skip
        else:
            yield lambda j=joint, u=use: _edited(  # type: ignore[misc]
                "resistor of another value", j.id, plan,
                lambda e: relabel(e, shape=line(0.2 * e.shape.g[0])) if e.id == u.id else e, _of_joint(j),
            )  # fmt: skip


def _t_wires(plan: Installation) -> Iterator[Callable[[], Sown]]:
    through = [e.id for e in joined_netlist(plan).elements if e.id.startswith("t:") and e.id.endswith("/through")]
    pins = [name.removeprefix("t:").removesuffix("/through") for name in through]

    def names(*at: str) -> set[str]:
        return {*at, *(plan.car.pins[pin].circuit for pin in at)}

    for pin in pins:
        yield lambda p=pin: _edited(  # type: ignore[misc]
            "T wire missing", p, plan, lambda e: None if e.id == f"t:{p}/through" else e, names(p)
        )
    for one, other in pairwise(pins):
        if one.partition("/")[0] != other.partition("/")[0]:
            continue

        def cross(e: Element, a: str = one, b: str = other) -> Element:
            ends = {f"t:{a}/through": f"t:{b}:b", f"t:{b}/through": f"t:{a}:b"}
            return relabel(e, b=ends[e.id]) if e.id in ends else e

        yield lambda a=one, b=other, how=cross: _edited(  # type: ignore[misc]
            "T wires crossed", f"{a} with {b}", plan, how, names(a, b)
        )


_OTHER = {
    "positive output": "negative output", "negative output": "positive output", "relay output": "negative output",
    "positive input": "negative input", "negative input": "positive input",
}  # fmt: skip


def _polarity(plan: Installation) -> Iterator[Callable[[], Sown]]:
    """A controller whose terminal works the other way round than the kit document says."""
    for joint in plan.joints:
        kind = _terminal(plan, joint).kind
        if kind not in _OTHER:
            continue
        built = _with_terminal(plan, joint.terminal, kind=_OTHER[kind])
        yield lambda j=joint, b=built: replace(  # type: ignore[misc]
            _built("terminal of the other polarity", j.id, plan, b, j),
            plan=replace(plan, kit=b.kit) if _OTHER[_terminal(plan, j).kind].endswith("input") else plan,
        )


def _start_held(plan: Installation) -> Iterator[Callable[[], Sown]]:
    for joint in plan.joints:
        if joint.function == "start" and not _pulsed(plan):
            held = _with_terminal(plan, joint.terminal, on_while=("cranking", "running"))
            yield lambda j=joint, b=held: replace(_built("start held", j.id, plan, b, j), plan=b)  # type: ignore[misc]


def _pulsed(plan: Installation) -> bool:
    starts = [plan.car.circuits[j.circuit] for j in plan.joints if j.function == "start" and j.circuit]
    return any(isinstance(c.behaviour, StartRequest) for c in starts)


def _settings(plan: Installation) -> Iterator[Callable[[], Sown]]:
    """A setting at another value, where this car has anything to do with it."""
    for setting in plan.kit.settings:
        if setting.id == "start-signal" and not _pulsed(plan):
            continue
        if setting.id not in ("start-signal", "engine-sensing"):
            continue
        now = dict(plan.settings)[setting.id]
        starts = {j.id for j in plan.joints if j.function == "start"}
        for choice in setting.choices:
            if choice.value == now:
                continue
            wrong = tuple((s, choice.value if s == setting.id else v) for s, v in plan.settings)
            changed = replace(plan, settings=wrong)
            yield lambda b=changed, s=setting, c=choice, t=starts: replace(  # type: ignore[misc]
                _built("setting wrong", f"{s.id} at {c.value}", plan, plan, names={s.id, *t}), plan=b
            )


KINDS: tuple[tuple[Callable[[Installation], Iterator[Callable[[], Sown]]], int], ...] = (
    (_moved, 10), (_swapped, 2), (_crossed, 3), (_wrong_output, 2), (_left_off, 3), (_fuse, 2), (_thin, 2),
    (_in_series, 2), (_parts, 3), (_t_wires, 3), (_polarity, 2), (_start_held, 1), (_settings, 1),
)  # fmt: skip
"""Every kind of mistake with how many of it are sown into one plan at most."""


def sow(plan: Installation, seed: str) -> Sequence[Sown]:
    """Return mistakes of every kind that this plan allows, drawn by the seed."""
    drawn = random.Random(seed)
    out: list[Sown] = []
    for kind, count in KINDS:
        possible = list(kind(plan))
        out += [make() for make in drawn.sample(possible, min(count, len(possible)))]
    return out
