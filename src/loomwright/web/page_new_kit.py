"""A new kit: a copy of one that is here, one of the demonstration taken over, or an empty one."""

from dataclasses import dataclass

from loomwright.documents.demo import demo_files
from loomwright.documents.editing import with_values
from loomwright.documents.glance import Glance, glance
from loomwright.documents.writing import dump_tree
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError
from loomwright.web.desk import Desk, Line
from loomwright.web.forms.draft import free_slug

__all__ = ["make", "show"]

_ADDRESSES = ("new",)  # of a page of its own


@dataclass(frozen=True, slots=True, kw_only=True)
class NewKitPage:
    """The ways to begin a kit; `faults` stand beside the fields they name."""

    kits: tuple[Line, ...]
    demo: tuple[tuple[str, Glance, bool], ...]  # (id, name, whether it is here already)
    sent: dict[str, str]
    faults: dict[str, str]


def _demo() -> dict[str, str]:
    """Return the kits of the demonstration: id -> text."""
    kits = (name for name in sorted(demo_files()) if name.startswith("kits/"))
    return {name.removeprefix("kits/").removesuffix(".yaml"): demo_files()[name] for name in kits}


def _page(desk: Desk, sent: dict[str, str], faults: dict[str, str]) -> Page:
    kits = desk.lines("kit")
    here = {line.entry.id for line in kits}
    demo = tuple((id, glance(text), id in here) for id, text in _demo().items())
    context = NewKitPage(kits=kits, demo=demo, sent=sent, faults=faults)
    return Page(template="kit_new.html", title="A new kit", context=context, status=422 if faults else 200)


def show(desk: Desk, ask: Ask) -> Answer:
    """Show the ways to begin a kit."""
    return _page(desk, {"of": ask.one("of"), "name": "", "revision": ""}, {})


def make(desk: Desk, ask: Ask) -> Answer:
    """Keep the beginning of a kit."""
    by = desk.worker(ask.who)
    if taken := ask.sent("take"):
        if taken not in _demo():
            raise WebError(404, f"The demonstration has no kit {taken[:60]!r}.")
        if desk.store.has("kit", taken):
            raise WebError(409, f"The kit {taken} is here already.")
        desk.store.save("kit", taken, _demo()[taken], by=by)
        return Redirect(to=f"/kits/{taken}")
    name, revision, of = ask.sent("name"), ask.sent("revision"), ask.sent("of")
    faults = {
        key: f"found nothing, expected {what}; fill it in"
        for key, text, what in (("name", name, "what it is called"), ("revision", revision, "its revision, such as A"))
        if not text
    }
    if of and not desk.store.has("kit", of):
        faults["of"] = f"found {of[:60]!r}, expected a kit of this shop; choose one"
    if faults:
        return _page(desk, {"name": name, "revision": revision, "of": of}, faults)
    id = free_slug(name, [entry.id for entry in desk.store.list("kit")] + list(_ADDRESSES), "kit")
    values = {"id": id, "name": name, "revision": revision}
    if of:
        text = with_values(desk.revision("kit", of).text, (), values)
    else:
        text = dump_tree({"format": 1, "kind": "kit", **values})
    desk.store.save("kit", id, text, by=by)
    return Redirect(to=f"/kits/{id}/edit")
