"""Where a reading comes from: the drops of the way add up to it, and each element is found in its document."""

from functools import cache

import pytest

from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, load
from loomwright.network.readings import readings
from loomwright.network.results import Reading
from loomwright.network.tracing import Trace, origin_of, trace_reading
from tests.demonstration import KIT_FILE, V6, VEHICLE_FILE, installation

_BATTERY_V = 12.5


@cache
def _told() -> dict[str, Reading]:
    return {r.id: r for r in readings(installation(V6), _BATTERY_V).readings}


def _trace(name: str) -> Trace:
    return trace_reading(installation(V6), _told()[name], _BATTERY_V)


def test_every_reading_with_a_voltage_is_the_sum_of_its_drops() -> None:
    fed = 0
    for reading in _told().values():
        found = trace_reading(installation(V6), reading, _BATTERY_V)
        if found.kind != "fed" or reading.clip != "battery negative":
            continue
        fed += 1
        # The way is unbroken, it ends at the point, and the voltage there is what the drops leave of the beginning.
        assert all(one.end == other.start for one, other in zip(found.hops, found.hops[1:], strict=False))
        assert found.hops[-1].end == reading.node
        left = found.hops[0].start_v - sum(hop.start_v - hop.end_v for hop in found.hops)
        assert left == pytest.approx(reading.band.nominal, abs=1e-4)
        assert all(hop.current_a > 0.0 for hop in found.hops)
    assert fed > 25


def test_a_pressed_brake_is_fed_over_fuse_and_switch_and_each_stands_at_its_line() -> None:
    found = _trace("j:brake/pedal/2@identify/key off, brake pressed")
    names = [hop.element.id for hop in found.hops]
    assert names[0] == "v:battery"
    assert names.index("v:stop-feed/source~s:stop-fuse") < names.index("v:brake/source~pedal/2")
    vehicle, kit = load([Source(file=name, text=demo_files()[name]) for name in (VEHICLE_FILE, KIT_FILE)], MODELS)
    lines = demo_files()[VEHICLE_FILE].splitlines()
    for hop in found.hops:
        origin = origin_of(hop.element, installation(V6), vehicle, kit)
        assert origin is not None
        assert origin.file == VEHICLE_FILE
        if hop.element.origin.step is not None and hop.element.kind == "fuse":
            assert "fuse_a: 15" in lines[origin.line - 1]


def test_the_lead_of_the_kit_stands_in_the_kit_document() -> None:
    found = _trace("j:brake/pedal/2@after joining/key off, brake pressed")
    vehicle, kit = load([Source(file=name, text=demo_files()[name]) for name in (VEHICLE_FILE, KIT_FILE)], MODELS)
    lead = next(hop.element for hop in found.hops if hop.element.id == "j:brake/pedal/2/lead")
    origin = origin_of(lead, installation(V6), vehicle, kit)
    assert origin is not None
    assert origin.file == KIT_FILE
    assert "terminal: brake" in demo_files()[KIT_FILE].splitlines()[origin.line - 1]


def test_a_pulled_wire_is_held_to_battery_negative_by_its_switch() -> None:
    found = _trace("j:hood-switch/dash-join/2@identify/key off, hood open")
    assert found.hops
    assert found.hops[-1 if found.kind == "held" else 0].element.id.startswith("v:")
    assert found.hops[-1].end == ("ground" if found.kind == "held" else "c:dash-join/2:h")
