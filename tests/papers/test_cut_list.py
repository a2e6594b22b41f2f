"""The list of leads to cut: every loose lead of the bag once, and its sums by hand."""

import pytest

from loomwright.papers.blocks import Bullets, Table
from loomwright.papers.cut_list import cut_list
from loomwright.papers.saying import plain
from tests.pairs import EVERY_PAIR
from tests.papers.builders import Built, built_pair


def _parts(made: Built) -> tuple[Table, Bullets]:
    blocks = list(cut_list(made.job))
    return next(b for b in blocks if isinstance(b, Table)), next(b for b in blocks if isinstance(b, Bullets))


@pytest.mark.parametrize("pair", EVERY_PAIR, ids=" with ".join)
def test_every_joined_or_capped_loose_lead_stands_in_the_list_once(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    table, _ = _parts(made)
    listed = [plain(row[0]) for row in table.rows]
    joined = [j.label for j in made.installation.joints if j.lead is not None]
    capped = [u.label for u in made.installation.unused_leads if u.where == "loose lead"]
    assert sorted(listed) == sorted({*joined, *capped})
    for row in table.rows:
        capped_here = plain(row[0]) in capped
        assert ("end cap" in plain(row[5])) == capped_here, plain(row[0])


def test_the_sums_are_those_of_the_lengths_in_the_list() -> None:
    table, sums = _parts(built_pair(EVERY_PAIR[0]))
    by_size: dict[str, int] = {}
    for row in table.rows:
        number, unit = plain(row[3]).split()
        assert unit in ("mm", "in")
        by_size[plain(row[2])] = by_size.get(plain(row[2]), 0) + int(number)
    told = dict(plain(item).split(": ") for item in sums.items)
    assert told.keys() == by_size.keys()
    for size, total in by_size.items():
        # A sum is rounded once, its parts each by itself.
        assert int(told[size].split()[0]) == pytest.approx(total, abs=len(table.rows)), size


def test_thick_wire_comes_before_thin() -> None:
    made = built_pair(EVERY_PAIR[0])
    areas = {lead.label: lead.area_mm2 for lead in made.kit.leads}
    table, _ = _parts(made)
    order = [areas[plain(row[0])] for row in table.rows]
    assert order == sorted(order, reverse=True)
