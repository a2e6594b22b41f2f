"""Rule of history: a state should not depend on what was before it, since a buyer may meet it from anywhere."""

from collections.abc import Iterator

import numpy as np

from loomwright.network.compiling import emf_of, scale_of
from loomwright.network.latches import Outcome
from loomwright.network.results import Finding
from loomwright.network.solver import solve
from loomwright.network.solving import Solved
from loomwright.network.states import state_words
from loomwright.sentences import told

__all__ = ["check_history"]


def check_history(solved: Solved) -> Iterator[Finding]:
    """Yield a finding for each relay that stands otherwise when a state is met from rest than in its story.

    A relay that holds itself over its own contact is the usual cause. Each different state is solved once more with all
    relays dropped, and compared with how its story left them.
    """
    states = tuple(dict.fromkeys(solved.states))
    netlist, compiled = solved.compiled.netlist, solved.compiled
    cold = solve(compiled.branches, scale_of(netlist, states), emf_of(compiled))
    lane_of = {state: n for n, state in enumerate(states)}
    seen: set[str] = set()
    for lane, state in enumerate(solved.states):
        other = lane_of[state]
        if solved.outcome[lane] != Outcome.SETTLED or int(cold.outcome[other]) != Outcome.SETTLED:
            continue  # a relay that chatters is told by another rule
        for relay in np.flatnonzero(solved.latched[:, lane] != cold.latched[:, other]):
            coil = netlist.elements[compiled.branches.latches[int(relay)].coil]
            if coil.id in seen:
                continue
            seen.add(coil.id)
            now, then = ("pulled in", "dropped out") if solved.latched[relay, lane] else ("dropped out", "pulled in")
            yield Finding(
                code="depends-on-history",
                severity="fix",
                subject=coil.id,
                message=(
                    told(
                        "{origin} is {now} with {state_words} after what went before, and {then} when the same "
                        "state is met from rest.",
                        origin=coil.origin.words or coil.id,
                        now=now,
                        state_words=state_words(state),
                        then=then,
                    )
                ),
                state=state,
                path=(coil.id,),
                numbers=(),
                advice="Look for a relay that feeds its own coil over its contact, and take its feed from elsewhere.",
                source="pull-in and drop-out currents of published relay data sheets",
            )
