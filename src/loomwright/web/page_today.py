"""Today: what is open, and where one goes from here."""

from dataclasses import dataclass

from loomwright.web.asking import Answer, Ask, Page, Redirect
from loomwright.web.desk import Desk, Line

__all__ = ["show"]

_JOBS, _RECENT = 12, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class TodayPage:
    """What is open: jobs first, then what was changed last."""

    jobs: tuple[Line, ...]
    recent: tuple[Line, ...]
    vehicles: int
    kits: int
    all_jobs: int


def show(desk: Desk, _ask: Ask) -> Answer:
    """Show what is open."""
    if not desk.has_shop():
        return Redirect(to="/begin")
    store = desk.store
    page = TodayPage(
        jobs=tuple(desk.line(e) for e in store.recent(("job",), limit=_JOBS)),
        recent=tuple(desk.line(e) for e in store.recent(("vehicle", "kit", "evidence"), limit=_RECENT)),
        vehicles=store.count("vehicle"), kits=store.count("kit"), all_jobs=store.count("job"),
    )  # fmt: skip
    return Page(template="today.html", title="Today", context=page)
