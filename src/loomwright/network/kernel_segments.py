"""The segments of eight lanes at a time, as loops for a compiler: what `segments` does with whole arrays."""

import numpy as np
import numpy.typing as npt

from loomwright.network.branches import OPEN_RATIO
from loomwright.network.kernel_eights import WIDE, Eight, beyond, less, load, same, store, times
from loomwright.network.kernel_group import Group
from loomwright.network.kernel_plan import WIDTH, Plan
from loomwright.network.segments import SLACK_V

__all__ = ["SEGMENTS", "look_back", "push", "search", "stamp_all", "switch"]

_Bools = npt.NDArray[np.bool_]


def push(plan: Plan, group: Group, branch: int, on: int) -> Eight:
    """Return the current of one branch at equal voltages in every lane, on one segment."""
    at = np.uintp(branch) * WIDE
    push = less(same(plan.intercept[branch, on]), times(same(plan.slope[branch, on]), load(group.emf, at)))
    return times(load(group.scale, at), push)


def stamp_all(plan: Plan, group: Group, index: int, on: int) -> None:
    """Write the stamps of one varying branch in every lane, on one segment and with its contacts closed."""
    branch, table, at = plan.varying[index], np.uintp(len(plan.varying)) * WIDE, np.uintp(index) * WIDE
    current = push(plan, group, branch, on)
    store(group.stamps, at, times(load(group.scale, np.uintp(branch) * WIDE), same(plan.slope[branch, on])))
    store(group.stamps, table + at, less(same(0.0), current))
    store(group.stamps, table + table + at, current)


def _turn(plan: Plan, group: Group, changed: int) -> None:
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


def switch(plan: Plan, group: Group, moved: _Bools) -> None:
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


def search(plan: Plan, group: Group, off: _Bools) -> None:
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


def look_back(group: Group, off: _Bools, left: _Bools) -> None:
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


SEGMENTS = (push, stamp_all, _turn, switch, search, look_back)
"""What a compiler must be told of."""
