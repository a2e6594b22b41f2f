"""The compiled loops: the same bits as the numpy lanes wherever they are used, and when they are used at all."""

import dataclasses
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from loomwright.errors import LoomwrightError
from loomwright.network import kernel as kernel_module
from loomwright.network.bounds import bounds
from loomwright.network.branches import BoolArray, Branches, FloatArray
from loomwright.network.compiling import compile_netlist, emf_of, scale_of
from loomwright.network.joining import joined_netlist
from loomwright.network.kernel import VARIABLE, Kernel, Loops, kernel
from loomwright.network.lanes import eliminate
from loomwright.network.latches import Outcome
from loomwright.network.solution import Solution
from loomwright.network.solver import solve
from loomwright.network.stamping import lay_out, new_rows
from loomwright.network.stories import stories_of
from tests.independent.drawing import Drawing, from_drawing
from tests.independent.synthetic import build, draw_points, random_network
from tests.pairs import PAIRS, installations

Solve = Callable[[Branches, FloatArray, FloatArray, BoolArray | None], tuple[Solution, Solution]]


@pytest.fixture
def both_ways(monkeypatch: pytest.MonkeyPatch) -> Solve:
    """Give a function that solves once with the numpy lanes and once with the loops."""
    monkeypatch.setenv(VARIABLE, "always")
    assert kernel.loops(1, 1) is not None, kernel.trouble

    def solved(
        branches: Branches, scale: FloatArray, emf: FloatArray, latched: BoolArray | None = None
    ) -> tuple[Solution, Solution]:
        monkeypatch.setenv(VARIABLE, "off")
        one = solve(branches, scale, emf, latched=latched)
        monkeypatch.setenv(VARIABLE, "always")
        return one, solve(branches, scale, emf, latched=latched)

    return solved


def _assert_equal(both: tuple[Solution, Solution]) -> None:
    # 1e-12 V is what is promised; the loops add in the same order, so that there is no difference at all.
    for field in dataclasses.fields(Solution):
        one, other = (getattr(solution, field.name) for solution in both)
        assert one.dtype == other.dtype
        assert np.array_equal(one, other), field.name


@pytest.mark.parametrize(("nodes", "seed"), [(40, 4), (60, 1), (116, 2), (200, 3)])
def test_networks_like_a_cars_have_the_same_bits(both_ways: Solve, nodes: int, seed: int) -> None:
    net = build(nodes, seed)
    scale, emf = draw_points(net, 1500, seed=11)
    cold = both_ways(net.branches, scale, emf, None)
    _assert_equal(cold)
    warm = np.random.default_rng(nodes).random((len(net.branches.latches), 1500)) < 0.5
    _assert_equal(both_ways(net.branches, scale, emf, warm))


def test_chatter_and_race_have_the_same_bits(both_ways: Solve) -> None:
    net = build(60, seed=2)
    found, _ = both = both_ways(net.branches, *draw_points(net, 6000, seed=7), None)
    assert {int(outcome) for outcome in found.outcome} == {Outcome.SETTLED, Outcome.CHATTERS, Outcome.RACE}
    _assert_equal(both)


def test_networks_without_any_sense_have_the_same_bits(both_ways: Solve) -> None:
    rng = np.random.default_rng(8)
    for nodes in (2, 3, 7, 30, 31, 32, 33, 34, 35, 36):
        branches, scale, emf = random_network(rng, nodes)
        drawn = scale * np.exp(rng.uniform(-3.0, 3.0, (branches.count, 60)))
        _assert_equal(both_ways(branches, drawn, emf, None))


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_every_state_of_the_demonstration_has_the_same_bits(both_ways: Solve, pair: tuple[str, str]) -> None:
    for plan in installations(pair, 1):
        netlist = joined_netlist(plan)
        compiled = compile_netlist(netlist)
        states = list(dict.fromkeys(state for story in stories_of(plan) for state in story.states))
        scale = scale_of(netlist, states)
        for battery_v in (11.8, 14.8):
            relays = len(compiled.branches.latches)
            for latched in (np.zeros((relays, 1), dtype=np.bool_), np.ones((relays, 1), dtype=np.bool_)):
                _assert_equal(both_ways(compiled.branches, scale, emf_of(compiled, battery_v), latched))


@pytest.mark.parametrize("lanes", [0, 1, 7, 8, 9, 4001])
def test_any_number_of_lanes_will_do(both_ways: Solve, lanes: int) -> None:
    net = build(60, seed=1)
    scale, emf = draw_points(net, 4001, seed=3)
    both = both_ways(net.branches, scale[:, :lanes], emf[:, :lanes], None)
    _assert_equal(both)
    assert both[1].voltage.shape == (60, lanes)


def test_nodes_that_float_and_links_of_next_to_nothing(both_ways: Solve) -> None:
    net = Drawing(nodes=5)
    net.branch(0, -1, 80.0, emf=12.6)
    net.branch(0, 1, 1e9)  # as good as no resistance at all
    net.branch(1, 2, 1e-13)
    net.diode(2, 3)  # hangs on nothing; node 4 is touched by nothing
    both = both_ways(*from_drawing(net), None)
    _assert_equal(both)
    assert both[1].voltage[1, 0] == pytest.approx(12.6)
    assert both[1].voltage[4, 0] == 0.0


def test_a_network_of_plain_resistors_has_no_late_nodes(both_ways: Solve) -> None:
    net = Drawing(nodes=3)
    net.branch(0, -1, 2.0, emf=6.0)
    net.branch(0, 1, 4.0)
    net.branch(1, 2, 4.0)
    net.branch(2, -1, 4.0)
    _assert_equal(both_ways(*from_drawing(net), None))


def test_lanes_that_need_a_descent_are_left_to_the_numpy_lanes(
    both_ways: Solve, monkeypatch: pytest.MonkeyPatch
) -> None:
    left: list[int] = []
    plain = Loops.solve

    def counted(self: Loops, *args: object, **named: object) -> tuple[Solution, BoolArray]:
        solution, rest = plain(self, *args, **named)  # type: ignore[arg-type]
        left.append(int(rest.sum()))
        return solution, rest

    monkeypatch.setattr(Loops, "solve", counted)
    rng = np.random.default_rng(12)
    for _ in range(12):
        branches, scale, emf = random_network(rng, 20)
        drawn = scale * np.exp(rng.uniform(-6.0, 6.0, (branches.count, 400)))
        _assert_equal(both_ways(branches, drawn, emf, None))
    assert sum(left) > 0, "no lane was left; the test must look elsewhere"
    assert sum(left) < 0.02 * 12 * 400


@pytest.mark.parametrize("wrong", [0.0, -1.0, np.nan, np.inf])
def test_a_wrong_value_is_told_the_same_way(both_ways: Solve, wrong: float) -> None:
    net = build(60, seed=1)
    scale, emf = draw_points(net, 20, seed=3)
    scale[17, 13] = wrong
    with pytest.raises(ValueError, match="branch 17: a scale is not a finite number above zero"):
        solve(net.branches, scale, emf)
    scale[17, 13], emf[5, 2] = 1.0, wrong if wrong > 1.0 else np.nan
    with pytest.raises(ValueError, match="branch 5: an EMF is not a finite number"):
        solve(net.branches, scale, emf)


def test_the_linear_networks_of_the_adjoint_have_the_same_bits(both_ways: Solve) -> None:
    del both_ways
    loops = kernel.loops(1, 1)
    assert loops is not None
    pattern = lay_out(build(116, seed=5).branches).pattern
    rows = new_rows(pattern, 100, 1e-9) + np.exp(np.random.default_rng(3).uniform(-9.0, 9.0, (pattern.rows, 100)))
    found = loops.eliminate(pattern, rows)
    assert np.array_equal(found, eliminate(pattern, rows)[0])


def test_bands_and_their_audit_are_the_same(both_ways: Solve, monkeypatch: pytest.MonkeyPatch) -> None:
    del both_ways
    net = build(60, seed=6)
    scale, emf = draw_points(net, 40, seed=2)
    count = net.branches.count

    def found() -> tuple[FloatArray | BoolArray, ...]:
        band = bounds(
            net.branches, scale, emf, spread_lo=np.full(count, 0.7), spread_hi=np.full(count, 1.3),
            emf_lo=np.full(count, -0.2), emf_hi=np.full(count, 0.2),
            points=[(lane, node) for lane in range(40) for node in range(0, 60, 3)], audit=32,
        )  # fmt: skip
        return band.nominal, band.lo, band.hi, band.escaped, band.flips

    with_loops = found()
    monkeypatch.setenv(VARIABLE, "off")
    assert all(np.array_equal(one, other) for one, other in zip(with_loops, found(), strict=True))


# When the loops are used. Nothing is compiled here: what would compile is replaced.


@pytest.fixture
def compiled_at(monkeypatch: pytest.MonkeyPatch) -> list[Path | None]:
    """Give the list of the places that something was compiled to, or for in memory."""
    places: list[Path | None] = []

    def compiling(place: Path | None) -> Loops:
        places.append(place)
        if place is not None:
            (place / kernel_module._MARK).touch()
        return Loops(solve_lanes=print, eliminate_lanes=print)

    monkeypatch.setattr(kernel_module, "_compile", compiling)
    monkeypatch.setenv(VARIABLE, "auto")
    return places


def test_a_short_command_never_waits_for_a_compiler(compiled_at: list[Path | None], tmp_path: Path) -> None:
    fresh = Kernel(folder=tmp_path)
    assert [fresh.loops(500, 1000) for _ in range(20)] == [None] * 20
    assert compiled_at == []


def test_long_work_compiles_once_and_the_next_process_finds_it_soon(
    compiled_at: list[Path | None], tmp_path: Path
) -> None:
    first = Kernel(folder=tmp_path)
    calls = 0
    while first.loops(500, 10_000) is None:
        calls += 1
    assert calls == pytest.approx(200_000_000 / (500 * 10_100), abs=1)
    assert first.loops(1, 1) is not None
    assert len(compiled_at) == 1
    second = Kernel(folder=tmp_path)
    assert [second.loops(500, 19_900), second.loops(500, 19_900) is not None] == [None, True]


def test_always_and_off_are_obeyed(
    compiled_at: list[Path | None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(VARIABLE, "off")
    one = Kernel(folder=tmp_path)
    assert [one.loops(10**6, 10**6) for _ in range(3)] == [None] * 3
    monkeypatch.setenv(VARIABLE, "always")
    assert one.loops(1, 1) is not None
    assert len(compiled_at) == 1


def test_another_word_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, "yes")
    with pytest.raises(LoomwrightError, match="LOOMWRIGHT_KERNEL: found 'yes', expected off, auto or always; correct"):
        Kernel(folder=None).loops(1, 1)


def test_a_cache_that_cannot_be_written_is_done_without(
    compiled_at: list[Path | None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(VARIABLE, "always")
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    for folder in (tmp_path / "file", None):
        assert Kernel(folder=folder).loops(1, 1) is not None
    assert compiled_at == [None, None]


@pytest.mark.parametrize(
    ("error", "trouble"),
    [
        (ModuleNotFoundError("No module named 'numba'"), "numba is not installed"),
        (OSError("disk full"), "OSError: disk full"),
    ],
)
def test_trouble_with_the_compiler_leaves_the_numpy_lanes_at_work(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, error: Exception, trouble: str
) -> None:
    def failing(place: Path | None) -> Loops:
        raise error

    monkeypatch.setattr(kernel_module, "_compile", failing)
    monkeypatch.setenv(VARIABLE, "always")
    one = Kernel(folder=tmp_path)
    assert [one.loops(1, 1) for _ in range(3)] == [None] * 3
    assert one.trouble == trouble


def test_a_damaged_copy_is_thrown_away(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(VARIABLE, "always")
    assert kernel.loops(1, 1) is not None, kernel.trouble
    place = kernel._place()
    assert place is not None
    copy = tmp_path / place.name
    shutil.copytree(place, copy)
    compiled = list(copy.rglob("*.nbc"))
    assert compiled
    for file in compiled:
        file.write_bytes(file.read_bytes()[:100])
    one = Kernel(folder=tmp_path)
    assert one.loops(1, 1) is None
    assert one.trouble
    assert not copy.exists()


def test_without_numba_nothing_is_tried(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    @cache
    def missing() -> str:
        msg = "No module named 'numba'"
        raise ModuleNotFoundError(msg)

    monkeypatch.setattr(kernel_module, "_fingerprint", missing)
    monkeypatch.setenv(VARIABLE, "auto")
    one = Kernel(folder=tmp_path)
    assert [one.loops(10**4, 10**4) for _ in range(3)] == [None] * 3
    assert one.trouble == "numba is not installed"


def test_the_cache_is_where_each_system_keeps_a_users_caches(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_CACHE_HOME", "/elsewhere")
    assert kernel_module.cache_folder() == Path("/elsewhere/loomwright/kernel")
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setenv("HOME", "/someone")
    assert kernel_module.cache_folder() == Path("/someone/.cache/loomwright/kernel")
    monkeypatch.setattr("sys.platform", "darwin")
    assert kernel_module.cache_folder() == Path("/someone/Library/Caches/loomwright/kernel")
    monkeypatch.setattr("sys.platform", "win32")
    monkeypatch.setenv("LOCALAPPDATA", "/local")
    assert kernel_module.cache_folder() == Path("/local/loomwright/kernel")
