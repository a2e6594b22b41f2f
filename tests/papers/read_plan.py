"""The wiring plan read back: from the text of its tables alone, as somebody would wire it who has nothing else."""

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from html.parser import HTMLParser

from tests.sheets.read_circuit import Net, Node

__all__ = ["Line", "plan_lines", "plan_nodes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row of a table of the plan, cell by cell, and the plug or place it stands under."""

    where: str
    used_for: str
    wire: str
    joint: str
    lead: str
    pin: str
    between: str

    @property
    def label(self) -> str:
        """What is printed on the lead."""
        return self.lead.split(", ")[0]

    @property
    def car(self) -> str:
        """The car's side: plug and pin, or the place alone."""
        found = re.match(r"pin (\S+), ", self.wire)
        return f"{self.where}, pin {found[1]}" if found else self.where


class _Tables(HTMLParser):
    """Every table of a page: its caption and the texts of its cells, row by row."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, list[list[str]]]] = []
        self._inside = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "table":
            self.found.append(("", []))
        elif tag == "tr":
            self.found[-1][1].append([])
        elif tag in {"td", "th"}:
            self.found[-1][1][-1].append("")
        if tag in {"caption", "td", "th"}:
            self._inside = tag

    def handle_endtag(self, tag: str) -> None:
        if tag == self._inside:
            self._inside = ""

    def handle_data(self, data: str) -> None:
        caption, rows = self.found[-1] if self.found else ("", [])
        said = data.replace("\N{NO-BREAK SPACE}", " ")
        if self._inside == "caption":
            self.found[-1] = (caption + said, rows)
        elif self._inside:
            rows[-1][-1] += said


def plan_lines(html: str) -> list[Line]:
    """Return the rows of all tables of a wiring plan that tell of joints."""
    tables = _Tables()
    tables.feed(html)
    return [
        Line(where=caption, used_for=c[0], wire=c[1], joint=c[2], lead=c[3], pin=c[4], between=c[5])
        for caption, rows in tables.found
        if rows[0][:5] == ["For", "Car wire", "Joint", "Kit lead", "Kit pin"]
        for c in rows[1:]
    ]


def _split(between: str) -> tuple[str, str]:
    """Return the fuse in the lead, and what the ends of the part are joined to; each '' where there is none."""
    fuse = re.match(r"(Fuse \S+ A)(?:; |$)", between)
    rest = between[fuse.end() :] if fuse else between
    return fuse[1] if fuse else "", "" if rest == "none" else rest.rpartition(": ")[2]


def _ends(line: Line) -> Iterator[tuple[str, str]]:
    """Yield (point, what ends there); ('=', 'a|b') tells that two points are one."""
    key = f"{line.label} @ {line.car}"
    yield f"={line.pin}", f"{key}.lead.kit"
    lead = f"{key} lead"
    yield lead, f"{key}.lead.car"
    fuse, part = _split(line.between)
    if fuse:
        yield lead, f"{key}.{fuse}"
        lead = f"{key} behind the fuse"
        yield lead, f"{key}.{fuse}"
    opened = re.search(r"the car's own signal comes from the ([^.]*?)(?:\. .*)?$", line.joint)
    named = {"the lead": lead, "the car wire": f"{key} car", "the other end": f"{key} car"}
    if opened:
        named[f"the end at the {opened[1]}"] = f"{key} factory"
    if not part:
        yield "=", f"{lead}|{key} car"
    yield from _part_ends(key, part, named)
    cut = opened is not None
    yield from _car_ends(line, key, plug_first=opened is None or opened[1] == "side of the plug", cut=cut)


def _part_ends(key: str, part: str, named: dict[str, str]) -> Iterator[tuple[str, str]]:
    diode = re.fullmatch(r"from (.+) to (the other end), band to \2; (the lead) to \2", part)
    if diode:
        yield named[diode[1]], f"{key}.diode.A"
        yield named[diode[2]], f"{key}.diode.K"
        yield "=", f"{named[diode[3]]}|{named[diode[2]]}"
    elif part == "in the lead":
        yield named["the lead"], f"{key}.resistor"
        yield named["the car wire"], f"{key}.resistor"
    elif part.startswith("in the lead, band to "):
        first, second = ("A", "K") if part.endswith("the car wire") else ("K", "A")
        yield named["the lead"], f"{key}.diode.{first}"
        yield named["the car wire"], f"{key}.diode.{second}"
    elif part:
        for number, point, through in re.findall(r"(\d+a?) to (.+?)(?: through (Fuse \S+ A))?(?=, \d|$)", part):
            place = named.get(point, f"={point}")
            assert point in named or re.fullmatch(r"\w+/\w+", point), point
            if through:
                yield place, f"{key}.{through}"
                place = f"{key} behind {through}"
                yield place, f"{key}.{through}"
            yield place, f"{key}.{number}"
            # Common practice: the diode across a coil has its band at the positive end, which is 86.
            if number in {"85", "86"}:
                yield place, f"{key}.coil diode.{'A' if number == '85' else 'K'}"


def _car_ends(line: Line, key: str, *, plug_first: bool, cut: bool) -> Iterator[tuple[str, str]]:
    car, factory = f"{key} car", f"{key} factory" if cut else f"{key} car"
    upper, lower = ("plug", "harness") if plug_first else ("harness", "plug")
    kind = line.joint.partition(":")[0].partition(";")[0]
    match kind:
        case "tap onto the wire":
            yield "=", f"{car}|={line.car} plug"
            yield "=", f"{car}|={line.car} harness"
        case "the wire is cut, the part between":
            yield "=", f"{factory}|={line.car} {upper}"
            yield "=", f"{car}|={line.car} {lower}"
        case "inside the T" | "inside the T, the wire is cut in":
            for number, (point, end) in enumerate(((factory, upper), (car, lower))):
                yield point, f"{line.car}.contact {number}"
                yield f"={line.car} {end}", f"{line.car}.contact {number}"
        case "plug into the free socket":
            yield car, f"{line.car}.contact 0"
            yield f"={line.car} plug", f"{line.car}.contact 0"
            yield "=", f"={line.car} plug|={line.car} harness"
        case "ring under a bolt":
            yield "=", f"{car}|=ground"
        case "onto the added part":
            yield car, f"{key}.switch"
            yield "=ground", f"{key}.switch"
        case _:
            raise AssertionError(kind)


def plan_nodes(lines: list[Line]) -> frozenset[Node]:
    """Return the nodes that the lines tell, each with all that ends on it."""
    net, ends = Net(), defaultdict(list)
    for line in lines:
        for point, said in _ends(line):
            if point == "=":
                one, _, other = said.partition("|")
                net.join(one, other)
                points = [one, other]
            else:
                ends[point].append(said)
                points = [point]
            for each in points:
                if each.startswith("=") and each not in ends[each]:  # a pin of the kit or of the car, or ground
                    ends[each].append(each)
    found: dict[object, list[str]] = defaultdict(list)
    for point, here in ends.items():
        found[net.root(point)] += here
    return frozenset(tuple(sorted(each)) for each in found.values())
