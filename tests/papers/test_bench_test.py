"""The bench test: each wire that nobody would miss is tried before the kit goes out, or left to the car by name."""

import pytest

from loomwright.papers.bench_test import bench_test
from loomwright.papers.blocks import Bullets, Heading, Paper, Step, Table
from loomwright.papers.safety_tests import title_of_test as title_of
from loomwright.papers.saying import plain
from loomwright.planning.installation import Installation
from loomwright.starting.bench import bench_inputs, cranks_on_bench, engine_on_bench
from loomwright.starting.settings import start_settings
from loomwright.starting.trying import needed_tests
from loomwright.starting.wiring import wiring_of
from tests.demonstration import shop
from tests.kept import once, start_report_of
from tests.pairs import PAIRS, installations
from tests.papers.builders import quantities
from tests.papers.test_needed_tests import job_of

_CLIP = {"free": "hanging free", "ground": "on minus", "battery": "on plus"}


def _made(one: Installation) -> Paper:
    job = job_of(one)
    return bench_test(one, job.proof, job.readings, shop(), {})


_paper = once(_made)


def _steps(paper: Paper) -> dict[str, Step]:
    return {b.id.removeprefix("bench:"): b for b in paper.blocks if isinstance(b, Step)}


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_every_silent_fault_is_tried_on_the_bench_or_left_to_the_car_by_name(pair: tuple[str, str]) -> None:
    for one in installations(pair, 2):
        paper, report = _paper(one), start_report_of(one)
        steps = _steps(paper)
        in_car = " ".join(
            plain(i) for b in paper.blocks if isinstance(b, Bullets) and b.ticked for i in b.items
        )
        for fault in report.silent:
            name = fault.revealed_by[0]
            assert (name in steps) is not (f"{title_of(job_of(one), name)}:" in in_car), fault.words
        proved = next(n for n, b in enumerate(paper.blocks) if isinstance(b, Heading) and b.anchor == "proved")
        assert isinstance(paper.blocks[proved + 1], Bullets)


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_no_bench_test_is_masked(pair: tuple[str, str]) -> None:
    for one in installations(pair, 2):
        settings = start_settings(one)
        wires = wiring_of(one, settings)
        inputs, steps = bench_inputs(one, settings, wires), _steps(_paper(one))
        for need in needed_tests(settings, wires):
            if need.test.id not in steps:
                continue
            said = " ".join(plain(d) for d in steps[need.test.id].do)
            for other in need.clear:
                assert f"{inputs[other].joint.label} {_CLIP[inputs[other].rest]}" in said, (need.test.id, other)
            given = inputs[next(iter(need.test.sets))]
            assert f"{given.joint.label}: {_CLIP[given.other]}" in said
            # A request that the kit never heard would prove nothing: each test shows that it does hear.
            assert "it starts" in said or "as in the first test" in said


def test_a_clip_makes_an_input_read_what_the_car_makes_it_read() -> None:
    # Common practice: a brake lead reads battery voltage with the pedal pressed, hood and door switches go to ground.
    one = next(i for i in installations(("branmoor-yarrow", "dunlin-7"), 2))
    settings = start_settings(one)
    found = bench_inputs(one, settings, wiring_of(one, settings))
    assert {n: (f.rest, f.other) for n, f in found.items()} == {
        "brake_pressed": ("free", "battery"), "hood_open": ("free", "ground"), "door_open": ("free", "ground"),
        "key_in": ("free", "ground"),
    }  # fmt: skip
    # 750 rpm and 2 pulses a turn, as the vehicle document has them: f = n p / 60 gives 25 Hz (checked in test_engine).
    engine = engine_on_bench(one, settings)
    assert engine is not None
    assert engine.hertz == pytest.approx(25.0)


def test_a_kit_that_hears_its_inputs_over_the_bus_refuses_on_the_bench() -> None:
    for pair in PAIRS:
        for one in installations(pair, 2):
            settings = start_settings(one)
            heard = [r for r in one.routes if r.how == "bus" and r.function in ("tach", "door switch", "brake")]
            cranks = cranks_on_bench(one, settings, wiring_of(one, settings))
            assert cranks is not bool(heard)
            assert ("refuses" in _steps(_paper(one))) is not cranks
            assert ("start" in _steps(_paper(one))) is cranks


def test_a_refusal_on_the_bench_is_seen_as_an_answer_and_nothing_else_lights() -> None:
    """The controller answers a refused request with its lamps, so that silence is a kit that heard nothing."""
    seen = 0
    for pair in PAIRS:
        one = installations(pair, 1)[0]
        refuses = _steps(_paper(one)).get("refuses")
        lamps = [j.label for j in one.joints if j.function.startswith("parking light")]
        if refuses is None or not lamps:
            continue
        seen += 1
        first, _, rest = plain(refuses.see).partition(": ")
        assert "three flashes" in first
        assert all(label in first for label in lamps)
        assert all(label not in rest.partition(" lights")[0].split() for label in lamps)
    assert seen


def test_every_lead_of_the_start_has_its_clip_and_every_number_its_trace() -> None:
    one = installations(("branmoor-yarrow", "dunlin-7"), 2)[0]
    paper = _paper(one)
    table = next(b for b in paper.blocks if isinstance(b, Table) and b.head[0] == "lead")
    rows = {plain(row[0]).partition(",")[0] for row in table.rows}
    wanted = {
        j.label for j in one.joints
        if j.function in ("ground", "battery feed", "ignition", "start", "brake", "hood switch", "tach", "accessory")
    }  # fmt: skip
    assert wanted <= rows
    found = list(quantities(paper.blocks))
    assert {q.trace.partition(":")[0] for q in found} <= {"document", "practice"}
    limit = next(q for q in found if q.trace.endswith("/settings/crank-limit"))
    assert f"{limit.value:g} s" == dict(one.settings)["crank-limit"]


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_every_lead_is_rung_out_from_its_place_to_its_other_end(pair: tuple[str, str]) -> None:
    for one in installations(pair, 2):
        paper, job = _paper(one), job_of(one)
        table = next(b for b in paper.blocks if isinstance(b, Table) and b.head[0] == "Kit's plug")
        rows = [tuple(map(plain, row)) for row in table.rows]
        # Conductors of a packed T that this car leaves over ring as well, and stand behind the joined ones.
        labels = {c.label for b in job.kit.branches for c in b.conductors}
        assert all(lead.split(", ")[0] in labels for _, lead, _ in rows[len(job.ordered_joints) :])
        for joint, (place, lead, end) in zip(job.ordered_joints, rows, strict=False):
            terminal = job.terminal(joint)
            assert place == f"{terminal.plug.upper()}/{terminal.pin}"
            assert lead.startswith(joint.label)
            if joint.part is not None:
                name = next(p.name for p in job.kit.parts if p.id == joint.part.part)
                assert end.startswith(f"at the {name}")  # behind it nothing rings
            elif joint.branch is not None:
                # The T is built to the pins of its housing, which are those of the car's plug.
                assert end.endswith(f", pin {(joint.pin or '').partition('/')[2]}")
            else:
                assert end in ("its ring", "its bare end")
        first = next(b for b in paper.blocks if isinstance(b, Heading))
        assert first.anchor == "ring-out", "before a supply is clipped on"
