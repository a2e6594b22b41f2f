"""Every car of the demonstration, untouched: each load is live and dead as its document says, in every story."""

import random
from collections.abc import Iterator

import pytest

from loomwright.documents.car import Car, resolve, variants
from loomwright.documents.vehicle import Vehicle
from tests.demonstration import documents
from tests.network.builders import findings_of

FAMILIES = {one.id: one for one in documents().values() if isinstance(one, Vehicle)}
SAMPLE = 29
"""How many cars of a family are looked at; all of them where there are no more."""


def _choices() -> Iterator[tuple[str, str]]:
    for name, family in FAMILIES.items():
        built = ["-".join(choice.values()) for choice in variants(family)]
        drawn = random.Random(f"20260602 {name}").sample(built, min(SAMPLE, len(built)))
        yield from ((name, choice) for choice in sorted(drawn))


def _car(name: str, choice: str) -> Car:
    family = FAMILIES[name]
    return next(resolve(family, c) for c in variants(family) if "-".join(c.values()) == choice)


@pytest.mark.parametrize(("name", "choice"), tuple(_choices()))
def test_the_untouched_car_does_what_its_document_says(name: str, choice: str) -> None:
    assert [finding.message for finding in findings_of(_car(name, choice))] == []


@pytest.mark.parametrize("name", FAMILIES)
def test_a_car_has_its_circuits_and_plugs_full_of_neighbours(name: str) -> None:
    family = FAMILIES[name]
    for choice in variants(family):
        car = resolve(family, choice)
        assert len(car.circuits) >= 35, choice
        most = max(sum(pin.partition("/")[0] == plug for pin in car.pins) for plug in car.plugs)
        assert most >= 16, choice


@pytest.mark.parametrize("name", FAMILIES)
def test_every_circuit_stands_in_a_plug_that_has_a_place(name: str) -> None:
    # A wire that nobody can get at may be recorded too, but hardly any of them: this is what a person works from.
    family = FAMILIES[name]
    car = resolve(family, next(variants(family)))
    hidden = [circuit for circuit in car.circuits if not car.pins_of(circuit)]
    assert len(hidden) <= len(car.circuits) // 10, hidden
    assert all(plug.place in car.places for plug in car.plugs.values())


@pytest.mark.parametrize("name", FAMILIES)
def test_the_diagnostic_socket_keeps_to_the_standard(name: str) -> None:
    # Source: SAE J1962 (ISO 15031-3), terminal assignment: 2 bus positive of SAE J1850, 4 chassis ground, 5 signal
    # ground, 6 and 14 CAN high and low, 7 K-line, 10 bus negative of SAE J1850 (pulse-width of two wires only),
    # 16 unswitched battery.
    family = FAMILIES[name]
    for choice in variants(family):
        car = resolve(family, choice)
        socket = next(plug.id for plug in car.plugs.values() if plug.housing == "diagnostic-16")
        sits = {
            pin.partition("/")[2]: car.circuits[its.circuit]
            for pin, its in car.pins.items()
            if pin.startswith(f"{socket}/")
        }
        buses = {
            pin: circuit.behaviour.bus for pin, circuit in sits.items() if circuit.behaviour.template == "data wire"
        }
        assert sits["4"].behaviour.template == sits["5"].behaviour.template == "ground wire"
        assert sits["16"].behaviour.template == "battery feed"
        standard = {"2": "pulse-width", "6": "two-wire high", "7": "k-line", "14": "two-wire low"}
        assert {pin: bus for pin, bus in buses.items() if pin in standard}.items() <= standard.items()
        assert set(sits) & {"10", "15"} == set()
