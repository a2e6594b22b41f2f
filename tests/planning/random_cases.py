"""Random small cars and kits in which little goes together: shared outputs, few parts, few fuses, few pins."""

from random import Random
from typing import Any

from loomwright.planning.candidates import Candidate, Situation, Task
from loomwright.planning.plan import offers
from loomwright.planning.tasks import tasks_of
from tests.planning import builders as b

__all__ = ["random_case", "random_situation"]

_OUTPUTS = ("relay output", "positive output", "negative output")


def _circuits(dice: Random) -> dict[str, Any]:
    feeds = ["feed", "feed-b"][: dice.randint(1, 2)]
    circuits: dict[str, Any] = {
        "feed": b.feed("feed", "key/1", dice.choice([15, 20, 40])),
        "feed-b": b.feed("feed-b", "key/4", dice.choice([10, 30])),
        "ign": b.keyed(
            "ign", "ignition", "key/2", "pink", dice.choice([4, 8, 14]), ("run", "crank"), dice.choice(feeds)
        ),
        "start": b.CIRCUITS["start"],
        "hood": b.CIRCUITS["hood"],
        "tach": b.CIRCUITS["tach"],
        "bus": b.data_wire("bus", "body/8"),
        "ign-2": b.keyed(
            "ign-2", dice.choice(["second ignition", "ignition"]), "key/5", "green", dice.choice([3, 9]),
            dice.choice([("run",), ("run", "crank")]), dice.choice(feeds),
        ),
        "left": b.lamps("left", "parking light left", "body/5", "brown", dice.choice([1, 3])),
        "right": b.lamps("right", "parking light right", dice.choice(["body/6", "pedal/5"]), "tan", 1),
        "horn": b.grounded("horn", "horn", "body/7", "green", "horn pressed"),
        "door": b.grounded("door", "door switch", "body/9", "grey", "driver door open"),
    }  # fmt: skip
    for name in ("feed-b", "ign-2", "left", "right", "horn", "door", "bus", "tach"):
        if dice.random() < 0.35 and name not in feeds:
            del circuits[name]
    return circuits


def _terminals(dice: Random) -> dict[str, Any]:
    terminals: dict[str, Any] = dict(b.TERMINALS)
    second = dice.random() < 0.5
    if second:
        terminals["power-b"] = b.terminal("power-b", "battery feed", "power in", rating_a=30, fuse_a=30)
    feed = "power-b" if second else "power"
    if dice.random() < 0.4:
        terminals["ign-2"] = b.terminal("ign-2", "second ignition", "relay output", fed_from=feed, rating_a=20)
    kind = dice.choice(_OUTPUTS)
    fed = {"fed_from": feed} if "relay" in kind else {}
    terminals["park"] = b.terminal("park", "parking light", kind, rating_a=dice.choice([0.2, 3, 6]), **fed)
    terminals["horn"] = b.terminal("horn", "horn", dice.choice(_OUTPUTS[1:]), rating_a=0.25)
    terminals["door"] = b.terminal("door", "door switch", "negative input")
    terminals["data"] = b.terminal("data", "bus", "data port")
    return terminals


def random_situation(seed: int) -> Situation:
    """Return a car and a kit drawn with a seed."""
    dice = Random(seed)
    terminals = _terminals(dice)
    leads = {name: b.lead(name) for name in terminals if name != "earth" and dice.random() < 0.85}
    leads["earth"] = b.LEADS["earth"]
    leads["hood"] = b.lead("hood")
    key = [t for t in ("power", "power-b", "ign", "ign-2", "start", "park") if t in terminals and dice.random() < 0.6]
    services = [f for f in ("tach", "horn", "door switch", "hood switch") if dice.random() < 0.4]
    settings = {
        "id": "s", "name": "S", "default": "x",
        "choices": [
            {"value": "x", "means": "x"},
            {"value": "volt", "means": "v", "serves": "tach", "penalty": dice.choice([0, 20])},
            {"value": "door", "means": "d", "serves": "hood switch", "needs": "door switch"},
        ],
    }  # fmt: skip
    kit = b.kit(
        terminals, leads,
        branches=[b.t_branch("key-t", "key-h", *key, rating_a=dice.choice([9, 20]))],
        parts=[
            {**b.RELAY, "stock": dice.randint(0, 2)},
            {"id": "diode", "kind": "diode", "name": "diode", "rating_a": 3, "stock": dice.randint(0, 2), "price": 0.5},
        ],
        added_parts=[
            {"id": "pin", "function": "hood switch", "name": "pin", "terminal": "hood", "lead": "hood", "place": "x"}
        ],
        settings=[settings],
        vehicle_module={
            "name": "M", "hardware": "1", "firmware": "f", "version": "1",
            "services": [{"function": f, "vehicle": "test-car"} for f in services],
        },
        wanted=["parking light", "horn", "door switch"],
    )  # fmt: skip
    return Situation(car=b.car(_circuits(dice)), kit=kit)


def random_case(seed: int, plans: int) -> tuple[Situation, tuple[Task, ...], tuple[Candidate, ...]]:
    """Return a situation with so few of its tasks and candidates that at most this many plans exist."""
    at = random_situation(seed)
    dice = Random(seed + 1_000_000)
    tasks = list(tasks_of(at))
    candidates = list(offers(at, tasks)[0])

    def count() -> int:
        number = 1
        for task in tasks:
            number *= 1 + sum(c.task == task.id for c in candidates)
        return number

    while count() > plans:
        crowded = max(tasks, key=lambda t: sum(c.task == t.id for c in candidates))
        mine = [c for c in candidates if c.task == crowded.id]
        if len(mine) > 3 or dice.random() < 0.5:
            candidates.remove(dice.choice(mine))
        else:
            gone = dice.choice(tasks)
            tasks.remove(gone)
            candidates = [c for c in candidates if c.task != gone.id]
    return at, tuple(tasks), tuple(candidates)
