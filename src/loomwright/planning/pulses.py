"""Start requests: a computer cranks by itself on a short signal and takes a long one for a fault."""

from loomwright.documents.behaviour import StartRequest
from loomwright.documents.vehicle import Circuit
from loomwright.planning.candidates import Situation
from loomwright.planning.links import Unfit
from loomwright.sentences import told

__all__ = ["start_pulse"]


def start_pulse(at: Situation, circuit: Circuit) -> tuple[str, str] | Unfit:
    """Return the setting and choice that give the kit's start output as a pulse the computer takes, or why none does.

    The default is kept where it fits, else the longest pulse that does: the computer has most time to see it.
    """
    behaviour = circuit.behaviour
    hold_s = behaviour.hold_s if isinstance(behaviour, StartRequest) else 0.0
    fitting = [
        (choice.value == setting.default, choice.pulse_s, (setting.id, choice.value))
        for setting in at.kit.settings
        for choice in setting.choices
        if choice.pulse_s is not None and choice.pulse_s <= hold_s
    ]
    if fitting:
        return max(fitting)[2]
    shortest = min((c.pulse_s for s in at.kit.settings for c in s.choices if c.pulse_s is not None), default=None)
    has = "no setting for one" if shortest is None else told("none shorter than {shortest:g} s", shortest=shortest)
    return Unfit(
        fact=told(
            "A held signal is a fault for this computer: it wants a start pulse of at most {hold_s:g} s, and the "
            "kit has {has}.", hold_s=hold_s, has=has,
        ),
        cure=told("the kit had a setting for a start pulse of at most {hold_s:g} s", hold_s=hold_s), far=3,
    )  # fmt: skip
