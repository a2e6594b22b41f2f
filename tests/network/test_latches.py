"""Relays: thresholds, memory, chatter and races."""

import numpy as np
import pytest

from loomwright.network.branches import OPEN_RATIO, Latch
from loomwright.network.latches import Outcome
from loomwright.network.solver import Solution, solve
from tests.independent.drawing import Drawing, from_drawing

_COIL_S = 1.0 / 90.0


def _solved(net: Drawing, *, latched: list[bool] | None = None, hold: list[bool] | None = None) -> Solution:
    branches, scale, emf = from_drawing(net)
    flags = [None if given is None else np.array(given)[:, None] for given in (latched, hold)]
    return solve(branches, scale, emf, latched=flags[0], hold=flags[1])


def _battery(net: Drawing, ohm: float = 0.01) -> int:
    post = net.node()
    net.branch(post, -1, 1.0 / ohm, emf=12.6)
    return post


# Source: common practice, data-sheet figures of a 12 V relay: coil 90 Ω, operates at or below 7.2 V (80 mA), releases
# at or above 1.2 V (13.3 mA).
def test_between_its_thresholds_a_relay_stays_as_it_was() -> None:
    net = Drawing()
    post = net.node()
    coil = net.branch(post, -1, _COIL_S)
    net.branch(post, -1, 1e3, emf=0.0)
    load = net.node()
    contact = net.branch(post, load, 100.0)
    net.branch(load, -1, 0.01)
    net.relay(coil, makes=contact, pull_in_a=0.080, drop_out_a=0.0133)
    branches, scale, emf = from_drawing(net)
    volts = np.array([7.0, 7.4, 5.0, 1.0, -7.4])
    emf = np.repeat(emf, 5, axis=1)
    emf[1] = volts
    assert solve(branches, scale, emf).latched[0].tolist() == [False, True, False, False, True]
    pulled = np.ones((1, 1), dtype=np.bool_)
    assert solve(branches, scale, emf, latched=pulled).latched[0].tolist() == [True, True, True, False, True]


def test_an_open_contact_leaks_its_ratio() -> None:
    net = Drawing()
    post = _battery(net)
    load = net.node()
    coil = net.branch(post, -1, 1e-6)
    contact = net.branch(post, load, 100.0)
    net.branch(load, -1, 0.1)
    net.relay(coil, makes=contact, pull_in_a=0.1, drop_out_a=0.05)
    current = _solved(net).current[contact, 0]
    assert current == pytest.approx(12.6 * 100.0 * OPEN_RATIO, rel=1e-4)


def test_a_latch_that_feeds_itself_remembers() -> None:
    net = Drawing()
    post, held = _battery(net), net.node()
    coil = net.branch(held, -1, _COIL_S)
    net.relay(coil, makes=net.branch(post, held, 100.0), pull_in_a=0.08, drop_out_a=0.02)
    cold = _solved(net)
    warm = _solved(net, latched=[True])
    assert not cold.latched[0, 0]
    assert warm.latched[0, 0]
    assert [cold.outcome[0], warm.outcome[0]] == [Outcome.SETTLED, Outcome.SETTLED]
    assert warm.voltage[held, 0] > 12.0
    assert cold.voltage[held, 0] < 1e-3


def test_a_held_relay_does_not_move() -> None:
    net = Drawing()
    post = _battery(net)
    coil = net.branch(post, -1, _COIL_S)
    out = net.node()
    net.relay(coil, makes=net.branch(post, out, 100.0), pull_in_a=0.08, drop_out_a=0.02)
    assert _solved(net).latched[0, 0]
    assert not _solved(net, hold=[True]).latched[0, 0]


def test_a_relay_that_breaks_its_own_coil_buzzes() -> None:
    # Source: common practice: this is how a buzzer is wired.
    net = Drawing()
    post, coil_end = _battery(net), net.node()
    coil = net.branch(coil_end, -1, _COIL_S)
    net.relay(coil, breaks=net.branch(post, coil_end, 100.0), pull_in_a=0.08, drop_out_a=0.02)
    solution = _solved(net)
    assert solution.outcome[0] == Outcome.CHATTERS
    assert solution.restless[:, 0].tolist() == [True]


def _weak_feed(ohm_of_a_contact_load: float) -> Drawing:
    """Ten relays commanded at once behind 5 Ω in their feed; each switches a load onto that feed."""
    net = Drawing()
    feed = net.node()
    net.branch(feed, -1, 1.0 / 5.0, emf=12.6)
    for _ in range(10):
        load = net.node()
        coil = net.branch(feed, -1, _COIL_S)
        contact = net.branch(feed, load, 100.0)
        net.branch(load, -1, 1.0 / ohm_of_a_contact_load)
        net.relay(coil, makes=contact, pull_in_a=0.07, drop_out_a=0.025)
    return net


def test_ten_relays_on_a_bad_feed_chatter() -> None:
    # Ten coils are 9 Ω: 8.1 V pulls them all in. One load of 1 Ω leaves 1.9 V, 22 mA in each coil: all drop out.
    solution = _solved(_weak_feed(1.0))
    assert solution.outcome[0] == Outcome.CHATTERS
    assert solution.restless[:, 0].any()


def test_with_lighter_loads_it_is_a_race_that_the_fastest_wins() -> None:
    # One load of 10 Ω leaves 6.1 V: enough to hold the first relay, too little to pull another in. Ten together drop.
    net = _weak_feed(10.0)
    solution = _solved(net)
    assert solution.outcome[0] == Outcome.RACE
    assert solution.latched[:, 0].tolist() == [True] + [False] * 9
    assert solution.restless[:, 0].all()
    # Whoever is fastest wins, wherever it stands in the list.
    slow_first = net.latches[0]
    net.latches[0] = Latch(
        coil=slow_first.coil, pull_in_a=0.07, drop_out_a=0.025, makes=slow_first.makes, operate_s=0.5
    )
    assert _solved(net).latched[:, 0].tolist() == [False, True] + [False] * 8


def test_two_relays_that_lock_each_other_out_race() -> None:
    net = Drawing()
    post = _battery(net)
    ends = [net.node(), net.node()]
    coils = [net.branch(end, -1, _COIL_S) for end in ends]
    feeds = [net.branch(post, end, 100.0) for end in ends]
    net.relay(coils[0], breaks=feeds[1], pull_in_a=0.08, drop_out_a=0.02)
    net.relay(coils[1], breaks=feeds[0], pull_in_a=0.08, drop_out_a=0.02)
    solution = _solved(net)
    assert solution.outcome[0] == Outcome.RACE
    assert solution.latched[:, 0].tolist() == [True, False]
    # Begun with the other one pulled in, nothing is left to race for.
    other = _solved(net, latched=[False, True])
    assert other.outcome[0] == Outcome.SETTLED
    assert other.latched[:, 0].tolist() == [False, True]


def test_an_open_coil_does_not_pull_though_it_has_its_voltage() -> None:
    net = Drawing()
    post = _battery(net)
    out = net.node()
    coil = net.branch(post, -1, _COIL_S)
    net.relay(coil, makes=net.branch(post, out, 100.0), pull_in_a=0.08, drop_out_a=0.02)
    branches, scale, emf = from_drawing(net)
    scale = np.repeat(scale, 2, axis=1)
    scale[coil, 1] = 1e-9
    solution = solve(branches, scale, emf)
    assert solution.latched[0].tolist() == [True, False]
    assert solution.voltage[post] == pytest.approx([12.6, 12.6], abs=0.01)


def test_a_feed_lost_after_the_relays_held_is_fed_back_through_their_contacts() -> None:
    # The fuse of the control feed opens. From rest nothing pulls in; with the relay in, its contact feeds the coils
    # from the other supply through the diode, and it stays: the same fault has two histories.
    net = Drawing()
    post, feed, out = _battery(net), net.node(), net.node()
    fuse = net.branch(post, feed, 100.0)
    coil = net.branch(feed, -1, _COIL_S)
    contact = net.branch(post, out, 100.0)
    net.branch(out, -1, 0.1)
    net.diode(out, feed)
    net.relay(coil, makes=contact, pull_in_a=0.08, drop_out_a=0.02)
    branches, scale, emf = from_drawing(net)
    scale[fuse] = 1e-9
    before, after = np.zeros((1, 1), dtype=np.bool_), np.ones((1, 1), dtype=np.bool_)
    assert not solve(branches, scale, emf, latched=before).latched[0, 0]
    assert solve(branches, scale, emf, latched=after).latched[0, 0]
