"""The documents that come with the program, read by the models that they are written for."""

import random

import pytest

from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, load, read_document
from loomwright.documents.schema import schema
from loomwright.documents.writing import dump_document
from loomwright.errors import DocumentError
from tests.counting import calls_of

SOURCES = [Source(file=name, text=text) for name, text in demo_files().items()]


def _text(source: Source) -> str:
    return source.text.decode() if isinstance(source.text, bytes) else source.text


def test_there_is_a_demo_document_of_every_kind() -> None:
    loaded = load(SOURCES, MODELS)
    assert {type(one.document) for one in loaded} == set(MODELS.values())


@pytest.mark.parametrize("source", SOURCES, ids=lambda source: source.file)
def test_a_demo_document_is_written_and_read_back_equal(source: Source) -> None:
    document = read_document(source, MODELS).document
    text = dump_document(document)
    assert read_document(Source(file="written", text=text), MODELS).document == document


@pytest.mark.parametrize("count", [40, pytest.param(150, marks=pytest.mark.soak)])
@pytest.mark.parametrize("source", SOURCES, ids=lambda source: source.file)
def test_a_slip_in_any_line_ends_with_messages_that_name_a_line(source: Source, count: int) -> None:
    """Lines are deleted, cut, doubled, indented, given another value or a stray character, from a fixed seed."""
    slips = random.Random(20260531)
    lines = _text(source).split("\n")
    refused = 0
    for _ in range(count):
        changed = list(lines)
        place = slips.randrange(len(changed))
        line = changed[place]
        cut = slips.randrange(len(line) + 1)
        value = slips.choice(["3", "true", "x", "", "[1]", "{a: b}", "-1", "1E9", "null", ".inf", "2026-01-01"])
        changed[place] = slips.choice(
            [
                line[:cut],
                f"{line}\n{line}",
                f"  {line}",
                f"{line.partition(':')[0]}: {value}",
                line[:cut] + slips.choice("abc:[]{},'\"#&*! 1") + line[cut:],
            ]
        )
        try:
            read_document(Source(file="f", text="\n".join(changed)), MODELS)
        except DocumentError as error:
            messages = error.messages
            refused += 1
            assert all(message.line is not None and message.line <= len(lines) + 2 for message in messages)
            assert all("Input should" not in str(message) for message in messages)  # no sentence of pydantic's own
    assert refused > count / 3


def test_four_times_the_circuits_of_a_vehicle_are_four_times_the_work() -> None:
    vehicle = next(source for source in SOURCES if source.file.startswith("vehicles/"))
    text = _text(vehicle)
    head, _, circuits = text.partition("\ncircuits:\n")

    def calls(copies: int) -> int:
        text = f"{head}\ncircuits:\n" + circuits * copies
        return calls_of(lambda: read_document(Source(file="f", text=text), MODELS))

    calls(1)  # the first document of a kind also builds its model's checker
    assert calls(8) < 5 * calls(2)


@pytest.mark.parametrize("kind", MODELS)
def test_every_kind_has_a_schema(kind: str) -> None:
    made = schema(kind, MODELS)
    assert made["properties"]["kind"]["const"] == kind
    assert made["additionalProperties"] is False
