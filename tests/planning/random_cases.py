"""Random small cars and kits in which little goes together: shared outputs, few parts, few fuses, few pins."""

from random import Random
from typing import Any

from loomwright.planning.candidates import Candidate, Situation, Task
from loomwright.planning.plan import offers
from loomwright.planning.tasks import tasks_of
from tests.planning import builders as b

__all__ = ["random_case", "random_situation"]

_OUTPUTS = ("relay output", "positive output", "negative output")


_FUSED_BRAKE = b.circuit(
    "brake", "brake", {"template": "switched feed", "load_a": 4, "load": "lamp"},
    {"from": "source", "to": "s:fuse", "fuse_a": 15}, b.wire("s:fuse", "pedal/1", "orange"),
    {"from": "pedal/1", "to": "pedal/2", "closed_when": "brake pressed", "switch": "the pedal switch"},
    b.wire("pedal/2", "pedal/6", "white"), b.wire("pedal/6", "load", "white"),
)  # fmt: skip


def _lamps(dice: Random, side: str, pin: str) -> b.Piece:
    """Return the lamps of one side: behind a fused switch, or at a module that guards or dims them."""
    amps = dice.choice([1, 3])
    if dice.random() < 0.3:
        more: dict[str, Any] = dice.choice([{"shuts_off_when_back_fed": True}, {"duty": 0.6}, {}])
        behaviour: dict[str, Any] = {
            "template": "module output", "on_when": "lamps on", "load_a": amps, "load": "lamp", **more,
        }  # fmt: skip
        steps = ({"from": "source", "to": pin}, b.wire(pin, "load", "brown"))
    else:
        behaviour = {"template": "switched feed", "load_a": amps, "load": "lamp"}
        fuse = {"from": "source", "to": "s:fuse", "fuse_a": 10}
        switch = {"from": "s:fuse", "to": pin, "closed_when": "lamps on", "switch": "the lamp switch"}
        steps = (fuse, switch, b.wire(pin, "load", "brown"))  # type: ignore[assignment]
    return b.circuit(side, f"parking light {side}", behaviour, *steps)


def _locks(dice: Random) -> dict[str, b.Piece]:
    """Return the lock wires in one of the ways in which cars have them."""
    kind = dice.choice(["none", "switches", "steps", "legs"])
    if kind == "switches":
        return {f: b.grounded(f, f, p, "grey", f"{f} pressed") for f, p in (("lock", "body/11"), ("unlock", "body/12"))}
    if kind == "steps":
        steps = [
            {"function": f, "when": f"{f} pressed", "resistance_ohm": ohm}
            for f, ohm in (("lock", dice.choice([820, 1000, 1500])), ("unlock", dice.choice([100, 330, 750])))
        ]
        behaviour = {"template": "stepped input", "pull_up_ohm": 1000, "steps": steps}
        wires = ({"from": "source", "to": "body/11"}, b.wire("body/11", "load", "grey"))
        return {"rocker": b.circuit("rocker", "lock", behaviour, *wires)}
    if kind == "legs":
        return {
            leg: b.circuit(
                leg, "lock motor",
                {"template": "reversing leg", "partner": other, "live_when": when, "fuse_a": 20, "load_a": 6},
                {"from": "source", "to": pin}, b.wire(pin, "load", "grey"),
            )
            for leg, other, when, pin in (
                ("leg-a", "leg-b", "lock pressed", "body/11"), ("leg-b", "leg-a", "unlock pressed", "body/12")
            )
        }  # fmt: skip
    return {}


def _button(dice: Random) -> dict[str, b.Piece]:
    """Return the button and the brake line of a car that has no key."""
    lamps = dice.random() < 0.5
    contact = {"closed_when": "brake pressed", "switch": "its own contact"}
    fuse = {"from": "source", "to": "s:fuse", "fuse_a": 5}
    first = (b.wire("source", "pedal/5", "white"),) if lamps else (fuse, {"from": "s:fuse", "to": "pedal/5", **contact})
    behaviour: dict[str, Any] = {"template": "switched feed", "load_a": 0.02, "load": "electronic"}
    line = b.circuit(
        "line", "brake line", {**behaviour, "fed_by": "brake"} if lamps else behaviour, *first,
        b.wire("pedal/5", "body/4", "white"), {"from": "body/4", "to": "load"},
    )  # fmt: skip
    return {"press": b.grounded("press", "start button", "key/6", "green", "start pressed"), "line": line}


def _circuits(dice: Random, button: bool) -> dict[str, Any]:
    feeds = ["feed", "feed-b"][: dice.randint(1, 2)]
    circuits: dict[str, Any] = {
        "feed": b.feed("feed", "key/1", dice.choice([15, 20, 40])),
        "feed-b": b.feed("feed-b", "key/4", dice.choice([10, 30])),
        "ign": b.keyed(
            "ign", "ignition", "key/2", "pink", dice.choice([4, 8, 14]), ("run", "crank"), dice.choice(feeds)
        ),
        "start": b.CIRCUITS["start"],
        "brake": _FUSED_BRAKE,
        "hood": b.CIRCUITS["hood"],
        "tach": b.CIRCUITS["tach"],
        "bus": b.data_wire("bus", "body/8"),
        "ign-2": b.keyed(
            "ign-2", dice.choice(["second ignition", "ignition"]), "key/5", "green", dice.choice([3, 9]),
            dice.choice([("run",), ("run", "crank")]), dice.choice(feeds),
        ),
        "left": _lamps(dice, "left", "body/5"),
        "right": _lamps(dice, "right", dice.choice(["body/6", "pedal/4"])),
        "horn": b.grounded("horn", "horn", "body/7", "green", "horn pressed"),
        "door": b.grounded("door", "door switch", "body/9", "grey", "driver door open"),
    }  # fmt: skip
    for name in ("feed-b", "ign-2", "left", "right", "horn", "door", "bus", "tach"):
        if dice.random() < 0.35 and name not in feeds:
            del circuits[name]
    more = {**_locks(dice), **(_button(dice) if button else {})}
    return {name: b.thick(c) for name, c in (circuits | more).items()}


def _terminals(dice: Random) -> dict[str, Any]:
    terminals: dict[str, Any] = dict(b.TERMINALS)
    second = dice.random() < 0.5
    if second:
        terminals["power-b"] = b.terminal("power-b", "battery feed", "power in", rating_a=30, fuse_a=30)
    feed = "power-b" if second else "power"
    if dice.random() < 0.4:
        terminals["ign-2"] = b.terminal("ign-2", "second ignition", "relay output", fed_from=feed, rating_a=20)
    kind = dice.choice(_OUTPUTS)
    fed = {"fed_from": feed} if kind != "negative output" else {}
    terminals["park"] = b.terminal("park", "parking light", kind, rating_a=dice.choice([0.2, 3, 6]), **fed)
    terminals["horn"] = b.terminal("horn", "horn", dice.choice(_OUTPUTS[1:]), rating_a=0.25)
    terminals["door"] = b.terminal("door", "door switch", "negative input")
    terminals["data"] = b.terminal("data", "bus", "data port")
    for function in ("lock", "unlock"):
        terminals[function] = b.terminal(function, function, dice.choice(_OUTPUTS[1:]), rating_a=0.5)
    terminals["press"] = b.terminal("press", "start button", "negative output", rating_a=0.25)
    line = dice.choice([0.01, 0.5])
    terminals["line"] = b.terminal("line", "brake line", "positive output", rating_a=line, fed_from=feed)
    return terminals


def random_situation(seed: int) -> Situation:
    """Return a car and a kit drawn with a seed."""
    dice = Random(seed)
    terminals = _terminals(dice)
    leads = {name: b.thick(b.lead(name)) for name in terminals if name != "earth" and dice.random() < 0.85}
    leads["earth"] = b.thick(b.LEADS["earth"])
    leads["hood"] = b.thick(b.lead("hood"))
    key = [t for t in ("power", "power-b", "ign", "ign-2", "start", "park") if t in terminals and dice.random() < 0.6]
    body = [t for t in ("lock", "unlock", "park", "line") if dice.random() < 0.3]
    services = [f for f in ("tach", "horn", "door switch", "hood switch") if dice.random() < 0.4]
    settings = {
        "id": "s", "name": "S", "default": "x",
        "choices": [
            {"value": "x", "means": "x"},
            {"value": "volt", "means": "v", "serves": "tach", "penalty": dice.choice([0, 20])},
            {"value": "door", "means": "d", "serves": "hood switch", "needs": "door switch"},
        ],
    }  # fmt: skip
    resistors = [
        {
            "id": f"r-{ohm}", "kind": "resistor", "name": f"resistor {ohm} ohm", "rating_a": 0.02,
            "resistance_ohm": ohm, "stock": dice.randint(0, 1), "price": 0.2,
        }
        for ohm in (330, 820, 1500)
    ]  # fmt: skip
    kit = b.kit(
        terminals, leads,
        branches=[
            b.thick(b.t_branch("key-t", "key-h", *key, rating_a=dice.choice([9, 20, 40]))),
            b.thick(b.t_branch("body-t", "body-h", *body, rating_a=20)),
        ],
        parts=[
            {**b.RELAY, "stock": dice.randint(0, 3)},
            {"id": "diode", "kind": "diode", "name": "diode", "rating_a": 3, "stock": dice.randint(0, 2), "price": 0.5},
            *resistors,
        ],
        added_parts=[
            {"id": "pin", "function": "hood switch", "name": "pin", "terminal": "hood", "lead": "hood", "place": "x"}
        ],
        settings=[settings],
        vehicle_module={
            "name": "M", "hardware": "1", "firmware": "f", "version": "1",
            "services": [{"function": f, "vehicle": "test-car"} for f in services],
        },
        wanted=["parking light", "horn", "door switch", "lock", "unlock"],
    )  # fmt: skip
    button = dice.random() < 0.25
    traits = {"key": "button", "start_style": "button", "park_interlock": "computer"} if button else {}
    return Situation(car=b.car(_circuits(dice, button), traits=traits), kit=kit)


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
