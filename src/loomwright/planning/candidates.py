"""What planning weighs: tasks, candidates that could serve them, and ways that were ruled out."""

from dataclasses import dataclass
from typing import Literal

from loomwright.documents.car import Car
from loomwright.documents.functions import FunctionName
from loomwright.documents.kit import InterfacePart, Kit, Terminal
from loomwright.planning.installation import How, Joint, PartPattern
from loomwright.sentences import told

__all__ = [
    "Candidate",
    "End",
    "Offer",
    "Power",
    "RuledOut",
    "Situation",
    "Task",
    "one",
    "pin_words",
    "slug",
]


def slug(text: str) -> str:
    """Return a name as it stands in ids: 'park/neutral' becomes 'park-neutral', 'ignition:ign-2' 'ignition.ign-2'."""
    return text.replace(" ", "-").replace("/", "-").replace(":", ".")


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One thing the kit has to do in this car.

    `circuits` are the vehicle circuits it may join, of which one is enough, `terminals` the controller terminals that
    may do it. A helping task counts for nothing by itself: it is there for what needs it.
    """

    id: str
    function: FunctionName
    kind: Literal["feed", "ground", "drive", "sense", "talk", "module"]
    need: Literal["required", "wanted", "helping"]
    circuits: tuple[str, ...]
    terminals: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """Where one kit wire would meet the car."""

    kind: Literal["T tapped", "T interrupted", "tap", "cut in", "ground point", "plug", "added part"]
    terminal: str
    label: str
    colour: str
    stripe: str | None
    area_mm2: float
    length_m: float
    circuit: str | None = None
    pin: str | None = None
    branch: str | None = None
    lead: str | None = None
    place: str | None = None
    at: str = ""  # ground point or added part where there is no pin
    factory_side: Literal["harness side", "plug side"] | None = None  # where the wire is opened: see Joint

    @property
    def plug(self) -> str | None:
        """Return the plug of the pin."""
        return None if self.pin is None else self.pin.partition("/")[0]

    def joint(self, task: Task, part: object = None) -> Joint:
        """Return the joint that this end becomes once it is chosen."""
        return Joint(
            id=f"j:{slug(task.function)}/{self.pin or self.at}", function=task.function, kind=self.kind,
            terminal=self.terminal, label=self.label, colour=self.colour, stripe=self.stripe, area_mm2=self.area_mm2,
            length_m=self.length_m, circuit=self.circuit, pin=self.pin, branch=self.branch, lead=self.lead,
            place=self.place, part=part, factory_side=self.factory_side,  # type: ignore[arg-type]
        )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Power:
    """What a candidate takes from one power input of the kit, and what it takes more once something is switched on."""

    terminal: str
    run_a: float
    crank_a: float
    switched: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One way to serve a task, with its cost and everything it uses up.

    `share` is the part of the terminal's rating it takes, `isolation` tells what stands between the kit output and
    the vehicle wire, `live` in which key positions the vehicle itself makes that wire live. A feed states its fuse and
    the current it may give while running and while cranking. `meets` names the power input whose feed it puts onto the
    wire and the vehicle circuit that the key puts there. `part_does` is what a part does, where only the whole plan
    tells why it stands there: the fact that rules out the same joint without it. `reaches` are the pins that it makes
    live itself, where an input would read the kit and not the car.
    """

    id: str
    task: str
    how: How
    what: str
    ends: tuple[End, ...] = ()
    part: InterfacePart | None = None
    pattern: PartPattern | None = None
    fed_from: str | None = None
    part_why: str = ""
    part_does: str = ""
    setting: tuple[str, str] | None = None
    needs: FunctionName | None = None
    needs_bus: bool = False
    gated: str | None = None
    minutes: float
    penalties: tuple[tuple[float, str], ...] = ()
    price: float = 0.0
    share: float = 0.0
    powers: tuple[Power, ...] = ()
    isolation: Literal["none", "diode", "relay"] = "none"
    live: frozenset[str] = frozenset()
    meets: tuple[str, str] | None = None
    reaches: frozenset[str] = frozenset()
    fuse: str | None = None
    run_limit_a: float = 0.0
    crank_limit_a: float = 0.0

    @property
    def penalty(self) -> float:
        """Return the minutes counted for its lesser reliability [min]."""
        return sum(minutes for minutes, _ in self.penalties)

    @property
    def places(self) -> tuple[str, ...]:
        """Return the places that must be opened for it."""
        return tuple(dict.fromkeys(e.place for e in self.ends if e.place is not None))

    @property
    def branches(self) -> tuple[tuple[str, str], ...]:
        """Return the (branch, plug) pairs that must be plugged in for it."""
        pairs = ((e.branch, e.plug) for e in self.ends)
        return tuple(dict.fromkeys((b, p) for b, p in pairs if b is not None and p is not None))


@dataclass(frozen=True, slots=True, kw_only=True)
class RuledOut:
    """A way that cannot serve a task: the fact against it, what would cure that, and how far off the cure is.

    `far` orders the cures: 0 a part on the shelf, 1 another size, 2 another kind of output, 3 other firmware,
    4 another conductor or lead, 5 another joint, 6 something the car has not got, 7 what would not help either.
    """

    task: str
    how: How
    what: str
    fact: str
    cure: str
    far: int


Offer = tuple[tuple[Candidate, ...], tuple[RuledOut, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """One car and one kit, and what planning asks about them all the time."""

    car: Car
    kit: Kit

    def terminal(self, name: str) -> Terminal:
        """Return a controller terminal."""
        return next(t for t in self.kit.controller.terminals if t.id == name)

    @property
    def power_inputs(self) -> tuple[Terminal, ...]:
        """Return the controller's power inputs."""
        return tuple(t for t in self.kit.controller.terminals if t.kind == "power in")


def one(noun: str) -> str:
    """Return a noun with its article: 'an ignition output', 'a start output'."""
    return told("an {noun}", noun=noun) if noun[0] in "aeiou" else told("a {noun}", noun=noun)


def pin_words(car: Car, pin: str) -> str:
    """Return a pin as a person says it: 'pin 4 of ignition switch plug'."""
    plug, _, number = pin.partition("/")
    name = car.plugs[plug].name if plug in car.plugs else plug
    return told("pin {number} of {name}", number=number, name=name)
