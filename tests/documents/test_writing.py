"""Writing a document: the text a person would write, and back again to the same document."""

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel

from loomwright.documents.reading import Source, read_document, read_tree
from loomwright.documents.unseen import without_unseen
from loomwright.documents.writing import dump_document
from tests.documents.sample import GARDEN, MODELS, Bed, Can, Garden, Hose, Plant, Soil, Stake, Wire, read


class Anything(BaseModel):
    """A document of plain values of any make."""

    data: dict[str, Any]


def _numbers(least: float = -1e300) -> st.SearchStrategy[float]:
    return st.floats(least, 1e300, allow_nan=False, allow_infinity=False)


# A text as it comes from a file: no halves of surrogate pairs.
texts = st.text(st.characters(exclude_categories=["Cs"])) | st.sampled_from(
    ["", " ", "NO", "on", "12:30", "1E3", "0123", "null", "~", "true", "a: b", "- a", "#", "a #b", "'", '"', "\\", "\t",
     "a\nb", "a\n\nb\n", "\n", " a\nb", "a\n b\n\n", "a \nb", "\x85", "\u2028", "\ufeff", "\x00", "<<", "&a", "*a",
     "!a", "| a", "> a", "%", "@", "`", "[", "{a}", "---", "...", "?", "? a", "é", "Ω 3", "1.", "=", "a\r\nb", "😀"]
)  # fmt: skip
scalars = st.none() | st.booleans() | st.integers(-(10**18) + 1, 10**18 - 1) | _numbers() | texts
keys = st.text(st.characters(exclude_categories=["Cs"]), max_size=160)
values = st.recursive(
    scalars, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(keys, inner, max_size=4), max_leaves=20
)
plants = st.builds(
    Plant,
    name=st.from_regex("[a-z-]+", fullmatch=True).filter(lambda name: name != "weed"),
    sown=st.none() | st.dates().filter(lambda day: day.weekday() != 0),
    depth_mm=_numbers(),
    tall=st.booleans(),
)
# What a checked document may hold.
seen = texts.map(without_unseen)
beds = st.builds(
    Bed,
    id=seen,
    soil=st.sampled_from(Soil),
    water=st.none()
    | st.builds(Hose, by=st.just("hose"), length_m=st.floats(0.001, 50))
    | st.builds(Can, by=st.sampled_from(["can", "bucket"]), trips=st.integers(1, 9)),
    plants=st.lists(plants, max_size=3),
    support=st.sampled_from(["none", "fence"])
    | st.builds(Stake, wood=seen, height_m=_numbers())
    | st.builds(Wire, wire=seen, height_m=_numbers(), rows=st.integers(0, 99)),
    price=st.none() | st.integers(-99, 99) | seen,
    corner=st.tuples(_numbers(), _numbers()),
    except_=st.lists(seen, max_size=3),
    spacing_mm=st.lists(_numbers(), max_size=3),
)
gardens = st.builds(
    Garden,
    name=seen.map(lambda text: text[:20]),
    beds=st.lists(beds, min_size=1, max_size=4, unique_by=lambda bed: bed.id),
    notes=st.dictionaries(keys.map(without_unseen), st.integers(-99, 99), max_size=3),
)


@given(gardens)
def test_a_written_document_is_read_back_equal(garden: Garden) -> None:
    text = dump_document(garden)
    assert read(text).document == garden
    assert dump_document(read(text).document) == text


@given(st.dictionaries(keys, values))
def test_plain_values_of_any_make_are_read_back_equal_and_of_the_same_type(data: dict[str, Any]) -> None:
    back = read_tree(Source(file="f", text=dump_document(Anything(data=data)))).value["data"]
    assert repr(back) == repr(data)  # tells 1 from true and from 1.0, as equality does not


def test_it_is_the_text_that_a_person_would_write() -> None:
    garden = Garden(
        name="1E3",
        beds=(
            Bed.model_validate(
                {
                    "id": "north",
                    "soil": "clay",
                    "water": Can(by="can"),
                    "plants": (Plant(name="leek", sown=date(2026, 3, 31), depth_mm=1e-7), Plant(name="kale")),
                    "price": "see:\n  the list\n",
                    "corner": (1.5, 1e21),
                    "except": ("NO", "some text", "a, b"),
                }
            ),
            Bed(id="12:30", soil=Soil.SAND, inner=(Bed(id="in", soil=Soil.SAND),)),
        ),
        notes={"odd: key": 1},
    )
    assert (
        dump_document(garden)
        == """\
format: 1
kind: garden
name: "1E3"
beds:
  - id: north
    soil: clay
    water:
      by: can
    plants:
      - name: leek
        sown: "2026-03-31"
        depth_mm: 0.0000001
      - name: kale
    price: |
      see:
        the list
    corner: [1.5, 1000000000000000000000.0]
    except: ["NO", some text, "a, b"]
  - id: "12:30"
    soil: sand
    inner:
      - id: in
        soil: sand
notes:
  "odd: key": 1
"""
    )


def test_the_sample_survives_the_way_there_and_back() -> None:
    assert read(dump_document(read(GARDEN).document)).document == read(GARDEN).document


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (float("inf"), "found the number inf, expected a finite one"),
        (float("nan"), "found the number nan, expected a finite one"),
        (10**18, "expected a finite one, and a whole one of at most 18 digits"),
        ({"k" * 161: 1}, "found a key of 161 characters, expected at most 160"),
    ],
)
def test_what_no_file_can_hold_is_refused(value: object, told: str) -> None:
    class Loose(BaseModel):
        data: Any

        def model_dump(self, **_: Any) -> dict[str, Any]:
            return {"data": self.data}

    with pytest.raises(ValueError, match=told):
        dump_document(Loose(data=value))


def test_a_model_without_format_and_kind_is_written_as_it_is() -> None:
    text = "format: 1\nkind: shed\n" + dump_document(MODELS["shed"](tools=("rake", "hoe")))
    assert text == "format: 1\nkind: shed\ntools: [rake, hoe]\n"
    assert read_document(Source(file="f", text=text), MODELS).document == MODELS["shed"](tools=("rake", "hoe"))
