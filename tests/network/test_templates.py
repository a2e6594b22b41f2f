"""Each behaviour template shows at its wire what a technician expects of it."""

import pytest

from loomwright.network.paths import BATTERY
from tests.network.builders import car_of, findings_of, volts

_LAMPS = """
  - id: lamps
    function: parking light
    behaviour: {template: switched feed, load: lamp, load_a: 2}
    path:
      - {from: source, to: s:box, fuse_a: 10}
      - {from: s:box, to: body/1, closed_when: lamps on}
      - {from: body/1, to: load, colour: brown}
"""
_HORN = """
  - id: horn
    function: horn
    behaviour: {template: relay trigger, coil_ohm: 85, fuse_a: 15, load_a: 6}
    path:
      - {from: source, to: body/2}
      - {from: body/2, to: s:column, colour: black, stripe: white}
      - {from: s:column, to: ground, closed_when: horn pressed}
"""
_DOOR = """
  - id: door
    function: door switch
    behaviour: {template: ground switch, pull_up_ohm: 2200}
    path:
      - {from: source, to: body/3}
      - {from: body/3, to: s:pillar, colour: grey}
      - {from: s:pillar, to: ground, closed_when: driver door open}
"""
_TACH = """
  - id: tach
    function: tach
    behaviour: {template: pulse wire, duty: 0.4}
    path:
      - {from: source, to: body/4}
      - {from: body/4, to: load, colour: white}
"""
_START = """
  - id: start
    function: start
    behaviour: {template: keyed feed, fed_by: feed, live: [crank], load_a: 9, starter: true}
    path:
      - {from: source, to: key/2}
      - {from: key/2, to: s:gate, colour: purple, area_mm2: 3, length_m: 1.5}
      - {from: s:gate, to: load, closed_when: in park}
"""


def test_battery_feed_is_live_and_its_fuse_and_wire_cost_little() -> None:
    car = car_of("")
    assert volts(car, "e:feed/load") == pytest.approx(volts(car, BATTERY), abs=0.05)


def test_lamps_follow_their_switch_and_not_the_key() -> None:
    car = car_of(_LAMPS)
    assert volts(car, "c:body/1:h", key="run") < 0.01
    assert volts(car, "c:body/1:h", active=frozenset({"lamps on"})) > 12.0


def test_horn_trigger_rests_at_battery_and_sounds_when_grounded() -> None:
    car = car_of(_HORN)
    pressed = frozenset({"horn pressed"})
    assert volts(car, "c:body/2:h") > 12.0
    assert volts(car, "e:horn/relay-out") < 0.01
    assert volts(car, "c:body/2:h", active=pressed) < 0.2
    assert volts(car, "e:horn/relay-out", active=pressed) > 12.0


def test_door_switch_stands_up_and_falls_when_the_door_opens() -> None:
    car = car_of(_DOOR)
    assert volts(car, "c:body/3:h") > 12.0
    assert volts(car, "c:body/3:h", active=frozenset({"driver door open"})) < 0.2


def test_door_switch_of_a_five_volt_module_stands_at_five_volts() -> None:
    car = car_of(_DOOR.replace("pull_up_ohm: 2200", "pull_up_ohm: 2200, pull_up_v: 5"))
    assert volts(car, "c:body/3:h") == pytest.approx(5.0, abs=0.01)
    assert findings_of(car) == ()


def test_pulse_wire_shows_the_mean_of_its_duty_while_the_engine_turns() -> None:
    car = car_of(_TACH)
    running = frozenset({"engine running"})
    battery = volts(car, BATTERY, key="run", active=running)
    assert volts(car, "c:body/4:h", key="run", active=running) == pytest.approx(0.4 * battery, rel=0.01)


def test_starter_turns_only_in_park_and_pulls_the_battery_down() -> None:
    car = car_of(_START)
    assert volts(car, "e:start/load", key="crank") > 9.0
    assert volts(car, BATTERY, key="crank") == pytest.approx(12.0, abs=0.6)
    assert volts(car, "e:start/load", key="crank", active=frozenset({"in park"})) < 0.01


def test_no_template_contradicts_the_expectations_read_from_its_document() -> None:
    assert findings_of(car_of(_LAMPS + _HORN + _DOOR + _TACH + _START)) == ()
