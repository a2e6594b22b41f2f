"""What comes of a kit in every car that a family can be: the verdict, and the plan as far as anybody would notice.

Cars that differ in nothing the planner reads are planned once. Two cars whose plans read alike to the buyer, to the
proof and to the bench have the same `plan`; which of the two it is need not be asked.
"""

import json
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from types import MappingProxyType

from loomwright.documents.behaviour import InputWire, KeyedFeed, SwitchedFeed
from loomwright.documents.car import Car, resolve, variants
from loomwright.documents.evidence import Evidence
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.proof import prove
from loomwright.network.results import Finding, Proof, Verdict, verdict
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match
from loomwright.starting.findings import with_start

__all__ = ["Outcome", "Outcomes", "Tell", "Variant", "outcomes", "plan_of", "proved"]

Variant = tuple[tuple[str, str], ...]
"""A value for every axis of a family, in the order of its axes."""

_THROUGH = ("T tapped", "T interrupted")

Tell = Callable[[int, int], None]
"""Is told how many are done, and of how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What comes of a kit in one variant."""

    verdict: Verdict
    plan: str  # 12 hexadecimal digits, the same for plans that read alike; '' for a refusal
    found: Installation | Refusal  # of the first variant that differs from this one in nothing the planner reads
    findings: tuple[Finding, ...] | None = None  # None until proved
    states: int | None = None  # how many states the proof solved

    @property
    def matters(self) -> Hashable:
        """What a buyer's answer may still change: whether the kit fits, and how; not why it does not."""
        if self.verdict == "does-not-fit":
            return self.verdict
        fixes = tuple((f.code, f.subject) for f in self.findings or () if f.severity == "fix")
        return self.verdict, self.plan, fixes


Outcomes = Mapping[Variant, Outcome]


def _not_told(_done: int, _of: int) -> None:
    pass


def outcomes(
    vehicle: Vehicle, kit: Kit, shop: Shop, evidence: Sequence[Evidence] = (), tell: Tell = _not_told
) -> Outcomes:
    """Return what comes of a kit in every buildable variant of a family, planned but not proved.

    Parameters
    ----------
    vehicle
        The family.
    kit
        The kit.
    shop
        The shop, for its prices and pinned routes.
    evidence
        The evidence about the family.
    tell
        Is called after every variant, with the number done and their total.

    Raises
    ------
    SolveError
        Where the planner's solver fails.
    """
    choices = list(variants(vehicle))
    planned: dict[Hashable, Outcome] = {}
    found: dict[Variant, Outcome] = {}
    for done, choice in enumerate(choices, start=1):
        car = resolve(vehicle, choice, evidence)
        key = _read_by_planner(vehicle, kit, car)
        if key not in planned:
            planned[key] = _outcome(match(car, kit, shop))
        found[tuple(choice.items())] = planned[key]
        tell(done, len(choices))
    return MappingProxyType(found)


def _outcome(found: Installation | Refusal) -> Outcome:
    if isinstance(found, Refusal):
        return Outcome(verdict="does-not-fit", plan="", found=found, findings=())
    return Outcome(verdict=verdict(found, ()), plan=plan_of(found), found=found)


def proved(all_outcomes: Outcomes, which: Iterable[Variant], tell: Tell = _not_told) -> Outcomes:
    """Return the outcomes with those of some variants proved; variants that are wired alike are proved once.

    Raises SolveError where a state neither settles nor chatters, which would be a fault of this program.
    """
    waiting = {
        found.id: found
        for outcome in map(all_outcomes.__getitem__, which)
        if outcome.findings is None and isinstance(found := outcome.found, Installation)
    }
    proofs: dict[str, Proof] = {}
    for done, (name, found) in enumerate(waiting.items(), start=1):
        proofs[name] = with_start(prove(found))
        tell(done, len(waiting))
    return MappingProxyType({variant: _with_proof(outcome, proofs) for variant, outcome in all_outcomes.items()})


def _with_proof(outcome: Outcome, proofs: Mapping[str, Proof]) -> Outcome:
    found = outcome.found
    if isinstance(found, Refusal) or found.id not in proofs:
        return outcome
    proof = proofs[found.id]
    return replace(
        outcome, verdict=verdict(found, proof.findings), findings=proof.findings, states=len(proof.states)
    )  # fmt: skip


def _read_by_planner(vehicle: Vehicle, kit: Kit, car: Car) -> Hashable:
    """Return what of a car the planner reads: parts of the family's document by their place, and standings.

    Of the choice itself it reads only the axes under which a service of the vehicle module stands.
    """
    services = kit.vehicle_module.services if kit.vehicle_module is not None else ()
    named = {axis for s in services if s.vehicle == vehicle.id for axis in (*s.only, *s.except_)}
    grounds, hazards = ({id(part) for part in parts} for parts in (car.grounds, car.hazards))
    return (
        car.traits.model_dump_json(),
        tuple(i for i, plug in enumerate(vehicle.plugs) if car.plugs.get(plug.id) is plug),
        tuple(i for i, circuit in enumerate(vehicle.circuits) if car.circuits.get(circuit.id) is circuit),
        tuple(i for i, ground in enumerate(vehicle.grounds) if id(ground) in grounds),
        tuple(i for i, hazard in enumerate(vehicle.hazards) if id(hazard) in hazards),
        tuple((name, s.status, s.why) for name, s in car.standing.items()),
        tuple(item for item in car.choice.items() if item[0] in named),
    )


def plan_of(found: Installation) -> str:
    """Return a short name of what the guide, the proof and the bench read of an installation.

    That is: routes with their joints and parts, what is unserved or unused, settings, the circuits joined, those that
    feed them and those that run through a T, their evidence, the faces of the plugs with every wire as drawn, the
    traits, grounds and hazards. The first 12 hexadecimal digits of the SHA-256 of it; two cars with the same name need
    not be told apart.
    """
    car = found.car
    plugs = sorted({joint.pin.partition("/")[0] for joint in found.joints if joint.pin is not None})
    joined = _with_feeders(car, found)
    read = {
        "routes": [[r.task, r.how, r.setting, r.gated, [repr(j) for j in r.joints]] for r in found.routes],
        "unserved": [u.task for u in found.unserved],
        "unused": [[u.where, u.label, u.clash] for u in found.unused_leads],
        "settings": found.settings,
        "circuits": [car.circuits[c].model_dump(mode="json", exclude={"only", "except_"}) for c in joined],
        "standing": [car.standing[c].status for c in joined],
        "plugs": [car.plugs[p].model_dump(mode="json", exclude={"only", "except_"}) for p in plugs],
        "pins": [
            [pin, o.words, car.circuits[o.circuit].function, car.circuits[o.circuit].name]
            for pin, o in sorted(car.pins.items())
            if pin.partition("/")[0] in plugs
        ],
        "traits": car.traits.model_dump(mode="json"),
        "grounds": [g.model_dump(mode="json", exclude={"only"}) for g in car.grounds],
        "hazards": [h.model_dump(mode="json", exclude={"only"}) for h in car.hazards],
    }
    return sha256(json.dumps(read, sort_keys=True).encode()).hexdigest()[:12]


def _with_feeders(car: Car, found: Installation) -> list[str]:
    """Return the circuits joined, those that run through a plug with a T, and whatever feeds any of them."""
    opened = {j.pin.partition("/")[0] for j in found.joints if j.pin is not None and j.kind in _THROUGH}
    read = {j.circuit for j in found.joints if j.circuit is not None}
    read |= {occupant.circuit for pin, occupant in car.pins.items() if pin.partition("/")[0] in opened}
    waiting = list(read)
    while waiting:
        behaviour = car.circuits[waiting.pop()].behaviour
        feeder = behaviour.fed_by if isinstance(behaviour, KeyedFeed | SwitchedFeed | InputWire) else None
        if feeder is not None and feeder in car.circuits and feeder not in read:
            read.add(feeder)
            waiting.append(feeder)
    return [name for name in car.circuits if name in read]
