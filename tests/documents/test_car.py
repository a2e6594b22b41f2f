"""From a family and a choice to one car: variants, conditions, pins, traits and the standing of its circuits."""

import re
from collections.abc import Mapping
from datetime import date
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.documents.car import Car, ResolveError, expand, resolve, variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.vehicle import Axis, Vehicle
from tests.demonstration import documents

DOCUMENTS = documents()


def vehicle() -> Vehicle:
    document = DOCUMENTS["vehicles/kestrin-fallow.yaml"]
    assert isinstance(document, Vehicle)
    return document


def evidence() -> Evidence:
    document = DOCUMENTS["evidence/kestrin-fallow.yaml"]
    assert isinstance(document, Evidence)
    return document


def car(year: str = "2012", body: str = "sedan", engine: str = "2.4", trim: str = "base") -> Car:
    return resolve(vehicle(), {"year": year, "body": body, "engine": engine, "trim": trim}, [evidence()])


def with_record(**record: object) -> Evidence:
    given_ = {"how": "measured", "by": "bench", "on": date(2025, 1, 2), "reading": "12 V", **record}
    return Evidence.model_validate({"kind": "evidence", "id": "more", "vehicle": "kestrin-fallow", "records": [given_]})


def year_axis(*, ordered: bool = True) -> Axis:
    values = [{"value": year, "cue": f"label {year}"} for year in range(2011, 2016)]
    return Axis.model_validate({"id": "year", "ask": "Which year?", "ordered": ordered, "values": values})


# Variants -------------------------------------------------------------------------------------------------------


def test_variants_are_the_product_of_the_axes_without_what_was_never_built() -> None:
    # Counted by hand: 5 years x 2 bodies x 2 engines x 2 trims = 40, without 10 of the V6 in base trim and 3 more
    # wagons of 2015 (2.4 base, 2.4 touring, 3.3 touring).
    choices = [tuple(choice.values()) for choice in variants(vehicle())]
    assert len(choices) == 27
    assert choices[:3] == [
        ("2011", "sedan", "2.4", "base"),
        ("2011", "sedan", "2.4", "touring"),
        ("2011", "sedan", "3.3", "touring"),
    ]
    never = [("2013", "sedan", "3.3", "base"), ("2015", "wagon", "2.4", "touring")]
    assert not set(never) & set(choices)
    assert len(set(choices)) == len(choices)


def test_a_family_without_axes_is_one_car() -> None:
    plain = vehicle().model_copy(update={"axes": (), "not_built": (), "traits": vehicle().traits[:1], "circuits": ()})
    bare = plain.model_copy(update={"hazards": (), "grounds": ()})
    assert list(variants(bare)) == [{}]
    assert resolve(bare, {}).choice == {}


@pytest.mark.parametrize(
    ("written", "covered"),
    [
        (("2012 to 2014",), ("2012", "2013", "2014")),
        (("2014 to 2014",), ("2014",)),
        (("2011", "2014 to 2015"), ("2011", "2014", "2015")),
        (("2013",), ("2013",)),
    ],
)
def test_a_range_covers_what_lies_between(written: tuple[str, ...], covered: tuple[str, ...]) -> None:
    assert expand(year_axis(), written) == covered


def test_a_range_of_an_axis_without_order_stays_as_it_is() -> None:
    assert expand(year_axis(ordered=False), ("2012 to 2014",)) == ("2012 to 2014",)


def _by_hand(condition: Mapping[str, list[str]], choice: Mapping[str, str]) -> bool:
    """OR inside one axis, AND over axes, written the long way round."""
    settled = [any(value == choice[axis] for value in values) for axis, values in condition.items()]
    return settled.count(False) == 0


@given(
    years=st.lists(st.sampled_from(["2011", "2012", "2013", "2014", "2015"]), max_size=3),
    bodies=st.lists(st.sampled_from(["sedan", "wagon"]), max_size=2),
    use_years=st.booleans(),
    use_bodies=st.booleans(),
)
def test_what_was_never_built_is_or_inside_an_axis_and_and_over_axes(
    years: list[str], bodies: list[str], use_years: bool, use_bodies: bool
) -> None:
    never = {**({"year": years} if use_years else {}), **({"body": bodies} if use_bodies else {})}
    small = vehicle().model_copy(update={"axes": vehicle().axes[:2], "not_built": (never,)})
    built = [tuple(choice.values()) for choice in variants(small)]
    every = product(["2011", "2012", "2013", "2014", "2015"], ["sedan", "wagon"])
    assert built == [(year, body) for year, body in every if not _by_hand(never, {"year": year, "body": body})]


# Choices that name no car ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("choice", "text"),
    [
        (
            {"year": "2012", "body": "sedan"},
            "the choice does not settle engine, trim: engine is one of 2.4, 3.3; trim is one of base, touring",
        ),
        (
            {"year": "2010", "body": "sedan", "engine": "2.4", "trim": "base"},
            "year=2010 is not known for kestrin-fallow; choose one of: 2011, 2012, 2013, 2014, 2015",
        ),
        (
            {"door": "4"},
            "kestrin-fallow has no axis 'door'; its axes are: year, body, engine, trim",
        ),
        (
            {"year": "2015", "body": "wagon", "engine": "2.4", "trim": "base"},
            "kestrin-fallow was never built as year=2015, body=wagon, engine=2.4, trim=base: there is no body wagon "
            "with year 2015; the nearest that was built is year=2014, body=wagon, engine=2.4, trim=base",
        ),
        (
            {"year": "2012", "body": "sedan", "engine": "3.3", "trim": "base"},
            "kestrin-fallow was never built as year=2012, body=sedan, engine=3.3, trim=base: there is no engine 3.3 "
            "with trim base; the nearest that was built is year=2012, body=sedan, engine=2.4, trim=base",
        ),
    ],
)
def test_a_choice_that_names_no_car_says_why(choice: dict[str, str], text: str) -> None:
    with pytest.raises(ResolveError, match=f"^{re.escape(text)}$"):
        resolve(vehicle(), choice)


def test_a_condition_over_an_unknown_axis_is_refused() -> None:
    wrong = vehicle().model_copy(update={"not_built": ({"doors": ("4",)},)})
    with pytest.raises(ResolveError, match="a condition names the axis 'doors', which kestrin-fallow does not have"):
        list(variants(wrong))


# One car ---------------------------------------------------------------------------------------------------------


def test_the_same_id_stands_for_another_wire_on_another_year() -> None:
    early, late = car(year="2013"), car(year="2014")
    assert early.pins["body-a/7"].circuit == "parking-light"
    assert early.pins["body-a/7"].words == "brown/white"
    assert "body-a/7" not in late.pins
    assert late.pins["body-a/20"].words == "brown/yellow"


def test_the_same_id_stands_for_another_colour_on_another_body() -> None:
    assert car(body="sedan").pins["body-a/10"].words == "light blue"
    assert car(body="wagon").pins["body-a/10"].words == "light blue/red"


def test_a_circuit_of_one_engine_leaves_its_places_empty_on_the_other() -> None:
    assert car(engine="2.4").empty_pins("cluster") == ("9", "15", "16")
    assert car(engine="3.3", trim="touring").empty_pins("cluster") == ("16",)
    assert "tach" not in car(engine="2.4").circuits


def test_empty_and_occupied_pins_make_up_the_face() -> None:
    for choice in variants(vehicle()):
        made = resolve(vehicle(), choice)
        for plug in made.plugs.values():
            pins = {pin for row in plug.face.rows for pin in row if pin is not None}
            empty = set(made.empty_pins(plug.id))
            occupied = {pin.partition("/")[2] for pin in made.pins if pin.partition("/")[0] == plug.id}
            assert empty | occupied == pins
            assert not empty & occupied


def test_except_takes_a_part_away() -> None:
    plugs = tuple(
        plug.model_copy(update={"except_": {"year": ("2011 to 2012",), "body": ("wagon",)}})
        if plug.id == "column-airbag"
        else plug
        for plug in vehicle().plugs
    )
    changed = vehicle().model_copy(update={"plugs": plugs})
    kept = {
        (choice["year"], choice["body"])
        for choice in variants(changed)
        if "column-airbag" in resolve(changed, choice).plugs
    }
    assert ("2011", "wagon") not in kept
    assert {("2011", "sedan"), ("2013", "wagon")} <= kept


def test_pins_of_a_circuit_come_in_the_order_of_its_path() -> None:
    assert car().pins_of("hood-switch") == ("body-a/5", "dash-join/2")
    assert car().pins_of("brake") == ("pedal/2", "body-a/11")
    assert car().pins_of("lock") == ("body-a/9",)


def test_traits_are_merged_from_all_entries_that_hold() -> None:
    small, big = car(engine="2.4").traits, car(engine="3.3", trim="touring").traits
    assert (small.fuel, small.cylinders, small.idle_rpm) == ("petrol", 4, 720)
    assert (big.fuel, big.cylinders, big.idle_rpm) == ("petrol", 6, 680)


def test_the_car_carries_what_the_buyer_can_see() -> None:
    assert car(body="wagon").choice_words[1] == (
        "body",
        "wagon",
        "One tall tailgate with the rear window in it and a wiper on it.",
    )
    assert car().name == "Kestrin Fallow"


def test_hazards_follow_their_condition() -> None:
    assert "exhaust-cover" not in {hazard.id for hazard in car(engine="2.4").hazards}
    assert "exhaust-cover" in {hazard.id for hazard in car(engine="3.3", trim="touring").hazards}


# Standing --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("circuit", "choice", "status", "why"),
    [
        ("brake", {}, "proven", "measured by bench, T.R. on 2024-03-12"),
        ("parking-light", {"year": "2013"}, "proven", "measured by bench, T.R. on 2024-03-12"),
        ("parking-light", {"year": "2014"}, "unproven", "only read from the maker's diagram"),
        ("tach", {"engine": "3.3", "trim": "touring", "year": "2015"}, "unproven", "only known from a sibling"),
        ("hatch", {"body": "wagon"}, "unproven", "only reported by a buyer"),
        ("speed-signal", {}, "unproven", "only assumed"),
        ("door-passenger", {"year": "2015"}, "unproven", "only known from another variant"),
        ("fog-lamps", {"trim": "touring"}, "unproven", "nobody has recorded it"),
    ],
)
def test_standing_of_the_demo_circuits(circuit: str, choice: dict[str, str], status: str, why: str) -> None:
    standing = car(**choice).standing[circuit]
    assert (standing.status, standing.why) == (status, why)


def test_without_evidence_everything_is_unproven() -> None:
    made = resolve(vehicle(), {"year": "2012", "body": "sedan", "engine": "2.4", "trim": "base"})
    assert {standing.status for standing in made.standing.values()} == {"unproven"}


def test_nothing_in_the_demo_is_contradicted() -> None:
    for choice in variants(vehicle()):
        standing = resolve(vehicle(), choice, [evidence()]).standing
        assert [circuit for circuit, its in standing.items() if its.status == "contradicted"] == []


def standing_with(circuit: str, record: Evidence, **choice: str) -> tuple[str, str]:
    settled = {"year": "2012", "body": "sedan", "engine": "2.4", "trim": "base", **choice}
    found = resolve(vehicle(), settled, [evidence(), record]).standing[circuit]
    return found.status, found.why


def test_another_colour_seen_in_scope_contradicts_even_a_measurement() -> None:
    record = with_record(
        circuit="lock", claims={"colour": "dark green", "pin": "body-a/9"}, scope={"year": "2011 to 2012"},
        how="buyer reported", by="buyer, order of 2025",
    )  # fmt: skip
    assert standing_with("lock", record) == (
        "contradicted",
        "it was seen as dark green (buyer reported, buyer, order of 2025, 2025-01-02)",
    )
    assert standing_with("lock", record, year="2013")[0] == "proven"


def test_another_pin_seen_contradicts() -> None:
    record = with_record(circuit="horn", claims={"pin": "body-a/15"}, scope={"body": ["sedan"]})
    assert standing_with("horn", record)[1] == "it was found in body-a/15 (measured, bench, 2025-01-02)"
    assert standing_with("horn", record, body="wagon")[0] == "proven"


def test_a_colour_seen_at_a_pin_is_compared_with_the_wire_at_this_pin() -> None:
    # The start circuit is yellow to the gearbox and yellow/black behind it; at the ignition switch it is yellow.
    wrong = with_record(circuit="start", claims={"colour": "yellow", "stripe": "black", "pin": "ignition/6"})
    assert standing_with("start", wrong) == (
        "contradicted",
        "it was seen as yellow/black (measured, bench, 2025-01-02)",
    )
    somewhere = with_record(circuit="start", claims={"colour": "yellow", "stripe": "black"})
    assert standing_with("start", somewhere)[0] == "proven"


def test_evidence_about_another_family_does_not_count() -> None:
    other = with_record(circuit="fog-lamps", claims={"pin": "body-a/29"}).model_copy(update={"vehicle": "another"})
    assert standing_with("fog-lamps", other, trim="touring") == ("unproven", "nobody has recorded it")
