"""What the papers look like: blocks to drawings, printed pages and self-contained web pages; computes nothing."""

from collections.abc import Mapping
from typing import Literal

from loomwright.papers.blocks import Paper

__all__ = ["Form", "render"]

Form = Literal["html", "a4", "letter", "text"]

_PAGES: Mapping[str, Literal["a4", "us-letter"]] = {"a4": "a4", "letter": "us-letter"}


def render(paper: Paper, form: Form) -> bytes:
    """Return a paper in a form: a web page that needs nothing else, a PDF of either size, or plain text in UTF-8.

    The same paper gives the same bytes.

    Raises
    ------
    RenderError
        If the typesetter refuses a page.
    ValueError
        For an unknown form.
    """
    if form == "html":
        from loomwright.sheets.html import render_html

        return render_html(paper)
    if form == "text":
        from loomwright.sheets.text import render_text

        return render_text(paper).encode("utf-8")
    if form not in _PAGES:
        msg = f"found form {form!r}, expected html, a4, letter or text"
        raise ValueError(msg)
    from loomwright.sheets.pdf import render_pdf

    return render_pdf(paper, _PAGES[form])
