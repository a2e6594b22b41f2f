"""Charge and energy kept in every state of the demonstration, added up from the elements and not by the solver."""

import math
from collections.abc import Iterator

import pytest

from loomwright.network.branches import OPEN_RATIO
from loomwright.network.elements import GROUND, Element
from loomwright.network.solving import Solved
from loomwright.network.stamping import LEAK_S
from tests import demonstration

CARS = [demonstration.BASE, demonstration.V6]


def _characteristic(element: Element, across_v: float) -> float:
    """Current of an element of unit scale at a voltage, read off its straight pieces [A]."""
    piece = sum(1 for at in element.shape.breaks if across_v > at)
    return element.shape.g[piece] * across_v + element.shape.i0[piece]


def _pulled_in(solved: Solved, lane: int) -> dict[str, bool]:
    """Id of each relay's coil -> whether the relay is pulled in."""
    elements = solved.compiled.netlist.elements
    return {
        elements[latch.coil].id: bool(solved.latched[number, lane])
        for number, latch in enumerate(solved.compiled.branches.latches)
    }


def _currents(solved: Solved, lane: int) -> Iterator[tuple[Element, float, float]]:
    """Yield each element with the voltage across it less its own [V] and its current from a to b [A]."""
    netlist = solved.compiled.netlist
    state = solved.states[lane]
    joined = netlist.joined(state)
    pulled = _pulled_in(solved, lane)
    for element in netlist.elements:
        scale = 1.0 if element.conducts(state, joined) else OPEN_RATIO
        if element.coil is not None and pulled[element.coil] != element.closed_when_pulled_in:
            scale *= OPEN_RATIO
        across = solved.volts(element.a, lane) - solved.volts(element.b, lane) - element.emf_v
        yield element, across, scale * _characteristic(element, across)


# Source: Kirchhoff's current law, node by node. Tolerance: each current is good to rounding of some 14 V across up to
# 1200 S, which is 2e-12 A for each element; the sums are exact (fsum).
@pytest.mark.parametrize("choice", CARS, ids=demonstration.choice_name)
def test_the_currents_at_every_node_add_up_to_nothing(choice: demonstration.Choice) -> None:
    solved = demonstration.solved(choice)
    for lane in range(solved.points):
        at: dict[str, list[float]] = {
            node: [LEAK_S * solved.volts(node, lane)] for node in solved.compiled.netlist.nodes
        }
        at[GROUND] = []
        for element, _, current in _currents(solved, lane):
            at[element.a].append(current)
            at[element.b].append(-current)
        leaks = math.fsum(currents[0] for node, currents in at.items() if node != GROUND)
        assert abs(math.fsum(at[GROUND]) - leaks) < 1e-9, solved.states[lane]
        for node, currents in at.items():
            if node != GROUND:
                assert abs(math.fsum(currents)) < 1e-9, (node, solved.states[lane])


# Source: Tellegen's theorem, which follows from Kirchhoff's laws alone: what the sources give is what the rest takes.
@pytest.mark.parametrize("choice", CARS, ids=demonstration.choice_name)
def test_the_sources_give_what_everything_else_takes(choice: demonstration.Choice) -> None:
    solved = demonstration.solved(choice)
    for lane in range(solved.points):
        given, heat = [], [LEAK_S * solved.volts(node, lane) ** 2 for node in solved.compiled.netlist.nodes]
        for element, across, current in _currents(solved, lane):
            given.append(-element.emf_v * current)
            heat.append(across * current)
            # Nothing but a source gives energy: a rising characteristic through the origin only takes it.
            assert across * current >= 0.0, (element.id, solved.states[lane])
        given_w, taken_w = math.fsum(given), math.fsum(heat)
        assert given_w > 0.0
        assert taken_w == pytest.approx(given_w, rel=1e-9, abs=1e-9), solved.states[lane]


@pytest.mark.parametrize("choice", CARS, ids=demonstration.choice_name)
def test_the_solver_hands_on_the_same_currents(choice: demonstration.Choice) -> None:
    solved = demonstration.solved(choice)
    for lane in range(solved.points):
        for element, _, current in _currents(solved, lane):
            assert solved.amps(element.id, lane) == pytest.approx(current, rel=1e-9, abs=1e-9), element.id


@pytest.mark.parametrize("choice", CARS, ids=demonstration.choice_name)
def test_the_energies_are_those_of_a_car(choice: demonstration.Choice) -> None:
    """So that the balances above are not balances of nothing."""
    solved = demonstration.solved(choice)
    cranking = [lane for lane, state in enumerate(solved.states) if state.key == "crank" and state.stage == "bare"]
    parked = [
        lane
        for lane, state in enumerate(solved.states)
        if state.stage == "fitted" and state.key == "off" and not state.active and not state.commands
    ]
    starter_a = demonstration.car(choice).traits.starter_a
    assert starter_a is not None
    in_park = [lane for lane in cranking if "in park" not in solved.states[lane].active]
    assert in_park
    for lane in in_park:
        # Traits state the steady cranking current, which is reached at some 10 V; solenoid and ignition come on top.
        assert starter_a < -solved.amps("v:battery", lane) < 1.5 * starter_a
        assert 9.6 < solved.volts("batt+", lane) < 12.2
    assert parked
    for lane in parked:
        assert 0.005 < -solved.amps("v:battery", lane) < 0.1
