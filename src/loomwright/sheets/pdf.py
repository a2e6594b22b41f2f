"""A paper as a tagged PDF with bookmarks, A4 or US Letter, for print in black and white."""

import json
import re
from functools import cache
from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Literal

from loomwright.errors import RenderError
from loomwright.papers.blocks import Paper
from loomwright.sheets.characters import printable
from loomwright.sheets.pdf_blocks import TRIANGLE, PageWriter
from loomwright.sheets.structure import Outline, outline
from loomwright.sheets.words import direction, plain, spoken, words_for

if TYPE_CHECKING:
    import typst

__all__ = ["PageName", "render_pdf"]

PageName = Literal["a4", "us-letter"]

# Width and height [mm]. Source: ISO 216 for A4; US Letter is 8.5 in by 11 in (ANSI/ASME Y14.1, size A).
_PAGES: dict[PageName, tuple[float, float]] = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}
_NOT_SAID = frozenset({"drawings", "triangle", "link", "anchor", "lang", "is", "word", "key"})
# No word of a page is this long; a file name or a hash may be, and would run off the paper.
_LONG_WORD = re.compile(r"\S{25,}")
_TEXT_MM = 178.0  # width of the text, the same on both pages, so that one paper is drawn and measured once


def render_pdf(paper: Paper, page: PageName = "a4") -> bytes:
    """Return the paper as PDF after ISO 14289-1 (PDF/UA-1): tagged, titled, with bookmarks; the same bytes each time.

    Raises
    ------
    RenderError
        If the typesetter refuses a page or warns about one.
    """
    data = _data(paper)
    result, warnings = _typeset(paper.id, data, page)
    if warnings:
        listed = "; ".join(str(warning.message) for warning in warnings)
        raise RenderError(f"paper {paper.id!r}: the typesetter warned: {listed}")
    return result


def _data(paper: Paper) -> str:
    """Return what the template reads, for a page of any size."""
    plan = outline(paper)
    language, _, region = paper.language.partition("-")
    writer = PageWriter(paper.language, _TEXT_MM)
    parts = [{"kind": part.kind, "blocks": [writer.block(placed) for placed in part.blocks]} for part in plan.parts]
    data = {
        "title": paper.title,
        "subtitle": paper.subtitle,
        "lang": language.lower(),
        "region": region.upper() if len(region) == 2 else None,
        "rtl": direction(paper.language) == "rtl",
        "words": dict(words_for(paper.language)),
        "marks": [f"{spoken(paper.language)(name)} {value}" for name, value in paper.marks.items()],
        "footer": plain(paper.footer),
        "width": _TEXT_MM,
        "triangle": TRIANGLE,
        "contents": _contents(plan),
        "parts": parts,
        "drawings": writer.drawings,
    }
    return json.dumps(_printable(data), ensure_ascii=False)


def _contents(plan: Outline) -> list[dict[str, object]]:
    """Return a line for each heading; a heading of the first level has the numbers of the steps of its part.

    On paper one leafs; the steps themselves are in the bookmarks.
    """
    lines: list[dict[str, object]] = []
    steps: list[list[int]] = []
    part: list[int] = []
    for entry in plan.contents:
        if entry.number is None:
            lines.append({"anchor": entry.anchor, "title": entry.title, "level": entry.level})
            steps.append([])
            part = steps[-1] if entry.level == 1 else part
        else:
            part.append(entry.number)
    for line, numbers in zip(lines, steps, strict=True):
        line["steps"] = "–".join(str(number) for number in dict.fromkeys((*numbers[:1], *numbers[-1:])))
    return lines


def _typeset(name: str, data: str, page: PageName) -> tuple[bytes, "list[typst.TypstWarning]"]:
    """Set the data by PDF/UA-1; a text with a character that no font here has cannot conform and is set without."""
    import typst

    width, height = _PAGES[page]

    def once(standards: list[Literal["ua-1"]]) -> tuple[bytes, list[typst.TypstWarning]]:
        return typst.compile_with_warnings(
            _template(),
            format="pdf",
            font_paths=_fonts(),
            sys_inputs={"data": data, "width": f"{width:g}", "height": f"{height:g}"},
            timestamp=0,
            pdf_standards=list(standards),
        )

    try:
        try:
            return once(["ua-1"])
        except typst.TypstError as problem:
            if "could not be displayed" not in problem.message:
                raise
            return once([])
    except typst.TypstError as problem:
        raise RenderError(f"paper {name!r}: the typesetter refused it: {problem.message}") from problem


def _printable(value: object, key: str = "") -> object:
    """Take what no page can hold out of every text, at any depth, and let very long words break."""
    if isinstance(value, str):
        return value if key in _NOT_SAID else _LONG_WORD.sub(_breakable, printable(value))
    if isinstance(value, dict):
        return {name: _printable(item, name) for name, item in value.items()}
    if isinstance(value, list):
        return [_printable(item, key) for item in value]
    return value


def _breakable(word: re.Match[str]) -> str:
    text = word.group()
    return "\N{ZERO WIDTH SPACE}".join(text[i : i + 8] for i in range(0, len(text), 8))


@cache
def _template() -> bytes:
    return (files("loomwright.sheets") / "templates" / "manual.typ").read_bytes()


@cache
def _fonts() -> "typst.Fonts":
    """Load the fonts once: the one the project pins and those inside the typesetter, never those of the machine."""
    import typst

    with as_file(files("fontpkg_source_sans_3") / "files") as folder:
        return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(folder)])
