"""The joined netlist: named nodes, and elements that say what they are, when they conduct and where they came from."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from loomwright.documents.behaviour import STIMULI
from loomwright.network.states import State

__all__ = ["ALWAYS", "GROUND", "Element", "Kind", "Netlist", "Origin", "Shape", "When", "line", "relabel"]

GROUND = "ground"

Kind = Literal[
    "battery", "alternator", "wire", "link", "joint", "fuse", "switch", "contact", "coil", "diode", "lamp", "resistor",
    "motor", "pull", "signal", "driver", "input", "meter", "test lamp",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A rising piecewise-linear characteristic i = f(u): break voltages and, per segment, slope and intercept."""

    breaks: tuple[float, ...] = ()
    g: tuple[float, ...]
    i0: tuple[float, ...]


def line(conductance_s: float) -> Shape:
    """Return the characteristic of a plain conductance [S]."""
    return Shape(g=(conductance_s,), i0=(0.0,))


@dataclass(frozen=True, slots=True, kw_only=True)
class When:
    """One condition under which an element conducts; every part that is given must hold."""

    keys: frozenset[str] | None = None
    stimuli: tuple[tuple[str, bool], ...] = ()
    command: str | None = None
    joined_from: int | None = None  # conducts once this many joints are made
    joined_below: int | None = None  # conducts until then
    not_stage: str | None = None

    def holds(self, state: State, joined: int) -> bool:
        """Tell whether the condition holds in a state with `joined` joints made."""
        return (
            (self.keys is None or state.key in self.keys)
            and all(state.holds(name) == wanted for name, wanted in self.stimuli)
            and (self.command is None or self.command in state.commands)
            and (self.joined_from is None or joined >= self.joined_from)
            and (self.joined_below is None or joined < self.joined_below)
            and (self.not_stage is None or state.stage != self.not_stage)
        )

    @staticmethod
    def of_condition(text: str) -> "When":
        """Return the condition a document writes as 'brake pressed' or 'not in park'."""
        wanted = not text.startswith("not ")
        name = text if wanted else text[4:]
        if name not in STIMULI:
            raise ValueError(f"{name!r} is no stimulus")
        return When(stimuli=((name, wanted),))


ALWAYS: tuple[When, ...] = (When(),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where an element came from: the circuit or kit part, and the step of its path."""

    side: Literal["vehicle", "kit", "joint", "tool"]
    of: str  # circuit id, terminal id, joint id
    step: int | None = None
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Element:
    """A two-ended element between nodes `a` and `b`: i = k f(v_a - v_b - emf) from a to b.

    `when` lists conditions of which one must hold for it to conduct; a contact of a relay names its `coil` instead and
    may have `when` besides. `low` and `high` are the factors between which its conductance lies in a sound car;
    `emf_spread_v` is the same for its source voltage.
    """

    id: str
    kind: Kind
    a: str
    b: str
    shape: Shape
    origin: Origin
    emf_v: float = 0.0
    emf_spread_v: float = 0.0
    when: tuple[When, ...] = ALWAYS
    coil: str | None = None
    closed_when_pulled_in: bool = True
    pull_in_a: float | None = None
    drop_out_a: float | None = None
    low: float = 1.0
    high: float = 1.0
    rating_a: float | None = None
    fuse_a: float | None = None
    area_mm2: float | None = None

    def conducts(self, state: State, joined: int) -> bool:
        """Tell whether one of its conditions holds (a relay contact also needs its coil)."""
        return any(w.holds(state, joined) for w in self.when)


@dataclass(frozen=True, slots=True, kw_only=True)
class Netlist:
    """The whole joined circuit; `GROUND` is battery negative and no node of the list."""

    nodes: tuple[str, ...]
    elements: tuple[Element, ...]
    joints_made: int  # how many joints a fully fitted kit has

    @staticmethod
    def of(elements: Sequence[Element], joints_made: int) -> "Netlist":
        """Return the netlist of some elements, nodes in order of first use."""
        names: dict[str, None] = {}
        for element in elements:
            names.setdefault(element.a)
            names.setdefault(element.b)
        names.pop(GROUND, None)
        ids = [e.id for e in elements]
        if len(set(ids)) != len(ids):
            twice = sorted({i for i in ids if ids.count(i) > 1})
            raise ValueError(f"element ids stand twice: {', '.join(twice)}")
        return Netlist(nodes=tuple(names), elements=tuple(elements), joints_made=joints_made)

    def joined(self, state: State) -> int:
        """Return how many joints are made in a state."""
        if state.stage in ("bare", "removed"):
            return 0
        if state.stage == "fitting" and state.joined is not None:
            return state.joined
        return self.joints_made


def relabel(element: Element, **changes: object) -> Element:
    """Return a copy of an element with some fields changed."""
    return replace(element, **changes)  # type: ignore[arg-type]
