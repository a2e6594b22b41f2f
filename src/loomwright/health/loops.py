"""Whether the compiled loops of the network are there; nobody has to have them, and nothing is compiled to find out."""

from loomwright.health.check import Check
from loomwright.network.kernel import VARIABLE, Kernel, kernel, wished

__all__ = ["check_loops"]

_NAME = "Compiled loops"
_WITHOUT = "numpy does the same work, slower where there is much of it"


def check_loops(of: Kernel = kernel) -> Check:
    """Tell whether the loops are switched off, cannot be had and why, wait to be compiled, or lie ready.

    None of this is out of order: the results are the same to the last bit.

    Raises LoomwrightError where the environment says of them what they do not know.
    """
    if wished() == "off":
        return Check(name=_NAME, good=True, said=f"off, since {VARIABLE} says so; {_WITHOUT}")
    ready = of.is_compiled()
    if of.trouble:
        return Check(name=_NAME, good=True, said=f"not there, {of.trouble}; {_WITHOUT}")
    if ready:
        return Check(name=_NAME, good=True, said=f"ready, in {of.folder}")
    kept = "not compiled yet" if of.folder is not None else "kept nowhere, since this user has no home folder"
    return Check(name=_NAME, good=True, said=f"{kept}; the first long work compiles them, until then {_WITHOUT}")
