"""Revisions: kept as they were given, in order, and never over somebody else's."""

import pytest
from sqlalchemy import exc, text

from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.errors import DocumentError, StoreError
from loomwright.store.store import Store
from loomwright.store.values import KINDS, Attachment, Conflict

FALLOW = """\
# The sedan and its wagon.
kind: vehicle
id: fallow
note: "1E3"   # kept as it is
"""
FALLOW_2 = FALLOW.replace('"1E3"', '"2E3"')
PHOTO = Attachment(name="plug.jpg", media_type="image/jpeg", data=b"\xff\xd8one")


def test_a_text_comes_back_exactly_as_it_was_given(store: Store, by: str) -> None:
    saved = store.save("vehicle", "fallow", FALLOW, by=by)
    assert store.latest("vehicle", "fallow") == saved == store.at(saved.number)
    assert saved.text == FALLOW
    assert (saved.number, saved.version, saved.base, saved.action, saved.by) == (1, 1, None, "save", by)
    # Source: FIPS 180-4 defines SHA-256; the digest of this text is from the program sha256sum.
    assert saved.sha256 == "f26717af15e58e852439b06c6e614f5bf8d282211b0ea6be004fa3d67f1ba18d"


def test_the_time_is_the_clocks_in_utc(store: Store, by: str) -> None:
    assert store.save("vehicle", "fallow", FALLOW, by=by).at == "2026-03-02T08:00:03.000000Z"


def test_revisions_are_listed_oldest_first(store: Store, by: str) -> None:
    first = store.save("vehicle", "fallow", FALLOW, by=by)
    other = store.save("kit", "rook", "kind: kit\n", by=by)
    second = store.save("vehicle", "fallow", FALLOW_2, by=by, base=first)
    assert [(r.number, r.version, r.base) for r in store.revisions("vehicle", "fallow")] == [(1, 1, None), (3, 2, 1)]
    assert [e.number for e in store.recent()] == [second.number, other.number]
    assert [e.number for e in store.recent(before=3)] == [other.number]


def test_saving_over_a_newer_revision_is_refused_with_both(store: Store, by: str) -> None:
    first = store.save("vehicle", "fallow", FALLOW, by=by)
    theirs = store.save("vehicle", "fallow", FALLOW_2, by=by, base=first)
    mine = FALLOW + "more: 1\n"
    with pytest.raises(Conflict) as caught:
        store.save("vehicle", "fallow", mine, by=by, base=first)
    assert str(caught.value) == (
        f"vehicle fallow: found version 2, saved by {by} at {theirs.at}, expected version 1, from which this text was "
        "made; merge both texts or keep this one as a copy"
    )
    assert (caught.value.base, caught.value.theirs, caught.value.text) == (first, theirs, mine)
    assert store.latest("vehicle", "fallow") == theirs


def test_a_new_document_is_not_saved_over_one_that_is_there(store: Store, by: str) -> None:
    store.save("vehicle", "fallow", FALLOW, by=by)
    with pytest.raises(Conflict, match=r"found version 1, saved by .* expected none; merge"):
        store.save("vehicle", "fallow", FALLOW_2, by=by)


def test_a_base_of_another_document_is_a_mistake_of_the_caller(store: Store, by: str) -> None:
    base = store.save("vehicle", "fallow", FALLOW, by=by)
    with pytest.raises(ValueError, match="found a revision of vehicle fallow, expected one of kit rook"):
        store.save("kit", "rook", "kind: kit\n", by=by, base=base)


def test_asking_again_for_the_same_save_makes_no_second_revision(store: Store, by: str) -> None:
    first = store.save("vehicle", "fallow", FALLOW, by=by)
    assert store.save("vehicle", "fallow", FALLOW, by=by) == first
    second = store.save("vehicle", "fallow", FALLOW_2, by=by, base=first)
    assert store.save("vehicle", "fallow", FALLOW_2, by=by, base=first) == second
    assert store.save("vehicle", "fallow", FALLOW_2, by=by, base=second) == second
    assert len(store.revisions("vehicle", "fallow")) == 2


def test_undo_makes_a_new_revision_equal_to_the_one_before(store: Store, by: str) -> None:
    first = store.save("vehicle", "fallow", FALLOW, by=by, attach=[PHOTO])
    second = store.save("vehicle", "fallow", FALLOW_2, by=by, base=first, detach=["plug.jpg"])
    assert store.attachments(second) == ()
    undone = store.undo("vehicle", "fallow", by=by)
    assert (undone.number, undone.text, undone.action, undone.base) == (3, FALLOW, "undo", 2)
    assert store.attachments(undone) == store.attachments(first) != ()
    assert store.undo("vehicle", "fallow", by=by).text == FALLOW_2


def test_undo_is_refused_where_nothing_is_before_or_somebody_saved(store: Store, by: str) -> None:
    with pytest.raises(StoreError, match="vehicle fallow: found no such document, expected one with something before"):
        store.undo("vehicle", "fallow", by=by)
    first = store.save("vehicle", "fallow", FALLOW, by=by)
    with pytest.raises(StoreError, match=r"found its first version, .*; there is nothing to undo"):
        store.undo("vehicle", "fallow", by=by)
    store.save("vehicle", "fallow", FALLOW_2, by=by, base=first)
    with pytest.raises(Conflict, match="found version 2"):
        store.undo("vehicle", "fallow", by=by, base=first)


def test_a_removed_document_is_in_no_list_and_comes_back_by_undo(store: Store, by: str) -> None:
    first = store.save("vehicle", "fallow", FALLOW, by=by)
    store.remove("vehicle", "fallow", by=by, base=first)
    assert not store.has("vehicle", "fallow")
    assert (store.list("vehicle"), store.recent(), store.search("fallow"), store.count("vehicle")) == ((), (), (), 0)
    with pytest.raises(StoreError, match="vehicle fallow: found no such document"):
        store.latest("vehicle", "fallow")
    assert [r.action for r in store.revisions("vehicle", "fallow")] == ["save", "remove"]
    assert store.undo("vehicle", "fallow", by=by).text == FALLOW
    assert store.count("vehicle") == len(store.search("fallow")) == 1


def test_a_removed_document_can_be_made_anew(store: Store, by: str) -> None:
    first = store.save("vehicle", "fallow", FALLOW, by=by)
    store.remove("vehicle", "fallow", by=by, base=first)
    assert store.save("vehicle", "fallow", FALLOW, by=by).version == 3


def test_a_document_is_written_down_so_that_it_reads_back_equal(store: Store, by: str) -> None:
    plain = "format: 1\nkind: shop\nid: bench\nname: The Bench\ncall: 'weekdays, 9 to 5'\n"
    shop = read_document(Source(file="shop.yaml", text=plain), MODELS).document
    saved = store.save("shop", "bench", shop, by=by)
    assert read_document(Source(file="x", text=saved.text), MODELS).document == shop


def test_each_kind_is_listed_by_id_and_in_pages(store: Store, by: str) -> None:
    for kind in KINDS:
        for id in ("b", "a-1", "a.1", "a1", "c"):
            store.save(kind, id, f"id: '{id}'\n", by=by)
        assert [entry.id for entry in store.list(kind)] == ["a-1", "a.1", "a1", "b", "c"]
        assert [entry.id for entry in store.list(kind, after="a.1", limit=2)] == ["a1", "b"]
        assert store.count(kind) == 5


def test_what_is_compared_is_told_by_its_place(store: Store, by: str) -> None:
    text_1 = (
        "id: f\nkind: vehicle\ncircuits:\n  - {id: a, colour: red}\n  - {id: b, colour: blue, n: 1}\nnames: [x, y]\n"
    )
    text_2 = "id: f\nkind: vehicle\ncircuits:\n  - {id: c}\n  - {id: b, colour: NO, n: 1.0}\nnames: [x]\nz: null\n"
    first = store.save("vehicle", "f", text_1, by=by)
    second = store.save("vehicle", "f", text_2, by=by, base=first, attach=[PHOTO])
    found = [(change.path, change.before, change.after) for change in store.compare(first, second)]
    assert found == [
        ("circuits[c]", None, '{"id": "c"}'),
        ("circuits[b].colour", "blue", "NO"),
        ("circuits[b].n", "1", "1.0"),
        ("circuits[a]", '{"id": "a", "colour": "red"}', None),
        ("names[1]", "y", None),
        ("z", None, "null"),
        ("attachments.plug.jpg", None, store.attachments(second)[0].sha256),
    ]
    assert store.compare(first, first) == ()


_REFUSED = (
    ("lorry", "a", "a: 1\n", "store: found the kind 'lorry', expected one of vehicle, kit, shop, "),
    ("kit", "../a", "a: 1\n", r"kit: id: found '../a', expected lower-case words joined by '-'"),
    ("kit", "A", "a: 1\n", "kit: id: found 'A', expected lower-case words"),
    ("kit", "a" * 121, "a: 1\n", "at most 120 characters; rename it"),
    ("kit", "a", "kind: vehicle\n", "kit a: kind: found 'vehicle' in the text, expected 'kit'; save it under its"),
    ("kit", "a", "id: b\n", "kit a: id: found 'b' in the text, expected 'a'; save it under its own id"),
    ("kit", "a", "a: " + "x" * 2_000_000, "kit a: found a text of 2.0 MB, expected at most 2 MB; split it"),
)


def test_what_cannot_be_kept_is_refused(store: Store, by: str) -> None:
    for kind, id, content, message in _REFUSED:
        with pytest.raises(StoreError, match=message):
            store.save(kind, id, content, by=by)
    assert store.recent() == ()


def test_what_is_no_document_is_refused_with_its_line(store: Store, by: str) -> None:
    for content in ("a: [1\n", "a: \0\n", "a: \ud800\n", "- a\n", ""):
        with pytest.raises(DocumentError, match=r"^kit/a(:\d+)?: "):
            store.save("kit", "a", content, by=by)


def test_nobody_unknown_saves(store: Store) -> None:
    with pytest.raises(
        StoreError, match="found no person 'p-1', expected one of the shop's list; add the person first"
    ):
        store.save("kit", "a", "a: 1\n", by="p-1")


@pytest.mark.parametrize(
    ("file", "message"),
    [
        (Attachment(name="../x", media_type="image/jpeg", data=b""), r"found the name '../x', expected a plain file"),
        (
            Attachment(name="x", media_type="jpeg", data=b""),
            "x: found the type 'jpeg', expected one such as image/jpeg",
        ),
        (
            Attachment(name="x", media_type="image/jpeg", data=bytes(32_000_001)),
            "found 32.0 MB, expected at most 32 MB; make it smaller",
        ),
    ],
)
def test_what_cannot_be_attached_is_refused(store: Store, by: str, file: Attachment, message: str) -> None:
    with pytest.raises(StoreError, match=message):
        store.save("kit", "a", "a: 1\n", by=by, attach=[file])
    assert store.recent() == ()


def test_attachments_stay_with_later_revisions_and_are_kept_once(store: Store, by: str) -> None:
    first = store.save("vehicle", "fallow", FALLOW, by=by, attach=[PHOTO])
    second = store.save("vehicle", "fallow", FALLOW_2, by=by, base=first)
    copy = store.save("kit", "rook", "kind: kit\n", by=by, attach=[PHOTO])
    assert store.attachments(first) == store.attachments(second) == store.attachments(copy)
    (attached,) = store.attachments(second)
    assert store.bytes_of(attached) == PHOTO.data
    with store.database.reading() as connection:
        assert connection.execute(text("SELECT count(*) FROM blobs")).scalar_one() == 1


_APPEND_ONLY = ("revisions", "blobs", "attachments", "serials", "erasures", "migrations")


def test_the_database_itself_refuses_to_change_what_is_kept(store: Store, by: str) -> None:
    store.save("vehicle", "fallow", FALLOW, by=by, attach=[PHOTO])
    store.new_serial(by=by)
    store.erase(store.add_person("Ash").id, by=by)
    columns = {"revisions": "text", "blobs": "data", "erasures": "at", "serials": "at"}
    updates = {f"UPDATE {table} SET {columns.get(table, 'name')} = NULL": table for table in _APPEND_ONLY}
    deletions = {f"DELETE FROM {table}": table for table in (*_APPEND_ONLY, "people")}
    for statement, table in (updates | deletions).items():
        with (
            pytest.raises(StoreError, match=f"{table} is append-only") as caught,
            store.database.writing() as connection,
        ):
            connection.execute(text(statement))
        assert isinstance(caught.value.__cause__, exc.DBAPIError)


def test_a_row_cannot_be_replaced_past_the_triggers(store: Store, by: str) -> None:
    if store.database.dialect != "sqlite":
        return  # only SQLite knows this statement
    store.save("vehicle", "fallow", FALLOW, by=by, attach=[PHOTO])
    with pytest.raises(StoreError, match="blobs is append-only"), store.database.writing() as connection:
        connection.execute(text("INSERT OR REPLACE INTO blobs SELECT sha256, x'00' FROM blobs"))
