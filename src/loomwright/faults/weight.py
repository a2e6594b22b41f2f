"""What one fact of the documents weighs: whether the plan, the verdict or a reading would be another without it."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from types import MappingProxyType
from typing import Any, Literal

from loomwright.documents.car import Car
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.faults.car_fact import CarFact, CarOtherwise, car_otherwise
from loomwright.faults.kit_fact import KitFact, KitOtherwise, kit_otherwise
from loomwright.faults.one_fact import Fact, Otherwise, otherwise
from loomwright.faults.spread import CORNERS, findings_at
from loomwright.network.asking import telling_states
from loomwright.network.compiling import compile_netlist, emf_of, scale_of
from loomwright.network.expectations import Expectations, expectations_of
from loomwright.network.joining import METER, bare_netlist, with_probes
from loomwright.network.paths import pin_nodes
from loomwright.network.proof import prove
from loomwright.network.results import Finding, Verdict, verdict
from loomwright.network.rules_live import DEAD_V
from loomwright.network.solver import solve
from loomwright.network.states import State
from loomwright.planning.installation import Installation, Refusal, Route
from loomwright.planning.plan import match
from loomwright.starting.findings import with_start

__all__ = ["Told", "Weight", "measure_next", "weights"]

Severity = Literal["stop", "fix", "none"]
_HEAVY: Mapping[str, int] = {"stop": 2, "fix": 1, "none": 0}
_STANDING: Mapping[str, int] = {"contradicted": 0, "unproven": 1, "stated": 1, "proven": 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """The measurement that tells a fact best: what a meter shows as written and otherwise, nominal values [V]."""

    pin: str
    state: State
    written_v: float
    instead_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """One fact of one circuit, of the whole car, or of the kit at one terminal, and what moves with it.

    The fact `spread` is none that may be wrong: it says that the circuit's values can move the verdict within the
    spread that they are allowed.

    `fitted` is the worst finding where the kit is fitted as planned to a car in which the fact is otherwise, and
    `codes` are its new findings; `verdict_after` and `routes` are those of a new plan made for that car.
    """

    circuit: str  # empty for a fact of the whole car
    pin: str
    standing: Literal["proven", "unproven", "contradicted", "stated"]  # 'stated' by the document
    fact: Fact | CarFact | KitFact | Literal["spread"]
    written: str
    instead: str
    fitted: Severity
    codes: tuple[str, ...]
    verdict_before: Verdict
    verdict_after: Verdict
    routes: tuple[str, ...]  # tasks that a new plan serves in another way
    told_by: Told | None  # None where no meter tells it
    refused: str | None = None  # why the kit must not be fitted to a car in which it is so
    terminal: str | None = None  # of a fact of the kit document: the controller's terminal

    @property
    def moves(self) -> bool:
        """Tell whether a verdict, the plan, or the proof of the kit as planned is another one."""
        return self.fitted != "none" or bool(self.routes) or self.verdict_before != self.verdict_after


def _ways(routes: tuple[Route, ...]) -> dict[str, object]:
    def ends(route: Route) -> tuple[object, ...]:
        return tuple((j.pin, j.terminal, j.part and (j.part.part, j.part.pattern)) for j in route.joints)

    return {r.task: (r.how, r.setting, ends(r)) for r in routes}


def _shown(car: Car, pin: str, states: tuple[State, ...]) -> tuple[float, ...]:
    """Return what a meter shows on a pin of the untouched car in some states [V]."""
    node = pin_nodes(pin)[0]
    netlist = with_probes(bare_netlist(car), [node])
    compiled = compile_netlist(netlist)
    scale = scale_of(netlist, states)
    scale[compiled.element[METER + node]] = 1.0
    found = solve(compiled.branches, scale, emf_of(compiled))
    return tuple(float(v) for v in found.voltage[compiled.at(node)])


def _told(car: Car, other: Otherwise) -> Told | None:
    """Return the state in which the readings differ most, where a meter tells them plainly."""
    circuit = car.circuits[other.circuit]
    asked = {*telling_states(car, circuit), *telling_states(other.car, other.car.circuits[other.circuit])}
    order = sorted(asked, key=lambda s: (("off", "acc", "run", "crank").index(s[0]), sorted(s[1])))
    states = tuple(State(stage="bare", key=key, active=active) for key, active in order)
    if not states:
        return None
    shown = list(zip(states, _shown(car, other.pin, states), _shown(other.car, other.pin, states), strict=True))
    state, written, instead = max(shown, key=lambda s: abs(s[1] - s[2]))
    if abs(written - instead) < DEAD_V:
        return None
    return Told(pin=other.pin, state=state, written_v=written, instead_v=instead)


def _worst(findings: tuple[Finding, ...]) -> Severity:
    found = {f.severity for f in findings}
    return "stop" if "stop" in found else "fix" if "fix" in found else "none"


def _new(found: tuple[Finding, ...], before: tuple[Finding, ...]) -> tuple[Finding, ...]:
    known = {(f.code, f.subject) for f in before}
    return tuple(f for f in found if (f.code, f.subject) not in known and f.severity != "note")


def _found(plan: Installation) -> tuple[Finding, ...]:
    return with_start(prove(plan)).findings


def _again(
    plan: Installation, shop: Shop, car: Car, kit: Kit, as_planned: tuple[Finding, ...]
) -> tuple[Verdict, tuple[str, ...], str | None]:
    """Plan anew; returns the verdict, the tasks that are served in another way, and why the kit is refused if it is."""
    again = match(car, kit, shop)
    if isinstance(again, Refusal):
        return "does-not-fit", (), again.reason
    now, then = _ways(plan.routes), _ways(again.routes)
    routes = tuple(sorted(task for task in now.keys() | then.keys() if now.get(task) != then.get(task)))
    return verdict(again, _found(again) if routes else as_planned), routes, None


def _weigh(
    plan: Installation, shop: Shop, before: tuple[Finding, ...], built: Installation, **named: Any
) -> Iterator[Weight]:
    """Yield what moves where the kit is `built` as planned with one fact otherwise, and planned anew for that."""
    as_planned = _found(built)
    new = _new(as_planned, before)
    after, routes, refused = _again(plan, shop, built.car, built.kit, as_planned)
    yield Weight(
        fitted=_worst(new), codes=tuple(dict.fromkeys(f.code for f in new)), verdict_before=verdict(plan, before),
        verdict_after=after, routes=routes, refused=refused, **named,
    )  # fmt: skip


def _of_circuit(plan: Installation, other: Otherwise) -> dict[str, Any]:
    standing = plan.car.standing[other.circuit].status
    return {"circuit": other.circuit, "pin": other.pin, "standing": standing, "told_by": _told(plan.car, other)}


def _of_kit(other: KitOtherwise) -> dict[str, Any]:
    joint = other.joint
    at = {"circuit": joint.circuit or "", "pin": joint.pin or "", "terminal": joint.terminal}
    return {**at, "standing": "stated", "told_by": None}


_OF_CAR: Mapping[str, Any] = MappingProxyType({"circuit": "", "pin": "", "standing": "stated", "told_by": None})


def _as_told(other: Otherwise | CarOtherwise | KitOtherwise) -> dict[str, str]:
    return {"fact": other.fact, "written": other.written, "instead": other.instead}


def _weigh_spread(
    plan: Installation, before: tuple[Finding, ...], expectations: Expectations, circuit: str, pin: str
) -> Iterator[Weight]:
    """Yield the corners of a circuit's spread in which something is found that is not at its middle."""
    for words, corner in CORNERS.items():
        found = findings_at(plan, circuit, corner, expectations)
        new = _new(found, before)
        if new:
            yield Weight(
                circuit=circuit, pin=pin, standing=plan.car.standing[circuit].status, fact="spread",
                written="every value at its middle", instead=words, fitted=_worst(new),
                codes=tuple(dict.fromkeys(f.code for f in new)), verdict_before=verdict(plan, before),
                verdict_after=verdict(plan, found), routes=(), told_by=None,
            )  # fmt: skip


def weights(
    plan: Installation, shop: Shop, *, everything: bool = False, kit: bool = False,
    tell: Callable[[int, int], None] = lambda _done, _total: None,
) -> Iterator[Weight]:  # fmt: skip
    """Yield the weight of each fact of the circuits a kit meets: of those not proven, or of all with `everything`.

    A circuit whose values can move a verdict within the spread that they are allowed is yielded with that as a fact of
    its own. Then come the facts of the whole car, and with `kit` those of the kit document. Each fact costs a plan, one
    or two proofs and as many starts; `tell` is called with how many are done, and of how many.
    """
    proof = prove(plan)
    before = with_start(proof).findings
    expectations = expectations_of(plan.car, plan)
    met = dict.fromkeys((j.circuit, j.pin) for j in plan.joints if j.circuit is not None and j.pin is not None)
    work: list[Callable[[], Iterator[Weight]]] = []
    weigh = partial(_weigh, plan, shop, before)
    for circuit, pin in met:
        if everything or plan.car.standing[circuit or ""].status != "proven":
            work.append(partial(_weigh_spread, plan, proof.findings, expectations, circuit or "", pin or ""))
            for other in otherwise(plan.car, circuit or "", pin or ""):
                named = {**_of_circuit(plan, other), **_as_told(other)}
                work.append(partial(weigh, replace(plan, car=other.car), **named))
    for of_car in car_otherwise(plan.car):
        work.append(partial(weigh, replace(plan, car=of_car.car), **_OF_CAR, **_as_told(of_car)))
    for own in kit_otherwise(plan) if kit else ():
        work.append(partial(weigh, own.plan, **_of_kit(own), **_as_told(own)))
    for done, one in enumerate(work):
        tell(done, len(work))
        yield from one()
    tell(len(work), len(work))


def measure_next(
    plan: Installation, shop: Shop, *, everything: bool = False, kit: bool = False,
    tell: Callable[[int, int], None] = lambda _done, _total: None,
) -> tuple[Weight, ...]:  # fmt: skip
    """Return what to measure next, that which matters most first.

    What moves a verdict within the spread it is allowed comes first: nobody needs to be wrong for it. Then facts of
    circuits with evidence against them, then those that nobody has measured and those that a document only states, of
    the whole car or of the kit, then proven ones; among them a fact by which the kit is refused, or stops as it is
    planned, before one that spoils it, before one that only changes the plan. What everybody can see of the whole car
    comes after what is in a pin. What moves nothing comes last.
    """
    return tuple(
        sorted(
            weights(plan, shop, everything=everything, kit=kit, tell=tell),
            key=lambda w: (
                not w.moves, w.fact != "spread", _STANDING[w.standing], -(2 if w.refused else _HEAVY[w.fitted]),
                not w.circuit and w.terminal is None, w.verdict_before == w.verdict_after, not w.routes,
                w.told_by is None, w.circuit, w.fact, w.instead,
            ),
        )
    )  # fmt: skip
