"""Cars the demo does not show: a start button, an airbag at the place of work, an unknown waiting time."""

from dataclasses import replace

from loomwright.documents.car import Car
from loomwright.papers.blocks import Step
from loomwright.papers.guide import guide
from loomwright.papers.saying import plain
from tests.papers.builders import built, steps, strings


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
