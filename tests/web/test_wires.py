"""Wires in rows: what a cell may say, the circuits that come of it, and every function's usual behaviour."""

import pytest

from loomwright.documents.behaviour import BatteryFeed, GroundSwitch, KeyedFeed
from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.part_checking import check_part
from loomwright.documents.vehicle import Circuit
from loomwright.documents.writing import dump_tree
from loomwright.web.forms.draft import Draft, draft_of, free_slug, slug_of
from loomwright.web.forms.starters import BUSES, STARTERS
from loomwright.web.forms.wire_rows import WireRow, circuits_of, job_of


def _draft(**more: object) -> Draft:
    return draft_of("vehicle", "a", dump_tree({"format": 1, "kind": "vehicle", "id": "a", **more}))


def _row(n: int, text: str) -> WireRow:
    cells = dict(zip(("colour", "stripe", "function", "area_mm2", "fuse_a"), text.split("|"), strict=False))
    return WireRow(label=f"pin {n}", pin=f"p/{n}", cells=cells)


@pytest.mark.parametrize(
    ("text", "function", "template", "name"),
    [
        ("ignition", "ignition", "", ""),
        ("IGN", "ignition", "", ""),
        # Source: DIN 72552, terminal numbers 30, 15, 50, 58 (from memory).
        ("30", "battery feed", "", ""),
        ("50", "start", "", ""),
        ("acc", "accessory", "", ""),
        ("lock", "lock", "", ""),
        ("lighting: dome lamp", "lighting", "", "dome lamp"),
        ("other as battery feed:  memory of the radio ", "other", "battery feed", "memory of the radio"),
    ],
)
def test_what_a_wire_is_for(text: str, function: str, template: str, name: str) -> None:
    job = job_of(text)
    assert (job.function, job.template, job.name, job.fault) == (function, template, name, "")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("par", "expected one of parking light, parking light left"),
        ("magic", "expected a function such as ignition"),
        ("", "expected a function"),
        ("bus", "expected which one: bus pulse-width"),
        ("other as data wire", "expected which one"),
        ("other as magic", "expected one of battery feed"),
        ("54", "found '54', expected one of stop light, brake, brake line"),
    ],
)
def test_what_a_cell_may_not_say(text: str, words: str) -> None:
    assert words in job_of(text).fault


@pytest.mark.parametrize("function", sorted(FUNCTIONS))
def test_every_function_makes_a_circuit_that_is_sound(function: str) -> None:
    said = [f"bus {bus}" for bus in BUSES] if function == "bus" else [function]
    rows = [_row(1, "red||battery feed|4|30"), *(_row(n, f"blue|white|{one}|0.8|10") for n, one in enumerate(said, 2))]
    found = circuits_of(rows, _draft())
    assert found.faults == ()
    for raw in found.circuits:
        circuit = check_part(Circuit, raw).part
        assert circuit is not None
        assert circuit.behaviour.template == STARTERS[circuit.function].template
        assert [s.fuse_a for s in circuit.path if s.fuse_a] == [30.0 if circuit.id == "battery-feed" else 10.0]
        assert [s.colour for s in circuit.path if s.colour]


def test_feeds_come_first_and_the_second_one_feeds_what_the_first_does_not() -> None:
    rows = [_row(1, "violet||acc"), _row(2, "pink||ign|3"), _row(3, "red||30|5|40"), _row(4, "red|black|30|4|40")]
    found = {raw["id"]: check_part(Circuit, raw).part for raw in circuits_of(rows, _draft()).circuits}
    assert list(found) == ["accessory", "ignition", "battery-feed", "battery-feed-2"]
    accessory, ignition = found["accessory"], found["ignition"]
    assert accessory is not None
    assert ignition is not None
    assert isinstance(accessory.behaviour, KeyedFeed)
    assert isinstance(ignition.behaviour, KeyedFeed)
    assert (ignition.behaviour.fed_by, accessory.behaviour.fed_by) == ("battery-feed", "battery-feed-2")
    assert isinstance(found["battery-feed"], Circuit)
    assert isinstance(found["battery-feed"].behaviour, BatteryFeed)


def test_a_protection_is_in_a_start_wire_only_where_the_person_said_so() -> None:
    rows = [_row(1, "red||30"), _row(2, "yellow||start|3")]
    plain = circuits_of(rows, _draft()).circuits[1]
    assert all("closed_when" not in step for step in plain["path"])
    told = circuits_of(rows, _draft(traits=[{"park_interlock": "start circuit"}])).circuits[1]
    assert [step["closed_when"] for step in told["path"] if "closed_when" in step] == ["in park"]
    assert check_part(Circuit, told).faults == ()


def test_what_is_missing_is_told_beside_its_cell() -> None:
    rows = [_row(1, "||ignition"), _row(2, "red"), _row(3, "blue||lock|thick|-5"), _row(4, "")]
    faults = {(f.label, f.key): f.words for f in circuits_of(rows, _draft()).faults}
    assert set(faults) == {("pin 1", "colour"), ("pin 1", "function"), ("pin 2", "function"), ("pin 3", "area_mm2"),
                           ("pin 3", "fuse_a")}  # fmt: skip
    assert "battery feed" in faults["pin 1", "function"]
    assert "thick" in faults["pin 3", "area_mm2"]


def test_the_same_function_twice_gets_an_id_of_its_own() -> None:
    found = circuits_of([_row(1, "grey||door"), _row(2, "tan||door")], _draft(circuits=[{"id": "door-switch"}]))
    assert [raw["id"] for raw in found.circuits] == ["door-switch-2", "door-switch-3"]
    circuit = check_part(Circuit, found.circuits[0]).part
    assert circuit is not None
    assert isinstance(circuit.behaviour, GroundSwitch)


@pytest.mark.parametrize(
    ("words", "slug"), [("Driver's Door 2", "drivers-door-2"), ("Été <b>", "ete-b"), ("---", ""), ("x" * 99, "x" * 60)]
)
def test_slugs(words: str, slug: str) -> None:
    assert slug_of(words) == slug
    assert free_slug(words, [slug], "thing") != slug
