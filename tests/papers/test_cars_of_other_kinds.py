"""Cars the demo does not show: a start button, an airbag at the place of work, an unknown waiting time."""

import re
from dataclasses import replace

import pytest

from loomwright.documents.car import Car
from loomwright.papers.blocks import Step, Table
from loomwright.papers.guide import guide
from loomwright.papers.measures import amperes
from loomwright.papers.removal_page import removal
from loomwright.papers.saying import plain
from loomwright.starting.modes import REST, Mode, changed
from loomwright.starting.settings import start_settings
from loomwright.starting.step import step as controller
from tests.pairs import EVERY_PAIR
from tests.papers.builders import Built, built, built_pair, steps, strings

_DIESEL = ("norbeck-ploughline", "dunlin-7")
_TRUCK = ("larkholm-oxgate", "dunlin-7")


def _guide_with(car: Car) -> tuple[Step, ...]:
    made = built("2012 wagon")
    installation = replace(made.installation, car=car)
    return steps(guide(installation, replace(made.proof, installation=installation), made.readings, made.shop, {}))


def _hazard(**update: object) -> Car:
    car = built("2012 wagon").installation.car
    first, *rest = car.hazards
    return replace(car, hazards=(first.model_copy(update=update), *rest))


def test_a_button_car_is_never_told_to_turn_a_key() -> None:
    car = built("2012 wagon").installation.car
    button = replace(car, traits=car.traits.model_copy(update={"key": "button"}))
    made = built("2012 wagon")
    own_words = {s for d in made.kit.dialogues for s in strings(tuple(x.press for x in d.steps))}
    text = " ".join(
        t for s in _guide_with(button) if not s.id.startswith("dialogue:") for t in strings(s) if t not in own_words
    )
    assert "Turn the key" not in text
    assert "key one step" not in text
    assert "Press the start button twice" in text
    assert "foot on the brake, a helper presses the button" in text


def test_where_an_airbag_sits_at_the_place_of_work_the_battery_is_off_while_it_is_opened() -> None:
    car = _hazard(place="column")
    found = _guide_with(car)
    names = [s.id for s in found]
    assert names.index("battery-off-first") < names.index("open:column") < names.index("battery-on-first")
    by_id = {s.id: s for s in found}
    assert by_id["open:column"].needs.battery == "off"
    assert "open:left-kick" not in by_id, "no airbag sits there, so it is opened where its first wire is measured"
    assert by_id["measure:T:key-t"].access == ("Still open.",)
    assert names.index("battery-on-first") < min(n for n, i in enumerate(names) if i.startswith("measure:"))


def test_an_unknown_waiting_time_is_never_guessed_below_the_longest_known() -> None:
    found = _guide_with(_hazard(wait_minutes=None))
    wait = next(s for s in found if s.id == "wait")
    words = " ".join(plain(c.text) for c in wait.cautions) + " ".join(plain(d) for d in wait.do)
    # Source: makers' workshop manuals wait from 10 s (1998) to 10 min (Nissan, 1994); the longest stands in.
    assert "10 min" in words
    assert "service information" in words


def _said(made: Built, step: str) -> str:
    return " ".join(strings(next(s for s in steps(made.guide) if s.id == step)))


def test_a_car_with_two_batteries_is_dead_only_with_both_of_them_off() -> None:
    made = built_pair(_DIESEL)
    assert made.installation.car.traits.batteries == 2
    off = _said(made, "battery-off")
    assert "Do the same at the other battery." in off
    assert "Both negative clamps are off" in off
    assert "there is a second battery" not in off, "nobody stops and calls about what is known"
    assert "at one battery, then at the other" in _said(made, "battery-on")
    assert "the same one each time" in _said(made, "baseline-battery")
    assert "negative clamps of both batteries off" in " ".join(strings(tuple(removal(made.job))))
    one = built("2012 wagon")
    assert "other battery" not in _said(one, "battery-off")


def test_a_diesel_with_a_key_is_started_only_after_its_glow_lamp_is_out() -> None:
    made = built_pair(_DIESEL)
    for step in ("baseline-key", "key-after-joining", "key-with-kit"):
        assert "wait until the glow lamp is out, then start the engine with the key" in _said(made, step), step
    assert "glow lamp" not in _said(built("2012 wagon"), "baseline-key")


def test_a_fuse_is_called_by_what_is_printed_on_it() -> None:
    assert [amperes(a, "t").printed for a in (30.0, 7.5)] == ["30", "7.5"]
    made = built_pair(_DIESEL)
    assert any(made.job.terminal(j).fuse_a == 7.5 for j in made.installation.joints)
    table = next(b for b in made.guide.blocks if isinstance(b, Table) and b.head[0] == "Plug/place")
    assert "fuse 7.5 A" in " ".join(plain(cell) for row in table.rows for cell in row)
    fuses = next(s for s in steps(made.guide) if s.id == "fuses-in")
    assert "LAMPS 7.5 A" in " ".join(plain(d) for d in fuses.do)


def test_a_buyer_reads_what_he_misses_with_a_function_that_is_not_served() -> None:
    made = built_pair(_TRUCK)
    assert "second ignition" in {u.function for u in made.installation.unserved}
    text = " ".join(strings(made.guide.blocks))
    assert "in most cars the heater blower, stays off while the engine runs by remote" in text
    assert "what hangs on that feed" not in " ".join(strings(built_pair(_DIESEL).guide.blocks)).lower()


def test_several_menus_are_set_one_after_the_other() -> None:
    made = built_pair(_TRUCK)
    step = next(s for s in steps(made.guide) if s.id.startswith("dialogue:") and s.title.startswith("Set the menus"))
    told = [plain(d) for d in step.do]
    choices = [n for n, line in enumerate(told) if line.startswith("With this you set:")]
    assert len(choices) > 1
    begins = "Do the lines below that have an answer, from the first to the last, once for each"
    assert told[choices[-1] + 1].startswith(begins)


def test_a_lead_inside_a_t_is_no_joint_to_make_again() -> None:
    made = built_pair(_DIESEL)
    assert "whether both ends of T7 have clicked" in _said(made, "test:key")
    assert "make the joint of" not in _said(made, "test:key")
    assert "make the joint of" in _said(made, "test:brake")


def test_a_hood_pin_is_fitted_under_the_hood_and_reads_ol_when_shut() -> None:
    made = built_pair(_TRUCK)
    step = next(s for s in steps(made.guide) if s.title == "HOOD to the new hood pin")
    assert step.place == "Under the hood"
    assert "no contact: OL, or more than 10000 Ω" in [plain(r.expect) for r in step.readings]


def test_nobody_taps_the_parking_brake_of_an_automatic() -> None:
    """Its park lock holds it, and the controller asks for no more; the lead is capped like any other unused one."""
    made = built_pair(_DIESEL)
    assert any(t.function == "parking brake" for t in made.kit.controller.terminals)
    assert all(j.function != "parking brake" for j in made.installation.joints)
    assert "parking-brake" in {lead.terminal for lead in made.installation.unused_leads}


def test_the_driver_of_a_diesel_is_told_that_the_starter_waits() -> None:
    told = " ".join(strings(built_pair(_DIESEL).cards["operating-card"].blocks))
    assert "the starter stays still until the glow lamp is out" in told
    assert "glow lamp" not in " ".join(strings(built_pair(_TRUCK).cards["operating-card"].blocks))


_HALVES = ("sarnow-ouzel", "dunlin-7")


def test_lamps_that_hang_on_two_wires_are_tried_like_those_on_one() -> None:
    made = built_pair(_HALVES)
    assert {"parking light left", "parking light right"} <= {j.function for j in made.installation.joints}
    for step_id in ("baseline-works", "key-after-joining", "test:extra"):
        step = next(s for s in steps(made.guide) if s.id == step_id)
        assert any("all four corners light" in plain(do).lower() for do in step.do), step_id


@pytest.mark.parametrize("pair", EVERY_PAIR, ids=" with ".join)
def test_who_needs_more_than_one_key_is_told_before_the_work_begins(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    keys = made.installation.car.traits.keys_to_learn or 0
    first = next(n for n, block in enumerate(made.guide.blocks) if isinstance(block, Step))
    told = " ".join(strings(made.guide.blocks[:first]))
    assert (" working keys of this car" in told) == (keys > 1 and made.job.uses_module)


@pytest.mark.parametrize("pair", EVERY_PAIR, ids=" with ".join)
def test_what_the_remote_does_besides_is_told_and_tried_where_the_kit_serves_it(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    (remote,) = made.kit.remotes
    card = [line.removesuffix(".") for line in strings(made.cards["operating-card"].blocks)]
    extra = next((s for s in steps(made.guide) if s.id == "test:extra"), None)
    tried = " ".join(plain(do) for do in extra.do) if extra is not None else ""
    for function in ("lock", "unlock", "hatch", "horn"):
        how = getattr(remote, function)
        assert how is not None
        assert any(how.removesuffix(".") in line for line in card) == (function in made.job.served), function
        assert (how in tried) == (function in made.job.served), function


def test_a_lead_that_leaves_the_cabin_is_told_its_way_out() -> None:
    made = built_pair(_TRUCK)
    pin = next(j for j in made.installation.joints if j.kind == "added part")
    way = next(p.through for p in made.installation.car.places.values() if p.through is not None)
    for joint in made.installation.joints:
        step = next((s for s in steps(made.guide) if s.id == f"join:{joint.id}"), None)
        if step is not None:
            told = any("out of the cabin" in plain(do) and way in plain(do) for do in step.do)
            assert told == (joint is pin), joint.id


def test_a_wire_in_the_cabin_is_taken_before_the_same_one_under_the_hood() -> None:
    """Bringing a lead through the bulkhead is a quarter of an hour and a hole to be sealed: common practice."""
    made = built_pair(_HALVES)
    car = made.installation.car
    under_hood = {plug.id for plug in car.plugs.values() if car.places[plug.place].through is not None}
    hood = next(c for c in car.circuits.values() if c.function == "hood switch")
    pins = {end for step in hood.path for end in (step.from_, step.to) if "/" in end}
    assert {pin.partition("/")[0] for pin in pins} & under_hood
    joint = next(j for j in made.installation.joints if j.function == "hood switch")
    assert (joint.pin or "").partition("/")[0] not in under_hood


def test_a_pin_whose_wire_was_measured_elsewhere_is_told_as_such() -> None:
    made = built_pair(_HALVES)
    told = [text for text in strings(made.guide.blocks) if ": measured at " in text]
    # By hand from the evidence of that car: both wires of the bus were measured at another plug.
    assert len(told) == 2
    assert any("diagnostic socket, pin 6: measured at comfort-module plug, pin 24" in text for text in told)
    assert not any("Brake," in text for text in told)


@pytest.mark.parametrize("pair", EVERY_PAIR, ids=" with ".join)
def test_the_card_promises_no_more_than_the_kit_reads(pair: tuple[str, str]) -> None:
    """Each input is moved in the controller's own step: the card says of it what happens, and of no other."""
    made = built_pair(pair)
    text = " ".join(strings(made.cards["operating-card"].blocks))
    (stops,) = re.findall("It also stops when [^.]*", text)
    settings = start_settings(made.installation)

    def runs_on(field: str, value: object) -> bool:
        now = changed(REST, {"engine": "running", field: value})
        return controller(Mode(name="running", attempts=1), now, frozenset(), settings).mode.name == "running"

    assert ("hood" in stops) != runs_on("hood_open", True)
    assert ("door" in stops) != runs_on("door_open", True)
    assert ("brake pedal" in stops) != runs_on("brake_pressed", True)
    assert ("selector" in stops) != runs_on("in_park", False)
    doors = [j.circuit for j in made.installation.joints if j.function == "door switch"]
    read = {s.closed_when for c in doors for s in made.installation.car.circuits[c or ""].path if s.closed_when}
    assert ("driver's door" in stops) == bool(read and all("driver" in door for door in read))


def test_nobody_is_told_to_pull_fuses_before_the_engine_of_a_button_car_stands() -> None:
    """Its engine runs on without the kit, so that the fuses alone would leave it running."""
    made = built_pair(("averdahl-siskin", "dunlin-7"))
    # In the test of the selector the engine stands: what would turn is the starter, and the step switches the car off.
    tested = [s for s in steps(made.guide) if s.id.startswith("test:") and s.id != "test:selector"]
    pulls = [plain(s.if_not) for s in tested if "fuses" in plain(s.if_not)]
    assert pulls
    assert all(words.index("stop it with the start button") < words.index("fuses") for words in pulls)
    keyed = [plain(s.if_not) for s in steps(built_pair(_HALVES).guide) if s.id.startswith("test:")]
    assert not any("start button" in words for words in keyed)
