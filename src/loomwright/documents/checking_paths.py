"""Checks of one circuit's path: its ends, pins, colours, and that it is one tree that grows from its source."""

from collections.abc import Iterator, Mapping

from loomwright.documents._notes import Notes
from loomwright.documents._tree import Path
from loomwright.documents._words import nearest, quoted
from loomwright.documents.behaviour import (
    BatteryFeed,
    CodedSwitch,
    GroundWire,
    InputWire,
    KeyedFeed,
    ModuleOutput,
    ReversingLeg,
    StartRequest,
    SteppedInput,
    SwitchedFeed,
)
from loomwright.documents.vehicle import Circuit, Plug, Segment

__all__ = ["check_path"]

_LOADED = (
    BatteryFeed, CodedSwitch, InputWire, KeyedFeed, ModuleOutput, ReversingLeg, StartRequest, SteppedInput,
    SwitchedFeed,
)  # fmt: skip


def check_path(notes: Notes, at: Path, circuit: Circuit, plugs: Mapping[str, Plug]) -> None:
    """Write down every fault of the path of a circuit that stands at `at` in its file."""
    _check_ends(notes, at, circuit, plugs)
    for index, segment in enumerate(circuit.path):
        _check_step(notes, (*at, "path", index), segment)
    _check_tree(notes, at, circuit)
    _check_loads(notes, at, circuit)


def _ends(circuit: Circuit) -> Iterator[tuple[int, str, str]]:
    """Yield every end of every step: index of the step, key in the file, end."""
    for index, segment in enumerate(circuit.path):
        yield index, "from", segment.from_
        yield index, "to", segment.to


def _load_names(circuit: Circuit) -> tuple[str, ...]:
    behaviour = circuit.behaviour
    if isinstance(behaviour, BatteryFeed | KeyedFeed | SwitchedFeed | GroundWire | ModuleOutput):
        return ("load", *behaviour.loads)
    return ("load",)


def _check_ends(notes: Notes, at: Path, circuit: Circuit, plugs: Mapping[str, Plug]) -> None:
    words = ("source", "ground", *_load_names(circuit))
    for index, key, end in _ends(circuit):
        path = (*at, "path", index, key)
        if "/" in end:
            plug_id, _, pin = end.partition("/")
            if plug_id not in plugs:
                near = nearest(plug_id, plugs)
                advice = "add the plug, or correct its name" if near is None else f"did you mean {quoted(near)}?"
                notes.add(path, f"the plug {quoted(plug_id)}", "a plug of this vehicle", advice)
                continue
            rows = plugs[plug_id].face.rows
            pins = list(dict.fromkeys(name for row in rows for name in row if name is not None))
            if pin not in pins:
                notes.add(
                    path,
                    f"pin {quoted(pin)} of plug '{plug_id}'",
                    f"a pin of its face ({_span(pins)})",
                    "correct the pin, or the face of the plug",
                )
        elif not end.startswith("s:") and end not in words:
            near = nearest(end, words)
            advice = "name a load under 'loads', or write 's:' before a splice"
            listed = ", ".join(quoted(word) for word in words)
            notes.add(
                path,
                quoted(end),
                f"'plug/pin', 's:name' or one of {listed}",
                advice if near is None else f"did you mean {quoted(near)}?",
            )


def _span(pins: list[str]) -> str:
    return f"{pins[0]} to {pins[-1]}" if len(pins) > 4 else ", ".join(pins)


def _check_step(notes: Notes, path: Path, segment: Segment) -> None:
    kinds = {"colour": segment.colour, "fuse_a": segment.fuse_a, "closed_when": segment.closed_when}
    given = [key for key, value in kinds.items() if value is not None]
    if len(given) > 1:
        notes.add(path, f"a step with {' and '.join(given)}", "a wire, a fuse or a switch", "split it into two steps")
    if segment.stripe is not None and segment.colour is None:
        notes.add((*path, "stripe"), "a stripe without a colour", "the colour of the wire too", "add the key 'colour'")
    if segment.switch is not None and segment.closed_when is None:
        notes.add((*path, "switch"), "a switch without its condition", "when it conducts", "add the key 'closed_when'")
    for key, word in (("colour", segment.colour), ("stripe", segment.stripe)):
        if word is not None:
            notes.colour((*path, key), word)


def _check_tree(notes: Notes, at: Path, circuit: Circuit) -> None:
    """Walk from the source: a step whose two ends were met closes a circle, one that is never met hangs loose.

    A switch may close a circle: two contacts side by side feed one wire, such as brake and turn contact of a tail lamp.
    """
    if not any(end == "source" for _, _, end in _ends(circuit)):
        notes.add(
            (*at, "path"),
            "a path without 'source'",
            "a path that begins at 'source'",
            "name 'source' in the step where the current comes from",
        )
        return
    met = {"source"}
    left = dict(enumerate(circuit.path))
    while True:
        step = next((i for i, segment in left.items() if segment.from_ in met or segment.to in met), None)
        if step is None:
            break
        segment = left.pop(step)
        if segment.from_ in met and segment.to in met and segment.closed_when is None:
            notes.add(
                (*at, "path", step),
                f"a step from {quoted(segment.from_)} to {quoted(segment.to)} that closes a circle",
                "a path that only branches",
                "delete the step, or correct one of its ends",
            )
        met |= {segment.from_, segment.to}
    if left:
        # What follows a loose step is loose as well: told once, at the step to begin with.
        step, segment = next(iter(left.items()))
        after = f" (nor {len(left) - 1} more)" if len(left) > 1 else ""
        notes.add(
            (*at, "path", step),
            f"a step from {quoted(segment.from_)} to {quoted(segment.to)} that 'source' does not reach{after}",
            "a path in one piece",
            "correct one of its ends, or add the missing step",
        )


def _check_loads(notes: Notes, at: Path, circuit: Circuit) -> None:
    behaviour = circuit.behaviour
    ends = {end for _, _, end in _ends(circuit)}
    if isinstance(behaviour, _LOADED) and "load" not in ends:
        notes.add(
            (*at, "path"),
            "a path without 'load'",
            f"an end 'load', since this is a {behaviour.template}",
            "name 'load' in the step that ends at the load",
        )
    for name in _load_names(circuit)[1:]:
        if name not in ends:
            notes.add(
                (*at, "behaviour", "loads", name),
                f"the load {quoted(name)} at no end of the path",
                "a step that ends at it",
                f"add a step with 'to: {name}', or delete the load",
            )
