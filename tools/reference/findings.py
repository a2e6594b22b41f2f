"""docs/reference/findings.md: every code of a finding and of a refusal, read out of the sources that make them."""

import ast
import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from loomwright.network.finding_codes import FINDING_CODES, REFUSAL_CODES
from tools.reference.markdown import code, page, table

__all__ = ["SOURCE", "Made", "findings_made", "findings_page", "refusals_made"]

SOURCE = Path(__file__).parent.parent.parent / "src" / "loomwright"
_HOLE = "<...>"  # stands for what only the run of the program fills in


@dataclass(slots=True, kw_only=True)
class Made:
    """What the sources say of one code."""

    severities: set[str] = field(default_factory=set)
    advice: list[str] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)
    modules: set[str] = field(default_factory=set)


# A finding that hands on what another object says: (code, word) -> the class of that object.
_TOLD_BY = {("settings-contradict", "advice"): "Contradiction", ("protection-broken", "source"): "Property"}


def _text(node: ast.expr) -> str | None:
    """Return a literal text, a filled-in one with holes; None where it is no text."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if isinstance(node, ast.JoinedStr):
        return "".join(p.value if isinstance(p, ast.Constant) and isinstance(p.value, str) else _HOLE
                       for p in node.values)  # fmt: skip
    return None


def _assigned(scope: ast.AST, name: str) -> Iterator[ast.expr]:
    """Yield every expression that a function assigns to a local name, also as part of a tuple."""
    for node in ast.walk(scope):
        if not isinstance(node, ast.Assign):
            continue
        for target in node.targets:
            if isinstance(target, ast.Name) and target.id == name:
                yield node.value
            elif isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
                for part, value in zip(target.elts, node.value.elts, strict=True):
                    if isinstance(part, ast.Name) and part.id == name:
                        yield value


def _cases(node: ast.expr, scope: ast.AST) -> list[tuple[str, str]]:
    """Return (deciding test, text) of everything an expression may be; the test is empty where there is none."""
    if isinstance(node, ast.IfExp):
        test = ast.dump(node.test)
        return [(t + test + "+", x) for t, x in _cases(node.body, scope)] + [
            (t + test + "-", x) for t, x in _cases(node.orelse, scope)
        ]
    if isinstance(node, ast.Name):
        return [case for value in _assigned(scope, node.id) for case in _cases(value, scope)]
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "told":
        return [(test, re.sub(r"\{[^{}]*\}", _HOLE, text)) for test, text in _cases(node.args[0], scope)]
    text = _text(node)
    return [] if text is None else [("", text)]


def _calls(name: str, files: Iterable[Path]) -> Iterator[tuple[ast.Call, ast.AST, str]]:
    """Yield (call, the function it stands in, module) of each construction of a class."""
    for path in sorted(files):
        module = path.relative_to(SOURCE).as_posix()
        for called, call, scope in _calls_in(path.read_text(encoding="utf-8")):
            if called == name:
                yield call, scope, module


@cache
def _calls_in(text: str) -> tuple[tuple[str, ast.Call, ast.AST], ...]:
    """Return (name, call, the function it stands in) of everything that a source calls by a plain name."""
    tree = ast.parse(text)
    owner: dict[ast.AST, ast.AST] = {}
    for scope in ast.walk(tree):
        if isinstance(scope, ast.FunctionDef):
            owner.update(dict.fromkeys(ast.walk(scope), scope))
    return tuple(
        (node.func.id, node, owner.get(node, tree))
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    )


def _said(word: str, name: str, files: Collection[Path]) -> list[str]:
    """Return what stands under a keyword in each construction of a class, each text once."""
    found = [k.value for call, _, _ in _calls(name, files) for k in call.keywords if k.arg == word]
    return list(dict.fromkeys(text for node in found for _, text in _cases(node, ast.Module([], []))))


def _collected(name: str, files: Collection[Path]) -> dict[str, Made]:
    made: dict[str, Made] = {}
    for call, scope, module in _calls(name, files):
        given = {k.arg: k.value for k in call.keywords if k.arg is not None}
        if isinstance(given.get("code"), ast.Attribute):
            continue  # handed on from another object that was read where it was made
        codes = _cases(given["code"], scope) if "code" in given else []
        if not codes:
            raise LookupError(f"{module}:{call.lineno}: the code of this {name} is not a literal text")
        for test, key in codes:
            entry = made.setdefault(key, Made())
            entry.modules.add(module)
            for word, kept in (("advice", entry.advice), ("source", entry.sources)):
                for t, text in _cases(given[word], scope) if word in given else ():
                    if _together(test, t) and text not in kept:
                        kept.append(text)
                if (key, word) in _TOLD_BY:
                    kept += [text for text in _said(word, _TOLD_BY[key, word], files) if text not in kept]
            if "severity" in given:
                entry.severities |= {text for t, text in _cases(given["severity"], scope) if _together(test, t)}
    return made


def _together(one: str, other: str) -> bool:
    """Tell whether two cases may hold at once: not where the same test decides them in opposite ways."""
    return not (one and other and one[:-1] == other[:-1] and one[-1] != other[-1])


def findings_made() -> dict[str, Made]:
    """Return code -> what the sources say, for every finding that any room makes."""
    return _collected("Finding", tuple(SOURCE.rglob("*.py")))


def refusals_made() -> dict[str, Made]:
    """Return code -> what the sources say, for every ground on which a car is refused; holes are `<...>`."""
    return _collected("Grounds", tuple((SOURCE / "planning").rglob("*.py")))


_ORDER = ("stop", "fix", "note")


def findings_page() -> str:
    """Return the page."""
    made = findings_made()
    rows = [
        (
            code(name),
            " or ".join(s for s in _ORDER if s in made[name].severities),
            meaning,
            " Or: ".join(made[name].advice),
            "; ".join(made[name].sources),
        )
        for name, meaning in FINDING_CODES.items()
    ]
    return page(
        "Findings and refusals",
        "A *finding* is a result of the proof: a rule that the installation breaks in some state, or a remark. A "
        "*refusal* comes before the proof: this kit must not be fitted to this car, and no setting changes that. "
        "Codes are stable; scripts may rely on them. What `<...>` stands for is filled in from the case at hand.",
        "## Severity\n\n"
        "* **stop**: the kit does not fit this car as it is.\n"
        "* **fix**: it fits with exceptions; read the finding and decide, or change the kit.\n"
        "* **note**: worth knowing; the verdict does not change.",
        "## Findings",
        table(("code", "severity", "meaning", "what to do", "rule or source"), rows),
        "## Refusals\n\n"
        "Each comes with its reason, a caution and the single fact that would have to be different. "
        "A code that begins with `no-` and is not in this list names a function that nothing serves in the same way.",
        table(("code", "meaning"), ((code(name), meaning) for name, meaning in REFUSAL_CODES.items())),
        "The rules on automatic and manual gearboxes come from 49 CFR 571.102 S3.1.3 and interpretations of it; see "
        "[sources](sources.md).",
    )
