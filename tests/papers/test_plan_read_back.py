"""The wiring plan's tables of every pair of the demonstration, read back, are the installation's own netlist."""

import pytest

from loomwright.papers.saying import capital, plain
from loomwright.papers.wiring_plan import wiring_plan
from loomwright.planning.installation import Installation, Joint
from loomwright.sheets import render
from loomwright.sheets.wire_swatch import colour_words
from tests.pairs import EVERY_PAIR, installations
from tests.papers.builders import documents
from tests.papers.read_plan import Line, plan_lines, plan_nodes
from tests.sheets.kit_netlist import kit_nodes, kit_pins, unproved

pairs = pytest.mark.parametrize("pair", EVERY_PAIR, ids="+".join)


def _told_name(installation: Installation, joint: Joint) -> str:
    """Return under which plug or place the plan must have a joint, and at which pin."""
    place = "" if joint.place is None else installation.car.places[joint.place].name
    if joint.kind == "added part":
        return capital(next(p.name for p in installation.kit.added_parts if p.terminal == joint.terminal))
    if joint.pin is None:
        return f"Ground point, {place}"
    plug_id, _, pin = joint.pin.partition("/")
    plug = capital(installation.car.plugs[plug_id].name)
    return f"{plug}, pin {pin}" if place.lower() in plug.lower() else f"{plug}, {place}, pin {pin}"


def _read(installation: Installation, wire_unit: str) -> list[Line]:
    shop = documents()[3].model_copy(update={"wire_unit": wire_unit})
    return plan_lines(render(wiring_plan(installation, unproved(installation), shop, {}), "html").decode())


@pairs
def test_the_tables_read_back_are_the_netlist_of_the_installation(pair: tuple[str, str]) -> None:
    for installation in installations(pair, 2):
        read, expected = plan_nodes(_read(installation, "mm2")), kit_nodes(installation, _told_name)
        assert read - expected == set()
        assert expected - read == set()


@pairs
@pytest.mark.parametrize("wire_unit", ["mm2", "AWG"])
def test_the_tables_name_every_lead_with_its_colours_and_size(pair: tuple[str, str], wire_unit: str) -> None:
    from loomwright.papers.measures import Measures

    (installation,) = installations(pair, 1)
    measures = Measures(shop=documents()[3].model_copy(update={"wire_unit": wire_unit}))
    pins, car = kit_pins(installation), installation.car
    lines = _read(installation, wire_unit)
    assert {(x.pin, x.lead, x.car, x.wire if ", pin " in x.car else "") for x in lines} == {
        (
            pins[j.terminal],
            f"{j.label}, {colour_words(j.colour, j.stripe)}, {plain((measures.size(j.area_mm2, ''),))}, "
            f"{plain((measures.length(j.length_m, ''),))}",
            _told_name(installation, j),
            ""
            if j.pin is None or j.circuit is None
            else f"pin {j.pin.partition('/')[2]}, {car.pins[j.pin].words}: "
            f"{car.circuits[j.circuit].name or car.circuits[j.circuit].function}",
        )
        for j in installation.joints
    }
    assert len(lines) == len(installation.joints)


def test_a_wrong_word_in_the_tables_is_found() -> None:
    (installation,) = installations(("quillen-marram", "dunlin-7"), 1)
    expected = kit_nodes(installation, _told_name)
    html = render(wiring_plan(installation, unproved(installation), documents()[3], {}), "html").decode()
    assert plan_nodes(plan_lines(html)) == expected
    for old, new in (
        ("87a to the end", "87 to the end"), ("86 to H1/1", "86 to H1/2"), ("pin 4,", "pin 5,"), ("S2/2", "S2/3"),
        ("side of the plug", "side of the harness, away from the plug"), ("tap onto the wire", "inside the T"),
        ("85 to the lead, 86 to H1/1", "86 to the lead, 85 to H1/1"),
    ):  # fmt: skip
        assert old in html
        assert plan_nodes(plan_lines(html.replace(old, new))) != expected, old
