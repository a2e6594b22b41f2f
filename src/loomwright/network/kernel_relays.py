"""The relays of eight lanes at a time, as loops for a compiler: what `latches` does with whole arrays."""

import numpy as np
import numpy.typing as npt

from loomwright.network.kernel_group import Group
from loomwright.network.kernel_plan import WIDTH, Plan
from loomwright.network.latches import Outcome

__all__ = ["RELAYS", "close_cycles", "move_relays"]

_CHATTERS = int(Outcome.CHATTERS)

_Bools = npt.NDArray[np.bool_]


def move_relays(plan: Plan, group: Group, off: _Bools, moved: _Bools) -> None:
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
    alike = True
    for relay in range(len(relays)):
        alike &= been[lane, past, relay] == relays[relay, lane]
    return alike


def close_cycles(group: Group, moved: _Bools) -> None:
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


RELAYS = (move_relays, _is_in, close_cycles)
"""What a compiler must be told of."""
