"""Somebody who holds nothing but the printed guide finds every pin: the text of the PDF is read and followed.

Each question is: to which pin of which plug does this lead belong, of which colour is the wire, from which end does one
count? The answer is read off the page; then the count is walked on the plug's own geometry, and must end on the pin.
"""

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import pypdf
import pytest

from loomwright.documents.faces import Edge, Side, Turn, latch_edge, lines, shape_of
from loomwright.sheets import render
from tests.papers.builders import VARIANTS, Built, built

_EDGES: dict[str, Edge] = {"up": "top", "down": "bottom", "left": "left", "right": "right"}
_STEP = re.compile(
    r"\b(\d+) (?:The (?P<measured>[^.:]{3,60}?), for (?P<label>[A-Z][A-Z0-9 ]*?)"
    r"|(?P<joined>[A-Z][A-Z0-9 ]*?) to the [a-z/ ]+ wire) (?:MEASURE|JOIN) "
)
_FIND = re.compile(r"Find the pin (Look .*?)(?=(?:Beside it|Kit lead|Car wire|Do|See|Where) )")
_LINE = re.compile(r"(\d+)\w\w (?:row|column) from the (\w+)|(Top|Bottom|Left|Right) (?:row|column)|one (?:row|column)")
_PLACE = re.compile(r"count from the (\w+) end; it is the (\d+)\w\w place|it is the first place at the (\w+) end")
_IN_LIST = re.compile(
    r"(?<![A-Z] )\b([A-Z][A-Z0-9]*(?: \d)?): pin (\w+), the car's wire is ([a-z/ ]+?)\. "
    r"(.*?end[;.](?: it is the \w+ place)?)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the page says about one lead."""

    label: str
    plug: str  # its name
    pin: str
    colour: str
    words: str  # how to hold the plug and to count


@cache
def _text(variant: str) -> str:
    pages = pypdf.PdfReader(io.BytesIO(render(built(variant).guide, "a4"))).pages
    # The foot of each page stands in the middle of a step that runs over two of them.
    body = (re.sub(r"\nkit .* page \d+ of \d+\s*$", "", page.extract_text()) for page in pages)
    return re.sub(r"/ ", "/", " ".join("\n".join(body).split()))


def _sections(text: str) -> Iterator[tuple[re.Match[str], str]]:
    found = list(_STEP.finditer(text))
    for this, following in zip(found, [*found[1:], None], strict=True):
        yield this, text[this.end() : None if following is None else following.start()]


def _answers(made: Built, text: str) -> list[Answer]:
    names = {p.name.lower(): p.name for p in made.installation.car.plugs.values()}
    out = []
    for head, body in _sections(text):
        find = _FIND.search(body)
        if find is None:
            continue
        # The plug of a step is named before any other: the text runs on to the next step that has a pin.
        at = {n: body.lower().index(n) for n in names if n in body.lower()}
        assert at, head.group()
        name = min(at, key=lambda n: (at[n], -len(n)))
        listed = [m for m in _IN_LIST.finditer(body) if "place" in m[4]]
        if listed and "Its pins:" in body:
            out += [
                Answer(label=m[1], plug=names[name], pin=m[2], colour=m[3], words=f"{find[1]} {m[4]}") for m in listed
            ]
            continue
        pin = re.search(r"Find pin (\w+):", body) or re.search(rf"{re.escape(name)}, pin (\w+)", body.lower())
        colour = re.search(r"Car wire\s+([a-z/ ]+)", body)
        assert pin is not None, head.group()
        assert colour is not None, head.group()
        label = (head["label"] or head["joined"]).strip()
        out.append(Answer(label=label, plug=names[name], pin=pin[1], colour=colour[1].strip(), words=find[1]))
    return out


def _walk(made: Built, answer: Answer) -> str | None:
    """Turn the plug as the words say, and count."""
    plug = next(p for p in made.installation.car.plugs.values() if p.name == answer.plug)
    side: Side = "wire" if "side the wires go in" in answer.words else "mating"
    edge = re.search(r"(?:latch|wide side) (?:on the )?(up|down|left|right)", answer.words)
    line, place = _LINE.search(answer.words), _PLACE.search(answer.words)
    assert edge is not None, answer
    assert line is not None, answer
    assert place is not None, answer
    turns: tuple[Turn, ...] = (0, 90, 180, 270)
    turn = next(t for t in turns if latch_edge(t) == _EDGES[edge[1]])
    ordered = lines(shape_of(plug), side, turn)
    number, start = (int(line[1]), line[2]) if line[1] else (1, (line[3] or "top").lower())
    chosen = ordered[number - 1] if start in ("top", "left") else ordered[-number]
    end, nth = (place[1].lower(), int(place[2])) if place[1] else (place[3].lower(), 1)
    walked = chosen if end in ("left", "top") else chosen[::-1]
    return walked[nth - 1] if nth <= len(walked) else None


@pytest.mark.parametrize("variant", VARIANTS)
def test_every_question_about_a_lead_is_answered_right_from_the_pdf_alone(variant: str) -> None:
    made = built(variant)
    answers = _answers(made, _text(variant))
    truth = {
        j.label: (made.installation.car.plugs[j.pin.partition("/")[0]].name, j.pin.partition("/")[2], made.job.wire(j))
        for j in made.installation.joints
        if j.pin is not None
    }
    right = [a for a in answers if (a.plug, a.pin, a.colour) == truth[a.label] and _walk(made, a) == a.pin]
    wrong = [(a, truth[a.label], _walk(made, a)) for a in answers if a not in right]
    assert wrong == []
    assert {a.label for a in answers} == set(truth)
    # Each lead is told where its wire is measured, and each lead joined by hand once more where it is joined.
    assert len(right) == len(truth) + sum(j.kind in ("tap", "cut in") for j in made.installation.joints)


def test_there_are_at_least_twenty_questions() -> None:
    assert sum(len(_answers(built(v), _text(v))) for v in VARIANTS) >= 20


def test_a_count_from_the_wrong_end_would_be_seen() -> None:
    made = built("2014 sedan")
    answer = next(a for a in _answers(made, _text("2014 sedan")) if a.label == "HORN")
    wrong = answer.words.replace("from the RIGHT end", "from the LEFT end")
    assert wrong != answer.words
    told = Answer(label=answer.label, plug=answer.plug, pin=answer.pin, colour=answer.colour, words=wrong)
    assert _walk(made, told) != answer.pin


def test_the_printed_guide_is_short_enough_to_be_followed() -> None:
    pages = pypdf.PdfReader(io.BytesIO(render(built("2014 sedan").guide, "a4"))).pages
    assert len(pages) <= 38
