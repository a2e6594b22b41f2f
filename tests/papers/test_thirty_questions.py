"""Somebody who holds nothing but the guide answers what one asks under a dash; every answer is compared with the model.

The reader sees the words of the page and nothing else: which lead goes into which place, what the meter should show,
what must not be touched, whether one may stop here, what to set and to teach, what to do when it fails twice.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from html.parser import HTMLParser

import pytest

from loomwright.papers.programming import changed_settings, dialogues_needed
from loomwright.papers.reading_fields import Limits, limits_of
from loomwright.papers.safety_tests import run_time
from loomwright.sheets import render
from tests.papers.builders import Built, built, built_pair, steps

_CARS = ("kestrin-fallow", "sarnow-ouzel", "averdahl-siskin", "norbeck-ploughline", "quillen-marram")
_BLOCKS = frozenset({
    "p", "li", "td", "th", "tr", "dt", "dd", "h1", "h2", "h3", "h4", "div", "section", "figcaption", "ol",
})  # fmt: skip

Question = tuple[str, object, object]
"""What is asked, what the page answers, and what is so."""


class _Reader(HTMLParser):
    """Collects the words of each part of the page, a line for each block; drawings and scripts are not read."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self._deaf = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in {"svg", "script", "style"}:
            self._deaf += 1
        if tag == "section":
            self.parts.append("")
        if self.parts and tag in _BLOCKS:
            self.parts[-1] += "\n"
        del attrs

    def handle_endtag(self, tag: str) -> None:
        if tag in {"svg", "script", "style"}:
            self._deaf -= 1
        if self.parts and tag in _BLOCKS:
            self.parts[-1] += "\n"

    def handle_data(self, data: str) -> None:
        if self.parts and not self._deaf:
            self.parts[-1] += data.replace("\u00a0", " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Guide:
    """What the reader holds."""

    parts: tuple[str, ...]

    def part(self, wanted: str) -> str:
        """Leaf to the first part that holds some words."""
        return next(p for p in self.parts if wanted in p)

    @property
    def whole(self) -> str:
        return "\n".join(self.parts)


@cache
def _held(car: str) -> tuple[Built, _Guide]:
    made = built("2014 sedan") if car == "kestrin-fallow" else built_pair((car, "dunlin-7"))
    reader = _Reader()
    reader.feed(render(made.guide, "html").decode())
    contents, *read = reader.parts
    assert "Contents" in contents
    lines = ("\n".join(" ".join(line.split()) for line in part.splitlines() if line.strip()) for part in read)
    return made, _Guide(parts=tuple(lines))


def _find(pattern: str, text: str) -> str | None:
    found = re.search(pattern, text, re.MULTILINE)
    return None if found is None else found[1]


def _of_leads(made: Built, guide: _Guide) -> Iterator[Question]:
    """Which place of the kit's plug, which fuse, and of which colour a lead is."""
    table = guide.part("The kit's plugs")
    for joint in made.installation.joints:
        terminal = made.job.terminal(joint)
        # One place may feed several conductors, each with a row of its own; unfused ones stand there without a fuse.
        place = rf"^{terminal.plug.upper()}/{terminal.pin}\n"
        row = _find(rf"{place}({re.escape(joint.label)},.*\n.*)$", table) or _find(rf"{place}(.*\n.*)$", table)
        assert row is not None, joint.label
        lead, length = row.split("\n")
        yield f"Which lead is at {terminal.plug}/{terminal.pin}?", lead, f"{joint.label}, {made.job.lead_colour(joint)}"
        fuse = _find(r"fuse ([\d.]+) A", length)
        rating = f"{made.job.fuse(joint).value:g}" if made.job.is_fused(joint) else None
        yield f"Which fuse has {joint.label}?", fuse, rating


def _of_readings(made: Built, guide: _Guide) -> Iterator[Question]:
    """What the meter should show at each wire joined by hand, and that half of a live one is wrong there."""
    bands = {r.id: r for r in made.readings.readings}
    for joint in made.installation.joints:
        step = next((s for s in steps(made.guide) if s.id == f"measure:{joint.id}"), None)
        if step is None or joint.kind not in ("tap", "cut in"):
            continue
        title = re.compile(rf"^\d+ Measure .+, for {re.escape(joint.label)}$", re.MULTILINE)
        pin = f", pin {(joint.pin or '').partition('/')[2]}, {made.job.wire(joint)}"  # a lead may go to several wires
        part = next(p for p in guide.parts if title.search(p) and pin in p)
        told = re.findall(r"Should be (.+?)(?: ?Reading|$)", part, re.MULTILINE)
        for number, (field, expect) in enumerate(zip(step.readings, told, strict=True), 1):
            reading = bands[field.id]
            if reading.flicker or not reading.band.driven:
                continue
            limits = limits_of(reading.band)
            yield f"What does {joint.label} show, line {number}?", _range(expect, limits.battery_v), _rounded(limits)


def _range(expect: str, battery: float) -> tuple[float, float]:
    """Return the lowest and the highest volts that a sentence lets pass, for a battery as the guide takes it."""
    numbers = [float(n) for n in re.findall(r"\d+\.\d+", expect.partition("(")[0])]
    if expect.startswith("nothing"):
        return 0.0, numbers[0]
    if expect.startswith("at most"):
        return round(battery - numbers[0], 1), battery
    if "below the battery" in expect:
        return round(battery - numbers[1], 1), round(battery - numbers[0], 1)
    return numbers[0], numbers[1]


def _rounded(limits: Limits) -> tuple[float, float]:
    return round(limits.low, 1), round(limits.high, 1)


def _of_dangers(made: Built, guide: _Guide) -> Iterator[Question]:
    wait = _find(r"After the negative cable is off, wait (\d+(?:\.\d)?) min", guide.whole)
    yield "How long do I wait for the airbags?", wait, f"{made.job.wait.value:g}"
    for plug in dict.fromkeys(j.pin.partition("/")[0] for j in made.installation.joints if j.pin and j.kind == "tap"):
        name = made.job.car.plugs[plug].name
        part = next(p for p in guide.parts if f"{name}, pin" in p and "\nTouch" in f"\n{p}")
        never = _find(r"Never touch ([^:]+): airbag", part)
        pins = made.job.restraint_pins(plug)
        told = tuple(re.findall(r"pin (\w+)", never or ""))
        yield f"Which pins of the {name} do I never touch?", told, pins


def _of_order(made: Built, guide: _Guide) -> Iterator[Question]:
    joins = [p for p in guide.parts if re.search(r"^\d+ (Join|Plug) ", p, re.MULTILINE)]
    first = re.findall(r"^\d+ (?:Join|Plug) (.+)$", joins[0], re.MULTILINE)[0]
    last = re.findall(r"^\d+ (?:Join|Plug) (.+)$", joins[-1], re.MULTILINE)[0]
    ground = next(j for j in made.installation.joints if j.kind == "ground point")
    yield "What do I join first?", first, f"{ground.label} to the ground point"
    yield "What do I plug in last?", last, "The controller"
    yield "May I stop after the untouched car is checked?", _stop(guide.part("Test What the kit will touch")), True
    begins = next(i for i, p in enumerate(guide.parts) if p.startswith("Part B"))
    measured = [p for p in guide.parts[:begins] if re.search(r"^\d+ Measure ", p, re.MULTILINE)]
    yield "May I stop once all is measured?", _stop(measured[-1]), made.job.sound_in("bare")
    yield "May I stop in the middle of measuring?", any(map(_stop, measured[:-1])), False
    within = [p for p in guide.parts if "Battery disconnected" in p and _stop(p)]
    yield "May I stop with the battery off?", bool(within), False
    sound = made.job.sound_in("fitted") and made.job.sound_in("kit dead")
    yield "May I stop with the kit plugged in?", _stop(guide.part("still starts on")), sound


def _stop(part: str) -> bool:
    return "You may stop here" in part


def _of_programming(made: Built, guide: _Guide) -> Iterator[Question]:
    taught = re.findall(r"^\d+ Program (.+)$", guide.whole, re.MULTILINE)
    dialogues = [d.name for d in dialogues_needed(made.job)]
    yield "What do I teach, in which order?", [t for t in taught if t in dialogues], dialogues
    keys = made.job.car.traits.keys_to_learn
    told = _find(r"Keys of this car needed: (\d+)", guide.whole)
    learns = any(d.kind == "learning" and d.keys in (None, keys) for d in dialogues_needed(made.job))
    yield "How many keys do I need?", told, str(keys) if keys and made.job.uses_module and learns else None
    for setting, choice, number in changed_settings(made.job):
        if setting.of != "controller":
            continue
        named = rf"\({re.escape(setting.name)}\) to {re.escape(choice.value)}"
        said = _find(rf"{named}: .*choice, that is (\d+)", guide.whole)
        yield f"Which choice do I take for {setting.name}?", said, str(number)
    within = {f"{s.within_s:.0f}" for d in dialogues_needed(made.job) for s in d.steps[1:] if s.within_s is not None}
    yield "Which times must I keep?", set(re.findall(r"Within (\d+) s of the last answer", guide.whole)), within


def _of_use(made: Built, guide: _Guide) -> Iterator[Question]:
    time = run_time(made.job)
    told = _find(r"It stops by itself after (\d+) min", guide.whole)
    yield "When does it stop by itself?", told, None if time is None else f"{time.value:.0f}"
    how = guide.part("How to use it")
    yield "How do I start it?", _find(r"^Start: (.+)$", how), " ".join(made.kit.remotes[0].start.split())
    unused = guide.part("Leads that stay unused")
    loose = [u.label for u in made.installation.unused_leads if u.where not in {b.label for b in made.kit.branches}]
    rows = re.findall(r"^(.+)\n.+\n(?:Do not take it for|None)", unused, re.MULTILINE)
    yield "Which leads stay over?", rows, loose
    yield "May I cut them short?", "Do not cut it short" in unused, True


def _of_failing(made: Built, guide: _Guide) -> Iterator[Question]:
    part = next(p for p in guide.parts if re.search(r"^\d+ Measure .+, for ", p, re.MULTILINE))
    yield "It differs twice: what then?", "stop, join nothing, and call the shop" in part, True
    yield "Whom do I call?", made.shop.call.rstrip(".") in guide.part("When to stop and call"), True
    gear = next(p for p in guide.parts if re.search(r"^\d+ Test Selector$", p, re.MULTILINE))
    yield "The starter turns in drive: what then?", "pull the kit's fuses" in gear, True
    yield "Where does my foot stay?", "keep the foot hard on it" in gear, True


def _questions(car: str) -> list[Question]:
    made, guide = _held(car)
    every = (_of_leads, _of_readings, _of_dangers, _of_order, _of_programming, _of_use, _of_failing)
    return [question for asked in every for question in asked(made, guide)]


@pytest.mark.parametrize("car", _CARS)
def test_every_question_is_answered_right_from_the_guide_alone(car: str) -> None:
    questions = _questions(car)
    assert [q for q in questions if q[1] != q[2]] == []
    assert len({q[0] for q in questions}) >= 30, f"only {len(questions)} were asked"


def test_a_guide_of_another_car_answers_wrong() -> None:
    made, _ = _held("sarnow-ouzel")
    _, guide = _held("averdahl-siskin")
    wrong = [q for q in _of_programming(made, guide) if q[1] != q[2]]
    assert wrong
