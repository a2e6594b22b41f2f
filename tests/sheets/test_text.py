"""The plain text: everything said, in reading order, in lines that fit a terminal."""

from dataclasses import replace

from loomwright.papers.blocks import Paper, Quantity, Table, Verdict
from loomwright.sheets import render
from loomwright.sheets.text import render_text
from loomwright.sheets.words import limit_words, number_words, quantity_words, words_for
from tests.sheets.leaves import squeezed, texts_of
from tests.sheets.sample import nasty, sample, volts


def test_every_text_of_the_paper_is_in_it() -> None:
    said = squeezed(render_text(sample()))
    assert [text for text in texts_of(sample()) if squeezed(text) not in said] == []


def test_lines_fit_a_terminal() -> None:
    assert max(len(line) for line in render_text(sample()).splitlines()) <= 78


def test_hostile_text_prints() -> None:
    text = render_text(nasty())
    text.encode("utf-8")
    assert all(line.isprintable() for line in text.splitlines())


def test_a_table_lines_up() -> None:
    table = Table(head=("Wire", "Reads"), rows=((("red",), (volts(12.64, 2),)), (("brown/white",), ("nothing",))))
    text = render_text(Paper(id="x", title="T", subtitle="S", language="en", blocks=(table,)))
    assert text.splitlines()[-4:] == [
        "Wire         Reads",
        "--------------------",
        "red          12.64 V",
        "brown/white  nothing",
    ]


def test_form_text() -> None:
    assert render(sample(), "text").decode("utf-8") == render_text(sample())


def test_numbers_as_printed() -> None:
    assert number_words(-0.04, 1) == "0.0"
    assert number_words(-0.06, 1) == "\N{MINUS SIGN}0.1"
    assert quantity_words(Quantity(value=3, unit="", trace="t", digits=0)) == "3"
    assert quantity_words(volts(12.345, 2)) == "12.35\N{NO-BREAK SPACE}V" or quantity_words(volts(12.345, 2)) == (
        "12.34\N{NO-BREAK SPACE}V"
    )  # the half is not exact in binary


def test_limits_in_words() -> None:
    words = words_for("en-CA")

    def limits(low: float | None, high: float | None) -> str:
        verdict = Verdict(
            low=None if low is None else volts(low),
            high=None if high is None else volts(high),
            words="",
            good=True,
        )
        return limit_words(verdict, words).replace("\N{NO-BREAK SPACE}", " ")

    assert limits(None, 0.4) == "up to 0.4 V"
    assert limits(0.4, 2.0) == "0.4 to 2.0 V"
    assert limits(3.0, None) == "3.0 V or more"
    assert limits(None, None) == "anything else"


def test_whom_to_call_is_the_last_line() -> None:
    text = render_text(replace(sample(), footer=("Stuck? Call 555-0142.",)))
    assert text.endswith("=\nStuck? Call 555-0142.\n")
