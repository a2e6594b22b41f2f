"""A kit on the bench, without a car: where its leads are clipped, so that its inputs read what they would in the car.

Which clip makes an input read what is computed from the wiring's own solves: a lead that is free, on ground or on
battery reads what it reads with the wire of the car off, shorted to ground or to a feed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from loomwright.documents.behaviour import PulseWire
from loomwright.planning.installation import Installation, Joint
from loomwright.starting.engine import tach_hz
from loomwright.starting.modes import REST
from loomwright.starting.settings import FIELD_OF, StartSettings
from loomwright.starting.tables import DOMAIN
from loomwright.starting.trying import NeededTest, starts
from loomwright.starting.wiring import FaultKind, Wiring

__all__ = ["BenchInput", "Clip", "EngineOnBench", "bench_inputs", "cranks_on_bench", "engine_on_bench", "on_bench"]

Clip = Literal["free", "ground", "battery"]
_CLIPS: Mapping[Clip, FaultKind] = MappingProxyType({
    "free": "lead off", "ground": "short to ground", "battery": "short to battery",
})  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchInput:
    """One lead that carries an input: where it is clipped at rest, and where to make the input read the other way."""

    input: str
    joint: Joint
    rest: Clip
    other: Clip


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineOnBench:
    """How a running engine is imitated on the bench: pulses on a lead, or a higher supply."""

    how: Literal["pulses", "supply"]
    joint: Joint | None  # of the engine-speed lead
    hertz: float | None  # at idle [Hz]


def _clip(fault_levels: Mapping[Clip, object], wanted: object) -> Clip | None:
    return next((clip for clip, level in fault_levels.items() if level == wanted), None)


def bench_inputs(installation: Installation, settings: StartSettings, wiring: Wiring) -> Mapping[str, BenchInput]:
    """Return the inputs that can be imitated at a lead, by name; one that comes over the data bus is not among them."""
    out: dict[str, BenchInput] = {}
    by_id = {f.id: f for f in wiring.faults}
    for joint in installation.joints:
        field = FIELD_OF.get(joint.function)
        if field is None or field not in settings.senses or field == "engine" or field in out:
            continue
        rest = getattr(REST, field)
        other = next(v for v in DOMAIN[field] if v != rest)
        # The car's own lamp means something with its ignition on only.
        phase: Literal["rest", "ignition on"] = "ignition on" if field == "wait_lamp" else "rest"
        reads: dict[Clip, object] = {}
        for clip, kind in _CLIPS.items():
            fault = by_id.get(f"{joint.id}!{kind.replace(' ', '-')}")
            if fault is not None:
                reads[clip] = fault.levels[phase][rest]
        sound = wiring.sound[field][phase]
        at_rest, otherwise = _clip(reads, sound[rest]), _clip(reads, sound[other])
        if at_rest is not None and otherwise is not None and at_rest != otherwise:
            out[field] = BenchInput(input=field, joint=joint, rest=at_rest, other=otherwise)
    return MappingProxyType(out)


def engine_on_bench(installation: Installation, settings: StartSettings) -> EngineOnBench | None:
    """Return how a running engine is imitated; None where its speed comes over the data bus, which no bench has."""
    if settings.detection == "voltage":
        return EngineOnBench(how="supply", joint=None, hertz=None)
    idle = installation.car.traits.idle_rpm or 700.0
    for joint in installation.joints:
        if settings.detection == "wire" and joint.function == "tach" and joint.circuit is not None:
            behaviour = installation.car.circuits[joint.circuit].behaviour
            if isinstance(behaviour, PulseWire):
                return EngineOnBench(how="pulses", joint=joint, hertz=tach_hz(idle, behaviour.pulses_per_rev))
    return None


def cranks_on_bench(installation: Installation, settings: StartSettings, wiring: Wiring) -> bool:
    """Tell whether the kit starts at all on a bench, where the data bus is silent.

    What the kit should hear over the bus and does not hear counts as the value that stops.
    """
    silent = {FIELD_OF[r.function] for r in installation.routes if r.how == "bus" and r.function in FIELD_OF}
    silent &= settings.senses
    levels = {
        name: {phase: dict.fromkeys(DOMAIN[name]) for phase in known}
        for name, known in wiring.sound.items()
        if name in silent
    }
    return starts({**wiring.sound, **levels}, settings)


def on_bench(needed: NeededTest, inputs: Mapping[str, BenchInput]) -> BenchInput | None:
    """Return the lead by which a needed test is done on the bench; None where only the car can show it."""
    return inputs.get(next(iter(needed.test.sets), ""))
