"""Checks with the battery off: whether a fresh joint conducts, and whether an added switch opens and closes."""

from loomwright.network.copper import resistance_ohm_per_m
from loomwright.network.shapes import CONTACT_OHM, SPREAD, joint_ohm
from loomwright.papers.blocks import ReadingField, Verdict
from loomwright.papers.job import Job, plug_of
from loomwright.papers.measures import ohms, up
from loomwright.papers.saying import say
from loomwright.papers.words.en import joining as words
from loomwright.planning.installation import Joint
from loomwright.sentences import told

__all__ = ["METER_OHM", "OPEN_OHM", "conducts", "most_ohm", "opens", "resistor_reads"]

METER_OHM = 0.2
"""What a hand meter may err below 1 ohm once its own leads are taken off, with a probe that touches lightly [ohm];
common practice."""

RESISTOR_SHARE = 0.05
"""How far a resistor of the E24 series may be off its value [-]; common practice."""

OPEN_OHM = 10_000.0
"""An open switch shows at least this much, damp included [ohm]; common practice."""


def most_ohm(joint: Joint, *, contact: bool = False) -> float:
    """Return the most a meter may show from the kit's plug to beyond a sound joint [ohm].

    The lead by its length and section at 20 degC, the joint and, where asked for, a switch contact, each at the upper
    end of its spread; and what the meter may err once its own leads are taken off the reading.
    """
    wire = resistance_ohm_per_m(joint.area_mm2) * joint.length_m * SPREAD["wire"][1]
    extra = CONTACT_OHM * SPREAD["switch"][1] if contact else 0.0
    return up(wire + joint_ohm(joint.area_mm2) * SPREAD["joint"][1] + extra + METER_OHM)


def conducts(job: Job, joint: Joint, *, state: str = "", contact: bool = False) -> ReadingField:
    """Return the field that tells whether a joint conducts, from the kit's plug to the car's side of the joint.

    A lead with a fuse is measured from its empty holder, which lies nearer to the joint than the plug.
    """
    terminal = job.terminal(joint)
    if joint.pin is None:
        clip = words.OHM_CLIP_GROUND
    else:
        clip = told(words.OHM_CLIP_WIRE, plug=job.car.plugs[plug_of(joint.pin)].name, pin=joint.pin.partition("/")[2])
    high = ohms(most_ohm(joint, contact=contact), f"joint:{joint.id}/resistance")
    # The fuses are out until the plug goes in: behind the holder there is nothing to be seen of the joint.
    probe = words.OHM_PROBE_HOLDER if job.is_fused(joint) else words.OHM_PROBE
    return ReadingField(
        id=f"ohm:{joint.id}" + ("/closed" if contact else ""), clip=clip,
        probe=told(probe, plug=terminal.plug.upper(), pin=terminal.pin, label=joint.label),
        state=state or job.fill(words.OHM_STATE),
        expect=say(words.OHM_EXPECT, high=high), relative=False,
        verdicts=(
            Verdict(low=None, high=high, words=words.OHM_GOOD, good=True),
            Verdict(low=high, high=None, words=words.OHM_BAD, good=False),
        ),
        lamp="", lamp_allowed=False,
    )  # fmt: skip


def resistor_reads(job: Job, joint: Joint) -> ReadingField:
    """Return the field that tells whether a joint conducts through the resistor in its lead.

    Raises ValueError where the joint has none.
    """
    part = next((p for p in job.kit.parts if joint.part is not None and p.id == joint.part.part), None)
    if part is None or part.resistance_ohm is None or joint.pin is None:
        raise ValueError(f"{joint.label}: no resistor")
    terminal, trace = job.terminal(joint), f"document:{job.kit.id}/parts/{part.id}/resistance_ohm"
    low = ohms(part.resistance_ohm * (1 - RESISTOR_SHARE), trace)
    high = ohms(part.resistance_ohm * (1 + RESISTOR_SHARE) + most_ohm(joint), trace)
    plug = job.car.plugs[plug_of(joint.pin)].name
    return ReadingField(
        id=f"ohm:{joint.id}/resistor", clip=told(words.OHM_CLIP_WIRE, plug=plug, pin=joint.pin.partition("/")[2]),
        probe=told(words.OHM_PROBE, plug=terminal.plug.upper(), pin=terminal.pin, label=joint.label),
        state=job.fill(words.OHM_STATE), expect=say(words.OHM_RESISTOR_EXPECT, low=low, high=high), relative=False,
        verdicts=(
            Verdict(low=low, high=high, words=words.OHM_GOOD, good=True),
            Verdict(low=high, high=None, words=words.OHM_BAD, good=False),
            Verdict(low=None, high=low, words=words.OHM_RESISTOR_LOW, good=False),
        ),
        lamp="", lamp_allowed=False,
    )  # fmt: skip


def opens(job: Job, joint: Joint, state: str) -> ReadingField:
    """Return the field that tells whether an added switch opens."""
    terminal = job.terminal(joint)
    low = ohms(OPEN_OHM, "practice:open switch")
    return ReadingField(
        id=f"ohm:{joint.id}/open", clip=words.OHM_CLIP_GROUND,
        probe=told(words.OHM_PROBE, plug=terminal.plug.upper(), pin=terminal.pin, label=joint.label), state=state,
        expect=say(words.OHM_OPEN_EXPECT, low=low), relative=False,
        verdicts=(
            Verdict(low=low, high=None, words=words.OHM_OPEN_GOOD, good=True),
            Verdict(low=None, high=low, words=words.OHM_OPEN_BAD, good=False),
        ),
        lamp="", lamp_allowed=False,
    )  # fmt: skip
