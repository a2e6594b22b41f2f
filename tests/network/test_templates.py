"""Each behaviour template shows at its wire what a technician expects of it."""

import dataclasses

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


_STEPPED = """
  - id: doors
    function: lock
    behaviour:
      template: stepped input
      pull_up_ohm: 1000
      pull_up_v: 5
      steps:
        - {function: lock, when: lock pressed, resistance_ohm: 1500}
        - {function: unlock, when: unlock pressed, resistance_ohm: 330}
    path:
      - {from: source, to: body/6}
      - {from: body/6, to: load, colour: pink}
"""
_LEGS = """
  - id: leg-lock
    function: lock motor
    behaviour: {template: reversing leg, partner: leg-unlock, live_when: lock pressed, load_a: 6}
    path:
      - {from: source, to: body/7}
      - {from: body/7, to: load, colour: blue, area_mm2: 1}
  - id: leg-unlock
    function: lock motor
    behaviour: {template: reversing leg, partner: leg-lock, live_when: unlock pressed, load_a: 6}
    path:
      - {from: source, to: body/8}
      - {from: body/8, to: load, colour: green, area_mm2: 1}
"""
_REQUEST = """
  - id: start
    function: start
    behaviour: {template: start request, fed_by: feed}
    path:
      - {from: source, to: key/2}
      - {from: key/2, to: load, colour: purple}
"""
_CODED = """
  - id: coded
    function: other
    behaviour: {template: coded switch, resistances: {off: 10000, acc: 2200, run: 680, crank: 150}}
    path:
      - {from: source, to: key/4}
      - {from: key/4, to: load, colour: white}
"""
_WAIT = """
  - id: run-feed
    function: ignition
    behaviour: {template: keyed feed, fed_by: feed, live: [run, crank], load_a: 5}
    path:
      - {from: source, to: key/5}
      - {from: key/5, to: load, colour: pink}
  - id: wait
    function: wait-to-start
    behaviour: {template: switched ground, fed_by: run-feed, load_a: 0.1}
    path:
      - {from: source, to: body/5}
      - {from: body/5, to: s:engine, colour: tan}
      - {from: s:engine, to: ground, closed_when: wait lamp lit}
"""
_MODULATED = """
  - id: park
    function: parking light left
    behaviour: {template: module output, on_when: lamps on, duty: 0.6, limit_a: 4, load: lamp, load_a: 1}
    path:
      - {from: source, to: body/1}
      - {from: body/1, to: load, colour: brown}
"""
_RETAINED = """
  - id: acc
    function: accessory
    behaviour: {template: keyed feed, fed_by: feed, live: [acc, run], retained: true, load_a: 2}
    path:
      - {from: source, to: key/6}
      - {from: key/6, to: load, colour: orange}
"""
_POLLED = _DOOR.replace("pull_up_ohm: 2200", "pull_up_ohm: 2200, polled: 0.2")


def test_stepped_input_stands_at_the_divider_of_the_pressed_switch() -> None:
    car = car_of(_STEPPED)
    assert volts(car, "c:body/6:h") == pytest.approx(5.0, abs=0.01)
    lock = volts(car, "c:body/6:h", active=frozenset({"lock pressed"}))
    assert lock == pytest.approx(5.0 * 1500 / 2500, rel=0.01)
    unlock = volts(car, "c:body/6:h", active=frozenset({"unlock pressed"}))
    assert unlock == pytest.approx(5.0 * 330 / 1330, rel=0.01)


def test_reversing_legs_rest_at_ground_and_one_goes_live() -> None:
    car = car_of(_LEGS)
    lock = frozenset({"lock pressed"})
    assert abs(volts(car, "c:body/7:h")) < 0.01
    assert volts(car, "c:body/7:h", active=lock) > 12.0
    assert abs(volts(car, "c:body/8:h", active=lock)) < 0.2


def test_a_start_request_turns_the_starter_only_where_the_computer_sees_park() -> None:
    car = car_of(_REQUEST)
    assert volts(car, BATTERY, key="crank") < 12.3
    assert volts(car, BATTERY, key="crank", active=frozenset({"in park"})) > 12.5
    assert volts(car, "c:key/2:h", key="crank", active=frozenset({"in park"})) > 12.0


def test_a_coded_switch_shows_another_voltage_in_each_position() -> None:
    car = car_of(_CODED)
    shown = [volts(car, "c:key/4:h", key=key) for key in ("off", "acc", "run", "crank")]
    wanted = [5.0 * ohm / (ohm + 1000) for ohm in (10_000, 2200, 680, 150)]
    assert shown == pytest.approx(wanted, rel=0.01)


def test_a_wait_lamp_wire_is_low_while_the_lamp_is_lit_and_dead_with_the_key_off() -> None:
    car = car_of(_WAIT)
    assert volts(car, "c:body/5:h", key="run") > 12.0
    assert volts(car, "c:body/5:h", key="run", active=frozenset({"wait lamp lit"})) < 0.2
    assert volts(car, "c:body/5:h") < 0.01


def test_a_modulated_output_shows_a_meter_its_duty() -> None:
    car = car_of(_MODULATED)
    assert volts(car, "c:body/1:h", active=frozenset({"lamps on"})) == pytest.approx(0.6 * 12.6, abs=0.3)


def test_retained_accessory_stays_live_after_the_key_is_off() -> None:
    car = car_of(_RETAINED)
    assert volts(car, "c:key/6:h") < 0.01
    assert volts(car, "c:key/6:h", active=frozenset({"retained accessory"})) > 12.0


def test_a_polled_input_shows_the_mean_of_its_short_pulses() -> None:
    assert volts(car_of(_POLLED), "c:body/3:h") == pytest.approx(0.2 * 12.6, abs=0.1)


def test_none_of_the_hard_shapes_contradicts_its_own_document() -> None:
    for shape in (_STEPPED, _LEGS, _REQUEST, _CODED, _WAIT, _MODULATED, _RETAINED, _POLLED):
        assert findings_of(car_of(shape)) == (), shape


def test_two_batteries_sag_less_while_cranking_than_one() -> None:
    one = car_of(_START)
    two = dataclasses.replace(one, traits=one.traits.model_copy(update={"batteries": 2}))
    assert volts(two, BATTERY, key="crank") > volts(one, BATTERY, key="crank")
