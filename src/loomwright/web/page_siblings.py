"""A vehicle beside a sibling: only what differs, each difference taken over with one press."""

from collections.abc import Mapping
from dataclasses import dataclass

from loomwright.errors import Message
from loomwright.web.asking import Answer, Ask, Page, WebError, address
from loomwright.web.desk import Desk, Line
from loomwright.web.drafting import NotKept, found_draft, keep_edit, opened
from loomwright.web.edits import item_set
from loomwright.web.forms.draft import Draft
from loomwright.web.forms.siblings import Difference, circuits_in, differences, some_values, taken_over
from loomwright.web.page_vehicles import AxisPick

__all__ = ["show", "take"]

_MOST_OFFERED = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class SiblingsPage:
    """What differs between the two cars chosen."""

    vehicle: str
    name: str
    other: str
    other_name: str
    others: tuple[Line, ...]
    here: tuple[AxisPick, ...]
    there: tuple[AxisPick, ...]
    choice: tuple[tuple[str, str], ...]  # as it stands in an address and in a form
    found: tuple[Difference, ...]
    same: int
    base: int
    messages: tuple[Message, ...]
    asked: str  # id of the circuit whose taking over was questioned
    theirs: str


def _picks(draft: Draft, choice: Mapping[str, str]) -> tuple[AxisPick, ...]:
    return tuple(
        AxisPick(
            id=axis.id, ask=axis.ask,
            values=tuple((v.value, v.cue, choice.get(axis.id) == v.value) for v in axis.values),
        )
        for axis in draft.axes
    )  # fmt: skip


def _page(desk: Desk, id: str, other: str, wished: tuple[Mapping[str, str], Mapping[str, str]],
          not_kept: NotKept | None = None, asked: str = "") -> Page:  # fmt: skip
    revision, mine = found_draft(desk, "vehicle", id)
    theirs = found_draft(desk, "vehicle", other)[1] if other else mine
    here, there = some_values(mine, wished[0]), some_values(theirs, wished[1])
    one, two = circuits_in(mine, here), circuits_in(theirs, there)
    found = differences(one, two) if other else ()
    context = SiblingsPage(
        vehicle=id, name=mine.name, other=other, other_name=theirs.name if other else "",
        others=desk.lines("vehicle", limit=_MOST_OFFERED), here=_picks(mine, here), there=_picks(theirs, there),
        choice=(
            ("with", other), *((f"car.{a}", v) for a, v in here.items()),
            *((f"other.{a}", v) for a, v in there.items()),
        ),
        found=found, same=len(one) - sum(d.here for d in found), base=not_kept.base if not_kept else revision.number,
        messages=not_kept.messages if not_kept else (), asked=asked if not_kept else "",
        theirs=not_kept.theirs.by if not_kept and not_kept.theirs else "",
    )  # fmt: skip
    status = not_kept.status if not_kept else 200
    return Page(template="siblings.html", title=f"{mine.name} beside a sibling", context=context, status=status)


def show(desk: Desk, ask: Ask) -> Answer:
    """Show what differs."""
    wished = (ask.under("car."), ask.under("other."))
    return _page(desk, ask.path["vehicle"], ask.one("with")[:120], wished)


def take(desk: Desk, ask: Ask) -> Answer:
    """Take one circuit of the sibling over."""
    id, other, circuit = ask.path["vehicle"], ask.sent("with"), ask.sent("take")
    wished = (ask.under("car.", ask.form), ask.under("other.", ask.form))
    doc, (_, theirs) = opened(desk, ask, "vehicle", id), found_draft(desk, "vehicle", other)
    mine = doc.was
    one, two = circuits_in(mine, some_values(mine, wished[0])), circuits_in(theirs, some_values(theirs, wished[1]))
    if circuit not in two:
        raise WebError(404, f"{theirs.name} has no circuit {circuit[:60]!r} in the car chosen.")
    own = next((d for d in differences(one, two) if d.id == circuit), None)
    index, before = _mine(one, two, circuit) if own is None or own.here else (None, None)
    raw = taken_over(two[circuit][1], None if before is None else one[before][1])
    pairs = [("with", other), *((key, value) for key, value in ask.form if key.startswith(("car.", "other.")))]
    then = address(f"/vehicles/{id}/siblings", pairs)
    found = keep_edit(desk, ask, doc, item_set(("circuits",), index, raw), then)
    return _page(desk, id, other, wished, found, circuit) if isinstance(found, NotKept) else found


def _mine(one: Mapping[str, tuple[int, object]], two: Mapping[str, tuple[int, object]], circuit: str) -> (
    tuple[int | None, str | None]
):  # fmt: skip
    """Return our circuit that a circuit of the sibling stands beside: of the same id, or the only one of its kind."""
    if circuit in one:
        return one[circuit][0], circuit
    wanted = getattr(two[circuit][1], "function", "")
    same = [id for id, (_, c) in one.items() if getattr(c, "function", "") == wanted and id not in two]
    return (one[same[0]][0], same[0]) if len(same) == 1 else (None, None)
