"""Whatever stands in a file, reading it ends with a document or a `DocumentError`, and not in minutes."""

import time

from hypothesis import given, settings
from hypothesis import strategies as st

from loomwright.documents.reading import Source, read_document
from loomwright.errors import DocumentError, Message
from tests.documents.sample import GARDEN, MODELS

_LONGEST_S = 60.0  # of the processor; it takes milliseconds, and minutes where a parser loses its way
# Pieces that mean something to a parser, or to ours.
_PIECES = (
    "\n", "\n\n", "  ", "    ", "\t", "- ", ": ", ":", "#", "'", '"', "[", "]", "{", "}", ",", "&a ", "*a", "!t ",
    "!!int ", "<<: ", "|", ">", "|2-\n", "? ", "---", "...", "%YAML 1.1\n", "\\", "\\u", "\\x0", ".inf", ".nan", "null",
    "~", "1E3", "9" * 25, "\r", "\x00", "\x85", "\u2028", "\ufeff", "\ud800", "😀", "id: ", "beds:\n", "format: 1\n",
    "kind: garden\n", "id: 3\n", "water: {by: can}\n", "support: {wire: a}\n",
)  # fmt: skip


def _ends_well(content: str | bytes) -> None:
    messages, spent_s = _read(content)
    assert all(message.found and message.expected and message.advice for message in messages)
    assert spent_s < _LONGEST_S


def _read(content: str | bytes) -> tuple[tuple[Message, ...], float]:
    """Messages of a content, none where it is a document, and the time it took."""
    begin = time.process_time()
    messages: tuple[Message, ...] = ()
    try:
        read_document(Source(file="f", text=content), MODELS)
    except DocumentError as error:
        messages = error.messages
    return messages, time.process_time() - begin


@given(st.binary(max_size=400))
@settings(max_examples=300)
def test_random_bytes(content: bytes) -> None:
    _ends_well(content)


@given(st.text(st.characters(), max_size=200) | st.lists(st.sampled_from(_PIECES), max_size=40).map("".join))
@settings(max_examples=400)
def test_random_text(content: str) -> None:
    _ends_well(content)


@given(
    st.lists(
        st.tuples(st.integers(0, len(GARDEN)), st.integers(0, 12), st.sampled_from(_PIECES) | st.text(max_size=4)),
        min_size=1,
        max_size=6,
    )
)
@settings(max_examples=600)
def test_a_right_text_with_pieces_cut_out_and_put_in(edits: list[tuple[int, int, str]]) -> None:
    text = GARDEN
    for start, length, piece in edits:
        text = text[:start] + piece + text[start + length :]
    _ends_well(text)


@given(st.lists(st.tuples(st.integers(0, len(GARDEN) - 1), st.integers(0, 255)), min_size=1, max_size=4))
@settings(max_examples=300)
def test_a_right_text_with_single_bytes_changed(edits: list[tuple[int, int]]) -> None:
    data = bytearray(GARDEN.encode())
    for place, byte in edits:
        data[place] = byte
    _ends_well(bytes(data))


def test_large_and_hostile_files_end() -> None:
    head = "format: 1\nkind: garden\n"
    most = 1_900_000
    for text in (
        head + "beds:\n" + "  - {}\n" * (most // 7),
        head + "".join(f"unknown{number}: 1\n" for number in range(most // 18)),
        head + "x: [" + "{a: " * (most // 4),
        head + "x: '" + "a" * most + "'\n",
        head + "name: " + "a" * most,
        head + "- " * (most // 2),
        head + "a" * most + ": 1",
        "a: &a [x,x,x]\n" + "".join(f"{chr(97 + n)}: &{chr(97 + n)} [*a,*a,*a,*a]\n" for n in range(1, 20)),
        head + "beds: [{id: " + "9" * most + "}]",
        head + '"' + "\\u0041" * (most // 6) + '": 1',
        head + "? " * 50_000,
        head + "beds:\n" + "  - support: {}\n" * 2000,
    ):
        messages, spent_s = _read(text)
        assert messages
        assert sum(len(str(message)) for message in messages) < 100_000  # each repeats only the start of what it found
        assert spent_s < _LONGEST_S
