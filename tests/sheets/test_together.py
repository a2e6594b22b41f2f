"""Many sheets at a time: the same bytes in the order asked for, two at once, and nothing is begun for nobody."""

import threading

import pytest

from loomwright.errors import RenderError
from loomwright.papers.blocks import Paper
from loomwright.sheets import Form, render, together
from loomwright.sheets.together import render_each
from tests.sheets.sample import nasty, sample


def test_the_same_bytes_in_the_order_they_are_wanted() -> None:
    wanted: list[tuple[Paper, Form]] = [
        (sample(), "html"), (sample(), "letter"), (nasty(), "a4"), (sample(), "a4"), (nasty(), "text"),
    ]  # fmt: skip
    assert list(render_each(wanted)) == [render(*one) for one in wanted]


def test_two_are_drawn_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    both = threading.Barrier(2, timeout=20)

    def meet(_: Paper, form: Form) -> bytes:
        both.wait()  # breaks where nobody else comes
        return form.encode()

    monkeypatch.setattr(together, "render", meet)
    assert list(render_each([(sample(), "html"), (sample(), "a4")])) == [b"html", b"a4"]


def test_an_error_comes_in_its_turn_and_leaves_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[str] = []
    held = threading.Event()

    def refuse(_: Paper, form: Form) -> bytes:
        begun.append(form)
        if form == "letter":
            held.wait(20)  # keeps one thread busy until the caller has stopped
        if form == "html":
            msg = "the typesetter refused it"
            raise RenderError(msg)
        return form.encode()

    monkeypatch.setattr(together, "render", refuse)
    pages = render_each([(sample(), "a4"), (sample(), "letter"), (sample(), "html")])
    assert next(pages) == b"a4"
    held.set()
    assert next(pages) == b"letter"
    with pytest.raises(RenderError, match="refused it"):
        next(pages)
    assert begun == ["a4", "letter", "html"]


def test_who_stops_leaves_what_was_not_begun(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[int] = []
    stopped = threading.Event()

    def slow(_: Paper, __: Form) -> bytes:
        begun.append(1)
        if len(begun) > 1:
            stopped.wait(20)
        return b""

    monkeypatch.setattr(together, "render", slow)
    pages = render_each([(sample(), "a4")] * 10)
    next(pages)
    threading.Timer(0.2, stopped.set).start()
    pages.close()  # type: ignore[attr-defined]
    assert len(begun) < 10
