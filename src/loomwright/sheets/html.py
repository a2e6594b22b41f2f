"""A paper as one HTML file: style, drawings and a little script inside, nothing fetched, complete with scripts off."""

import base64
import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from importlib.resources import files

from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph
from loomwright.sheets.html_blocks import BlockWriter
from loomwright.sheets.markup import clean, compact_json, runs, tag
from loomwright.sheets.structure import Entry, Part, outline
from loomwright.sheets.words import direction, plain, spoken, words_for

__all__ = ["render_html"]

# The words that the script needs; the others stand in the page.
_SCRIPT_WORDS = (
    "of", "single", "whole", "bright", "dark", "awake", "asleep", "speak", "silent", "type number", "type battery",
    "above", "below", "wrong", "right", "no row", "twice", "decimal", "colon",
)  # fmt: skip
_SCREEN_LETTERS = 1150  # what a phone 390 px wide shows without being moved, about
# Each button and the word it first shows.
_TOOLS = {"contents": "contents", "speak": "speak"}
_MORE_TOOLS = {"whole": "whole", "theme": "dark", "awake": "awake"}


def render_html(paper: Paper) -> bytes:
    """Return the paper as one self-contained HTML file in UTF-8; the same bytes for the same paper.

    The page may load nothing: its policy names its own style and script by their SHA-256 and forbids the rest.
    """
    words = words_for(paper.language)
    plan = outline(paper)
    blocks = BlockWriter(paper.language)
    parts = [f"\n{blocks.part(part)}" for part in _screens(plan.parts)]
    style, script = _template("manual.css"), _template("manual.js")
    key = "/".join((paper.id, *(f"{name}={value}" for name, value in paper.marks.items())))
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=_policy(style, script)),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("meta", name="format-detection", content="telephone=no"),
        tag("title", clean(paper.title)),
        tag("style", style),
    )
    body = tag(
        "body",
        tag("a", clean(words["skip"]), class_="skip", href="#contents"),
        _tools(words),
        tag("main", _front(paper, plan.contents, words), *parts),
        blocks.shapes(),  # after the text, so that a phone shows the first screen before it has read all drawings
        _call(paper),
        _pager(words),
        tag("script", script),
        data_paper=key,
        data_words=compact_json({name: words[name] for name in _SCRIPT_WORDS}),
    )
    page = tag("html", head, "\n", body, lang=paper.language, dir=direction(paper.language))
    return f"<!DOCTYPE html>\n{page}\n".encode()


@cache
def _template(name: str) -> str:
    return (files("loomwright.sheets") / "templates" / name).read_text(encoding="utf-8")


def _policy(style: str, script: str) -> str:
    def of(content: str) -> str:
        return "'sha256-" + base64.b64encode(hashlib.sha256(content.encode("utf-8")).digest()).decode("ascii") + "'"

    return "; ".join((
        "default-src 'none'", f"style-src {of(style)}", f"script-src {of(script)}", "img-src data:", "base-uri 'none'",
        "form-action 'none'",
    ))  # fmt: skip


def _tools(words: Mapping[str, str]) -> str:
    def buttons(names: Mapping[str, str]) -> str:
        return "".join(tag("button", clean(words[word]), type="button", data_tool=name) for name, word in names.items())

    more = tag("details", tag("summary", clean(words["more"])), tag("div", buttons(_MORE_TOOLS)), class_="more")
    return tag("div", buttons(_TOOLS), more, class_="tools")


def _screens(parts: Iterable[Part]) -> list[Part]:
    """Put short texts that follow each other on one screen; a step, and a part of the paper, keep theirs."""
    screens: list[Part] = []
    for part in parts:
        first, last = part.blocks[0], screens[-1] if screens else None
        begins = isinstance(first.block, Heading) and first.level == 1
        if last is not None and {part.kind, last.kind} == {"text"} and not begins:
            lengths = [_length(placed.block) for placed in (*last.blocks, *part.blocks)]
            if None not in lengths and sum(filter(None, lengths)) <= _SCREEN_LETTERS:
                screens[-1] = replace(last, blocks=(*last.blocks, *part.blocks))
                continue
        screens.append(part)
    return screens


def _length(block: Block) -> int | None:
    """Estimate the room of a block in letters of running text; None where it is not text."""
    match block:
        case Heading():
            return 80
        case Paragraph():
            return len(plain(block.text)) + 30
        case Bullets():
            return sum(len(plain(item)) + 30 for item in block.items)
    return None


def _call(paper: Paper) -> str:
    """Whom to call, below whatever part of the paper is shown."""
    return tag("footer", tag("p", runs(paper.footer)), class_="call") if paper.footer else ""


def _pager(words: Mapping[str, str]) -> str:
    return tag(
        "nav",
        tag("button", f"◀ {clean(words['previous'])}", type="button", class_="previous"),
        tag("span", class_="at", role="status"),
        tag("button", f"{clean(words['next'])} ▶", type="button", class_="next"),
        class_="pager",
        aria_label=words["step"],
    )


def _front(paper: Paper, contents: tuple[Entry, ...], words: Mapping[str, str]) -> str:
    """The first page: what this paper is, for which car and kit, and what is in it."""
    say = spoken(paper.language)
    marks = (tag("dt", clean(say(name))) + tag("dd", clean(value)) for name, value in paper.marks.items())
    resumed = tag(
        "div",
        tag("span", clean(words["resumed"])),
        tag("button", clean(words["again"]), type="button"),
        class_="resumed",
        role="status",
        hidden=True,
    )
    lines = []
    for entry in contents:
        number = tag("span", str(entry.number), class_="at") if entry.number is not None else ""
        link = tag("a", number, tag("span", clean(entry.title)), href=f"#{entry.anchor}")
        lines.append(tag("li", link, class_=f"level-{entry.level}"))
    return tag(
        "section",
        resumed,
        tag(
            "header", tag("h1", clean(paper.title)), tag("p", clean(paper.subtitle), class_="subtitle"), class_="front"
        ),
        tag(
            "nav",
            tag("h2", clean(words["contents"]), id="contents-title"),
            tag("ol", *lines),
            id="contents",
            aria_labelledby="contents-title",
        ),
        tag("dl", *marks, class_="marks") if paper.marks else "",
        class_="part",
        id="top",
        tabindex="-1",
    )
