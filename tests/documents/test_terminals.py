"""Terminal numbers and functions agree with each other."""

import pytest

from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.terminals import TERMINALS, terminal, terminals_of


def test_every_number_printed_beside_a_function_is_in_the_list() -> None:
    for name, facts in FUNCTIONS.items():
        if facts.din:
            assert facts.din in TERMINALS, name


def test_every_function_a_number_stands_for_exists() -> None:
    named = {each.function for each in TERMINALS.values() if each.function is not None}
    assert named <= set(FUNCTIONS)


def test_a_number_and_a_function_that_name_each_other_agree() -> None:
    # Where the list has terminals for a function, the number printed beside it is one of theirs.
    for name, facts in FUNCTIONS.items():
        numbers = {each.number for each in TERMINALS.values() if each.function == name}
        assert not facts.din or not numbers or facts.din in numbers, name


def test_numbers_are_written_as_in_the_standard() -> None:
    assert all(each.number == number for number, each in TERMINALS.items())
    assert terminal("15R").label == "common practice"
    assert [each.number for each in terminals_of("parking light")] == ["57", "58"]


def test_an_unknown_number_is_refused() -> None:
    with pytest.raises(ValueError, match="found terminal '99', expected a number of DIN 72552: 1, 4, 15"):
        terminal("99")
