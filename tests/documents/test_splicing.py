"""One entry put in place of another: the document reads as meant, and everything else stays as it was written."""

import pytest

from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Claims, Evidence, EvidenceRecord
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Loaded, Source, read_document
from loomwright.documents.splicing import with_entry
from loomwright.documents.vehicle import Vehicle

_VEHICLES = sorted(name for name in demo_files() if name.startswith("vehicles/"))


def _load(text: str) -> Loaded:
    return read_document(Source(file="a.yaml", text=text), MODELS)


def _comments(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip().startswith("#")]


@pytest.mark.parametrize("name", _VEHICLES)
def test_every_circuit_of_the_demo_can_be_changed_alone(name: str) -> None:
    text = demo_files()[name]
    loaded = _load(text)
    assert isinstance(loaded.document, Vehicle)
    circuits = loaded.document.circuits
    for index in (0, 1, len(circuits) // 2, len(circuits) - 1):
        changed = circuits[index].model_copy(update={"note": "seen # once: 'so'"})
        spliced = with_entry(loaded, text, "circuits", index, changed)
        again = _load(spliced).document
        assert again == loaded.document.model_copy(
            update={"circuits": (*circuits[:index], changed, *circuits[index + 1 :])}
        )
        # Only comments inside the entry itself can go.
        assert len(_comments(spliced)) >= len(_comments(text)) - 3


def test_an_entry_is_added_at_the_end() -> None:
    text = demo_files()[_VEHICLES[0]]
    loaded = _load(text)
    assert isinstance(loaded.document, Vehicle)
    new = loaded.document.circuits[0].model_copy(update={"id": "another-one"})
    spliced = with_entry(loaded, text, "circuits", None, new)
    again = _load(spliced).document
    assert isinstance(again, Vehicle)
    assert again.circuits == (*loaded.document.circuits, new)
    assert _comments(spliced) == _comments(text)


def test_comments_above_the_next_entry_stay_with_it() -> None:
    text = (
        "format: 1\nkind: evidence\nid: a\nvehicle: b\nrecords:\n"
        "  - {circuit: c, how: assumed, by: x, on: 2024-01-01}\n"
        "  # about the next\n\n"
        "  - circuit: d\n    how: assumed\n    by: x\n    on: 2024-01-02\n# the end\n"
    )
    loaded = _load(text)
    assert isinstance(loaded.document, Evidence)
    claims = Claims(colour="red", stripe=None, pin=None, kind=None)
    record = loaded.document.records[0].model_copy(update={"claims": claims})
    spliced = with_entry(loaded, text, "records", 0, record)
    assert "  # about the next\n\n  - circuit: d\n" in spliced
    assert spliced.endswith("    on: 2024-01-02\n# the end\n")
    again = _load(spliced).document
    assert isinstance(again, Evidence)
    assert again.records == (record, loaded.document.records[1])


@pytest.mark.parametrize("tail", ["", "records: []\n"])
def test_a_list_that_is_not_there_yet_is_begun(tail: str) -> None:
    text = f"format: 1\nkind: evidence\nid: a\nvehicle: b\n{tail}"
    record = EvidenceRecord.model_validate({"circuit": "c", "how": "measured", "by": "x", "on": "2024-01-01"})
    again = _load(with_entry(_load(text), text, "records", None, record)).document
    assert isinstance(again, Evidence)
    assert again.records == (record,)


def test_a_last_line_without_its_end_is_no_trouble() -> None:
    head = "format: 1\nkind: evidence\nid: a\nvehicle: b\n"
    text = f"{head}records:\n- circuit: c\n  how: assumed\n  by: x\n  on: 2024-01-01"
    loaded = _load(text)
    assert isinstance(loaded.document, Evidence)
    again = _load(with_entry(loaded, text, "records", None, loaded.document.records[0])).document
    assert isinstance(again, Evidence)
    assert len(again.records) == 2


def test_a_list_of_another_name() -> None:
    text = "format: 1\nkind: evidence\nid: a\nvehicle: b\n"
    with pytest.raises(ValueError, match="wheels: found no list of that name at the top of the document"):
        with_entry(_load(text), text, "wheels", None, _load(text).document)
