"""The table of addresses: each pattern with what answers it, and nothing is found in any other way."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from loomwright.web import (
    page_begin,
    page_documents,
    page_enter,
    page_fit,
    page_kits,
    page_sheets,
    page_today,
    page_vehicles,
)
from loomwright.web.asking import Answer, Ask
from loomwright.web.desk import Desk
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
    "/vehicles/{vehicle}": {"GET": page_vehicles.show},
    "/kits": {"GET": page_kits.listed},
    "/kits/{kit}": {"GET": page_kits.show},
    "/documents": {"GET": page_documents.show, "POST": page_documents.bring},
    "/fit": {"GET": page_fit.choose},
    "/fit/{vehicle}/{kit}": {"GET": page_fit.show},
    "/fit/{vehicle}/{kit}/{sheet}": {"GET": page_sheets.show},
    "/static/{name}": {"GET": _static},
})  # fmt: skip
