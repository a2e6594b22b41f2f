"""The standing of a circuit: proven, unproven or contradicted, computed from the evidence about it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from loomwright.documents.basis import Condition, holds
from loomwright.documents.evidence import Evidence, EvidenceRecord
from loomwright.documents.vehicle import Circuit
from loomwright.sentences import told

__all__ = ["Standing", "standings"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How well a circuit is known on this car, and why; and the pins at which it was measured on this car."""

    status: Literal["proven", "unproven", "contradicted"]
    why: str
    records: int
    pins: frozenset[str]


# Why a circuit stays unproven, by how the best record came about.
_ONLY: Mapping[str, str] = MappingProxyType({
    "buyer reported": "only reported by a buyer",
    "maker's diagram": "only read from the maker's diagram",
    "sibling": "only known from a sibling",
    "assumed": "only assumed",
})  # fmt: skip


def _disagrees(circuit: Circuit, record: EvidenceRecord) -> str | None:
    """Return in words what the record contradicts in the circuit, or None."""
    claim = record.claims
    pins = {end for step in circuit.path for end in (step.from_, step.to) if "/" in end}
    if claim.pin is not None and claim.pin not in pins:
        return told("it was found in {pin}", pin=claim.pin)
    # A colour seen at a pin is that of a wire which meets this pin; without one any wire of the circuit will do.
    colours = {
        (step.colour, step.stripe)
        for step in circuit.path
        if step.colour is not None and (claim.pin is None or claim.pin in (step.from_, step.to))
    }
    if claim.colour is not None and colours and (claim.colour, claim.stripe) not in colours:
        seen = f"{claim.colour}/{claim.stripe}" if claim.stripe else claim.colour
        return told("it was seen as {seen}", seen=seen)
    return None


def _pins(records: Sequence[EvidenceRecord]) -> frozenset[str]:
    return frozenset(record.claims.pin for record in records if record.claims.pin is not None)


def standings(
    vehicle: str,
    circuits: Mapping[str, Circuit],
    choice: Mapping[str, str],
    evidence: Sequence[Evidence],
    expanded: Callable[[Condition], Condition],
) -> dict[str, Standing]:
    """Return the standing of every circuit of a car.

    `expanded` turns 'A to B' of a record's scope into the values it covers.

    Proven needs a measurement on this variant that agrees; a disagreeing record of any car in scope makes it
    contradicted (two colours claimed are a suspected split of the variants); everything else is unproven.
    """
    by_circuit: dict[str, list[EvidenceRecord]] = {}
    for document in evidence:
        if document.vehicle == vehicle:
            for record in document.records:
                by_circuit.setdefault(record.circuit, []).append(record)
    out: dict[str, Standing] = {}
    status: Literal["proven", "unproven", "contradicted"]
    for circuit_id, circuit in circuits.items():
        records = by_circuit.get(circuit_id, [])
        here = [record for record in records if holds(expanded(record.scope), choice)]
        against = next(((r, words) for r in here if (words := _disagrees(circuit, r))), None)
        measured = [r for r in here if r.how == "measured"]
        if against is not None:
            record, words = against
            on = record.on.isoformat()
            status, why = (
                "contradicted",
                told(
                    "{words} ({how}, {by}, {on})",
                    words=words,
                    how=record.how,
                    by=record.by,
                    on=on,
                ),
            )
        elif measured:
            last = measured[-1]
            status, why = "proven", told("measured by {by} on {on}", by=last.by, on=last.on.isoformat())
        elif here:
            best = min(here, key=lambda record: list(_ONLY).index(record.how))
            status, why = "unproven", _ONLY[best.how]
        elif records:
            status, why = "unproven", "only known from another variant"
        else:
            status, why = "unproven", "nobody has recorded it"
        out[circuit_id] = Standing(status=status, why=why, records=len(here), pins=_pins(measured))
    return out
