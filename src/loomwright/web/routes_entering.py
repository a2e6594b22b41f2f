"""The addresses of what is entered in forms: vehicles and kits, section by section, wires, versions."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from loomwright.web import (
    page_circuit,
    page_edit,
    page_import,
    page_new_kit,
    page_new_vehicle,
    page_part,
    page_photos,
    page_siblings,
    page_versions,
    page_wires,
)
from loomwright.web.asking import Answer, Ask
from loomwright.web.desk import Desk

__all__ = ["ENTERING"]

_PART = {"GET": page_part.show, "POST": page_part.keep}
_NEW = {"GET": page_part.new, "POST": page_part.keep}
_VERSIONS = {"GET": page_versions.show, "POST": page_versions.bring_back}

ENTERING: Mapping[str, Mapping[str, Callable[[Desk, Ask], Answer]]] = MappingProxyType({
    "/vehicles/new": {"GET": page_new_vehicle.show, "POST": page_new_vehicle.make},
    "/vehicles/{vehicle}/edit": {"GET": page_edit.show},
    "/vehicles/{vehicle}/edit/{section}/new": _NEW,
    "/vehicles/{vehicle}/edit/{section}/{nth}": _PART,
    "/vehicles/{vehicle}/edit/{section}/{nth}/remove": {"POST": page_part.remove},
    "/vehicles/{vehicle}/plugs/{plug}/fill": {"GET": page_wires.fill, "POST": page_wires.keep_fill},
    "/vehicles/{vehicle}/circuits": {"GET": page_wires.rows, "POST": page_wires.keep_rows},
    "/vehicles/{vehicle}/circuits/new": {"GET": page_circuit.new, "POST": page_circuit.add},
    "/vehicles/{vehicle}/circuits/{circuit}": {"GET": page_circuit.show, "POST": page_circuit.change},
    "/vehicles/{vehicle}/circuits/{circuit}/remove": {"POST": page_circuit.remove},
    "/vehicles/{vehicle}/import": {"GET": page_import.show, "POST": page_import.look},
    "/vehicles/{vehicle}/import/wires.csv": {"GET": page_import.template},
    "/vehicles/{vehicle}/photo": {"POST": page_photos.keep},
    "/vehicles/{vehicle}/photos/{name:path}": {"GET": page_photos.picture},
    "/vehicles/{vehicle}/versions": _VERSIONS,
    "/vehicles/{vehicle}/siblings": {"GET": page_siblings.show, "POST": page_siblings.take},
    "/kits/new": {"GET": page_new_kit.show, "POST": page_new_kit.make},
    "/kits/{kit}/edit": {"GET": page_edit.show},
    "/kits/{kit}/edit/{section}/new": _NEW,
    "/kits/{kit}/edit/{section}/{nth}": _PART,
    "/kits/{kit}/edit/{section}/{nth}/remove": {"POST": page_part.remove},
    "/kits/{kit}/versions": _VERSIONS,
    "/kits/{kit}/photo": {"POST": page_photos.keep},
    "/kits/{kit}/photos/{name:path}": {"GET": page_photos.picture},
})  # fmt: skip
"""Pattern -> method -> what answers it; those without a name in them come first."""
