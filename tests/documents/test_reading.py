"""Whole documents: their two first keys, several files at once, and what a reader of the result gets."""

import pytest

from loomwright.documents.reading import Loaded, Origin, Source, load, read_document
from loomwright.errors import DocumentError
from tests.counting import calls_of
from tests.documents.sample import GARDEN, MODELS, Garden, faults_of, read


def test_a_document_is_read_with_the_origin_of_each_value() -> None:
    loaded = read(GARDEN)
    assert isinstance(loaded.document, Garden)
    assert [bed.id for bed in loaded.document.beds] == ["north", "south"]
    assert loaded.file == "g.yaml"
    assert loaded.lines["beds", 0, "plants", 0, "sown"] == 9
    assert loaded.origin("beds", 1, "soil") == Origin(file="g.yaml", line=12, path="beds[south].soil")
    assert loaded.origin("beds", 1, "price") == Origin(file="g.yaml", line=11, path="beds[south].price")


def test_format_and_kind_need_not_be_fields_of_the_model() -> None:
    assert read("format: 1\nkind: shed\ntools: [rake]\n").document == MODELS["shed"](tools=("rake",))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "beds: []\n",
            [
                "g.yaml:1: format: found nothing, expected the number 1; begin with the line 'format: 1'",
                "g.yaml:1: kind: found nothing, expected one of 'garden', 'shed'; add the line 'kind: ...' at the top",
            ],
        ),
        (
            "format: '1'\nkind: gardn\nbeds: 3",
            [
                "g.yaml:1: format: found '1', expected the number 1; write 'format: 1'",
                "g.yaml:2: kind: found 'gardn', expected one of 'garden', 'shed'; did you mean 'garden'?",
            ],
        ),
        (
            "format: 0\nkind: garden\nbeds: 3",
            [
                "g.yaml:1: format: found the number 0, expected the number 1; write 'format: 1'",
                "g.yaml:3: beds: found the number 3, expected a list; write each item on a line of its own, "
                "with '- ' before it",
            ],
        ),
        (
            "kind: [garden]\nformat: true\n",
            [
                "g.yaml:1: kind: found a list of 1, expected one of 'garden', 'shed'; choose one",
                "g.yaml:2: format: found true, expected the number 1; write 'format: 1'",
            ],
        ),
        (
            "kind: barn\nnew: {thing: 1}\nformat: 2\n",
            [
                "g.yaml:3: format: found a document of format 2, expected format 1, the newest that this program "
                "reads; update the program"
            ],
        ),
    ],
)
def test_format_and_kind_are_told_before_anything_else(text: str, told: list[str]) -> None:
    assert faults_of(text) == told


def test_several_files_are_read_in_their_order() -> None:
    loaded = load(
        [Source(file="b", text=GARDEN), Source(file="a", text=b"format: 1\nkind: shed\n")],
        MODELS,
    )
    assert [(one.file, type(one.document).__name__) for one in loaded] == [("b", "Garden"), ("a", "Shed")]
    assert all(isinstance(one, Loaded) for one in loaded)


def test_the_faults_of_all_files_are_raised_together_by_file_and_line() -> None:
    sources = [
        Source(file="b.yaml", text=GARDEN.replace("clay", "mud").replace("sand", "rock")),
        Source(file="c.yaml", text=GARDEN),
        Source(file="a.yaml", text="- 1"),
        Source(file="a.yaml", text=""),
    ]
    with pytest.raises(DocumentError, match="a list at the top") as caught:
        load(sources, MODELS)
    assert [(message.file, message.line, message.field) for message in caught.value.messages] == [
        ("a.yaml", 1, ""),
        ("a.yaml", None, ""),
        ("b.yaml", 5, "beds[north].soil"),
        ("b.yaml", 12, "beds[south].soil"),
    ]


def test_four_times_the_lines_are_four_times_the_work() -> None:
    bed = "  - id: bed-{0}\n    soil: clay\n    plants:\n" + 3 * (
        "      - name: leek\n        sown: 2026-03-31\n        depth_mm: 12.5\n        tall: true\n"
    )

    def calls(beds: int) -> int:
        text = "format: 1\nkind: garden\nbeds:\n" + "".join(bed.format(number) for number in range(beds))
        return calls_of(lambda: read_document(Source(file="f", text=text), MODELS))

    calls(1)  # the first document of a kind also builds its model's checker
    assert calls(132) < 5 * calls(33)
