"""The kit's side of the netlist of an installation, in the form in which papers are read back."""

from collections import defaultdict
from collections.abc import Callable, Iterator

from loomwright.network.elements import GROUND
from loomwright.network.joining import joined_netlist
from loomwright.network.results import Proof
from loomwright.papers.job import plug_of
from loomwright.planning.installation import Installation, Joint
from tests.sheets.read_circuit import Net, Node

__all__ = ["drawn_name", "kit_nodes", "kit_pins", "unproved"]


def unproved(installation: Installation) -> Proof:
    """Return a proof of nothing, for papers of which only the wiring is looked at."""
    return Proof(installation=installation, findings=(), states=(), nodes=0, elements=0, points=0, worst_residual=0.0)


def drawn_name(installation: Installation, joint: Joint) -> str:
    """Return how the drawing names the car's side of a joint."""
    if joint.pin is not None:
        plug = installation.car.plugs[plug_of(joint.pin)].name
        return f"{plug}, pin {joint.pin.partition('/')[2]}"
    if joint.kind == "added part":
        return next(p.name for p in installation.kit.added_parts if p.terminal == joint.terminal)
    return "ground point"


def kit_pins(installation: Installation) -> dict[str, str]:
    """Return terminal -> plug and pin as printed."""
    return {t.id: f"{t.plug.upper()}/{t.pin}" for t in installation.kit.controller.terminals}


def _element_ends(installation: Installation, name: Callable[[Installation, Joint], str]) -> Iterator[tuple[str, str]]:
    """Yield (node, what ends there) of the netlist's elements between a pin of the kit and the car, when all is fitted.

    Where the netlist has a joint and the drawing a wire, the two nodes are one: they are told as ('=', node) pairs.
    """
    joints = {j.id: j for j in installation.joints}
    keys = {j.id: f"{j.label} @ {name(installation, j)}" for j in installation.joints}
    uses = {j.part.id: j for j in installation.joints if j.part is not None}
    fuses = {p.id: p.fuse_a for p in installation.kit.parts}
    for e in joined_netlist(installation).elements:
        owner, _, piece = e.id.rpartition("/")
        if e.id in joints and joints[e.id].kind == "plug":  # the two halves of a contact
            yield from ((node, f"{name(installation, joints[e.id])}.contact 0") for node in (e.a, e.b))
        elif e.id in joints or (owner in joints and piece == "factory"):
            yield "=", f"{e.a}\n{e.b}"
        elif owner in joints and piece == "lead":
            yield e.a, f"{keys[owner]}.lead.kit"
            yield e.b, f"{keys[owner]}.lead.car"
        elif owner in joints and piece == "fuse":
            yield from ((node, f"{keys[owner]}.Fuse {e.fuse_a:g} A") for node in (e.a, e.b))
        elif owner in uses:
            key, use = keys[uses[owner].id], uses[owner].part
            assert use is not None
            match piece:
                case "coil":  # positive end first
                    yield e.a, f"{key}.86"
                    yield e.b, f"{key}.85"
                case "coil-diode":
                    yield e.a, f"{key}.coil diode.A"
                    yield e.b, f"{key}.coil diode.K"
                case "fuse":
                    yield from ((node, f"{key}.Fuse {fuses[use.part]:g} A") for node in (e.a, e.b))
                case "contact":
                    # Source: DIN 72552 (from memory): 30 is a relay's input, 87 its output; of a changeover relay 30 is
                    # common. A relay that changes over has the car's wire on its common contact.
                    turned = use.pattern in {"relay changes over", "relay grounds"}
                    first, second = ("87", "30") if turned else ("30", "87")
                    yield e.a, f"{key}.{first}"
                    yield e.b, f"{key}.{second}"
                case "resting-contact":
                    yield e.a, f"{key}.87a"  # its other end is 30 again
        elif e.id in uses and e.kind == "resistor":
            yield from ((node, f"{keys[uses[e.id].id]}.resistor") for node in (e.a, e.b))
        elif e.id in uses:
            yield e.a, f"{keys[uses[e.id].id]}.diode.A"
            yield e.b, f"{keys[uses[e.id].id]}.diode.K"
        elif e.kind == "switch" and e.id.startswith("added:"):
            joint = next(j for j in joints.values() if f"added:{j.id}" == e.a)
            yield from ((node, f"{keys[joint.id]}.switch") for node in (e.a, e.b))
        elif e.id.startswith("t:") and e.id.endswith("/through"):
            yield "=", f"{e.a}\n{e.b}"


def kit_nodes(installation: Installation, name: Callable[[Installation, Joint], str]) -> frozenset[Node]:
    """Return the netlist between the kit's pins and the car when all is fitted, as nodes: what ends on each of them.

    `name` gives what a paper calls the car's side of a joint.
    """
    net, ends = Net(), defaultdict(list)
    used = {j.terminal for j in installation.joints} | {
        j.part.fed_from for j in installation.joints if j.part is not None and j.part.fed_from is not None
    }
    pins = kit_pins(installation)
    for node, said in _element_ends(installation, name):
        if node == "=":
            a, _, b = said.partition("\n")
            net.join(a, b)
        else:
            ends[node].append(said)
    for terminal in used:
        ends[f"k:{terminal}"].append(f"={pins[terminal]}")
        net.join(f"k:{terminal}", f"k:{terminal}:lead")  # the kit's own plug, when it is in
    for joint in (j for j in installation.joints if j.pin is not None):
        car = name(installation, joint)
        harness, module = f"c:{joint.pin}:h", f"c:{joint.pin}:m"
        plug = harness  # the pin is mated
        if joint.kind.startswith("T "):
            plug = module
            upper, lower = (harness, module) if joint.factory_side == "harness side" else (module, harness)
            inner = {harness: f"t:{joint.pin}:a", module: f"t:{joint.pin}:b"}
            for number, node in enumerate((upper, lower)):
                ends[node].append(f"{car}.contact {number}")
                ends[inner[node]].append(f"{car}.contact {number}")
        elif joint.kind == "cut in":
            plug = f"c:{joint.pin}:stub"
        # Two leads may meet one pin; it is one pin.
        for node, anchor in ((harness, f"={car} harness"), (plug, f"={car} plug")):
            if anchor not in ends[node]:
                ends[node].append(anchor)
    ends[GROUND].append("=ground")
    found: dict[object, list[str]] = defaultdict(list)
    for node, here in ends.items():
        found[net.root(node)] += here
    return frozenset(tuple(sorted(each)) for each in found.values())
