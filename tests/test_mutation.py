"""A changed colour, pin or trigger of any circuit is seen downstream, and seen as what it is.

Each circuit of the demonstration's vehicle is changed in the text of its document, one thing at a time, and everything
is made again from it: messages, plan, readings, guide. Where a change may stay unseen, it is listed below with the
reason, and the list may hold nothing that is seen.
"""

import re
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal

import pytest

from loomwright.documents.demo import demo_files
from loomwright.documents.vehicle import Circuit
from loomwright.network.proof import prove, prove_solved
from loomwright.network.readings import readings
from loomwright.network.results import Proof, Readings
from loomwright.papers.blocks import Block
from loomwright.papers.guide import guide
from loomwright.papers.match_object import match_object, readings_object
from loomwright.planning.installation import Installation, Joint
from loomwright.sheets import render
from tests import demonstration
from tests.demonstration import VEHICLE_FILE, Choice, Pair

Kind = Literal["colour", "pin", "trigger"]

COLOUR = "turquoise"
"""A colour that no wire of the demonstration has."""

# The circuits whose change may stay unseen, each with the reason.
_PLUG_B = "Plug B of the body module holds no joint of the kit: the guide never looks at it."
_CLUSTER = "The plug of the cluster holds no joint of the kit: the guide never opens it."
_AIRBAG = "The airbag plug is never looked into, and its wires are measured and drawn nowhere."
_ALWAYS = "Such a wire has no trigger: it is what it is in every state."
_SENSOR = "A sensor of the car's own: nothing of the kit meets it, and nobody measures it."
_IDLE = "The kit does not use it, no reading is taken on it, and no load changes with it."
UNSEEN: dict[Kind, dict[str, str]] = {
    "colour": {
        "motor-lock": _PLUG_B,
        "cluster-memory": _CLUSTER,
        "cluster-run": _CLUSTER,
        "cluster-ground": _CLUSTER,
        "fuel-gauge": _CLUSTER,
        "airbag-lamp": _CLUSTER,
        "belt-lamp": _CLUSTER,
        "airbag-high": _AIRBAG,
        "airbag-low": _AIRBAG,
    },
    "pin": {
        "rear-heater": _PLUG_B,
        "motor-lock": _PLUG_B,
        "motor-unlock": _PLUG_B,
        "windows": _PLUG_B,
        "rear-wiper": _PLUG_B,
        "mirror-heat": _PLUG_B,
        "body-b-ground": _PLUG_B,
        "cluster-memory": _CLUSTER,
        "cluster-run": _CLUSTER,
        "cluster-ground": _CLUSTER,
        "charge-lamp": _CLUSTER,
        "oil-lamp": _CLUSTER,
        "fuel-gauge": _CLUSTER,
        "airbag-lamp": _CLUSTER,
        "belt-lamp": _CLUSTER,
        "airbag-high": _AIRBAG,
        "airbag-low": _AIRBAG,
    },
    "trigger": {
        "body-ground": _ALWAYS,
        "body-b-ground": _ALWAYS,
        "diagnostic-ground": _ALWAYS,
        "diagnostic-signal-ground": _ALWAYS,
        "cluster-ground": _ALWAYS,
        "crash-unlock": _ALWAYS,
        "airbag-lamp": _ALWAYS,
        "airbag-high": _ALWAYS,
        "airbag-low": _ALWAYS,
        "fuel-gauge": _SENSOR,
        "belt-lamp": _IDLE,
        "rear-heater": _IDLE,
        "fog-lamps": _IDLE,
        "diagnostic-feed": _IDLE,
    },
}

_TEXT = demo_files()[VEHICLE_FILE]
_HEAD, _, _CIRCUITS = _TEXT.partition("\ncircuits:\n")
_LEAD, *_BLOCKS = re.split(r"(?m)^(?=  - id: )", _CIRCUITS)
_NUMBERS = range(len(_BLOCKS))


def _circuit(number: int) -> Circuit:
    return demonstration.vehicle().circuits[number]


def _name(number: int) -> str:
    """The circuit's id, with its place among those of the same id where there are several."""
    ids = [circuit.id for circuit in demonstration.vehicle().circuits]
    before = ids[:number].count(ids[number])
    return ids[number] if before == 0 else f"{ids[number]}-{before + 1}"


@cache
def _choice(number: int) -> Choice:
    """The first car, of those with most circuits, that has this circuit."""
    circuit = _circuit(number)
    order = sorted(
        demonstration.CHOICES, key=lambda one: (one != demonstration.V6, -len(demonstration.car(one).circuits))
    )
    return next(one for one in order if demonstration.car(one).circuits.get(circuit.id) == circuit)


def _with_block(number: int, block: str) -> str:
    assert block != _BLOCKS[number]
    return "".join([_HEAD, "\ncircuits:\n", _LEAD, *_BLOCKS[:number], block, *_BLOCKS[number + 1 :]])


# The three changes ------------------------------------------------------------------------------------------------


def _recoloured(number: int) -> str:
    return _with_block(number, re.sub(r"colour: [a-z ]+", f"colour: {COLOUR}", _BLOCKS[number]))


def _joined_pin(number: int) -> str | None:
    """The pin at which the kit is joined to this circuit."""
    joints = demonstration.installation(_choice(number)).joints
    return next((j.pin for j in joints if j.circuit == _circuit(number).id and j.pin is not None), None)


def _moved_pin(number: int) -> tuple[str, str]:
    """A pin of the circuit and where it goes: a place that is empty in every car, else the place of a neighbour."""
    car = demonstration.car(_choice(number))
    joined = _joined_pin(number)
    pins = car.pins_of(_circuit(number).id) if joined is None else (joined,)
    for pin in pins:
        plug = pin.partition("/")[0]
        for empty in car.empty_pins(plug):
            if all(f"{plug}/{empty}" not in demonstration.car(one).pins for one in demonstration.CHOICES):
                return pin, f"{plug}/{empty}"
    plug = pins[0].partition("/")[0]
    others = [pin for pin in car.pins if pin.startswith(f"{plug}/") and car.pins[pin].circuit != _circuit(number).id]
    return pins[0], others[0]


def _moved(number: int) -> str:
    old, new = _moved_pin(number)

    def moved(text: str, one: str, other: str) -> str:
        return re.sub(rf"(?<![\w-]){re.escape(one)}(?!\w)", other, text)

    if new not in demonstration.car(_choice(number)).pins:
        return _with_block(number, moved(_BLOCKS[number], old, new))
    return "\ncircuits:\n".join([_HEAD, moved(moved(moved(_CIRCUITS, old, "x/x"), new, old), "x/x", new)])


# What decides when a circuit is live, and the other way round; the first that a circuit has is flipped.
_FLIPS = (
    (r"closed_when: not ", "closed_when: "),
    (r"closed_when: ", "closed_when: not "),
    (r"live: \[(run, crank|acc, run|crank)\]", "live: [run]"),
    (r"live: \[run\]", "live: [run, crank]"),
    (r"template: battery feed", "template: switched feed, fed_by: KEYED"),
    (r"fed_by: ignition-[12]", "fed_by: accessory"),
    (r"fed_by: accessory", "fed_by: ignition-1"),
    (r"bus: pulse-width", "bus: k-line"),
    (r"duty: 0\.5", "duty: 0.1"),
    (r"rest_v: \d\.\d", "rest_v: 0.5"),
    (r'to: ("s:[a-z-]+")\}\n(?!      - )', r"to: \1}\n      - {from: \1, to: ground, closed_when: hazards on}\n"),
)


def _flipped(number: int) -> str | None:
    keyed = "accessory" if _circuit(number).id == "feed-1" else "ignition-1"  # whatever it does not feed itself
    for pattern, instead in _FLIPS:
        if re.search(pattern, _BLOCKS[number]):
            return _with_block(number, re.sub(pattern, instead.replace("KEYED", keyed), _BLOCKS[number], count=1))
    return None


# What is seen of them ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """All that comes out of one pair of documents, as far as it is the document's and not a hash of it."""

    installation: Installation
    proof: Proof
    readings: Readings

    def plan(self) -> dict[str, Any]:
        found = match_object(self.installation, self.proof)
        return {key: value for key, value in found.items() if key not in {"installation", "proof"}}

    def table(self) -> list[Any]:
        found: list[Any] = readings_object(self.installation, self.readings)["readings"]
        return found

    def guide(self) -> tuple[Block, ...]:
        return guide(self.installation, self.proof, self.readings, demonstration.shop(), {}).blocks

    def text(self) -> str:
        paper = guide(self.installation, self.proof, self.readings, demonstration.shop(), {})
        return " ".join(render(paper, "text").decode().split())

    def of_circuit(self, circuit: str) -> set[tuple[str, float]]:
        """State -> voltage of every reading on a circuit's wire."""
        return {
            (r.id.partition("@")[2], round(r.band.nominal, 2)) for r in self.readings.readings if r.circuit == circuit
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Sound:
    """The same before anything was changed, kept for all changes of one car."""

    made: Made
    plan: dict[str, Any]
    table: list[Any]
    guide: tuple[Block, ...]
    text: str


@cache
def _sound(choice: Choice) -> Sound:
    installation = demonstration.installation(choice)
    proof = prove_solved(installation, demonstration.solved(choice))
    made = Made(installation=installation, proof=proof, readings=readings(installation))
    return Sound(made=made, plan=made.plan(), table=made.table(), guide=made.guide(), text=made.text())


@cache
def _changed(number: int, text: str) -> tuple[Pair, Installation | None]:
    pair = demonstration.edited_pair((VEHICLE_FILE, _TEXT, text))
    found = None if pair.messages else pair.match(_choice(number))
    return pair, found if isinstance(found, Installation) else None


def _is_seen(number: int, kind: Kind, text: str) -> bool:
    """Whether anything downstream differs; what takes longest is made last and only where it is needed."""
    sound = _sound(_choice(number))
    _, installation = _changed(number, text)
    if installation is None:
        return True  # by a message or a refusal
    # Neither voltages nor findings know a colour; the place of a pin only changes names.
    made = replace(sound.made, installation=installation, proof=replace(sound.made.proof, installation=installation))
    if made.plan() != sound.plan or made.guide() != sound.guide:
        return True
    if kind != "trigger":
        return False
    made = replace(made, readings=readings(installation))
    if made.table() != sound.table or made.guide() != sound.guide:
        return True
    made = replace(made, proof=prove(installation))
    return made.plan() != sound.plan or made.guide() != sound.guide


def _changes(number: int) -> dict[Kind, str]:
    changes: dict[Kind, str] = {"colour": _recoloured(number), "pin": _moved(number)}
    flipped = _flipped(number)
    return changes if flipped is None else {**changes, "trigger": flipped}


def _one_in_three(number: int) -> object:
    """A third of the circuits in every run; the long runs take them all."""
    return pytest.param(number, marks=() if number % 3 == 0 else pytest.mark.soak)


@pytest.mark.parametrize("number", [_one_in_three(n) for n in _NUMBERS], ids=_name)
def test_a_change_of_a_circuit_is_seen_or_excused(number: int) -> None:
    changes = _changes(number)
    excused = {kind for kind in UNSEEN if _name(number) in UNSEEN[kind]}
    unseen: set[Kind] = {kind for kind in UNSEEN if kind not in changes}
    unseen |= {kind for kind, text in changes.items() if not _is_seen(number, kind, text)}
    assert unseen == excused


_USED = [number for number in _NUMBERS if _joined_pin(number) is not None]


def _still_joined(number: int, installation: Installation) -> Joint | None:
    """The joint onto the changed wire; none where the plan avoids a wire about which the evidence now disagrees."""
    circuit = _circuit(number).id
    joints = [joint for joint in installation.joints if joint.circuit == circuit]
    if joints:
        return joints[0]
    assert installation.car.standing[circuit].status == "contradicted"
    instead = next(route for route in installation.routes if route.function == _circuit(number).function)
    assert any(rejected.minutes is not None for rejected in instead.rejected)  # possible, but dearer than before
    return None


@pytest.mark.parametrize("number", _USED, ids=_name)
def test_a_new_colour_of_a_used_wire_is_what_the_guide_says(number: int) -> None:
    assert COLOUR not in _sound(_choice(number)).text
    _, installation = _changed(number, _recoloured(number))
    assert installation is not None
    joint = _still_joined(number, installation)
    if joint is None:
        return
    made = replace(_sound(_choice(number)).made, installation=installation)
    occupant = installation.car.pins[str(joint.pin)]
    assert occupant.colour == COLOUR
    said = made.text()
    assert f"{joint.label} to the {occupant.words} wire" in said or joint.kind != "tap"
    assert said.count(COLOUR) >= 3


def _built_to(number: int) -> str | None:
    """The label of the T conductor that is built to the very pin at which this circuit is joined, if it is one."""
    installation = demonstration.installation(_choice(number))
    joint = next(j for j in installation.joints if j.circuit == _circuit(number).id and j.pin is not None)
    conductors = (c for b in installation.kit.branches if b.id == joint.branch for c in b.conductors)
    return next((c.label for c in conductors if c.label == joint.label and c.pin is not None), None)


_BUILT = [number for number in _USED if _built_to(number) is not None]
_FREE = [number for number in _USED if number not in _BUILT]


@pytest.mark.parametrize("number", _BUILT, ids=_name)
def test_a_new_pin_of_a_wire_that_a_t_is_built_to_is_told_as_no_longer_fitting(number: int) -> None:
    pair, _ = _changed(number, _moved(number))
    assert not pair.messages
    found = pair.match(_choice(number))
    lacking = [u for u in found.unserved if u.function == _circuit(number).function]
    assert lacking
    label, pin = _built_to(number), str(_joined_pin(number)).partition("/")[2]
    facts = {r.fact for u in lacking for r in u.rejected}
    assert f"{label} is built to pin {pin} of this plug." in facts or any("is made for another car" in f for f in facts)
    circuit = _circuit(number).id
    assert all(j.circuit != circuit for j in (found.joints if isinstance(found, Installation) else ()))


@pytest.mark.parametrize("number", _FREE, ids=_name)
def test_a_new_pin_of_a_used_wire_is_where_the_plan_and_the_guide_go(number: int) -> None:
    old, new = _moved_pin(number)
    assert old == _joined_pin(number)
    _, installation = _changed(number, _moved(number))
    assert installation is not None
    joint = _still_joined(number, installation)
    if joint is None:
        return
    assert joint.pin == new
    made = replace(_sound(_choice(number)).made, installation=installation, readings=readings(installation))
    assert {r.node.partition(":")[2].rpartition(":")[0] for r in made.readings.of(joint.id, "identify")} == {new}
    plug, _, place = new.partition("/")
    words = f"{installation.car.plugs[plug].name}, pin {place}"
    assert words in made.text()


def test_most_used_wires_stay_used_when_their_evidence_disagrees() -> None:
    """So that the two tests above speak of the guide and not only of wires that the plan goes around."""
    for change, numbers in ((_recoloured, _USED), (_moved, _FREE)):
        kept = []
        for number in numbers:
            _, installation = _changed(number, change(number))
            assert installation is not None
            kept.append(_still_joined(number, installation) is not None)
        assert sum(kept) >= 0.7 * len(kept)


@pytest.mark.parametrize("number", _USED, ids=_name)
def test_a_flipped_trigger_of_a_used_wire_changes_its_readings_or_its_route(number: int) -> None:
    text = _flipped(number)
    assert text is not None
    circuit = _circuit(number).id
    _, installation = _changed(number, text)
    if installation is None or all(joint.circuit != circuit for joint in installation.joints):
        return  # it is told, refused, or no longer used
    made = replace(_sound(_choice(number)).made, installation=installation, readings=readings(installation))
    assert made.of_circuit(circuit) != _sound(_choice(number)).made.of_circuit(circuit)
