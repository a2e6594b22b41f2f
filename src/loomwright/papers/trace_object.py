"""What `readings --trace ID --json` prints, as one plain object. Its keys are stable, and told in docs/reference."""

from collections.abc import Callable
from typing import Any

from loomwright.documents.reading import Origin
from loomwright.network.elements import Element
from loomwright.network.tracing import Hop, Trace
from loomwright.papers.shared_object import car_and_kit, state_object
from loomwright.planning.installation import Installation

__all__ = ["trace_object"]


def _hop(hop: Hop, origin: Origin | None) -> dict[str, Any]:
    return {
        "element": hop.element.id,
        "kind": hop.element.kind,
        "what": hop.element.origin.words or hop.element.kind,
        "from": hop.start,
        "to": hop.end,
        "from_v": round(hop.start_v, 6),
        "to_v": round(hop.end_v, 6),
        "drop_v": round(hop.start_v - hop.end_v, 6),
        "current_a": hop.current_a,
        "document": None if origin is None else {"file": origin.file, "line": origin.line},
    }


def trace_object(
    installation: Installation, found: Trace, origin_of: Callable[[Element], Origin | None]
) -> dict[str, Any]:
    """Return the way of a reading; `origin_of` tells where an element stands in the documents."""
    reading, band = found.reading, found.reading.band
    return {
        **car_and_kit(installation),
        "reading": reading.id,
        "node": reading.node,
        "state": state_object(band.state),
        "battery_v": band.battery_v,
        "lo_v": round(band.lo, 3),
        "hi_v": round(band.hi, 3),
        "nominal_v": round(band.nominal, 3),
        "way": found.kind if found.hops else "none",
        "elements": [_hop(hop, origin_of(hop.element)) for hop in found.hops],
    }
