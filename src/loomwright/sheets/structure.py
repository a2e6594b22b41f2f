"""From the flat run of a paper's blocks to parts with numbered steps, heading levels without gaps, and contents."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from loomwright.papers.blocks import Block, Caution, Heading, Paper, Step
from loomwright.sheets.words import plain

__all__ = ["Entry", "Outline", "Part", "Placed", "outline"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A block in its place: headings and steps have an anchor and a level, steps a number.

    `still_open` is a step at the place of the step before it, with nothing to open anew. `said_before` tells of the
    cautions of the block which of them this part of the paper has given already, word for word.
    """

    block: Block
    anchor: str = ""
    level: int = 0
    number: int | None = None
    still_open: bool = False
    said_before: tuple[bool, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What is read together: one step with what belongs before it, or a stretch of text between steps."""

    id: str
    kind: Literal["step", "text"]
    blocks: tuple[Placed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the contents."""

    anchor: str
    title: str
    level: int
    number: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A paper divided into parts, with its contents and the number of its steps."""

    parts: tuple[Part, ...]
    contents: tuple[Entry, ...]
    steps: int


def _anchors() -> Callable[[str, str], str]:
    """Give a function that makes an anchor of a wish, each only once."""
    used: set[str] = set()

    def make(wish: str, instead: str) -> str:
        slug = re.sub(r"[^a-z0-9]+", "-", wish.lower()).strip("-")[:60] or instead
        anchor, copy = slug, 2
        while anchor in used:
            anchor, copy = f"{slug}-{copy}", copy + 1
        used.add(anchor)
        return anchor

    return make


def _same_place(before: Step, after: Step) -> bool:
    """Tell whether a step is done where the one before it was, and the way there was told or done in that one."""
    told = {*before.access, *map(plain, before.do)}
    return bool(after.access) and before.place == after.place and told.issuperset(after.access)


def outline(paper: Paper) -> Outline:
    """Divide a paper into parts.

    A heading begins a part where text stands before it. Cautions and headings right before a step belong to the step.
    Levels begin at 1 and never skip one; a step is one level below the heading it stands under.
    """
    anchor = _anchors()
    parts: list[Part] = []
    contents: list[Entry] = []
    waiting: list[Placed] = []
    heading_level = 0
    number = 0
    previous: Step | None = None
    said: set[Caution] = set()

    def again(cautions: tuple[Caution, ...]) -> tuple[bool, ...]:
        before = []
        for caution in cautions:
            before.append(caution in said)
            said.add(caution)
        return tuple(before)

    def close(kind: Literal["step", "text"], blocks: list[Placed]) -> None:
        if blocks:
            named = next((b.anchor for b in reversed(blocks) if b.anchor and kind == "step"), "")
            parts.append(Part(id=named or anchor("part", "part"), kind=kind, blocks=tuple(blocks)))

    for block in paper.blocks:
        if isinstance(block, Heading):
            if any(not isinstance(w.block, Heading) for w in waiting):
                close("text", waiting)
                waiting = []
            heading_level = min(block.level, heading_level + 1)
            if heading_level == 1:
                said.clear()
            name = anchor(block.anchor or block.text, "part")
            waiting.append(Placed(block=block, anchor=name, level=heading_level))
            contents.append(Entry(anchor=name, title=block.text, level=heading_level, number=None))
        elif isinstance(block, Step):
            number += 1
            level = min(heading_level + 1, 4)
            split = len(waiting)
            while split and isinstance(waiting[split - 1].block, Caution | Heading):
                split -= 1
            close("text", waiting[:split])
            name = anchor(f"step-{block.id}", "step")
            step = Placed(
                block=block,
                anchor=name,
                level=level,
                number=number,
                still_open=previous is not None and _same_place(previous, block),
                said_before=again(block.cautions),
            )
            previous = block
            close("step", [*waiting[split:], step])
            waiting = []
            contents.append(Entry(anchor=name, title=block.title, level=level, number=number))
        elif isinstance(block, Caution):
            waiting.append(Placed(block=block, said_before=again((block,))))
        else:
            waiting.append(Placed(block=block))
    close("text", waiting)
    return Outline(parts=tuple(parts), contents=tuple(contents), steps=number)
