"""The rounds of a solve as loops for a compiler: eight lanes at a time, from their values to their answers.

These are plain functions; `kernel` compiles them. They do what `rounds` does with whole arrays, in the same order, so
that the bits are the same, and save what can be saved when few lanes are looked at: after the first round only those
nodes are eliminated again below which a segment or a contact has changed.

What hardly ever happens is left to the numpy lanes: a lane whose search comes back twice, so that it needs a descent;
one that takes very many rounds; and one with a number that cannot be.

Functions called in a loop take arrays and numbers, never a whole plan or group: the compiler counts the users of every
array in it at each call, which would cost more than the work. For the same reason loops name their arrays first.
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
    beyond,
    give,
    larger,
    less,
    load,
    same,
    size,
    smaller,
    store,
    take,
    times,
)
from loomwright.network.kernel_linear import LINEAR, divide, eliminate, gather, pile, recover
from loomwright.network.kernel_plan import WIDTH, Plan
from loomwright.network.latches import Outcome
from loomwright.network.segments import SLACK_V

__all__ = ["HELPERS", "Answer", "solve_lanes"]

_Ints = npt.NDArray[np.int64]
_Bools = npt.NDArray[np.bool_]
_Floats = npt.NDArray[np.float64]
_Bytes = npt.NDArray[np.int8]

_ROUNDS = 100
"""Rounds after which the lanes that are not done are left to the numpy lanes."""

_1, _2 = np.uintp(1), np.uintp(2)

_SETTLED, _CHATTERS, _RACE = (int(outcome) for outcome in Outcome)


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


class _Group(NamedTuple):
    """The lanes in work. Flat arrays hold one row after the other, the lanes of a row side by side.

    `flow` has the conductances of the fixed branches, and at the end the current of every branch.
    """

    scale: _Floats
    emf: _Floats
    flow: _Floats
    stamps: _Floats
    base: _Floats
    own: _Floats
    share: _Floats
    point: _Floats
    shut: _Floats
    low: _Floats
    high: _Floats
    on: _Ints
    relays: _Bools
    held: _Bools
    todo: _Ints
    dirty: _Bools
    idle: _Bools
    stepping: _Bools
    kcl: _Floats
    mark: _Ints
    seen: _Ints
    seen_count: _Ints
    begun: _Bools
    been: _Bools
    been_count: _Ints
    singly: _Bools
    restless: _Bools
    outcome: _Bytes
    off: _Bools
    moved: _Bools


def rows(count: int) -> _Floats:
    """Return so many zeros that begin where a wide register's load is one load."""
    made = np.zeros(count + WIDTH)
    begin = (-made.ctypes.data % 64) // 8
    return made[begin : begin + count]


def _conduct(plan: Plan, group: _Group, branch: int) -> None:
    """Write the conductance of a fixed branch in every lane."""
    at = np.uintp(branch) * WIDE
    store(group.flow, at, times(load(group.scale, at), same(plan.slope[branch, 0])))


def _push(plan: Plan, group: _Group, branch: int, on: int) -> Eight:
    """Return the current of one branch at equal voltages in every lane, on one segment."""
    at = np.uintp(branch) * WIDE
    push = less(same(plan.intercept[branch, on]), times(same(plan.slope[branch, on]), load(group.emf, at)))
    return times(load(group.scale, at), push)


def _stamp_all(plan: Plan, group: _Group, index: int, on: int) -> None:
    """Write the stamps of one varying branch in every lane, on one segment and with its contacts closed."""
    branch, table, at = plan.varying[index], np.uintp(len(plan.varying)) * WIDE, np.uintp(index) * WIDE
    current = _push(plan, group, branch, on)
    store(group.stamps, at, times(load(group.scale, np.uintp(branch) * WIDE), same(plan.slope[branch, on])))
    store(group.stamps, table + at, less(same(0.0), current))
    store(group.stamps, table + table + at, current)


def _turn(plan: Plan, group: _Group, changed: int) -> None:
    """Bring what has changed, a list of branches and lanes, to its segment: its stamps, and the segment's ends."""
    varying, one, other, breaks = plan.varying, plan.one, plan.other, plan.breaks
    slopes, intercepts, nodes, table = plan.slope, plan.intercept, plan.order.nodes, len(varying) * WIDTH
    todo, segment, shut, emf = group.todo, group.on, group.shut, group.emf
    low, high, stamps, dirty = group.low, group.high, group.stamps, group.dirty
    last = breaks.shape[1]
    for number in range(changed):
        at = todo[number]
        branch, on = varying[at // WIDTH], segment[at]
        low[at] = breaks[branch, on - 1] if on > 0 else -np.inf
        high[at] = breaks[branch, on] if on < last else np.inf
        slope = slopes[branch, on]
        current = shut[at] * (intercepts[branch, on] - slope * emf[branch * WIDTH + at % WIDTH])
        stamps[at] = shut[at] * slope
        stamps[table + at] = -current
        stamps[2 * table + at] = current
        if one[branch] < nodes:
            dirty[one[branch]] = True
        if other[branch] < nodes:
            dirty[other[branch]] = True


def _switch(plan: Plan, group: _Group, moved: _Bools) -> None:
    """Put the contacts where the relays are, in the lanes in which one has moved."""
    varying, relay, makes = plan.varying, plan.relay, plan.makes
    relays, scale, shut, todo, changed = group.relays, group.scale, group.shut, group.todo, 0
    for index in plan.contact:
        for lane in range(WIDTH):
            at = index * WIDTH + lane
            if not moved[lane]:
                continue
            now = scale[varying[index] * WIDTH + lane]
            if relays[relay[index], lane] != makes[index]:
                now *= OPEN_RATIO
            if shut[at] != now:
                shut[at] = now
                todo[changed] = at
                changed += 1
    _turn(plan, group, changed)


def _begin(plan: Plan, group: _Group, leak: float) -> None:
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
            store(own, at, less(load(own, at), _push(plan, group, branch, 0)))
    for branch in plan.live:
        if plan.enters[branch] >= 0:
            at = np.uintp(plan.enters[branch]) * WIDE
            store(own, at, add(load(own, at), _push(plan, group, branch, 0)))
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


def _renew(plan: Plan, base: _Floats, stamps: _Floats, own: _Floats, share: _Floats, row: np.uintp) -> Eight:
    """Add a row of a late node up anew."""
    found = pile(stamps, plan.varying_stamps, row, load(base, row * WIDE))
    found = gather(own, share, plan.order.gets, row, found)
    store(own, row * WIDE, found)
    return found


def _solve(plan: Plan, group: _Group) -> None:
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


def _search(plan: Plan, group: _Group, off: _Bools) -> None:
    """Move every branch that is off its segment on, in the lanes in work; tell in which lanes there was one."""
    one, other, breaks, weight = plan.one, plan.other, plan.breaks, plan.mark
    point, emf, low, high, on = group.point, group.emf, group.low, group.high, group.on
    idle, stepping, mark, todo, changed = group.idle, group.stepping, group.mark, group.todo, 0
    for lane in range(WIDTH):
        off[lane] = False
    for index, branch in enumerate(plan.varying):
        at = np.uintp(index) * WIDE
        over = less(load(point, np.uintp(one[branch]) * WIDE), load(point, np.uintp(other[branch]) * WIDE))
        over = less(over, load(emf, np.uintp(branch) * WIDE))
        if not beyond(over, load(low, at), load(high, at)):
            continue
        for lane in range(WIDTH):
            here = index * WIDTH + lane
            across = point[one[branch] * WIDTH + lane] - point[other[branch] * WIDTH + lane]
            across -= emf[branch * WIDTH + lane]
            if idle[lane] or (across - high[here] <= SLACK_V and low[here] - across <= SLACK_V):
                continue
            move = -on[here]
            for number in range(breaks.shape[1]):
                move += across > breaks[branch, number]
            if stepping[lane]:
                move = min(1, max(-1, move))
            on[here] += move
            mark[lane] += weight[index] * move
            off[lane] = True
            todo[changed] = here
            changed += 1
    _turn(plan, group, changed)


def _look_back(group: _Group, off: _Bools, left: _Bools) -> None:
    """Remember the states that the searches have come to, and leave the lanes that come back once too often."""
    mark, seen, seen_count, stepping, idle = group.mark, group.seen, group.seen_count, group.stepping, group.idle
    for lane in range(WIDTH):
        if not off[lane]:
            continue
        again = False
        for past in range(seen_count[lane]):
            again |= seen[lane, past] == mark[lane]
        if again and stepping[lane]:
            left[lane] = idle[lane] = True
        elif again:
            stepping[lane] = True
            seen_count[lane] = 0
        seen[lane, seen_count[lane]] = mark[lane]
        seen_count[lane] += 1


def _move_relays(plan: Plan, group: _Group, off: _Bools, moved: _Bools) -> None:
    """Move the relays where the segments fit, by the rules of `latches`; lanes in which none moves are done."""
    coil, coil_varying, one, other, slope = plan.coil, plan.coil_varying, plan.one, plan.other, plan.slope
    intercept, pull_in, drop_out, fastest = plan.intercept, plan.pull_in, plan.drop_out, plan.fastest
    relays, held, been, been_count, singly = group.relays, group.held, group.been, group.been_count, group.singly
    point, emf, scale, segment, idle = group.point, group.emf, group.scale, group.on, group.idle
    for lane in range(WIDTH):
        moved[lane] = False
        if off[lane] or idle[lane]:
            continue
        count = been_count[lane]
        for relay in fastest:
            branch, pulled, varying = coil[relay], relays[relay, lane], coil_varying[relay]
            been[lane, count, relay] = pulled
            on = segment[varying * WIDTH + lane] if varying >= 0 else 0
            across = point[one[branch] * WIDTH + lane] - point[other[branch] * WIDTH + lane]
            across -= emf[branch * WIDTH + lane]
            amps = abs(scale[branch * WIDTH + lane] * (slope[branch, on] * across + intercept[branch, on]))
            wish = amps > drop_out[relay] if pulled else amps >= pull_in[relay]
            if wish != pulled and not held[relay, lane] and not (singly[lane] and moved[lane]):
                relays[relay, lane] = wish
                moved[lane] = True
        been_count[lane] += moved[lane]
        idle[lane] = not moved[lane]


def _is_in(been: _Bools, lane: int, past: int, relays: _Bools) -> bool:
    """Whether the relays of a lane are in a state that it has been in."""
    for relay in range(len(relays)):
        if been[lane, past, relay] != relays[relay, lane]:
            return False
    return True


def _close_cycles(group: _Group, moved: _Bools) -> None:
    """Deal with the lanes whose relays are back in a state they have been in, as `latches` does."""
    relays, been, been_count, begun = group.relays, group.been, group.been_count, group.begun
    singly, restless, outcome, idle = group.singly, group.restless, group.outcome, group.idle
    for lane in range(WIDTH):
        if not moved[lane]:
            continue
        last = been_count[lane] - 1
        first = 0
        while first <= last and not _is_in(been, lane, first, relays):
            first += 1
        if first > last:
            continue
        for relay in range(len(relays)):
            some, every = False, True
            for past in range(first, last + 1):
                some |= been[lane, past, relay]
                every &= been[lane, past, relay]
            restless[relay, lane] = some and not every
            relays[relay, lane] = been[lane, last, relay] if singly[lane] else begun[relay, lane]
        if singly[lane]:
            outcome[lane] = _CHATTERS
            idle[lane] = True
            moved[lane] = False
        singly[lane] = True
        been_count[lane] = 0


def _some(lanes: _Bools) -> bool:
    any_ = False
    for lane in range(WIDTH):
        any_ |= lanes[lane]
    return any_


def _every(lanes: _Bools) -> bool:
    all_ = True
    for lane in range(WIDTH):
        all_ &= lanes[lane]
    return all_


def _settle(plan: Plan, group: _Group, left: _Bools) -> None:
    """Go round until every lane is at rest or left."""
    off, moved, idle = group.off, group.moved, group.idle
    for _round in range(_ROUNDS):
        _solve(plan, group)
        _search(plan, group, off)
        _look_back(group, off, left)
        _move_relays(plan, group, off, moved)
        if _some(moved):
            _close_cycles(group, moved)
            _switch(plan, group, moved)
            for lane in range(WIDTH):
                if moved[lane]:
                    group.stepping[lane] = False
                    group.seen[lane, 0] = group.mark[lane]
                    group.seen_count[lane] = 1
        if _every(idle):
            break
    for lane in range(WIDTH):
        left[lane] |= not idle[lane]
        if group.outcome[lane] == _SETTLED and group.singly[lane]:
            group.outcome[lane] = _RACE


def _refuse(group: _Group, left: _Bools) -> None:
    """Leave the lanes with a scale that is not above zero; the other way tells which one it is.

    A value that is not finite makes the sums of currents so, and is seen there.
    """
    least = same(1.0)
    for at in range(0, len(group.scale), WIDTH):
        least = smaller(least, load(group.scale, np.uintp(at)))
    for lane in range(WIDTH):
        left[lane] = not least[lane] > 0.0
        group.idle[lane] |= left[lane]


def _admit(
    plan: Plan, group: _Group, scale: _Floats, emf: _Floats, latched: _Bools, hold: _Bools, begin: int
) -> None:
    """Take the lanes from `begin` in; a last group that is not full repeats the last lane."""
    lanes = latched.shape[1]
    for lane in range(WIDTH):
        at = min(begin + lane, lanes - 1)
        for relay in range(len(plan.coil)):
            group.relays[relay, lane] = group.begun[relay, lane] = latched[relay, at]
            group.held[relay, lane] = hold[relay, at]
            group.restless[relay, lane] = False
        group.idle[lane] = begin + lane >= lanes
    take(scale, plan.every, group.scale, begin)
    take(emf, plan.driven, group.emf, begin)
    mark, segment, last = group.mark, group.on, plan.breaks.shape[1]
    for lane in range(WIDTH):
        mark[lane] = 0
    for index, branch in enumerate(plan.varying):
        on, at = plan.start[branch], np.uintp(index) * WIDE
        _stamp_all(plan, group, index, on)
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
    _switch(plan, group, group.moved)


def _currents(plan: Plan, group: _Group, rest: _Floats, leak: float) -> None:
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


def _answer(plan: Plan, group: _Group, answer: Answer, begin: int, left: _Bools) -> None:
    """Write the answers of a group out."""
    count = min(WIDTH, answer.voltage.shape[1] - begin)
    give(group.flow, plan.every, answer.current, begin)
    give(group.point, plan.order.place, answer.voltage, begin)
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
    branches, varying, relays = len(plan.one), len(plan.varying), len(plan.coil)
    group = _Group(
        scale=rows(branches * WIDTH),
        emf=rows(branches * WIDTH),
        flow=rows(branches * WIDTH),
        stamps=rows(3 * varying * WIDTH),
        base=rows(order.rows * WIDTH),
        own=rows(order.rows * WIDTH),
        share=rows(order.rows * WIDTH),
        point=rows((order.nodes + 1) * WIDTH),
        shut=rows(varying * WIDTH),
        low=rows(varying * WIDTH),
        high=rows(varying * WIDTH),
        on=np.empty(varying * WIDTH, dtype=np.int64),
        relays=np.empty((relays, WIDTH), dtype=np.bool_),
        held=np.empty((relays, WIDTH), dtype=np.bool_),
        todo=np.empty(varying * WIDTH, dtype=np.int64),
        dirty=np.empty(order.nodes, dtype=np.bool_),
        idle=np.empty(WIDTH, dtype=np.bool_),
        stepping=np.empty(WIDTH, dtype=np.bool_),
        kcl=rows(WIDTH),
        mark=np.empty(WIDTH, dtype=np.int64),
        seen=np.empty((WIDTH, _ROUNDS + 1), dtype=np.int64),
        seen_count=np.empty(WIDTH, dtype=np.int64),
        begun=np.empty((relays, WIDTH), dtype=np.bool_),
        been=np.empty((WIDTH, _ROUNDS + 1, relays), dtype=np.bool_),
        been_count=np.empty(WIDTH, dtype=np.int64),
        singly=np.empty(WIDTH, dtype=np.bool_),
        restless=np.empty((relays, WIDTH), dtype=np.bool_),
        outcome=np.empty(WIDTH, dtype=np.int8),
        off=np.empty(WIDTH, dtype=np.bool_),
        moved=np.empty(WIDTH, dtype=np.bool_),
    )
    left = np.empty(WIDTH, dtype=np.bool_)
    rest = rows((order.nodes + 1) * WIDTH)
    for begin in range(0, lanes, WIDTH):
        _admit(plan, group, scale, emf, latched, hold, begin)
        _refuse(group, left)
        _begin(plan, group, leak)
        _settle(plan, group, left)
        recover(order, 0, order.early, group.share, group.point)
        _currents(plan, group, rest, leak)
        _answer(plan, group, answer, begin, left)


HELPERS = (
    *EIGHTS, rows, *LINEAR, _some, _every, _is_in, _conduct, _push, _stamp_all, _turn, _switch, _begin, _renew, _solve, _search, _look_back, _move_relays,
    _close_cycles, _settle, _refuse, _admit, _currents, _answer,
)  # fmt: skip
"""What a compiler must be told of before it meets `solve_lanes` or `eliminate_lanes`."""
