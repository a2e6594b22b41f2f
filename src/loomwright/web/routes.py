"""The table of addresses: each pattern with what answers it, and nothing is found in any other way."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from loomwright.web import (
    page_begin,
    page_bring,
    page_documents,
    page_enter,
    page_fit,
    page_jobs,
    page_kits,
    page_move,
    page_order,
    page_problem,
    page_readings,
    page_search,
    page_settings,
    page_sheets,
    page_today,
    page_vehicles,
    page_walk,
    page_work,
)
from loomwright.web.asking import Answer, Ask
from loomwright.web.desk import Desk
from loomwright.web.guard import TAKE_IN
from loomwright.web.routes_entering import ENTERING
from loomwright.web.static import static_file

__all__ = ["ROUTES", "Handler"]

Handler = Callable[[Desk, Ask], Answer]


def _static(_: Desk, ask: Ask) -> Answer:
    return static_file(ask.path["name"])


ROUTES: Mapping[str, Mapping[str, Handler]] = MappingProxyType({
    "/": {"GET": page_today.show},
    "/begin": {"GET": page_begin.show, "POST": page_begin.begin},
    "/enter": {"GET": page_enter.show, "POST": page_enter.enter},
    "/vehicles": {"GET": page_vehicles.listed},
    **ENTERING,
    "/vehicles/{vehicle}": {"GET": page_vehicles.show},
    "/vehicles/{vehicle}/walk": {"GET": page_walk.show, "POST": page_walk.keep},
    "/kits": {"GET": page_kits.listed},
    "/kits/{kit}": {"GET": page_kits.show},
    "/documents": {"GET": page_documents.show, "POST": page_bring.bring},
    "/fit": {"GET": page_fit.choose},
    "/fit/{vehicle}/{kit}": {"GET": page_fit.show},
    "/fit/{vehicle}/{kit}/readings": {"GET": page_readings.show},
    "/fit/{vehicle}/{kit}/{sheet}": {"GET": page_sheets.show},
    "/order": {"GET": page_order.choose},
    "/order/{vehicle}/{kit}": {"GET": page_order.show},
    "/jobs": {"GET": page_jobs.listed, "POST": page_jobs.make},
    "/jobs/new": {"GET": page_jobs.new},
    "/jobs/{serial}": {"GET": page_jobs.show},
    "/jobs/{serial}/issue": {"POST": page_jobs.issue},
    "/jobs/{serial}/issues/{issue}/{name}": {"GET": page_jobs.sheet},
    "/jobs/{serial}/readings": {"GET": page_jobs.readings, "POST": page_jobs.keep_readings},
    "/problem": {"GET": page_problem.ask, "POST": page_problem.look},
    "/problem/{report}": {"GET": page_problem.save},
    "/search": {"GET": page_search.show},
    "/tasks": {"GET": page_work.listed, "POST": page_work.ask},
    "/tasks/{task}": {"GET": page_work.show},
    "/tasks/{task}/again": {"POST": page_work.again},
    "/tasks/{task}/cancel": {"POST": page_work.cancel},
    "/tasks/{task}/files/{name}": {"GET": page_work.file},
    "/settings": {"GET": page_settings.show, "POST": page_settings.change},
    "/settings/backup": {"POST": page_settings.back_up},
    "/settings/export": {"POST": page_move.take_out},
    TAKE_IN: {"POST": page_move.take_in},
    "/settings/who": {"POST": page_settings.person},
    "/static/{name}": {"GET": _static},
})  # fmt: skip
