"""The paper of one reading: the elements on its way, the voltage at each end, and the line of the document."""

from collections.abc import Callable

from loomwright.documents.reading import Origin
from loomwright.network.elements import Element
from loomwright.network.tracing import Hop, Trace
from loomwright.papers.blocks import Block, Paper, Paragraph, Quantity, Table, Text
from loomwright.papers.saying import lifted, say
from loomwright.papers.words.en import tracing as words
from loomwright.sentences import told

__all__ = ["trace_paper"]


def _volts(value: float, trace: str) -> Text:
    return (Quantity(value=value, unit="V", trace=trace, digits=3),)


def _amps(value: float, trace: str) -> Text:
    return (
        (Quantity(value=value, unit="A", trace=trace, digits=3),)
        if abs(value) >= 0.01
        else (Quantity(value=1e6 * value, unit="µA", trace=trace, digits=1),)
    )


def _row(hop: Hop, trace: str, origin: Origin | None) -> tuple[Text, ...]:
    place = words.NO_DOCUMENT if origin is None else f"{origin.file}:{origin.line}"
    return (
        lifted(hop.element.id, trace),
        lifted(hop.element.origin.words or hop.element.kind, trace),
        _volts(hop.start_v, trace),
        _volts(hop.end_v, trace),
        _volts(hop.start_v - hop.end_v, trace),
        _amps(hop.current_a, trace),
        lifted(place, trace),
    )


def trace_paper(found: Trace, origin_of: Callable[[Element], Origin | None]) -> Paper:
    """Return the way of a reading as a table; `origin_of` tells where an element stands in the documents."""
    reading, band = found.reading, found.reading.band
    trace = f"reading:{reading.id}"
    low, high, nominal = (
        Quantity(value=v, unit="V", trace=trace, digits=2) for v in (band.lo, band.hi, band.nominal)
    )  # fmt: skip
    blocks: list[Block] = [Paragraph(text=say(words.BAND, node=reading.node, low=low, high=high, nominal=nominal))]
    if found.hops:
        blocks.append(Paragraph(text=say(words.KIND[found.kind])))
        rows = tuple(_row(hop, trace, origin_of(hop.element)) for hop in found.hops)
        blocks.append(Table(head=words.HEAD, rows=rows, widths=(3, 2, 1, 1, 1, 1, 3)))
    else:
        blocks.append(Paragraph(text=say(words.NOT_HELD)))
    return Paper(
        id="trace", title=words.TITLE, subtitle=told(words.SUBTITLE, id=reading.id), language="en", marks={},
        blocks=tuple(blocks),
    )  # fmt: skip
