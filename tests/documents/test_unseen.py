"""Characters that nobody sees are refused in documents, wherever they stand, and taken out of what is typed."""

import unicodedata

import pytest

from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.documents.unseen import unseen_in, without_unseen
from loomwright.errors import DocumentError


@pytest.mark.parametrize(
    ("written", "code"),
    [
        (r'"a\0b"', "U+0000"),
        (r'"a\eb"', "U+001B"),
        (r'"a\x9bb"', "U+009B"),
        (r'"a\u202eb"', "U+202E"),
        ("a\u202eb", "U+202E"),  # as it is, without an escape
        ("a\u2066b", "U+2066"),
        (r'"a\U000e0041b"', "U+E0041"),
        (r'"a\u2028b"', "U+2028"),
    ],
)
def test_a_document_with_one_is_refused(written: str, code: str) -> None:
    text = f"format: 1\nkind: shop\nid: bench\nname: {written}\ncall: nobody\n"
    with pytest.raises(DocumentError) as told:
        read_document(Source(file="a.yaml", text=text), MODELS)
    assert str(told.value) == (
        f"a.yaml:4: name: found the invisible character {code}, expected printable text; delete that character"
    )


def test_a_key_with_one_is_refused() -> None:
    text = 'format: 1\nkind: shop\nid: bench\nname: A\ncall: b\n"na\\u202eme": x\n'
    with pytest.raises(DocumentError, match=r"the invisible character U\+202E"):
        read_document(Source(file="a.yaml", text=text), MODELS)


def test_every_text_with_one_is_told() -> None:
    value: object = {"a": ["x\0", {"b": "y\u202d\0"}], "c": "fine", "d\x7f": 1}
    assert list(unseen_in(value)) == [(("a", 0), "\0"), (("a", 1, "b"), "\u202d"), (("d\x7f",), "\x7f")]


# Source: the Unicode Character Database as the standard library carries it. Every control, every surrogate and every
# character that opens or closes a direction of writing (Annex 9) is one of them; nothing that has a shape is.
def test_they_are_what_the_unicode_character_database_says() -> None:
    turning = {"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI"}
    for code in (*range(0x3000), *range(0xD7F0, 0x10000), *range(0xE0000, 0xE0080)):
        character = chr(code)
        kind = unicodedata.category(character)
        must = (kind in {"Cc", "Cs"} and character not in "\t\n\r") or unicodedata.bidirectional(character) in turning
        taken = without_unseen(character) == ""
        assert taken or not must, hex(code)
        if taken:
            assert kind in {"Cc", "Cs", "Cf", "Cn", "Zl", "Zp"}, hex(code)


@pytest.mark.parametrize("text", ["", "brown/white", "שלום", "سلام", "a\tb\nc", "क्‍ष", "👩‍🔧", "Ω µ ×"])
def test_what_is_written_in_any_script_stays(text: str) -> None:
    assert without_unseen(text) == text
