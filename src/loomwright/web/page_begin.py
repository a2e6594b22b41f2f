"""The first run: the demo shop, or an empty one."""

import re
from dataclasses import dataclass

from loomwright.documents.demo import demo_files
from loomwright.documents.shop import Shop
from loomwright.web.asking import Answer, Ask, Page, Redirect, WebError
from loomwright.web.desk import Desk
from loomwright.web.guard import WHO

__all__ = ["begin", "show"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginPage:
    """The choice; `again` says what was wrong with the last one."""

    again: str = ""


def show(desk: Desk, _ask: Ask) -> Answer:
    """Offer the demo shop or an empty one."""
    if desk.has_shop():
        return Redirect(to="/")
    return Page(template="begin.html", title="Begin", context=BeginPage())


def begin(desk: Desk, ask: Ask) -> Answer:
    """Fill the store for the first time."""
    if desk.has_shop():
        raise WebError(409, "This store has a shop already.")
    name, shop = ask.sent("name") or "Bench", ask.sent("shop")
    choice = ask.sent("choice")
    if choice not in ("demo", "empty"):
        raise WebError(400, "Choose the demo shop or an empty one.")
    if choice == "empty" and not shop:
        page = BeginPage(again="An empty shop needs a name.")
        return Page(template="begin.html", title="Begin", context=page, status=400)
    by = desk.store.add_person(name).id
    if choice == "demo":
        _demo(desk, by)
    else:
        id = "-".join(re.findall(r"[a-z0-9]+", shop.lower()))[:60] or "shop"
        call = ask.sent("call") or "not said yet"
        document = Shop.model_validate({"kind": "shop", "id": id, "name": shop, "call": call})
        desk.store.save("shop", id, document, by=by)
    return Redirect(to="/", cookies=((WHO, by),))


def _demo(desk: Desk, by: str) -> None:
    """Keep the demo's documents; the shop comes last, since with it the store counts as begun."""
    texts = sorted(demo_files().items(), key=lambda item: item[0] == "shop.yaml")
    for name, text in texts:
        kind, id = desk.named(name, text)
        desk.store.save(kind, id, text, by=by)
