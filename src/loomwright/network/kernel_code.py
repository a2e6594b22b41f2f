"""The rounds of a solve as loops for a compiler: eight lanes at a time, from their values to their answers.

These are plain functions; `kernel` compiles them. They do what `rounds` does with whole arrays, in the same order, so
that the bits are the same, and save what can be saved when few lanes are looked at: after the first round only those
nodes are eliminated again below which a segment or a contact has changed.

What hardly ever happens is left to the numpy lanes: a lane whose search comes back twice, so that it needs a descent;
one that takes very many rounds; and one with a number that cannot be.

A function that the compiler does not put in place of its call is never called in a loop with a whole plan or group: the
users of every array in it would be counted at each call, which costs more than the work. For the same reason loops name
their arrays first.
"""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from loomwright.network.branches import OPEN_RATIO
from loomwright.network.kernel_eights import (
    EIGHTS,
    WIDE,
    Eight,
    add,
    give,
    larger,
    less,
    load,
    put,
    same,
    size,
    smaller,
    store,
    take,
    times,
)  # fmt: skip
from loomwright.network.kernel_group import GROUP, ROUNDS, Group, every, group_of, rows, some
from loomwright.network.kernel_linear import LINEAR, divide, eliminate, gather, pile, recover
from loomwright.network.kernel_plan import WIDTH, Plan
from loomwright.network.kernel_relays import RELAYS, close_cycles, move_relays
from loomwright.network.kernel_segments import SEGMENTS, look_back, push, search, stamp_all, switch
from loomwright.network.latches import Outcome

__all__ = ["HELPERS", "Answer", "solve_lanes"]

_Ints = npt.NDArray[np.int64]
_Bools = npt.NDArray[np.bool_]
_Floats = npt.NDArray[np.float64]
_Bytes = npt.NDArray[np.int8]

_1, _2 = np.uintp(1), np.uintp(2)

_BLOCK = 8
"""Groups whose numbers are fetched and written together: a row of all lanes is long, and its lines lie far apart."""

_SETTLED, _RACE = int(Outcome.SETTLED), int(Outcome.RACE)


class Answer(NamedTuple):
    """Where the answers go: fields of `Solution`, and the lanes that are left."""

    voltage: _Floats
    current: _Floats
    segment: _Bytes
    latched: _Bools
    outcome: _Bytes
    restless: _Bools
    kcl_a: _Floats
    left: _Bools


def _conduct(plan: Plan, group: Group, branch: int) -> None:
    """Write the conductance of a fixed branch in every lane."""
    at = np.uintp(branch) * WIDE
    store(group.flow, at, times(load(group.scale, at), same(plan.slope[branch, 0])))


def _begin(plan: Plan, group: Group, leak: float) -> None:
    """Eliminate the early nodes, and leave in `base` what the late ones have before any varying branch."""
    order, own, share = plan.order, group.own, group.share
    for branch in plan.fixed:
        _conduct(plan, group, branch)
    for node in range(order.nodes):
        inner = order.first[node] + order.degree[node]
        for row in range(order.first[node], inner + 2):
            store(own, np.uintp(row) * WIDE, same(leak if row == inner else 0.0))
    # Few of the fixed branches have an EMF, so that these currents are given and not fetched: all that leave, then all
    # that enter, as `rounds` does.
    for branch in plan.live:
        if plan.leaves[branch] >= 0:
            at = np.uintp(plan.leaves[branch]) * WIDE
            store(own, at, less(load(own, at), push(plan, group, branch, 0)))
    for branch in plan.live:
        if plan.enters[branch] >= 0:
            at = np.uintp(plan.enters[branch]) * WIDE
            store(own, at, add(load(own, at), push(plan, group, branch, 0)))
    for node in range(np.uintp(order.nodes)):
        first = np.uintp(order.first[node])
        for row in range(first, first + np.uintp(order.degree[node]) + _2):
            at = row * WIDE
            sum_ = pile(group.flow, plan.fixed_stamps, row, load(own, at))
            if node < order.early:
                store(own, at, gather(own, share, order.gets, row, sum_))
            else:
                store(group.base, at, gather(own, share, order.before, row, sum_))
        if node < order.early:
            eliminate(order, node, own, share)


def _renew(plan: Plan, base: _Floats, stamps: _Floats, own: _Floats, share: _Floats, row: int | np.uintp) -> Eight:
    """Add a row of a late node up anew."""
    found = pile(stamps, plan.varying_stamps, row, load(base, row * WIDE))
    found = gather(own, share, plan.order.gets, row, found)
    store(own, row * WIDE, found)
    return found


def _solve(plan: Plan, group: Group) -> None:
    """Find the voltages of the late nodes; only what has changed is eliminated again."""
    order, own, share, base, stamps = plan.order, group.own, group.share, group.base, group.stamps
    for node in range(np.uintp(order.early), np.uintp(order.nodes)):
        if not group.dirty[node]:
            continue
        group.dirty[node] = False
        if order.parent[node] >= 0:
            group.dirty[order.parent[node]] = True
        first, inner = np.uintp(order.first[node]), np.uintp(order.first[node]) + np.uintp(order.degree[node])
        total = _renew(plan, base, stamps, own, share, inner)
        for row in range(first, inner):
            total = add(total, _renew(plan, base, stamps, own, share, row))
        _renew(plan, base, stamps, own, share, inner + _1)
        divide(order, node, total, own, share)
    recover(order, order.early, order.nodes, share, group.point)


def _settle(plan: Plan, group: Group, left: _Bools) -> None:
    """Go round until every lane is at rest or left."""
    off, moved, idle = group.off, group.moved, group.idle
    for _round in range(ROUNDS):
        _solve(plan, group)
        search(plan, group, off)
        look_back(group, off, left)
        move_relays(plan, group, off, moved)
        if some(moved):
            close_cycles(group, moved)
            switch(plan, group, moved)
            for lane in range(WIDTH):
                if moved[lane]:
                    group.stepping[lane] = False
                    group.seen[lane, 0] = group.mark[lane]
                    group.seen_count[lane] = 1
        if every(idle):
            break


def _conclude(group: Group, left: _Bools) -> None:
    """Tell which lanes are left because they took too many rounds, and which have settled in more than one way."""
    for lane in range(WIDTH):
        left[lane] |= not group.idle[lane]
        if group.outcome[lane] == _SETTLED and group.singly[lane]:
            group.outcome[lane] = _RACE


def _refuse(group: Group, left: _Bools) -> None:
    """Leave the lanes with a scale that is not above zero; the other way tells which one it is.

    A value that is not finite makes the sums of currents so, and is seen there.
    """
    least = same(1.0)
    for at in range(0, len(group.scale), WIDTH):
        least = smaller(least, load(group.scale, np.uintp(at)))
    for lane in range(WIDTH):
        left[lane] = not least[lane] > 0.0
        group.idle[lane] |= left[lane]


def _admit(plan: Plan, group: Group, latched: _Bools, hold: _Bools, begin: int) -> None:
    """Take the lanes from `begin` in; a last group that is not full repeats the last lane."""
    lanes = latched.shape[1]
    for lane in range(WIDTH):
        at = min(begin + lane, lanes - 1)
        for relay in range(len(plan.coil)):
            group.relays[relay, lane] = group.begun[relay, lane] = latched[relay, at]
            group.held[relay, lane] = hold[relay, at]
            group.restless[relay, lane] = False
        group.idle[lane] = begin + lane >= lanes
    mark, segment, last = group.mark, group.on, plan.breaks.shape[1]
    for lane in range(WIDTH):
        mark[lane] = 0
    for index, branch in enumerate(plan.varying):
        on, at = plan.start[branch], np.uintp(index) * WIDE
        stamp_all(plan, group, index, on)
        store(group.low, at, same(plan.breaks[branch, on - 1] if on > 0 else -np.inf))
        store(group.high, at, same(plan.breaks[branch, on] if on < last else np.inf))
        store(group.shut, at, load(group.scale, np.uintp(branch) * WIDE))
        for lane in range(WIDTH):
            segment[index * WIDTH + lane] = on
            mark[lane] += plan.mark[index] * on
    for lane in range(WIDTH):
        group.seen[lane, 0] = mark[lane]
        group.seen_count[lane] = 1
        group.been_count[lane] = 0
        group.stepping[lane] = group.singly[lane] = False
        group.outcome[lane] = _SETTLED
        group.moved[lane] = True
    for node in range(plan.order.nodes):
        group.dirty[node] = True
    switch(plan, group, group.moved)


def _currents(plan: Plan, group: Group, rest: _Floats, leak: float) -> None:
    """Branch currents, and what the nodes' sums leave over, to `kcl`."""
    flow, point = group.flow, group.point
    for branch in plan.fixed:
        at = np.uintp(branch) * WIDE
        one, other = np.uintp(plan.one[branch]) * WIDE, np.uintp(plan.other[branch]) * WIDE
        over = less(load(point, one), load(point, other))
        over = times(less(over, load(group.emf, at)), same(plan.slope[branch, 0]))
        store(flow, at, times(add(over, same(plan.intercept[branch, 0])), load(group.scale, at)))
    for index, branch in enumerate(plan.varying):
        plus, minus, relay = plan.one[branch] * WIDTH, plan.other[branch] * WIDTH, plan.relay[index]
        for lane in range(WIDTH):
            here = branch * WIDTH + lane
            on = group.on[index * WIDTH + lane]
            volts = point[plus + lane] - point[minus + lane] - group.emf[here]
            flow[here] = (volts * plan.slope[branch, on] + plan.intercept[branch, on]) * group.scale[here]
            if relay >= 0 and group.relays[relay, lane] != plan.makes[index]:
                flow[here] *= OPEN_RATIO
    for number in range(len(rest)):
        rest[number] = leak * point[number]
    total = same(0.0)
    for branch in range(len(plan.one)):
        one, other = np.uintp(plan.one[branch]) * WIDE, np.uintp(plan.other[branch]) * WIDE
        here = load(flow, np.uintp(branch) * WIDE)
        store(rest, one, add(load(rest, one), here))
        store(rest, other, less(load(rest, other), here))
        total = add(total, size(here))
    most = same(0.0)
    for node in range(plan.order.nodes):
        most = larger(most, size(load(rest, np.uintp(node) * WIDE)))
    for lane in range(WIDTH):
        group.kcl[lane] = most[lane] / max(total[lane], leak)


def _answer(plan: Plan, group: Group, answer: Answer, begin: int, left: _Bools) -> None:
    """Write the answers of a group out."""
    count = min(WIDTH, answer.voltage.shape[1] - begin)
    for index, branch in enumerate(plan.varying):
        for lane in range(count):
            answer.segment[branch, begin + lane] = group.on[index * WIDTH + lane]
    for relay in range(len(plan.coil)):
        for lane in range(count):
            answer.latched[relay, begin + lane] = group.relays[relay, lane]
            answer.restless[relay, begin + lane] = group.restless[relay, lane]
    for lane in range(count):
        # The sums hold every voltage, so that a number that is not finite shows in them.
        answer.left[begin + lane] = left[lane] or not np.isfinite(group.kcl[lane])
        answer.kcl_a[begin + lane] = group.kcl[lane]
        answer.outcome[begin + lane] = group.outcome[lane]


def solve_lanes(
    plan: Plan, scale: _Floats, emf: _Floats, latched: _Bools, hold: _Bools, leak: float, answer: Answer
) -> None:
    """Find the operating point of every lane but those that are left.

    The arguments are those of `rounds.run`; `answer` is filled, its segments but those of fixed branches.
    """
    order, lanes = plan.order, latched.shape[1]
    group = group_of(plan)
    left = np.empty(WIDTH, dtype=np.bool_)
    each, points = len(group.scale), len(group.point)
    rest = rows(points)
    most = max(1, min(_BLOCK, (lanes + WIDTH - 1) // WIDTH))
    scale_ahead, emf_ahead = rows(most * each), rows(most * each)
    flow_done, point_done = rows(most * each), rows(most * points)
    for block in range(0, lanes, most * WIDTH):
        groups = min(most, (lanes - block + WIDTH - 1) // WIDTH)
        take(scale, plan.every, scale_ahead, block, groups, each)
        take(emf, plan.driven, emf_ahead, block, groups, each)
        for number in range(groups):
            begin = block + number * WIDTH
            put(scale_ahead, number * each, group.scale, 0, each)
            put(emf_ahead, number * each, group.emf, 0, each)
            _admit(plan, group, latched, hold, begin)
            _refuse(group, left)
            _begin(plan, group, leak)
            _settle(plan, group, left)
            _conclude(group, left)
            recover(order, 0, order.early, group.share, group.point)
            _currents(plan, group, rest, leak)
            put(group.flow, 0, flow_done, number * each, each)
            put(group.point, 0, point_done, number * points, points)
            _answer(plan, group, answer, begin, left)
        give(flow_done, plan.every, answer.current, block, groups, each)
        give(point_done, order.place, answer.voltage, block, groups, points)


HELPERS = (
    *EIGHTS, *LINEAR, *GROUP, *SEGMENTS, *RELAYS, _conduct, _begin, _renew, _solve, _settle, _conclude, _refuse, _admit,
    _currents, _answer,
)  # fmt: skip
"""What a compiler must be told of before it meets `solve_lanes` or `eliminate_lanes`."""

IN_PLACE = close_cycles
"""The helper that stands in place of its call: with a call inside that is not resolved, the compiler counts every array
of a function in and out each time it is called."""
