"""The rule of start requests: the kit's signal ends before the engine computer takes it for a fault."""

from collections.abc import Iterator

from loomwright.documents.behaviour import StartRequest
from loomwright.network.results import Finding, Number
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["check_start_pulse"]


def check_start_pulse(installation: Installation) -> Iterator[Finding]:
    """Yield a finding for each start request that the kit, as it is set, would hold too long."""
    chosen = dict(installation.settings)
    pulses = [
        choice.pulse_s
        for setting in installation.kit.settings
        for choice in setting.choices
        if choice.pulse_s is not None and chosen.get(setting.id) == choice.value
    ]
    terminals = {t.id: t for t in installation.kit.controller.terminals}
    for joint in installation.joints:
        circuit = installation.car.circuits.get(joint.circuit or "")
        if circuit is None or not isinstance(circuit.behaviour, StartRequest):
            continue
        hold_s = circuit.behaviour.hold_s
        if not terminals[joint.terminal].kind.endswith("output") or any(p <= hold_s for p in pulses):
            continue
        gives = told("gives {longest:g} s", longest=max(pulses)) if pulses else "holds it until the engine runs"
        yield Finding(
            code="start-held",
            severity="stop",
            subject=joint.id,
            message=told(
                "The engine computer takes a start signal of at most {hold_s:g} s; the kit as it is set {gives}.",
                hold_s=hold_s,
                gives=gives,
            ),
            state=None,
            path=(joint.id,),
            numbers=(Number(name="longest signal", value=hold_s, unit="s", where=joint.id),),
            advice="Set a start pulse that is no longer, or use a kit that has one.",
            source="vehicle document: longest time the start signal may stay on",
        )
