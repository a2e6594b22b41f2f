"""What two people changed is put together where they did not touch the same place."""

import pytest

from loomwright.store.merging import merged

BASE = "id: f\n# one\na: 1\nb: 2\nc: 3\nd: 4\n"


@pytest.mark.parametrize(
    ("mine", "theirs", "both"),
    [
        (BASE.replace("a: 1", "a: 9"), BASE.replace("c: 3", "c: 9"), "id: f\n# one\na: 9\nb: 2\nc: 9\nd: 4\n"),
        (BASE + "e: 5\n", "# top\n" + BASE, "# top\n" + BASE + "e: 5\n"),
        (BASE, BASE.replace("b: 2\n", ""), BASE.replace("b: 2\n", "")),
        (BASE.replace("a: 1", "a: 9"), BASE.replace("a: 1", "a: 9"), BASE.replace("a: 1", "a: 9")),
        (BASE.replace("a: 1", "a: 8"), BASE.replace("a: 1", "a: 9"), None),
        (BASE.replace("a: 1", "a: 8"), BASE.replace("b: 2", "b: 9"), None),
        (BASE + "e: 5\n", BASE + "e: 6\n", None),
        # Each has added the same key at another place: together they are no document.
        ("e: 5\n" + BASE, BASE + "e: 6\n", None),
    ],
)
def test_changes_of_both_are_kept_or_left_to_a_person(mine: str, theirs: str, both: str | None) -> None:
    assert merged(BASE, mine, theirs) == both
    assert merged(BASE, theirs, mine) == both
