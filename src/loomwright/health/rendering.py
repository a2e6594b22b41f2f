"""Whether a page can be set here: the fonts are there, and the typesetter makes a PDF that has them in it."""

import re
import zlib
from importlib.resources import files

from loomwright.health.check import Check
from loomwright.papers.blocks import Paper, Paragraph
from loomwright.sheets import render

__all__ = ["check_fonts", "check_typesetter"]

_FONT = "fontpkg_source_sans_3"
_TEXT = "The five boxing wizards jump quickly: 12.6 V, 0.35 mm², 90 °C, ½ Ω."


def check_fonts() -> Check:
    """Look at the font that papers are set in."""
    folder = files(_FONT) / "files"
    found = [each for each in folder.iterdir() if each.name.endswith((".ttf", ".otf"))]
    empty = [each.name for each in found if len(each.read_bytes()) < 10_000]
    good = bool(found) and not empty
    said = f"{len(found)} files of Source Sans 3" + (f", of them broken: {', '.join(empty)}" if empty else "")
    return Check(name="Fonts", good=good, said=said, do="" if good else "Install Loomwright once more.")


def check_typesetter() -> Check:
    """Set one page, and look for its font in the PDF."""
    paper = Paper(
        id="check", title="A page", subtitle="to see whether it can be set", language="en", marks={},
        blocks=(Paragraph(text=(_TEXT,)),),
    )  # fmt: skip
    pdf = render(paper, "a4")
    has_font = b"SourceSans3" in pdf or any(b"SourceSans3" in part for part in _unpacked(pdf))
    good = pdf.startswith(b"%PDF-") and has_font
    said = f"a page of {len(pdf) / 1000:.0f} kB" + ("" if has_font else ", but without its font")
    return Check(name="Typesetter", good=good, said=said, do="" if good else "Install Loomwright once more.")


def _unpacked(pdf: bytes) -> list[bytes]:
    """Return the streams of a PDF that are packed by deflate."""
    found = []
    for each in re.finditer(rb"stream\r?\n(.*?)endstream", pdf, re.DOTALL):
        try:
            found.append(zlib.decompressobj().decompress(each[1]))
        except zlib.error:
            continue
    return found
