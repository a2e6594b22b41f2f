"""Checks of a kit's document: terminals, harness skeleton, vehicle module, parts, settings and dialogues."""

from collections.abc import Iterator, Mapping

from loomwright.documents._notes import Notes
from loomwright.documents._tree import Path
from loomwright.documents._words import quoted
from loomwright.documents.behaviour import STIMULI
from loomwright.documents.kit import Kit
from loomwright.documents.vehicle import Vehicle

__all__ = ["check_kit"]

# Source: Honda and other makers' service manuals mark restraint wiring yellow; orange marks high-voltage cable
# (SAE J1673, ISO 6469-3, from memory). A kit's wire must not be taken for either.
_REFUSED = {"YE": "the colour of restraint wiring", "OG": "the colour of high-voltage cable"}


def check_kit(notes: Notes, kit: Kit, vehicles: Mapping[str, Vehicle], *, whole: bool = True) -> None:
    """Write down every fault of a kit; what it says of vehicles is checked where any are given.

    Where `vehicles` are not the whole shop's, its branches may fit, and its module serve, others.
    """
    _check_ids(notes, kit)
    _check_terminals(notes, kit)
    _check_wires(notes, kit)
    _check_parts(notes, kit)
    _check_settings(notes, kit)
    _check_module(notes, kit, vehicles, whole)
    _check_wanted(notes, kit)
    if vehicles and whole:
        housings = [plug.housing for vehicle in vehicles.values() for plug in vehicle.plugs]
        for index, branch in enumerate(kit.branches):
            notes.known(("branches", index, "housing"), branch.housing, housings, "a housing of some vehicle's plug")
        _check_pins(notes, kit, vehicles)


def _check_ids(notes: Notes, kit: Kit) -> None:
    lists: tuple[tuple[Path, list[str]], ...] = (
        (("controller", "terminals"), [terminal.id for terminal in kit.controller.terminals]),
        (("branches",), [branch.id for branch in kit.branches]),
        (("leads",), [lead.id for lead in kit.leads]),
        (("parts",), [part.id for part in kit.parts]),
        (("added_parts",), [part.id for part in kit.added_parts]),
        (("settings",), [setting.id for setting in kit.settings]),
        (("dialogues",), [dialogue.id for dialogue in kit.dialogues]),
        (("remotes",), [remote.id for remote in kit.remotes]),
    )
    for at, ids in lists:
        notes.once([((*at, index, "id"), name) for index, name in enumerate(ids)], "id")


def _check_terminals(notes: Notes, kit: Kit) -> None:
    at: Path = ("controller", "terminals")
    terminals = kit.controller.terminals
    notes.once([((*at, i, "pin"), f"{terminal.plug}/{terminal.pin}") for i, terminal in enumerate(terminals)], "pin")
    kinds = [terminal.kind for terminal in terminals]
    for kind in ("power in", "ground"):
        if kind not in kinds:
            notes.add(at, f"no terminal of kind {quoted(kind)}", "at least one", "add it")
    feeds = [terminal.id for terminal in terminals if terminal.kind == "power in"]
    for index, terminal in enumerate(terminals):
        path = (*at, index)
        is_output = terminal.kind in {"relay output", "positive output", "negative output"}
        if terminal.fed_from is not None:
            notes.known((*path, "fed_from"), terminal.fed_from, feeds, "a terminal of kind 'power in'")
        elif terminal.kind == "relay output":
            notes.add(
                (*path, "fed_from"), "nothing", "the power input that this relay switches", "add the key 'fed_from'"
            )
        if (is_output or terminal.kind == "power in") and terminal.rating_a <= 0:
            notes.add((*path, "rating_a"), "no rating", "the current it carries [A]", "add the key 'rating_a'")
        if terminal.kind == "power in" and terminal.fuse_a is None:
            notes.add(
                (*path, "fuse_a"), "no fuse", "the kit's own fuse in each power input [A]", "add the key 'fuse_a'"
            )


def _wires(kit: Kit) -> Iterator[tuple[Path, str, str, str, str | None]]:
    """Yield every conductor and lead: path, terminal, label, colour, stripe."""
    for b, branch in enumerate(kit.branches):
        for c, wire in enumerate(branch.conductors):
            yield ("branches", b, "conductors", c), wire.terminal, wire.label, wire.colour, wire.stripe
    for index, lead in enumerate(kit.leads):
        yield ("leads", index), lead.terminal, lead.label, lead.colour, lead.stripe


def _check_wires(notes: Notes, kit: Kit) -> None:
    terminals = [terminal.id for terminal in kit.controller.terminals]
    for path, terminal, _, colour, stripe in _wires(kit):
        notes.known((*path, "terminal"), terminal, terminals, "a terminal of the controller")
        base = notes.colour((*path, "colour"), colour)
        if base is not None and base.family in _REFUSED:
            notes.add(
                (*path, "colour"),
                quoted(colour),
                f"another colour, since this is {_REFUSED[base.family]}",
                "choose another colour for this wire of the kit",
            )
        if stripe is not None:
            notes.colour((*path, "stripe"), stripe)
    labels = [((*path, "label"), label) for path, _, label, _, _ in _wires(kit)]
    notes.once(labels, "label")
    for b, branch in enumerate(kit.branches):
        pins = [(("branches", b, "conductors", c, "pin"), w.pin) for c, w in enumerate(branch.conductors)]
        notes.once([(at, pin) for at, pin in pins if pin is not None], "pin")


def _check_pins(notes: Notes, kit: Kit, vehicles: Mapping[str, Vehicle]) -> None:
    """Write down a conductor built to a pin that no plug of its housing has."""
    plugs = [plug for vehicle in vehicles.values() for plug in vehicle.plugs]
    for b, branch in enumerate(kit.branches):
        pins = [p for plug in plugs if plug.housing == branch.housing for row in plug.face.rows for p in row if p]
        for c, conductor in enumerate(branch.conductors):
            if conductor.pin is not None and pins:
                at = ("branches", b, "conductors", c, "pin")
                notes.known(at, conductor.pin, pins, f"a pin of the housing {quoted(branch.housing)}")


def _check_parts(notes: Notes, kit: Kit) -> None:
    terminals = {terminal.id: terminal for terminal in kit.controller.terminals}
    leads = {lead.id: lead for lead in kit.leads}
    for index, part in enumerate(kit.parts):
        missing = {"relay": ("coil_ohm", part.coil_ohm), "resistor": ("resistance_ohm", part.resistance_ohm)}
        key, value = missing.get(part.kind, ("", 0.0))
        if value is None:
            notes.add(
                ("parts", index, key),
                "nothing",
                f"the resistance of this {part.kind} [ohm]",
                f"add the key {quoted(key)}",
            )
    for index, added in enumerate(kit.added_parts):
        at = ("added_parts", index)
        known = notes.known((*at, "terminal"), added.terminal, terminals, "a terminal of the controller")
        if known and terminals[added.terminal].function != added.function:
            notes.add(
                (*at, "terminal"),
                f"{quoted(added.terminal)}, which serves {terminals[added.terminal].function}",
                f"a terminal for {added.function}",
                "correct the terminal or the function",
            )
        if notes.known((*at, "lead"), added.lead, leads, "a lead of this kit") and known:
            ends_at = leads[added.lead].terminal
            if ends_at != added.terminal:
                notes.add(
                    (*at, "lead"),
                    f"{quoted(added.lead)}, which comes from terminal {quoted(ends_at)}",
                    f"a lead from terminal {quoted(added.terminal)}",
                    "correct the lead or the terminal",
                )
        stimulus = added.closed_when.removeprefix("not ")
        notes.known((*at, "closed_when"), stimulus, STIMULI, "something that happens to the car")


def _check_settings(notes: Notes, kit: Kit) -> None:
    for index, setting in enumerate(kit.settings):
        values = [choice.value for choice in setting.choices]
        notes.once([(("settings", index, "choices", i, "value"), value) for i, value in enumerate(values)], "value")
        notes.known(("settings", index, "default"), setting.default, values, "a choice of this setting")
        if setting.of == "vehicle module" and kit.vehicle_module is None:
            notes.add(
                ("settings", index, "of"),
                "'vehicle module'",
                "'controller', since this kit has no such module",
                "describe the module, or correct the key",
            )


def _check_module(notes: Notes, kit: Kit, vehicles: Mapping[str, Vehicle], whole: bool) -> None:
    module = kit.vehicle_module
    if module is None:
        return
    if not any(terminal.kind == "data port" for terminal in kit.controller.terminals):
        notes.add(
            ("controller", "terminals"),
            "a vehicle module and no terminal of kind 'data port'",
            "the terminal to which it is joined",
            "add it",
        )
    learnings = [dialogue.id for dialogue in kit.dialogues if dialogue.kind == "learning"]
    if module.learning is not None:
        notes.known(("vehicle_module", "learning"), module.learning, learnings, "a dialogue of kind 'learning'")
    own = [setting.id for setting in kit.settings if setting.of == "vehicle module"]
    for index, name in enumerate(module.adjustable_when_locked):
        notes.known(("vehicle_module", "adjustable_when_locked", index), name, own, "a setting of the vehicle module")
    if not vehicles:
        return
    for index, service in enumerate(module.services):
        at = ("vehicle_module", "services", index)
        if not whole and service.vehicle not in vehicles:
            continue
        if notes.known((*at, "vehicle"), service.vehicle, vehicles, "a vehicle of this shop"):
            axes = vehicles[service.vehicle].axes
            notes.condition((*at, "only"), service.only, axes)
            notes.condition((*at, "except"), service.except_, axes)


def _check_wanted(notes: Notes, kit: Kit) -> None:
    served = {terminal.function for terminal in kit.controller.terminals}
    served |= {service.function for service in (kit.vehicle_module.services if kit.vehicle_module else ())}
    served |= {choice.serves for setting in kit.settings for choice in setting.choices if choice.serves is not None}
    notes.once([(("wanted", index), function) for index, function in enumerate(kit.wanted)], "function")
    for index, function in enumerate(kit.wanted):
        if function not in served:
            notes.add(
                ("wanted", index),
                quoted(function),
                "a function that a terminal, the bus or a setting serves",
                "add what serves it, or delete it here",
            )
