"""Documents changed in their text: what is changed means what was wanted, and everything else stays as written."""

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loomwright.documents.demo import demo_files
from loomwright.documents.editing import value_at, with_item, with_values, without_item
from loomwright.documents.reading import Source, Tree, read_tree
from loomwright.errors import DocumentError

_TEXT = """\
# The top comment.
format: 1
name: one  # said first
list:
  # About the first.
  - {id: a, n: 1}
  # About the second.
  - id: b
    n: 2

  # About the third.
  - {id: c}
inner:
  # Inside.
  key: old
  deep: [1, 2]
last: end
"""


def _tree(text: str) -> Tree:
    return read_tree(Source(file="t", text=text))


def _lists(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], int]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _lists(inner, (*path, key))
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        yield path, len(value)


def test_a_replaced_item_leaves_the_others_and_all_comments() -> None:
    text = with_item(_TEXT, ("list",), 1, {"id": "b", "n": 3})
    assert _tree(text).value["list"] == [{"id": "a", "n": 1}, {"id": "b", "n": 3}, {"id": "c"}]
    assert [line for line in _TEXT.splitlines() if "#" in line] == [line for line in text.splitlines() if "#" in line]
    assert "  - {id: a, n: 1}\n" in text


def test_an_added_item_stands_behind_the_others() -> None:
    text = with_item(_TEXT, ("list",), None, {"id": "d", "words": "a: b"})
    assert _tree(text).value["list"][-1] == {"id": "d", "words": "a: b"}  # type: ignore[index]
    assert text.startswith(_TEXT[: _TEXT.index("inner:")])


def test_a_list_that_is_not_there_is_begun() -> None:
    text = with_item("format: 1\nkind: kit\n", ("controller", "terminals"), None, {"id": "a"})
    assert _tree(text).value == {"format": 1, "kind": "kit", "controller": {"terminals": [{"id": "a"}]}}


def test_a_removed_item_takes_its_lines_and_no_others() -> None:
    text = without_item(_TEXT, ("list",), 0)
    assert "{id: a" not in text
    assert "# About the second." in text
    assert _tree(text).value["list"] == [{"id": "b", "n": 2}, {"id": "c"}]


def test_the_last_item_takes_its_list_along() -> None:
    text = without_item("list:\n  - {id: a}\nrest: 1\n", ("list",), 0)
    assert _tree(text).value == {"rest": 1}


@pytest.mark.parametrize("index", [3, -1])
def test_an_item_that_is_none(index: int) -> None:
    with pytest.raises(IndexError, match=str(index)):
        with_item(_TEXT, ("list",), index, {})
    with pytest.raises(IndexError, match=str(index)):
        without_item(_TEXT, ("list",), index)


def test_values_are_set_where_they_stand() -> None:
    text = with_values(_TEXT, (), {"name": "two", "last": None, "new": [1, 2]})
    assert _tree(text).value["name"] == "two"
    assert "last" not in _tree(text).value
    assert _tree(text).value["new"] == [1, 2]
    assert "# About the third." in text
    inner = with_values(_TEXT, ("inner",), {"key": "new", "more": "x"})
    assert _tree(inner).value["inner"] == {"key": "new", "deep": [1, 2], "more": "x"}
    assert "# Inside." in inner


def test_a_text_that_is_none_is_told() -> None:
    with pytest.raises(DocumentError, match="found"):
        with_values("a: [", (), {"b": 1})


def test_value_at_a_path() -> None:
    tree = _tree(_TEXT)
    assert value_at(tree, ("list", 1, "n")) == 2
    assert value_at(tree, ("list", 9)) is None
    assert value_at(tree, ("inner", "none", "deeper")) is None


@pytest.mark.parametrize("name", sorted(demo_files()))
def test_every_list_of_the_demo_can_be_edited_and_keeps_its_comments(name: str) -> None:
    text = demo_files()[name]
    tree = _tree(text)
    for path, count in _lists(tree.value):
        for index in {count // 2}:
            items = value_at(tree, path)
            put = {"id": "put", "words": "a # b: c"}
            after = with_item(text, path, index, put)
            assert value_at(_tree(after), path) == [*items[:index], put, *items[index + 1 :]]
            gone = without_item(text, path, index)
            assert (value_at(_tree(gone), path) or []) == [*items[:index], *items[index + 1 :]]
            # A comment inside the entry goes with it; all others stay.
            assert after.count("\n  #") >= text.count("\n  #") - 1


_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-999, 999) | st.text(alphabet="ab:#-{}[]'\" \n1", max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("xyz"), inner, max_size=3),
    max_leaves=6,
)


@settings(max_examples=40)
@given(st.integers(0, 2), st.dictionaries(st.sampled_from(["id", "n", "words"]), _VALUES, min_size=1, max_size=3))
def test_whatever_is_put_is_there_again(index: int, item: dict[str, object]) -> None:
    tree = _tree(with_item(_TEXT, ("list",), index, item))
    assert value_at(tree, ("list", index)) == item
    assert {**tree.value, "list": None} == {**_tree(_TEXT).value, "list": None}
