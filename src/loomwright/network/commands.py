"""The kit's command table: which outputs are on while it turns the ignition on, cranks and runs."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import get_args

from loomwright.documents.kit import Terminal
from loomwright.network.states import Command
from loomwright.planning.installation import Installation

__all__ = ["DEFAULT_PHASES", "PHASES", "command_table", "driven_functions", "momentary_commands"]

PHASES = ("ignition on", "cranking", "running")

# When a controller has an output on where the kit document does not say. Accessory and second ignition drop while
# cranking as the factory switch lets them (key-position tables of published service manuals; common practice).
DEFAULT_PHASES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "ignition": ("ignition on", "cranking", "running"),
        "second ignition": ("ignition on", "running"),
        "accessory": ("ignition on", "running"),
        "accessory 2": ("ignition on", "running"),
        "start": ("cranking",),
        "second start": ("cranking",),
        "parking light": ("running",),
        "parking light left": ("running",),
        "parking light right": ("running",),
        # A button car is asked to crank by both at once: the pedal's line held, the button pressed (common practice).
        "brake line": ("cranking",),
        "start button": ("cranking",),
        "running status": ("ignition on", "cranking", "running"),
    }
)


def _phases(terminal: Terminal) -> tuple[str, ...]:
    return terminal.on_while or DEFAULT_PHASES.get(terminal.function, ())


def driven_functions(installation: Installation) -> tuple[str, ...]:
    """Return the functions the kit drives by wire in this installation."""
    terminals = {t.id: t for t in installation.kit.controller.terminals}
    known = set(get_args(Command))
    return tuple(
        dict.fromkeys(
            terminals[j.terminal].function
            for j in installation.joints
            if terminals[j.terminal].kind.endswith("output") and terminals[j.terminal].function in known
        )
    )


def command_table(installation: Installation) -> Mapping[str, frozenset[str]]:
    """Return the outputs that are on in each phase of a start, wired ones only."""
    wired = driven_functions(installation)
    outputs = [t for t in installation.kit.controller.terminals if t.kind.endswith("output") and t.function in wired]
    return MappingProxyType(
        {phase: frozenset(str(t.function) for t in outputs if phase in _phases(t)) for phase in PHASES}
    )


def momentary_commands(installation: Installation) -> tuple[str, ...]:
    """Return the outputs the kit pulses by themselves: locks, horn and the like."""
    table = command_table(installation)
    steady = frozenset().union(*table.values())
    return tuple(f for f in driven_functions(installation) if f not in steady)
