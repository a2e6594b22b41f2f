"""Search finds the same on both engines, whatever is typed."""

import pytest

from loomwright.store.store import Store


@pytest.fixture
def shop(store: Store, by: str) -> Store:
    store.save("vehicle", "fallow", "id: fallow\nplug: C7 grau\nengine: 2.4\nname: Kestrin Fällow Straße\n", by=by)
    store.save("kit", "rook-4", "id: rook-4\nfor: the Fallow and others\nwire: violet/white\n", by=by)
    store.save("job", "2026-0001", "buyer: p-1\nvehicle: fallow\nnote: |\n  violet wire at pin c:column/3\n", by=by)
    return store


# One store for all of them: opening one costs more than all the searches.
_FOUND = {
    "fallow": ["fallow", "2026-0001", "rook-4"],
    "FALL": ["fallow", "2026-0001", "rook-4"],
    "violet": ["2026-0001", "rook-4"],
    "violet white": ["rook-4"],
    "c:column/3": ["2026-0001"],
    "2.4": ["fallow"],
    "Fällow": ["fallow", "2026-0001", "rook-4"],
    "strasse": ["fallow"],
    "rook-4": ["rook-4"],
    "2026": ["2026-0001"],
    "allow": [],
    "violet fallow nowhere": [],
    "": [],
    "  -- ' \" ) ( * : & | ! \\ %": [],
    "violet' OR '1'='1": [],
    'violet" OR "white': [],
    "violet AND": ["rook-4"],
    "NEAR(violet white)": [],
    "ÿ\u0301\U0001f697": [],
    "x" * 5000: [],
}


def test_what_is_found(shop: Store) -> None:
    assert {words: [hit.entry.id for hit in shop.search(words)] for words in _FOUND} == _FOUND


def test_kinds_and_count_of_hits_are_as_asked(shop: Store) -> None:
    assert [hit.entry.id for hit in shop.search("fallow", ["kit", "job"])] == ["2026-0001", "rook-4"]
    assert [hit.entry.id for hit in shop.search("fallow", limit=2)] == ["fallow", "2026-0001"]
    assert shop.search("fallow", []) == ()


def test_a_hit_shows_the_line_with_most_of_the_words(shop: Store) -> None:
    (hit,) = shop.search("vehicle violet pin")
    assert (hit.line, hit.excerpt) == (4, "violet wire at pin c:column/3")


def test_only_the_latest_revision_is_found(shop: Store, by: str) -> None:
    first = shop.latest("kit", "rook-4")
    shop.save("kit", "rook-4", "id: rook-4\nwire: yellow\n", by=by, base=first)
    assert [hit.entry.id for hit in shop.search("violet")] == ["2026-0001"]
    assert [hit.entry.version for hit in shop.search("yellow")] == [2]
    shop.undo("kit", "rook-4", by=by)
    assert [hit.entry.id for hit in shop.search("violet")] == ["rook-4", "2026-0001"]


def test_ids_come_first_and_what_was_removed_is_not_found(shop: Store, by: str) -> None:
    for n in range(30):
        shop.save("job", f"2031-{n:04d}", f"format: 1\nkind: job\nname: an order for siskin-{n}\n", by=by)
    shop.save("kit", "siskin-9", "format: 1\nkind: kit\nname: the kit\n", by=by)
    shop.save("kit", "xsiskin", "format: 1\nkind: kit\nname: of another word\n", by=by)
    assert [hit.entry.id for hit in shop.search("siskin", limit=3)] == ["siskin-9", "2031-0029", "2031-0028"]
    assert "xsiskin" not in {hit.entry.id for hit in shop.search("siskin", limit=100)}
    assert len(shop.search("siskin", limit=100)) == 31
    shop.remove("kit", "siskin-9", by=by, base=shop.latest("kit", "siskin-9"))
    assert [hit.entry.id for hit in shop.search("siskin", limit=1)] == ["2031-0029"]
