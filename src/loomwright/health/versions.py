"""Which versions are installed, and whether they are those that the project asks for."""

import platform
import re
from collections.abc import Iterator, Mapping
from importlib import metadata

from loomwright.health.check import Check

__all__ = ["check_packages", "check_python", "holds", "versions"]

_OURS = "loomwright"
_NAME = re.compile(r"[A-Za-z0-9._-]+")
_BOUND = re.compile(r"(>=|<=|==|!=|<|>)\s*([0-9][0-9.]*)")


def _number(version: str) -> tuple[int, ...]:
    """Return the leading numbers of a version, '2.13.0rc1' as (2, 13)."""
    found = re.match(r"\d+(?:\.\d+)*", version)
    digits = [int(part) for part in found[0].split(".")] if found else [0]
    while len(digits) > 1 and digits[-1] == 0:
        digits.pop()
    return tuple(digits)


def holds(version: str, bounds: str) -> bool:
    """Tell whether a version lies within bounds such as '>=2.13,<3'."""
    at = _number(version)
    compared: Mapping[str, bool]
    for sign, bound in _BOUND.findall(bounds):
        to = _number(bound)
        compared = {">=": at >= to, "<=": at <= to, "==": at == to, "!=": at != to, "<": at < to, ">": at > to}
        if not compared[sign]:
            return False
    return True


def _wanted() -> Iterator[tuple[str, str]]:
    """Yield (name, bounds) of every package that the project needs to run."""
    for line in metadata.requires(_OURS) or ():
        requirement, _, marker = line.partition(";")
        if "extra" not in marker:
            name = _NAME.match(requirement.strip())
            if name is not None:
                yield name[0], requirement.strip()[name.end() :]


def versions() -> dict[str, str]:
    """Return the version of this program, of Python, of the machine's system, and of every package it needs."""
    found = {
        _OURS: metadata.version(_OURS), "python": platform.python_version(),
        "system": f"{platform.system()} {platform.release()} {platform.machine()}",
    }  # fmt: skip
    for name, _ in _wanted():
        try:
            found[name] = metadata.version(name)
        except metadata.PackageNotFoundError:
            found[name] = "missing"
    return found


def check_python() -> Check:
    """Look at the version of Python."""
    wanted = metadata.metadata(_OURS)["Requires-Python"]
    version = platform.python_version()
    good = holds(version, wanted)
    return Check(
        name="Python", good=good, said=f"{version}, expected {wanted}",
        do="" if good else f"Install a Python {wanted} and Loomwright in it.",
    )  # fmt: skip


def check_packages() -> Check:
    """Look at the packages that the project needs."""
    wrong, count = [], 0
    for name, bounds in _wanted():
        count += 1
        try:
            version = metadata.version(name)
        except metadata.PackageNotFoundError:
            wrong.append(f"{name} is missing")
            continue
        if not holds(version, bounds):
            wrong.append(f"{name} is {version}, expected {bounds}")
    said = "; ".join(wrong) if wrong else f"all {count} are there in the versions asked for"
    return Check(name="Packages", good=not wrong, said=said, do="Install Loomwright once more." if wrong else "")
