"""A paper as one HTML file: style, drawings and a little script inside, nothing fetched, complete with scripts off."""

import base64
import hashlib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from loomwright.papers.blocks import Paper
from loomwright.sheets.html_blocks import BlockWriter
from loomwright.sheets.markup import clean, compact_json, tag
from loomwright.sheets.structure import Entry, outline
from loomwright.sheets.words import direction, words_for

__all__ = ["render_html"]

# The words that the script needs; the others stand in the page.
_SCRIPT_WORDS = (
    "of", "single", "whole", "bright", "dark", "awake", "asleep", "speak", "silent", "type number", "type battery",
    "above", "below", "wrong", "right", "no row", "twice",
)  # fmt: skip
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
    parts = [f"\n{blocks.part(part)}" for part in plan.parts]
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
        blocks.shapes(),
        tag("main", _front(paper, plan.contents, words), *parts),
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
    marks = (tag("dt", clean(name)) + tag("dd", clean(value)) for name, value in paper.marks.items())
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
        tag("dl", *marks, class_="marks") if paper.marks else "",
        tag(
            "nav",
            tag("h2", clean(words["contents"]), id="contents-title"),
            tag("ol", *lines),
            id="contents",
            aria_labelledby="contents-title",
        ),
        class_="part",
        id="top",
        tabindex="-1",
    )
