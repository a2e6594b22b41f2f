"""The standing of a circuit: proven, unproven or contradicted, computed from the evidence about it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from loomwright.documents.basis import holds
from loomwright.documents.evidence import Evidence, EvidenceRecord
from loomwright.documents.vehicle import Circuit

__all__ = ["Standing", "standings"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How well a circuit is known on this car, and why."""

    status: Literal["proven", "unproven", "contradicted"]
    why: str
    records: int


def _covers(record: EvidenceRecord, choice: Mapping[str, str]) -> bool:
    return all(axis in choice for axis in record.scope) and holds(record.scope, choice)


def _disagrees(circuit: Circuit, record: EvidenceRecord) -> str | None:
    """Return in words what the record contradicts in the circuit, or None."""
    claim = record.claims
    pins = {end for s in circuit.path for end in (s.from_, s.to) if "/" in end}
    if claim.pin is not None and claim.pin not in pins:
        return f"it was found in {claim.pin}"
    colours = {(s.colour, s.stripe) for s in circuit.path if s.colour is not None}
    if claim.colour is not None and colours and (claim.colour, claim.stripe) not in colours:
        seen = f"{claim.colour}/{claim.stripe}" if claim.stripe else claim.colour
        return f"it was seen as {seen}"
    return None


def standings(
    vehicle: str, circuits: Mapping[str, Circuit], choice: Mapping[str, str], evidence: Sequence[Evidence]
) -> dict[str, Standing]:
    """Return the standing of every circuit of a car.

    Proven needs a measurement on this variant that agrees; a disagreeing record of any car in scope makes it
    contradicted (two colours claimed are a suspected split of the variants); everything else is unproven.
    """
    by_circuit: dict[str, list[EvidenceRecord]] = {}
    for document in evidence:
        if document.vehicle == vehicle:
            for record in document.records:
                by_circuit.setdefault(record.circuit, []).append(record)
    out: dict[str, Standing] = {}
    for circuit_id, circuit in circuits.items():
        records = by_circuit.get(circuit_id, [])
        here = [r for r in records if _covers(r, choice)]
        against = next(((r, words) for r in here if (words := _disagrees(circuit, r))), None)
        measured = [r for r in here if r.how == "measured"]
        if against is not None:
            record, words = against
            status, why = "contradicted", f"{words} ({record.how}, {record.by}, {record.on.isoformat()})"
        elif measured:
            status, why = "proven", f"measured by {measured[-1].by} on {measured[-1].on.isoformat()}"
        elif here:
            status, why = "unproven", f"only {here[-1].how}"
        elif records:
            status, why = "unproven", "only known from another variant"
        else:
            status, why = "unproven", "nobody has recorded it"
        out[circuit_id] = Standing(status=status, why=why, records=len(here))  # type: ignore[arg-type]
    return out
