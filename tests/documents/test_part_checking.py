"""One part of a document checked by itself."""

from loomwright.documents.part_checking import check_part
from loomwright.documents.vehicle import Plug


def test_a_part_that_is_sound() -> None:
    raw = {"id": "a", "name": "A", "housing": "h-4", "face": {"rows": [["1", "2"]]}, "look": "Black.", "place": "here"}
    found = check_part(Plug, raw)
    assert found.faults == ()
    assert found.part is not None
    assert found.part.face.rows == (("1", "2"),)


def test_every_fault_with_its_path() -> None:
    found = check_part(Plug, {"id": "Big Plug", "face": {"rows": [["1"]], "lach": "top"}, "seen_turn": 45})
    assert found.part is None
    said = {fault.path: str(fault) for fault in found.faults}
    assert said["id",] == "found 'Big Plug', expected lower-case words joined by '-'; write 'big-plug'"
    assert said["face", "lach"].endswith("did you mean 'latch'?")
    assert said["name",].startswith("found nothing, expected text")
    assert said["seen_turn",] == "found the number 45, expected one of 0, 90, 180, 270; choose one"
