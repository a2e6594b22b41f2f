"""A new vehicle from nothing: its badge and the facts of the whole car; the rest follows section by section."""

from collections.abc import Sequence
from dataclasses import dataclass

from loomwright.documents.part_checking import CheckedPart, PartFault, check_part
from loomwright.documents.vehicle import Name, Traits
from loomwright.documents.writing import dump_tree, plain_of
from loomwright.web.asking import Answer, Ask, Page, Redirect
from loomwright.web.desk import Desk
from loomwright.web.forms.draft import free_slug
from loomwright.web.forms.sections import SECTIONS
from loomwright.web.forms.slots import Refs, Slot, slots_of
from loomwright.web.forms.typed import Input, Typed, filled, raw_of

__all__ = ["make", "show"]

_TRAITS = ("fuel", "drive", "gearbox", "key", "start_style", "park_interlock", "immobiliser")
_ADDRESSES = ("new",)  # of pages of their own


@dataclass(frozen=True, slots=True, kw_only=True)
class NewVehiclePage:
    """The form: the badge, and what decides whether anything may be fitted at all."""

    badge: tuple[Input, ...]
    traits: tuple[Input, ...]


def _slots() -> tuple[tuple[Slot, ...], tuple[Slot, ...]]:
    sections = SECTIONS["vehicle"]
    badge = slots_of(Name, Refs(), sections["names"].words)
    leave = tuple(key for key in Traits.model_fields if key not in _TRAITS)
    return badge, slots_of(Traits, Refs(), sections["traits"].words, leave)


def _page(typed: Typed, faults: Sequence[PartFault] = (), status: int = 200) -> Page:
    badge, traits = _slots()
    context = NewVehiclePage(badge=filled(badge, typed, faults), traits=filled(traits, typed, faults))
    return Page(template="vehicle_new.html", title="A new vehicle", context=context, status=status)


def show(_desk: Desk, _ask: Ask) -> Answer:
    """Show the empty form."""
    return _page([])


def make(desk: Desk, ask: Ask) -> Answer:
    """Keep the beginning of a vehicle and go on to its sections."""
    badge_slots, trait_slots = _slots()
    badge: CheckedPart[Name] = check_part(Name, raw_of(ask.form, badge_slots))
    traits: CheckedPart[Traits] = check_part(Traits, raw_of(ask.form, trait_slots))
    if badge.part is None or traits.part is None:
        return _page(ask.form, (*badge.faults, *traits.faults), 422)
    words = f"{badge.part.maker} {badge.part.model}"
    taken = [entry.id for entry in desk.store.list("vehicle")] + list(_ADDRESSES)
    id = free_slug(words, taken, "vehicle")
    facts = plain_of(traits.part)
    text = dump_tree({
        "format": 1, "kind": "vehicle", "id": id, "names": [plain_of(badge.part)],
        **({"traits": [facts]} if facts else {}),
    })  # fmt: skip
    desk.store.save("vehicle", id, text, by=desk.worker(ask.who))
    return Redirect(to=f"/vehicles/{id}/edit")
