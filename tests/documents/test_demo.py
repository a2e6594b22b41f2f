"""The demo shop is no toy: what its car and kit must have for everything else to have something to show."""

from loomwright.documents.car import resolve, variants
from loomwright.documents.colours import clash_wires, parse_colour
from loomwright.documents.demo import demo_files
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.network.joining import joined_netlist
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from tests.documents.test_car import DOCUMENTS, car, vehicle


def kit() -> Kit:
    document = DOCUMENTS["kits/rookery-4.yaml"]
    assert isinstance(document, Kit)
    return document


def test_the_files_come_with_the_package() -> None:
    names = list(demo_files())
    assert names == sorted(names)
    first = {"evidence/kestrin-fallow.yaml", "kits/rookery-4.yaml", "shop.yaml", "vehicles/kestrin-fallow.yaml"}
    assert first <= set(names)
    # Each family comes with what somebody recorded about it.
    families = {name.partition("/")[2] for name in names if name.startswith("vehicles/")}
    assert families == {name.partition("/")[2] for name in names if name.startswith("evidence/")}


def test_every_car_has_its_circuits_and_a_long_plug_with_real_neighbours() -> None:
    for choice in variants(vehicle()):
        made = resolve(vehicle(), choice)
        assert len(made.circuits) >= 35
        long_plug = [pin for pin in made.pins if pin.startswith("body-a/")]
        assert len(long_plug) >= 24


def test_the_diagnostic_socket_is_that_of_the_standard() -> None:
    # Source: SAE J1962 (ISO 15031-3), terminal assignment: 2 bus positive of SAE J1850, 4 chassis ground, 5 signal
    # ground, 16 unswitched battery; two rows of eight, 1 to 8 above 9 to 16 with the wide side up.
    made = car()
    assert {pin: made.pins[f"diagnostic/{pin}"].circuit for pin in ("2", "4", "5", "16")} == {
        "2": "bus",
        "4": "diagnostic-ground",
        "5": "diagnostic-signal-ground",
        "16": "diagnostic-feed",
    }
    face = made.plugs["diagnostic"].face
    assert face.rows == (tuple("12345678"), ("9", "10", "11", "12", "13", "14", "15", "16"))
    assert face.drawn_from == "mating"


def test_the_measured_engine_speed_agrees_with_its_pulses_per_turn() -> None:
    # Source: National Semiconductor LM1819 data sheet: f = speed x pulses per turn / 60.
    tach = car(engine="3.3", trim="touring").circuits["tach"].behaviour
    assert tach.template == "pulse wire"
    assert 684 * tach.pulses_per_rev / 60 == 22.8
    text = demo_files()["evidence/kestrin-fallow.yaml"]
    assert "22.8 Hz at 684 rpm, 83.1 Hz at 2490 rpm" in text
    assert abs(2490 * tach.pulses_per_rev / 60 - 83.1) < 0.5


def test_the_plug_holds_two_yellow_wires_and_look_alikes() -> None:
    made = car()
    words = [its.words for pin, its in made.pins.items() if pin.startswith("body-a/")]
    assert words.count("yellow") == 2
    brown = (parse_colour("brown"), None)
    assert clash_wires(brown, (parse_colour("brown"), parse_colour("white"))) is not None
    assert {"brown", "brown/white", "dark blue", "light blue"} <= set(words)


def test_one_engine_has_its_speed_on_the_bus_and_the_other_has_a_wire() -> None:
    module = kit().vehicle_module
    assert module is not None
    over_bus = {s.function: s.only for s in module.services if s.vehicle == "kestrin-fallow"}
    assert over_bus["tach"] == {"engine": ("2.4",)}
    assert "parking light" not in over_bus
    assert [c for c in car(engine="3.3", trim="touring").circuits.values() if c.function == "tach"]


def test_the_t_harness_fits_the_ignition_switch_and_one_lead_looks_like_another_wire() -> None:
    branch = next(branch for branch in kit().branches if branch.kind == "t")
    assert branch.housing == car().plugs["ignition"].housing
    brake = next(lead for lead in kit().leads if lead.label == "BRAKE")
    pedal = car().pins["pedal/4"]
    assert (brake.colour, brake.stripe) == (pedal.colour, pedal.stripe)
    assert car().pins["pedal/2"].circuit == "brake"


def test_kit_leads_differ_in_label_and_colour() -> None:
    wires = [(lead.colour, lead.stripe) for lead in kit().leads]
    assert len(set(wires)) == len(wires)


def test_the_joined_network_has_at_least_eighty_nodes() -> None:
    shop = DOCUMENTS["shop.yaml"]
    assert isinstance(shop, Shop)
    found = match(car(), kit(), shop)
    assert isinstance(found, Installation)
    elements = joined_netlist(found).elements
    assert len({node for element in elements for node in (element.a, element.b)}) >= 80
