"""What a wire is taken to be from its function alone: the circuit that fills a pin until its own form says more.

What is assumed is the usual way of the trade for that function (common practice), and nothing is claimed: a circuit
made here has no evidence, so that everything that uses it is shown as unproven.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from loomwright.documents.functions import FUNCTIONS

__all__ = ["BUSES", "STARTERS", "Feeds", "Starter", "started"]

BUSES = ("pulse-width", "two-wire high", "two-wire low", "single-wire", "one-wire serial", "k-line")
"""The kinds of data wire; which one a car has cannot be assumed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Starter:
    """How a function usually works: a template, what closes its switch, and which feed it takes."""

    template: str
    closed_when: str = ""
    feed: str = ""  # 'first' or 'second' battery feed, 'ignition', 'accessory', or the battery itself
    values: Mapping[str, Any] = field(default_factory=dict)


def _keyed(feed: str, *live: str, **values: Any) -> Starter:
    return Starter(template="keyed feed", feed=feed, values={"live": list(live), **values})


def _lamp(when: str) -> Starter:
    return Starter(template="switched feed", closed_when=when, values={"load": "lamp"})


def _pulled(when: str) -> Starter:
    return Starter(template="ground switch", closed_when=when)


_SENSOR = Starter(template="sensor wire")

STARTERS: Mapping[str, Starter] = MappingProxyType({
    "battery feed": Starter(template="battery feed", values={"load_a": 0.0}),
    "ground": Starter(template="ground wire"),
    "ignition": _keyed("first", "run", "crank"),
    "second ignition": _keyed("second", "run"),
    "accessory": _keyed("second", "acc", "run"),
    "accessory 2": _keyed("second", "acc", "run"),
    "start": _keyed("first", "crank", load="coil", starter=True),
    "second start": _keyed("first", "crank", load="coil"),
    "parking light": _lamp("lamps on"),
    "parking light left": _lamp("lamps on"),
    "parking light right": _lamp("lamps on"),
    "turn light left": _lamp("turn left on"),
    "turn light right": _lamp("turn right on"),
    "stop light": _lamp("brake pressed"),
    "brake": _lamp("brake pressed"),
    "parking brake": _pulled("parking brake set"),
    "hood switch": _pulled("hood open"),
    "tach": Starter(template="pulse wire"),
    "wait-to-start": Starter(template="switched ground", closed_when="wait lamp lit"),
    "park/neutral": _pulled("in park"),
    "key sense": _pulled("key in lock"),
    "door switch": _pulled("driver door open"),
    "lock": _pulled("lock pressed"),
    "unlock": _pulled("unlock pressed"),
    "driver unlock": _pulled("unlock pressed"),
    "lock motor": Starter(template="switched feed", closed_when="lock pressed", values={"load": "motor"}),
    "factory alarm arm": _pulled("key turned to lock"),
    "factory alarm disarm": _pulled("key turned to unlock"),
    "horn": Starter(template="relay trigger", closed_when="horn pressed"),
    "hatch": Starter(template="relay trigger", closed_when="hatch pressed"),
    "running status": _SENSOR,
    "bus": Starter(template="data wire"),
    "immobiliser": _SENSOR,
    "restraint": Starter(template="airbag wire"),
    "intake heater": Starter(template="switched feed", feed="ignition"),
    "glow plugs": Starter(template="switched feed", feed="ignition"),
    "window": Starter(
        template="switched feed", closed_when="window pressed", feed="accessory", values={"load": "motor"}
    ),
    "mirror": Starter(template="switched feed", feed="accessory"),
    "seat": Starter(template="switched feed"),
    "wiper": Starter(template="switched feed", closed_when="wipers on", feed="accessory", values={"load": "motor"}),
    "blower": Starter(template="switched feed", closed_when="blower on", feed="ignition", values={"load": "motor"}),
    "radio": Starter(template="switched feed", feed="accessory", values={"load": "electronic"}),
    "lighting": _lamp("lamps on"),
    "speed signal": _SENSOR,
    "sensor": _SENSOR,
    "charge": _SENSOR,
    "fuel pump": Starter(template="switched feed", feed="ignition", values={"load": "motor"}),
    "trailer": _lamp("lamps on"),
    "other": _SENSOR,
    "start button": _pulled("start pressed"),
    "brake line": _lamp("brake pressed"),
})  # fmt: skip
"""Function -> how it usually works."""

if set(STARTERS) != set(FUNCTIONS):  # pragma: no cover - a slip of the pen while editing this file
    raise AssertionError(set(STARTERS) ^ set(FUNCTIONS))

# Templates whose wire leaves the part with the source in it: the pin stands before the wire.
_OUTGOING = frozenset({"keyed feed", "start request", "reversing leg"})
_PULLED = frozenset({"ground switch", "relay trigger", "switched ground"})
# Templates whose wire arrives at the pin, with what it feeds behind it.
_ARRIVING = frozenset({"battery feed", "sensor wire", "pulse wire", "airbag wire"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Feeds:
    """Circuits that may feed others: battery feeds in their order, and the first of ignition and accessory.

    `park_in_start` holds where the person said of the whole car that the start circuit keeps it from cranking in gear:
    a start wire then has the switch for it in its way. Nothing else lets a protection be assumed.
    """

    battery: Sequence[str] = ()
    ignition: str = ""
    accessory: str = ""
    park_in_start: bool = False

    def of(self, wanted: str) -> str:
        """Return the circuit that a starter takes its current from; empty for the battery itself or none."""
        if wanted == "first":
            return next(iter(self.battery), "")
        if wanted == "second":
            return self.battery[1] if len(self.battery) > 1 else next(iter(self.battery), "")
        return {"ignition": self.ignition, "accessory": self.accessory}.get(wanted, "")


def started(
    *, id: str, function: str, pin: str, wire: Mapping[str, Any], feeds: Feeds, name: str = "", template: str = "",
    bus: str = "", fuse_a: float | str | None = None,
) -> dict[str, Any]:  # fmt: skip
    """Return the circuit that fills a pin, in plain values.

    Parameters
    ----------
    id
        Its id.
    function
        What it is for.
    pin
        ``plug/pin``; empty for a circuit that passes no plug.
    wire
        Colour, stripe, size of the wire at the pin.
    feeds
        What may feed it.
    name
        What it is called where the function's word is not enough.
    template
        How it behaves, where not as the function usually does.
    bus
        Which data wire it is.
    fuse_a
        The fuse that it hangs on [A]; `None` where nobody looked.
    """
    starter = STARTERS[function]
    if template and template != starter.template:
        starter = Starter(template=template, closed_when=starter.closed_when, feed=starter.feed)
    behaviour: dict[str, Any] = {"template": starter.template, **starter.values}
    if starter.feed and (feed := feeds.of(starter.feed)):
        behaviour["fed_by"] = feed
    if bus:
        behaviour["bus"] = bus
    raw: dict[str, Any] = {"id": id, "function": function, "behaviour": behaviour}
    if name:
        raw["name"] = name
    raw["path"] = _path(starter, id, pin or f"s:{id}", wire, fuse_a)
    if function == "start" and starter.template == "keyed feed" and feeds.park_in_start:
        *before, last = raw["path"]
        gone = {key: value for key, value in last.items() if key not in ("from", "to")}
        raw["path"] = [
            *before, {**last, "to": f"s:{id}-selector"},
            {"from": f"s:{id}-selector", "to": f"s:{id}-behind", "closed_when": "in park"},
            {"from": f"s:{id}-behind", "to": "load", **gone},
        ]  # fmt: skip
    return raw


def _path(
    starter: Starter, id: str, pin: str, wire: Mapping[str, Any], fuse_a: float | str | None
) -> list[dict[str, Any]]:
    """Return the way from the source to the load, with the wire on the side of the pin on which it usually is."""
    begin, path = "source", []
    if fuse_a is not None:
        path.append({"from": begin, "to": f"s:{id}-fuse", "fuse_a": fuse_a})
        begin = f"s:{id}-fuse"
    if starter.template in _ARRIVING:
        return [*path, {"from": begin, "to": pin, **wire}, {"from": pin, "to": "load"}]
    if starter.template in _PULLED and starter.closed_when:
        far = f"s:{id}-switch"
        closed = {"from": far, "to": "ground", "closed_when": starter.closed_when}
        return [*path, {"from": begin, "to": pin}, {"from": pin, "to": far, **wire}, closed]
    if starter.template == "ground wire":
        return [*path, {"from": begin, "to": pin}, {"from": pin, "to": "ground", **wire}]
    first: dict[str, Any] = {"from": begin, "to": pin}
    if starter.closed_when and starter.template not in _OUTGOING:
        first["closed_when"] = starter.closed_when
    return [*path, first, {"from": pin, "to": "load", **wire}]
