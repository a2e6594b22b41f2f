"""From a car and a kit to one installation, or to a refusal."""

import json
from collections.abc import Iterator, Sequence
from hashlib import sha256

from loomwright.documents.car import Car
from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.planning.bus import key_without_bus, served_by_module, talk_candidates
from loomwright.planning.candidates import Candidate, Offer, RuledOut, Situation, Task
from loomwright.planning.feeds import feed_candidates, ground_candidates
from loomwright.planning.installation import Installation, Refusal, Unserved
from loomwright.planning.instead import added_part_candidates, setting_candidates
from loomwright.planning.leftovers import settings_of, unused_leads, with_clashes
from loomwright.planning.pins import interrupted, solve_with_pins
from loomwright.planning.program import Program
from loomwright.planning.refusals import Grounds, refused_by_task, refused_by_traits
from loomwright.planning.tasks import tasks_of
from loomwright.planning.why import fitting_minutes, route_of, unserved_of
from loomwright.planning.wired import wired_candidates
from loomwright.sentences import told

__all__ = ["match", "offers"]


def offers(at: Situation, tasks: Sequence[Task]) -> Offer:
    """Return every candidate for the tasks, and every way that was ruled out with its fact."""
    joinable = frozenset(t.function for t in tasks)
    found = [way for task in tasks for way in _ways(at, task, joinable)]
    candidates = {w.id: w for w in found if isinstance(w, Candidate)}
    return tuple(candidates.values()), tuple(w for w in found if isinstance(w, RuledOut))


def _ways(at: Situation, task: Task, joinable: frozenset[str]) -> Iterator[Candidate | RuledOut]:
    if task.kind == "feed":
        yield from feed_candidates(at, task)
    elif task.kind == "ground":
        yield from ground_candidates(at, task)
    elif task.kind == "talk":
        yield from talk_candidates(at, task)
    elif task.kind in ("drive", "sense"):
        yield from wired_candidates(at, task)
    yield from served_by_module(at, task)
    yield from setting_candidates(at, task, joinable)
    yield from added_part_candidates(at, task)
    if task.kind == "module" and at.kit.vehicle_module is None:
        fact, cure = key_without_bus(at) or (
            "The kit has no vehicle module.", told(
                "the kit had a vehicle module that serves {function}", function=task.function,
            ),
        )  # fmt: skip
        yield RuledOut(task=task.id, how="bus", what="a vehicle module", fact=fact, cure=cure, far=3)


def match(car: Car, kit: Kit, shop: Shop) -> Installation | Refusal:
    """Return the cheapest complete way to fit a kit to a car, with every reason; or why it must not be fitted.

    All required functions are served if that is possible at all, then as many wanted ones as possible, then at the
    least cost in minutes (at the shop's price) and parts. The choice is exact and always the same for the same
    documents. A required function that nothing could serve is a refusal; one that only loses against the rest stays
    in the installation as unserved.

    Raises SolveError where the solver fails.
    """
    at = Situation(car=car, kit=kit)
    grounds = refused_by_traits(car)
    if grounds is not None:
        return _refusal(car, kit, grounds)
    tasks = tasks_of(at)
    candidates, ruled_out = offers(at, tasks)
    candidates += interrupted(tasks, candidates, shop, car)
    program = Program.of(at, tasks, candidates, shop.minute_price)
    pinned = solve_with_pins(program, shop, ruled_out)
    hopeless = frozenset(t.id for t in tasks) - frozenset(c.task for c in candidates)
    served = {c.task: c for c in pinned.solution.chosen}
    unserved = tuple(unserved_of(pinned, t, ruled_out) for t in tasks if t.need != "helping" and t.id not in served)
    grounds = refused_by_task(tasks, [u for u in unserved if u.task in hopeless])
    if grounds is not None:
        return _refusal(car, kit, grounds, tuple(u for u in unserved if u.required))
    routes = with_clashes(car, [route_of(pinned, t, served[t.id], ruled_out) for t in tasks if t.id in served])
    joints = tuple(j for route in routes for j in route.joints)
    return Installation(
        id=_identity(car, kit, shop), car=car, kit=kit, settings=settings_of(car, kit, routes), routes=routes,
        unserved=unserved, unused_leads=unused_leads(car, kit, joints),
        minutes=fitting_minutes(at, pinned.solution.chosen),
    )  # fmt: skip


def _refusal(car: Car, kit: Kit, grounds: Grounds, unserved: tuple[Unserved, ...] = ()) -> Refusal:
    return Refusal(
        car=car, kit=kit, code=grounds.code, reason=grounds.reason, caution=grounds.caution,
        would_fit_if=grounds.would_fit_if, unserved=unserved,
    )  # fmt: skip


def _identity(car: Car, kit: Kit, shop: Shop) -> str:
    """Return the first 12 hexadecimal digits of the SHA-256 of everything the plan was made from."""
    documents = {
        "vehicle": car.vehicle,
        "choice": dict(car.choice),
        "traits": car.traits.model_dump(mode="json"),
        "places": [p.model_dump(mode="json") for p in car.places.values()],
        "plugs": [p.model_dump(mode="json", by_alias=True) for p in car.plugs.values()],
        "grounds": [g.model_dump(mode="json") for g in car.grounds],
        "circuits": [c.model_dump(mode="json", by_alias=True) for c in car.circuits.values()],
        "hazards": [h.model_dump(mode="json") for h in car.hazards],
        "standing": {name: standing.status for name, standing in car.standing.items()},
        "kit": kit.model_dump(mode="json", by_alias=True),
        "minute_price": shop.minute_price,
        "pinned": [p.model_dump(mode="json") for p in shop.pinned if p.vehicle == car.vehicle],
    }
    text = json.dumps(documents, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return sha256(text.encode()).hexdigest()[:12]
