"""What several tests ask of one installation, computed once in each process."""

from collections.abc import Callable
from typing import TypeVar

from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.network.results import Proof, Readings
from loomwright.papers.blocks import Paper
from loomwright.papers.guide import guide
from loomwright.planning.installation import Installation
from loomwright.starting.silent import StartReport, check_start
from tests.demonstration import shop

__all__ = ["guide_of", "once", "proof_of", "readings_of", "start_report_of"]


_T = TypeVar("_T")


def once(compute: Callable[[Installation], _T]) -> Callable[[Installation], _T]:
    """Keep each result beside its installation, which has no hash but is never changed."""
    kept: dict[int, tuple[Installation, _T]] = {}

    def found(installation: Installation) -> _T:
        if id(installation) not in kept:
            kept[id(installation)] = (installation, compute(installation))
        return kept[id(installation)][1]

    return found


proof_of: Callable[[Installation], Proof] = once(prove)
readings_of: Callable[[Installation], Readings] = once(readings)
start_report_of: Callable[[Installation], StartReport] = once(check_start)
guide_of: Callable[[Installation], Paper] = once(lambda one: guide(one, proof_of(one), readings_of(one), shop(), {}))
