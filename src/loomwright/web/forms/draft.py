"""A document while it is being entered: it may lack whole sections, and every part that is sound can be used."""

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from pydantic import BaseModel

from loomwright.documents.car import expand
from loomwright.documents.editing import value_at
from loomwright.documents.faces import shape_of
from loomwright.documents.part_checking import check_part
from loomwright.documents.pictures import Photo
from loomwright.documents.reading import Source, Tree, read_tree
from loomwright.documents.vehicle import Axis, Circuit, Plug
from loomwright.papers.drawings import FaceDrawing
from loomwright.papers.pin_face import mark_of

__all__ = ["Draft", "draft_face", "draft_of", "free_slug", "photo_of", "slug_of"]

_P = TypeVar("_P", bound=BaseModel)


@dataclass(frozen=True, kw_only=True, eq=False)
class Draft:
    """A document as far as it was entered. It has no slots: what is found out about its text is found out once."""

    kind: str
    id: str
    text: str
    tree: Tree

    def with_text(self, text: str) -> "Draft":
        """Return the document with another text."""
        return draft_of(self.kind, self.id, text)

    def at(self, *path: str | int) -> Any:
        """Return the plain values at a path, `None` where there are none."""
        return value_at(self.tree, path)

    def items(self, path: Sequence[str]) -> list[dict[str, Any]]:
        """Return the entries of a list in plain values; what is no entry at all is an empty one."""
        found = self.at(*path)
        return [one if isinstance(one, dict) else {} for one in found] if isinstance(found, list) else []

    def parts(self, path: Sequence[str], model: type[_P]) -> tuple[tuple[int, _P], ...]:
        """Return the entries of a list that are sound, each with its place in it."""
        checked = ((n, check_part(model, raw).part) for n, raw in enumerate(self.items(path)))
        return tuple((n, part) for n, part in checked if part is not None)

    @property
    def name(self) -> str:
        """What the document is called, as far as that was entered."""
        badge = next(iter(self.items(("names",))), {})
        called = " ".join(str(badge[key]) for key in ("maker", "model") if badge.get(key))
        return called or str(self.at("name") or self.id)

    @cached_property
    def axes(self) -> tuple[Axis, ...]:
        """The axes that are sound."""
        return tuple(axis for _, axis in self.parts(("axes",), Axis))

    @property
    def axis_values(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Axes with their values."""
        return tuple((axis.id, tuple(v.value for v in axis.values)) for axis in self.axes)

    @cached_property
    def plugs(self) -> tuple[tuple[int, Plug], ...]:
        """The plugs that are sound, each with its place in the list."""
        return self.parts(("plugs",), Plug)

    @cached_property
    def circuits(self) -> tuple[tuple[int, Circuit], ...]:
        """The circuits that are sound, each with its place in the list."""
        return self.parts(("circuits",), Circuit)

    def plug(self, id: str) -> Plug | None:
        """Return the first sound plug of an id."""
        return next((plug for _, plug in self.plugs if plug.id == id), None)

    def wires_in(self, plug: str) -> dict[str, list[tuple[int, Circuit, tuple[str, str | None] | None]]]:
        """Return what sits in the pins of a plug: place in the list, circuit, colour and stripe of the wire there."""
        found: dict[str, list[tuple[int, Circuit, tuple[str, str | None] | None]]] = {}
        for index, circuit in self.circuits:
            ends = dict.fromkeys(e for s in circuit.path for e in (s.from_, s.to) if e.startswith(f"{plug}/"))
            for end in ends:
                wire = next((s for s in circuit.path if s.colour is not None and end in (s.from_, s.to)), None)
                seen = None if wire is None or wire.colour is None else (wire.colour, wire.stripe)
                found.setdefault(end.partition("/")[2], []).append((index, circuit, seen))
        return found

    def values_named(self, axis: str, written: Sequence[str]) -> tuple[str, ...]:
        """Return the values of an axis that a condition names, runs such as '2011 to 2013' spelt out."""
        found = next((one for one in self.axes if one.id == axis), None)
        return tuple(written) if found is None else expand(found, written)


def draft_of(kind: str, id: str, text: str) -> Draft:
    """Return a document as far as it was entered.

    Raises DocumentError where the text is no YAML of a document at all.
    """
    return Draft(kind=kind, id=id, text=text, tree=read_tree(Source(file=f"{kind}/{id}", text=text)))


def draft_face(
    draft: Draft,
    plug: Plug,
    typed: Mapping[str, tuple[str, str | None] | None] | None = None,
    target: str | None = None,
) -> FaceDrawing:
    """Return a plug as it is known so far; `typed` are wires, by pin, that were typed and are not kept yet."""
    shape = shape_of(plug)
    known = draft.wires_in(plug.id)
    wires = {pin: next((wire for _, _, wire in known.get(pin, ()) if wire), None) for pin in shape.pins}
    if typed is not None:
        wires |= {pin: wire for pin, wire in typed.items() if pin in wires}
    avoid = tuple(pin for pin in shape.pins if any(c.function == "restraint" for _, c, _ in known.get(pin, ())))
    named = (*avoid, *((target,) if target in shape.pins and target else ()))
    labels = {pin: known[pin][0][1].name or known[pin][0][1].function for pin in named if pin in known}
    return FaceDrawing(
        shape=shape, occupants=wires, side=plug.seen_side, turn=plug.seen_turn, target=target if target in shape.pins
        else None, avoid=tuple(p for p in avoid if p != target), labels=labels, mark=mark_of(plug),
    )  # fmt: skip


def photo_of(raw: Mapping[str, Any]) -> Photo | None:
    """Return the photograph that an entry names, `None` where it names none that could be one."""
    found = raw.get("photo")
    return check_part(Photo, found).part if isinstance(found, dict) else None


def slug_of(words: str) -> str:
    """Return lower-case words joined by '-', empty where a text has none; letters with accents lose them."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return "-".join(re.findall(r"[a-z0-9]+", plain.lower().replace("'", "")))[:60].strip("-")


def free_slug(words: str, taken: Iterable[str], otherwise: str) -> str:
    """Return an id made of some words that nothing else has."""
    base = slug_of(words) or otherwise
    known = set(taken)
    number = 2
    found = base
    while found in known:
        found, number = f"{base}-{number}", number + 1
    return found
