"""docs/reference/json.md: the keys of the JSON objects that `--json` prints, read out of the modules that make them.

The keys come from the dict literals of `papers/*_object.py`, so that none can be forgotten; what they hold is said
in `json_meanings`. A test compares both with real objects.
"""

import ast
import inspect
from collections.abc import Iterator
from types import MappingProxyType

from loomwright.papers import match_object, order_object, shared_object, start_object, trace_object, weigh_object
from tools.reference.json_meanings import JSON_MEANINGS
from tools.reference.markdown import code, page, table

__all__ = ["JSON_MODULES", "JSON_PARTS", "json_page", "keys_of", "parts_named"]

JSON_MODULES = (match_object, shared_object, order_object, start_object, trace_object, weigh_object)

# Function -> heading of its part of the page.
JSON_PARTS = MappingProxyType({
    "match_object": "What match prints",
    "readings_object": "What readings prints",
    "order_object": "What ask prints",
    "car_and_kit": "Car and kit",
    "_route": "Route",
    "_joint": "Joint",
    "_rejected": "Rejected way",
    "_unserved": "Unserved function",
    "finding_object": "Finding",
    "state_object": "State",
    "_lead": "Unused lead",
    "_question": "Question",
    "_exception": "Exception",
    "_limit": "Local limit",
    "start_object": "What rehearse prints",
    "_property": "Property of the start",
    "_silent": "Silent fault",
    "_scenario": "Rehearsed scenario",
    "_verdict": "Verdict of a scenario",
    "_happening": "Event of a rehearsal",
    "_moment": "Moment of a rehearsal",
    "_advice": "Advice on settings",
    "_wait": "Waiting time at a temperature",
    "trace_object": "What readings prints with a trace",
    "_hop": "Element of a trace",
    "weigh_object": "What weigh prints",
    "_weight": "Weight of a fact",
})  # fmt: skip


def _functions() -> dict[str, ast.FunctionDef]:
    trees = [ast.parse(inspect.getsource(module)) for module in JSON_MODULES]
    functions = [node for tree in trees for node in tree.body if isinstance(node, ast.FunctionDef)]
    return {node.name: node for node in functions}


def _dicts(node: ast.expr | None) -> Iterator[tuple[ast.Dict, str]]:
    """Yield the dict literals a value may be, each with `[]` where it is the entry of a list."""
    if isinstance(node, ast.Dict):
        yield node, ""
    elif isinstance(node, ast.IfExp):
        yield from _dicts(node.body)
        yield from _dicts(node.orelse)
    elif isinstance(node, ast.ListComp):
        yield from ((inner, "[]" + at) for inner, at in _dicts(node.elt))


def _called(node: ast.expr) -> str | None:
    """Return the name of the function whose result a value is, or whose results its entries are."""
    if isinstance(node, ast.ListComp):
        return _called(node.elt)
    if isinstance(node, ast.IfExp):
        return _called(node.body) or _called(node.orelse)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return node.func.id
    return None


def _keys(literal: ast.Dict, before: str) -> Iterator[str]:
    for key, value in zip(literal.keys, literal.values, strict=True):
        if not isinstance(key, ast.Constant) or not isinstance(key.value, str):
            continue  # `**car_and_kit(...)`: described once, in its own part
        path = f"{before}{key.value}"
        yield path
        for inner, at in _dicts(value):
            yield from _keys(inner, f"{path}{at}.")


def keys_of(function: str) -> tuple[str, ...]:
    """Return every key of the dict literals that a function of `match_object` returns, nested ones with dots."""
    found: dict[str, None] = {}
    returned = [n.value for n in ast.walk(_functions()[function]) if isinstance(n, ast.Return)]
    for value in returned:
        for literal, _ in _dicts(value):
            found.update(dict.fromkeys(_keys(literal, "")))
    if function == "match_object":  # a refusal has the same top keys and one part of its own
        own = [k for k in keys_of("refusal_object") if k.startswith("refusal.")]
        return tuple(key for name in found for key in ([name, *own] if name == "refusal" else [name]))
    return tuple(found)


def parts_named() -> dict[str, str]:
    """Return function.key -> the function that makes its value, for values that are described in their own part."""
    out = {}
    for name, function in _functions().items():
        for literal in (n for n in ast.walk(function) if isinstance(n, ast.Dict)):
            for key, value in zip(literal.keys, literal.values, strict=True):
                maker = _called(value)
                if isinstance(key, ast.Constant) and isinstance(key.value, str) and maker in JSON_PARTS:
                    out[f"{name}.{key.value}"] = str(maker)
    return out


def _part(function: str) -> str:
    meanings = JSON_MEANINGS[function]
    rows = [(code(key), *meanings[key]) for key in keys_of(function)]
    text = f"## {JSON_PARTS[function]}\n\n"
    if function in ("match_object", "readings_object", "start_object", "trace_object", "weigh_object"):
        text += "All keys of [car and kit](#car-and-kit), and:\n\n"
    return text + table(("key", "type", "meaning"), rows)


def json_page() -> str:
    """Return the page.

    Raises KeyError where a key has no meaning in the table.
    """
    return page(
        "JSON",
        "With `--json`, `loomwright match`, `readings`, `ask`, `rehearse` and `weigh` print one object each, and "
        "`readings` another one with `--trace`; `loomwright write` keeps that of `match` as `match.json`. Keys are "
        "stable: later versions may add some, and take none away without saying so. Units stand at the end of a key or "
        "in its meaning; see [units](nomenclature.md). A refused kit gives the same top keys with empty lists, and "
        "`refusal` filled in, from `match` and `readings`.",
        *(_part(name) for name in JSON_PARTS),
    )
