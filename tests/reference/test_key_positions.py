"""Key-position tables of published ignition-switch charts, against the keyed-feed template in a solved car."""

import pytest

from loomwright.network.paths import BATTERY
from tests.network.builders import car_of, volts

# Each row: source, what the chart calls the contact, and whether it is live in off, accessory, run and start.
# Source: Ford Excursion 2005, ignition switch test chart.
# Source: Lexus RX 350 2007, ignition switch inspection table (AM1-IG1, AM2-IG2, AM1-ACC, AM2-ST2).
# Source: Chrysler Intrepid 2000, ignition switch continuity table, terminals 1, 4, 6, 9 and 10.
# Terminal 1 of the last is live in OFF, RUN and START and dead in ACC, so a meter takes it for a constant feed unless
# accessory is tried.
CHARTS = [
    ("excursion run", (0, 0, 1, 0)),
    ("excursion run/start", (0, 0, 1, 1)),
    ("excursion run/acc", (0, 1, 1, 0)),
    ("excursion start", (0, 0, 0, 1)),
    ("rx ig1", (0, 0, 1, 1)),
    ("rx ig2", (0, 0, 1, 1)),
    ("rx acc", (0, 1, 1, 0)),
    ("rx st2", (0, 0, 0, 1)),
    ("intrepid 1", (1, 0, 1, 1)),
    ("intrepid 4", (0, 0, 1, 1)),
    ("intrepid 6", (0, 1, 1, 0)),
    ("intrepid 9", (0, 0, 0, 1)),
    ("intrepid 10", (0, 0, 1, 0)),
]
KEYS = ("off", "acc", "run", "crank")


@pytest.mark.parametrize(("name", "truth"), CHARTS, ids=[name for name, _ in CHARTS])
def test_a_keyed_feed_reads_as_its_chart_says(name: str, truth: tuple[int, ...]) -> None:
    live = ", ".join(key for key, on in zip(KEYS, truth, strict=True) if on)
    car = car_of(f"""
  - id: it
    function: other
    behaviour: {{template: keyed feed, fed_by: feed, live: [{live}], load_a: 3}}
    path:
      - {{from: source, to: key/3}}
      - {{from: key/3, to: load, colour: pink}}
""")
    for key, on in zip(KEYS, truth, strict=True):
        reading = volts(car, "c:key/3:h", key=key)
        battery = volts(car, BATTERY, key=key)
        assert reading == pytest.approx(battery if on else 0.0, abs=0.25), key


def test_a_constant_feed_reads_battery_in_every_position() -> None:
    # Source: common practice (key-position table of a constant wire).
    car = car_of("")
    for key in KEYS:
        assert volts(car, "c:key/1:h", key=key) == pytest.approx(volts(car, BATTERY, key=key), abs=0.1)


# Source: common practice; the published anchors are 2.3 and 2.8 V on a two-wire bus (Volvo S60 2009 workshop manual),
# near 0 V at rest with 7 V pulses on J1850 VPW (Cadillac Eldorado 2000 service manual), and 12 V at rest on a K-line.
@pytest.mark.parametrize(
    ("bus", "low", "high"),
    [
        ("pulse-width", 0.0, 1.5),
        ("two-wire high", 2.4, 3.0),
        ("two-wire low", 2.0, 2.6),
        ("single-wire", 0.0, 1.2),
        ("one-wire serial", 8.0, 12.6),
        ("k-line", 9.6, 13.5),
    ],
)
def test_a_data_wire_shows_the_mean_a_meter_shows(bus: str, low: float, high: float) -> None:
    car = car_of(f"""
  - id: it
    function: bus
    behaviour: {{template: data wire, bus: {bus}}}
    path:
      - {{from: source, to: body/5}}
      - {{from: body/5, to: load, colour: green}}
""")
    assert low <= volts(car, "c:body/5:h", key="run") <= high
