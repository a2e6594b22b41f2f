"""The exceptions: one root, whole sentences, and facts as attributes."""

import pickle

import pytest

from loomwright import errors
from loomwright.errors import DocumentError, LoomwrightError, Message, RenderError, SolveError, StoreError

_FAULT = Message(
    file="vehicles/heron.yaml",
    line=14,
    field="circuits[3].fuse_a",
    found="'ten'",
    expected="a number of amperes",
    advice="write 10",
)


def test_all_children_have_one_root() -> None:
    raised = [getattr(errors, name) for name in errors.__all__ if name not in {"LoomwrightError", "Message"}]
    assert raised == [DocumentError, RenderError, SolveError, StoreError]
    assert all(issubclass(error, LoomwrightError) for error in raised)


def test_the_tree_at_the_top_names_every_class() -> None:
    assert errors.__doc__ is not None
    for name in errors.__all__:
        assert name == "Message" or name in errors.__doc__


def test_a_message_is_one_line() -> None:
    assert str(_FAULT) == (
        "vehicles/heron.yaml:14: circuits[3].fuse_a: found 'ten', expected a number of amperes; write 10"
    )


def test_a_message_without_line_and_field_names_the_file_alone() -> None:
    whole = Message(file="a.yaml", line=None, field="", found="nothing", expected="a vehicle", advice="fill it in")
    assert str(whole) == "a.yaml: found nothing, expected a vehicle; fill it in"


def test_a_document_error_tells_all_faults_and_keeps_them() -> None:
    problem = DocumentError([_FAULT, _FAULT])
    assert problem.messages == (_FAULT, _FAULT)
    assert str(problem) == f"{_FAULT}\n{_FAULT}"


def test_a_document_error_without_a_fault_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match=r"^a document error needs at least one message$"):
        DocumentError([])


@pytest.mark.parametrize(
    ("problem", "text"),
    [
        (SolveError("the segments did not settle"), "the segments did not settle"),
        (
            SolveError("the segments did not settle", place="c:ignition/4", iterations=80, residual=0.01234),
            "the segments did not settle (at c:ignition/4, after 80 steps, residual 0.0123)",
        ),
    ],
)
def test_a_solve_error_tells_what_it_knows(problem: SolveError, text: str) -> None:
    assert str(problem) == text


@pytest.mark.parametrize("problem", [DocumentError([_FAULT]), SolveError("stuck", place="s:feed", residual=1.0)])
def test_errors_survive_the_way_back_from_another_process(problem: LoomwrightError) -> None:
    again = pickle.loads(pickle.dumps(problem))
    assert (type(again), str(again), vars(again)) == (type(problem), str(problem), vars(problem))
