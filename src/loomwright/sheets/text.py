"""A paper as plain text for a terminal or a mail."""

import textwrap
from collections.abc import Iterable, Mapping

from loomwright.papers.blocks import (
    Bullets,
    Caution,
    Chart,
    Face,
    Heading,
    Paper,
    Paragraph,
    Picture,
    ReadingField,
    Step,
    Table,
)
from loomwright.papers.drawings import DashMap, WiringPlan
from loomwright.sheets.characters import printable
from loomwright.sheets.lanes import timeline_lanes, wait_lanes
from loomwright.sheets.structure import Placed, outline
from loomwright.sheets.wire_swatch import colour_codes, split_colour
from loomwright.sheets.wiring import draw_wiring
from loomwright.sheets.words import limit_words, plain, spoken, words_for
from loomwright.starting.timeline import Timeline

__all__ = ["render_text"]

_WIDTH = 78
_MARGIN = 12
_UNDERLINES = {1: "=", 2: "-"}


def render_text(paper: Paper) -> str:
    """Return the paper as lines of at most 78 characters; longer words, and tables that need more room, go beyond."""
    words = words_for(paper.language)
    blocks = [
        _wrapped(paper.title),
        _wrapped(paper.subtitle),
        *(f"{spoken(paper.language)(name)}{words['colon']}{value}" for name, value in paper.marks.items()),
    ]
    lines = [printable(line) for line in "\n".join(blocks).splitlines()]
    lines.append("=" * _WIDTH)
    for part in outline(paper).parts:
        for placed in part.blocks:
            lines.append("")
            lines.extend(_block(placed, words, paper.language))
    if paper.footer:
        lines.extend(("", "=" * _WIDTH, *_wrapped(plain(paper.footer)).splitlines()))
    return "\n".join(line.rstrip() for line in lines).replace("\N{NO-BREAK SPACE}", " ") + "\n"


def _wrapped(text: str, first: str = "", rest: str | None = None) -> str:
    clean = printable(text).replace("\N{NO-BREAK SPACE}", "\x00")
    filled = textwrap.fill(
        clean, _WIDTH, initial_indent=first, subsequent_indent=first if rest is None else rest, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip
    return filled.replace("\x00", " ") or first.rstrip()


def _block(placed: Placed, words: Mapping[str, str], language: str) -> list[str]:
    block = placed.block
    match block:
        case Heading():
            return _heading(block.text, placed.level)
        case Paragraph():
            return [_wrapped(plain(block.text))]
        case Bullets():
            marks = (
                f"{i}." if block.numbered else "[ ]" if block.ticked else "-" for i in range(1, len(block.items) + 1)
            )
            return [_listed(plain(item), mark) for item, mark in zip(block.items, marks, strict=False)]
        case Caution():
            return [_caution(block, words)]
        case Chart():
            shown = block.drawing
            lanes = timeline_lanes(shown, language=language) if isinstance(shown, Timeline) else wait_lanes(shown)
            return [_wrapped(block.caption), *map(printable, lanes)]
        case Face():
            return _face(block, words)
        case Picture():
            return _picture(block, language)
        case ReadingField():
            return _reading(block, words)
        case Step():
            return _step(block, placed, words, language)
        case Table():
            return _table(block.caption, block.head, [[plain(cell) for cell in row] for row in block.rows])


def _heading(text: str, level: int) -> list[str]:
    line = _wrapped(text)
    longest = max(len(each) for each in line.splitlines())
    return [line, _UNDERLINES[level] * longest] if level in _UNDERLINES else [line]


def _listed(text: str, mark: str) -> str:
    return _wrapped(text, f"  {mark} ", " " * (len(mark) + 3))


def _caution(caution: Caution, words: Mapping[str, str]) -> str:
    word = words[caution.word.lower()]
    mark = "" if caution.word == "NOTICE" else "/!\\ "
    return _wrapped(plain(caution.text), f"{mark}{word}{words['colon']}", "    ")


def _named(key: str, text: str, words: Mapping[str, str]) -> str:
    name = words[key] + words["colon"].rstrip(" ")
    return _wrapped(text, f"{name:<{_MARGIN}} ", " " * (_MARGIN + 1))


def _face(face: Face, words: Mapping[str, str]) -> list[str]:
    shown = [_wrapped(f"[{face.title}] {words['seen']}{words['colon']}{face.words}")]
    if face.words_turned:
        shown.append(_wrapped(f"{words['turned']}{words['colon']}{face.words_turned}", "    "))
    return shown


def _picture(picture: Picture, language: str) -> list[str]:
    lines = [_wrapped(f"[{picture.caption}] {picture.words}")]
    if isinstance(picture.drawing, WiringPlan):
        lines.extend(_listed(row.words, "-") for row in draw_wiring(picture.drawing, width_mm=178, language=language))
    elif isinstance(picture.drawing, DashMap):
        meant = picture.drawing.highlight
        for i, spot in enumerate(picture.drawing.spots, start=1):
            lines.append(_listed(spot.name, f"{i}. *" if spot.id in meant else f"{i}."))
    return lines


def _reading(field: ReadingField, words: Mapping[str, str]) -> list[str]:
    facts = (("clip", field.clip), ("probe", field.probe), ("state", field.state), ("expect", plain(field.expect)))
    lines = [_named(key, text, words) for key, text in facts if text]
    if field.lamp:
        lines.append(_wrapped(f"{words['lamp yes' if field.lamp_allowed else 'lamp no']}{words['colon']}{field.lamp}"))
    head = (words["below battery" if field.relative else "reads"], words["verdict"], words["meaning"])
    rows = [[limit_words(v, words), words["right" if v.good else "wrong"], v.words] for v in field.verdicts]
    return [*lines, *_table("", head, rows)]


def _lead(colour: str | None, label: str | None, language: str) -> str:
    pieces = [f"[{label}]"] if label else []
    if colour:
        codes = colour_codes(*split_colour(colour))
        said = spoken(language)(colour)
        pieces.append(f"{said} ({codes})" if codes else said)
    return " ".join(pieces)


def _step(step: Step, placed: Placed, words: Mapping[str, str], language: str) -> list[str]:
    needs = step.needs
    conditions = [words[f"battery {needs.battery}"]]
    conditions += [words[f"key {needs.key}"]] if needs.key != "any" else []
    conditions += [f"{words['panel']} {needs.panel}"] if needs.panel else []
    conditions += [f"{words['tool']} {needs.tool}"] if needs.tool else []
    lines = [_caution(caution, words) for caution in step.cautions]
    lines.append(_wrapped(f"{placed.number}. {words[step.kind]}{words['colon']}{step.title}"))
    lines.append(_wrapped(words["semicolon"].join(conditions), "   "))
    facts = [
        ("place", step.place),
        ("access", " ".join(step.access)),
        ("lead", _lead(step.lead_colour, step.label, language)),
        ("wire", _lead(step.wire_colour, None, language)),
        ("count", step.count or ""),
        ("neighbours", step.neighbours or ""),
    ]
    lines.extend(_named(key, text, words) for key, text in facts if text)
    if step.face:
        lines.extend(_face(step.face, words))
    if step.picture:
        lines.extend(_picture(step.picture, language))
    for photo in step.photos:
        lines.extend(_picture(photo, language))
    lines.extend(
        _wrapped(f"{words['film']}{words['colon']}{film.words} ({words['film at']} {film.at}) {film.link}")
        for film in step.films
    )
    lines.extend(_named("do", plain(text), words) for text in step.do)
    lines.extend((_named("see", plain(step.see), words), _named("if not", plain(step.if_not), words)))
    for field in step.readings:
        lines.extend(("", *_reading(field, words)))
    if step.unproven is not None:
        lines.append(_wrapped(f"{words['unproven']}. {step.unproven}", "? ", "  "))
    if step.may_stop:
        lines.append(_wrapped(f"--- {words['may stop']}. {words['may stop words']} ---"))
    return lines


def _table(caption: str, head: Iterable[str], rows: list[list[str]]) -> list[str]:
    """Columns as wide as their longest cell; the last one is broken to what is left of the line."""
    cells = [[printable(cell) for cell in row] for row in (list(head), *rows)]
    widths = [max(len(row[i]) for row in cells) for i in range(len(cells[0]))]
    before = sum(widths[:-1]) + 2 * (len(widths) - 1)
    room = max(20, _WIDTH - before)
    lines = [_wrapped(caption)] if caption else []
    for number, row in enumerate(cells):
        start = "".join(f"{cell:<{width + 2}}" for cell, width in zip(row[:-1], widths[:-1], strict=True))
        last = textwrap.wrap(row[-1], room, break_long_words=False, break_on_hyphens=False) or [""]
        lines.extend(f"{start if i == 0 else ' ' * before}{piece}" for i, piece in enumerate(last))
        if number == 0:
            lines.append("-" * min(_WIDTH, before + min(widths[-1], room)))
    return lines
