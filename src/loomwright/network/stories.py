"""The stories the proof tells: ordered states of an installation, listed one by one."""

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.documents.behaviour import KeyPosition
from loomwright.documents.car import Car
from loomwright.network.asking import stimuli_of_circuit
from loomwright.network.commands import command_table, momentary_commands
from loomwright.network.fitting_order import FitAction, fitting_order
from loomwright.network.states import Stage, State
from loomwright.planning.installation import Installation

__all__ = ["Story", "bare_stories", "stimuli_of", "stories_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """States in order; relays carry their position from one to the next."""

    id: str
    name: str
    states: tuple[State, ...]


_RUNNING = frozenset({"engine running"})


def stimuli_of(car: Car) -> tuple[str, ...]:
    """Return the stimuli this car's circuits answer to, in the order the documents name them."""
    return tuple(dict.fromkeys(s for c in car.circuits.values() for s in stimuli_of_circuit(c)))


def _key_story(stage: Stage, joined: int | None = None) -> tuple[State, ...]:
    """Return a start and stop with the key: off, accessory, run, start, run with the engine on, off again."""

    def at(key: KeyPosition, active: frozenset[str] = frozenset()) -> State:
        return State(stage=stage, key=key, active=active, joined=joined)

    return (at("off"), at("acc"), at("run"), at("crank"), at("run", _RUNNING), at("off"))


def _stimulus_stories(car: Car, stage: Stage, name: str) -> Iterator[Story]:
    for stimulus in stimuli_of(car):
        active = frozenset({stimulus})
        states = [
            State(stage=stage, key="off"),
            State(stage=stage, key="off", active=active),
            State(stage=stage, key="run", active=active),
        ]
        if stage == "bare" and stimulus != "engine running":
            states.append(State(stage=stage, key="run", active=active | _RUNNING))
        if stimulus == "in park":
            states.append(State(stage=stage, key="crank", active=active))
        yield Story(id=f"{stage}/{stimulus}", name=f"{name}: {stimulus}", states=tuple(states))


def bare_stories(car: Car) -> tuple[Story, ...]:
    """Return the stories of the untouched car."""
    return (
        Story(id="bare/key", name="the untouched car on its key", states=_key_story("bare")),
        *_stimulus_stories(car, "bare", "the untouched car"),
    )


def _start_stories(installation: Installation) -> Iterator[Story]:
    table = command_table(installation)

    def at(phase: str, active: frozenset[str] = frozenset(), key: KeyPosition = "off") -> State:
        return State(stage="fitted", key=key, active=active, commands=table[phase])

    rest = State(stage="fitted", key="off")
    begin = (rest, at("ignition on"), at("cranking"), at("running", _RUNNING))
    yield Story(id="fitted/start", name="a start by the kit", states=(*begin, rest))
    for stimulus in stimuli_of(installation.car):
        if stimulus == "engine running":
            continue
        active = frozenset({stimulus})
        yield Story(
            id=f"fitted/running/{stimulus}",
            name=f"running by the kit: {stimulus}",
            states=(*begin, at("running", _RUNNING | active)),
        )
    yield Story(
        id="fitted/crank-out-of-park",
        name="the kit asked to crank with the selector out of park",
        states=(rest, at("cranking", frozenset({"in park"}))),
    )
    takeover: tuple[KeyPosition, ...] = ("acc", "run")
    yield Story(
        id="fitted/takeover",
        name="the key takes the running engine over",
        states=(
            *begin,
            *(at("running", _RUNNING, key) for key in takeover),
            State(stage="fitted", key="run", active=_RUNNING),
        ),
    )
    yield Story(
        id="fitted/asleep",
        name="the parked car",
        states=(rest, State(stage="fitted", key="off", active=frozenset({"awake"}))),
    )
    if "start button" in table["cranking"]:
        pressed = State(stage="fitted", key="run", active=_RUNNING, commands=frozenset({"start button"}))
        yield Story(
            id="fitted/stop-by-button",
            name="the kit's press that stops the engine of a button car",
            states=(rest, pressed),
        )
    for command in momentary_commands(installation):
        yield Story(
            id=f"fitted/{command}",
            name=f"the kit's {command} output",
            states=(rest, State(stage="fitted", key="off", commands=frozenset({command}))),
        )


def _fitting_stories(order: tuple[FitAction, ...]) -> Iterator[Story]:
    for number, action in enumerate(order[:-1], 1):
        yield Story(
            id=f"fitting/{number}",
            name=f"after step {number} of fitting ({action.id})",
            states=_key_story("fitting", number),
        )


def stories_of(installation: Installation) -> tuple[Story, ...]:
    """Return every story the proof tells of an installation."""
    car = installation.car
    return (
        *bare_stories(car),
        *_fitting_stories(fitting_order(installation)),
        Story(id="fitted/key", name="the fitted car on its key", states=_key_story("fitted")),
        *_stimulus_stories(car, "fitted", "the fitted car"),
        *_start_stories(installation),
        Story(id="kit dead/key", name="the car on its key with the kit dead", states=_key_story("kit dead")),
        *_stimulus_stories(car, "kit dead", "the car with the kit dead"),
    )
