"""What the papers look like: blocks to drawings, printed pages and self-contained web pages; computes nothing."""

from typing import Literal

from loomwright.papers.blocks import Paper

__all__ = ["Form", "render"]

Form = Literal["html", "a4", "letter", "text"]


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
    match form:
        case "html":
            from loomwright.sheets.html import render_html

            return render_html(paper)
        case "a4" | "letter":
            from loomwright.sheets.pdf import render_pdf

            return render_pdf(paper, "a4" if form == "a4" else "us-letter")
        case "text":
            from loomwright.sheets.text import render_text

            return render_text(paper).encode("utf-8")
        case _:
            msg = f"found form {form!r}, expected html, a4, letter or text"
            raise ValueError(msg)
