"""Small cars written the way people write them, for tests of the network."""

from collections.abc import Mapping

from loomwright.documents.car import Car, resolve
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, load
from loomwright.documents.vehicle import Vehicle
from loomwright.network.expectations import expectations_of
from loomwright.network.joining import bare_netlist
from loomwright.network.results import Finding
from loomwright.network.rules_live import check_live
from loomwright.network.solving import Solved, solve_stories
from loomwright.network.states import State
from loomwright.network.stories import Story, bare_stories

__all__ = ["car_of", "findings_of", "solved_states", "volts"]

_HEAD = """
format: 1
kind: vehicle
id: test-car
names: [{maker: Testwell, model: Bench}]
axes:
  - {id: year, ask: Which year?, ordered: true, values: [{value: 2012, cue: A round mirror.}]}
traits: [{fuel: petrol, drive: combustion, gearbox: automatic, key: keyed, starter_a: 120, battery_cca_a: 550}]
places: [{id: dash, name: dash, words: Under the dash., x: 50, y: 50}]
plugs:
  - {id: key, name: key plug, housing: k-8, place: dash, look: black, face: {rows: [[1, 2, 3, 4], [5, 6, 7, 8]]}}
  - {id: body, name: body plug, housing: b-8, place: dash, look: white, face: {rows: [[1, 2, 3, 4], [5, 6, 7, 8]]}}
circuits:
  - id: feed
    function: battery feed
    behaviour: {template: battery feed, load_a: 1}
    path:
      - {from: source, to: s:box, fuse_a: 40}
      - {from: s:box, to: key/1, colour: red, area_mm2: 4, length_m: 1.2}
      - {from: key/1, to: load}
"""


def car_of(circuits: str) -> Car:
    """Return a car with a battery feed and the given circuits (YAML list entries, indented by two)."""
    (loaded,) = load([Source(file="test.yaml", text=_HEAD + circuits)], MODELS)
    assert isinstance(loaded.document, Vehicle)
    return resolve(loaded.document, {"year": "2012"})


def solved_states(car: Car, states: Mapping[str, State]) -> Solved:
    """Return the untouched car solved in some states, each from rest."""
    return solve_stories(
        bare_netlist(car), [Story(id=name, name=name, states=(state,)) for name, state in states.items()]
    )


def volts(car: Car, node: str, **state: object) -> float:
    """Return the voltage of a node of the untouched car in one state."""
    one = State(stage="bare", **state)  # type: ignore[arg-type]
    return solved_states(car, {"it": one}).volts(node, 0)


def findings_of(car: Car) -> tuple[Finding, ...]:
    """Return what the rule of life and death finds in the untouched car."""
    return tuple(check_live(car, expectations_of(car), solve_stories(bare_netlist(car), bare_stories(car))))
