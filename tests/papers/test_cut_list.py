"""The list of leads to cut: every loose lead of the bag once, and its sums by hand."""

import pytest

from loomwright.network.ampacity import ampacity_a, area_for_fuse_mm2
from loomwright.network.copper import nominal_areas_mm2
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


@pytest.mark.parametrize("pair", EVERY_PAIR, ids=" with ".join)
def test_each_relay_has_its_supply_with_a_wire_that_its_fuse_guards(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    said = " ".join(plain(item) for b in cut_list(made.job) if isinstance(b, Bullets) for item in b.items)
    for joint in made.installation.joints:
        part = next((p for p in made.kit.parts if joint.part is not None and p.id == joint.part.part), None)
        if part is None or part.kind != "relay" or part.fuse_a is None or joint.part.fed_from is None:  # type: ignore[union-attr]
            continue
        assert f"{joint.label}: from " in said
        area = area_for_fuse_mm2(part.fuse_a)
        assert ampacity_a(area) >= part.fuse_a
        thinner = [a for a in nominal_areas_mm2() if a < area]
        assert all(ampacity_a(a) < part.fuse_a for a in thinner)
