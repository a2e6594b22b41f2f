"""What is not wrong in a document and would serve better otherwise."""

from loomwright.documents.checking import advise_documents, check_documents
from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, load
from loomwright.errors import Message

CAR = "vehicles/kestrin-fallow.yaml"
SWITCH = "closed_when: hatch pressed, switch: button in the tailgate handle"
BUTTON = f'      - {{from: "s:hatch-button", to: ground, {SWITCH}}}\n'


def _advice(text: str) -> tuple[Message, ...]:
    """The advice about a vehicle without what it says in other languages, which an edit leaves behind."""
    text = text.partition("\ntranslations:")[0] + "\n"
    loaded = load([Source(file=CAR, text=text)], MODELS)
    assert check_documents(loaded, whole=False) == ()
    return advise_documents(loaded)


def test_every_wire_that_a_kit_joins_is_told_by_some_state_in_the_demo_shop() -> None:
    files = {name: text for name, text in demo_files().items() if name.startswith("vehicles/")}
    assert len(files) > 5
    assert advise_documents(load([Source(file=f, text=t) for f, t in files.items()], MODELS)) == ()


def test_a_wire_to_drive_that_always_reads_the_same_is_told_with_its_line() -> None:
    text = demo_files()[CAR]
    assert text.count(BUTTON) == 1
    (told,) = _advice(text.replace(BUTTON, ""))
    assert "no switch on the way of 'hatch' (hatch), so that it always reads the same" in str(told)
    assert told.line is not None
    assert "path:" in text.replace(BUTTON, "").splitlines()[told.line - 1]


def test_a_wire_that_nobody_joins_may_read_what_it_likes() -> None:
    other = demo_files()[CAR].replace(BUTTON, "")
    named = "function: hatch\n    name: tailgate release"
    assert other.count(named) == 1
    assert _advice(other.replace(named, "function: other\n    name: tailgate release")) == ()


def test_a_translation_that_an_edit_left_behind_is_told_with_its_line() -> None:
    text = demo_files()[CAR].replace(BUTTON, "")
    told = advise_documents(load([Source(file=CAR, text=text)], MODELS))
    (left,) = [one for one in told if one.field.startswith("translations")]
    assert "found a translation of 'button in the tailgate handle', expected a text of this document" in str(left)
    assert left.line is not None
    assert "button in the tailgate handle" in text.splitlines()[left.line - 1]
