"""The drawn circuit read back: from the marks of its SVG alone, following each wire from sign to sign.

What is found is a set of nodes; a node is the list of all ends that lie on it, told by what is written beside them. A
sign's own ends are where its group says; which of them meet is found by following the lines of the wires.
"""

import itertools
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from xml.etree import ElementTree

__all__ = ["Net", "Node", "Read", "read_circuit"]

_SVG = "{http://www.w3.org/2000/svg}"
_NEAR = 0.06  # mm

Node = tuple[str, ...]
_Point = tuple[float, float]


@dataclass(slots=True, kw_only=True)
class Read:
    """What a drawing says: its nodes, its leads, and the names of its parts by lead."""

    nodes: frozenset[Node]
    leads: frozenset[tuple[str, ...]]  # label, kit pin, colours, size and length
    parts: frozenset[tuple[str, str]]  # lead and car pin, name of the part
    wires: frozenset[tuple[str, ...]]  # of the car: plug and pin, colours, what it is for


@dataclass(slots=True)
class Net:
    """Points that are joined, and the ends that lie on them."""

    parent: dict[object, object] = field(default_factory=dict)

    def root(self, item: object) -> object:
        self.parent.setdefault(item, item)
        while self.parent[item] != item:
            item = self.parent[item]
        return item

    def join(self, one: object, other: object) -> None:
        self.parent[self.root(one)] = self.root(other)


def _texts(group: ElementTree.Element) -> str:
    words = " ".join((each.text or "").strip() for each in group.iter(f"{_SVG}text"))
    return words.replace("\N{NO-BREAK SPACE}", " ")


def _classed(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [g for g in root.iter(f"{_SVG}g") if g.get("class") == f"c-{name}"]


def _said(root: ElementTree.Element, name: str) -> str:
    return " ".join(_texts(g) for g in _classed(root, name))


def _ends(group: ElementTree.Element) -> dict[str, _Point]:
    found = {}
    for each in (group.get("data-ends") or "").split():
        name, _, at = each.partition(":")
        x, _, y = at.partition(",")
        found[name] = (float(x), float(y))
    return found


def _wires(root: ElementTree.Element) -> list[list[_Point]]:
    found = []
    for path in root.iter(f"{_SVG}path"):
        if path.get("class") == "c-wire":
            d = path.get("d") or ""
            found.append([(float(x), float(y)) for x, y in re.findall(r"[ML](\S+) ([^L]+)", d)])
    return found


def _on(point: _Point, line: list[_Point]) -> bool:
    return any(
        min(a[0], b[0]) - _NEAR <= point[0] <= max(a[0], b[0]) + _NEAR
        and min(a[1], b[1]) - _NEAR <= point[1] <= max(a[1], b[1]) + _NEAR
        for a, b in itertools.pairwise(line)
    )


def _ends_at(wire: list[_Point], point: _Point) -> bool:
    return any(_on(point, [end, end]) for end in (wire[0], wire[-1]))


def _row_ends(root: ElementTree.Element, key: str, car: str) -> Iterator[tuple[str, _Point]]:
    """Yield every end of a row's signs with its name; ends of one name are one point of the circuit."""
    in_relay = {id(g) for relay in _classed(root, "relay") for g in relay.iter(f"{_SVG}g")}
    fuse_of = {id(g): _texts(fused) for fused in _classed(root, "fused") for g in _classed(fused, "fuse")}
    pairs = sorted(_classed(root, "pin-in-socket"), key=lambda g: _ends(g)["1"][1])
    for g in root.iter(f"{_SVG}g"):
        kind, ends = (g.get("class") or "").removeprefix("c-"), _ends(g)
        match kind:
            case "kit-pin":
                yield from ((f"={_texts(g)}", at) for at in ends.values())
            case "lead":
                yield from ((f"{key}.lead.{name}", at) for name, at in ends.items())
            case "fuse":
                yield from ((f"{key}.{fuse_of[id(g)]}", at) for at in ends.values())
            case "coil" | "contact" | "changeover":
                numbers = {each.text for each in g.iter(f"{_SVG}text")}
                assert numbers == set(ends), f"the ends {set(ends)} have the numbers {numbers}"
                yield from ((f"{key}.{name}", at) for name, at in ends.items())
            case "diode":
                coil = "coil diode" if id(g) in in_relay else "diode"
                yield from ((f"{key}.{coil}.{name}", at) for name, at in ends.items())
            case "resistor" | "switch":
                yield from ((f"{key}.{kind}", at) for at in ends.values())
            case "ring":
                yield from ((f"~{key}.ring", at) for at in ends.values())
            case "ground":
                yield from ((f"={_texts(g) or 'ground'}", at) for at in ends.values())
            case "car-pin":
                yield from ((f"={car} plug", at) for at in ends.values())
            case "to-the-harness":
                yield from ((f"={car} harness", at) for at in ends.values())
            case "wire-piece":
                yield from ((f"~{car} piece", at) for at in ends.values())
            case "pin-in-socket":
                yield from ((f"{car}.contact {pairs.index(g)}", at) for at in ends.values())


def read_circuit(drawings: Iterable[str]) -> Read:
    """Return what the rows of a drawing say together; pins of the kit and of the car are the same in every row."""
    net = Net()
    ends: list[tuple[object, str]] = []
    anchors: set[str] = set()
    leads, parts, car_wires = set(), set(), set()
    for number, svg in enumerate(drawings):
        root = ElementTree.fromstring(svg)
        lead = _classed(root, "lead")
        if not lead:
            continue
        label = _said(lead[0], "label")
        car_words = _classed(root, "car")[0]
        plug = _said(car_words, "plug")
        car = plug or _said(root, "for") or _said(root, "joint")
        key = f"{label} @ {car}"
        kit = [g for g in _classed(root, "kit-pin") if all(g not in relay.iter() for relay in _classed(root, "relay"))]
        leads.add((label, _texts(kit[0]), _said(lead[0], "colour"), _said(lead[0], "size")))
        if plug:
            car_wires.add((plug, _said(car_words, "colour"), _said(car_words, "for")))
        named = _said(root, "name")
        if named:
            parts.add((key, named))
        wires = _wires(root)
        for i, wire in enumerate(wires):
            net.root((number, i))
            for j, other in enumerate(wires[:i]):
                meetings = ((wire[0], other), (wire[-1], other), (other[0], wire), (other[-1], wire))
                if any(_on(end, line) for end, line in meetings):
                    net.join((number, i), (number, j))
        for name, at in _row_ends(root, key, car):
            touching: list[object] = [(number, i) for i, w in enumerate(wires) if _ends_at(w, at)]
            place = touching[0] if touching else (number, "at", round(at[0], 1), round(at[1], 1))
            for joined in touching[1:]:
                net.join(place, joined)
            if name[0] in "~=":
                # The first conducts from end to end and is nothing by itself; the other is one wherever it is drawn.
                net.join(place, name)
                if name.startswith("="):
                    anchors.add(name)
            else:
                ends.append((place, name))
    found: dict[object, list[str]] = defaultdict(list)
    for place, name in [*ends, *((anchor, anchor) for anchor in anchors)]:
        found[net.root(place)].append(name)
    nodes = frozenset(tuple(sorted(each)) for each in found.values())
    return Read(nodes=nodes, leads=frozenset(leads), parts=frozenset(parts), wires=frozenset(car_wires))
