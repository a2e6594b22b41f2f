"""pydantic's errors as faults that name place, what was found, what is expected and what to do.

Three things are put right on the way. A union in which every branch was tried is told by the branch that was meant. A
key that is misspelt is one fault, and not an unknown key and a missing one. And what a validator says in its own words
(`Fault`, or a `ValueError` that says 'found ..., expected ...; ...') stays in its words.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, Union

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from loomwright.documents._tree import Path, Tree, Trouble
from loomwright.documents._wanted import number_advice, options, tags_of, wanted
from loomwright.documents._where import Kind, Place, keys_of, place_of, stripped
from loomwright.documents._words import choices, nearest, quoted, show
from loomwright.documents.fault import Fault, Faults

__all__ = ["troubles_of"]

# Nobody corrects more at once, and a file of another program may have a hundred thousand. A union gives several errors
# for one fault.
_MOST = 200
_MOST_ERRORS = 4000

_NUMBERS = frozenset({
    "int_type", "int_parsing", "int_from_float", "int_parsing_size", "float_type", "float_parsing", "finite_number",
    "decimal_type", "decimal_parsing",
})  # fmt: skip
_RANGES = frozenset({"greater_than", "greater_than_equal", "less_than", "less_than_equal", "multiple_of"})
# Errors that say: this branch of a union is of another make altogether.
_OTHER_MAKE = re.compile(r"(_type|_parsing|_from_float|_written|^none_required|^dataclass_exact)$")
_YES = frozenset({"yes", "y", "on", "true", "1"})
_NO = frozenset({"no", "n", "off", "false", "0"})
_OWN_WORDS = re.compile(r"found (?P<found>.+?), expected (?P<expected>[^;]+)(?:; (?P<advice>.+))?", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Miss:
    """One of pydantic's errors and its place."""

    type: str
    place: Place
    value: object
    context: dict[str, Any]
    text: str

    @property
    def path(self) -> Path:
        return self.place.path


def troubles_of(error: ValidationError, model: type[BaseModel], tree: Tree) -> list[Trouble]:
    """Return the faults of a document that its model refused, in pydantic's order.

    Parameters
    ----------
    error
        What validating `tree.value` by the model raised.
    model
        The model of the document.
    tree
        The document.
    """
    misses = [
        _Miss(
            type=found["type"],
            place=place_of(model, found["loc"], tree.value),
            value=found["input"],
            context=found.get("ctx", {}),
            text=found["msg"],
        )
        for found in error.errors(include_url=False)[:_MOST_ERRORS]
        # pydantic counts only the items that were right, so that a wrong one is told twice.
        if not (found["type"] == "too_short" and len(found["input"]) >= found["ctx"]["min_length"])
    ]
    troubles: list[Trouble] = []
    settled = _settled(misses, 0)
    misspelt = _misspelt(settled[:_MOST], tree.value)
    for miss in settled[:_MOST]:
        if miss.type == "missing" and miss.path in misspelt.values():
            continue
        troubles += _told(miss, misspelt.get(miss.path), tree.value)
    if len(settled) > _MOST:
        more = Trouble(
            path=(),
            line=0,
            found=f"more than {_MOST} faults",
            expected="none",
            advice="correct these first, and read the file again",
        )
        troubles.append(more)
    return troubles


def _settled(misses: list[_Miss], level: int) -> list[_Miss]:
    """Choose, for every union in which all branches failed, the errors of the branch that was meant."""
    chosen: list[_Miss] = []
    groups: dict[Path, list[_Miss]] = {}
    for miss in misses:
        if len(miss.place.forks) > level:
            fork = miss.place.forks[level]
            at = miss.path[: fork.depth]
            if at not in groups:
                groups[at] = []
                # A stand-in that keeps the union's turn; its errors follow when all of them are known.
                chosen.append(miss)
            groups[at].append(miss)
        else:
            chosen.append(miss)
    result: list[_Miss] = []
    for miss in chosen:
        if len(miss.place.forks) > level:
            result += _branch_meant(groups[miss.path[: miss.place.forks[level].depth]], level)
        else:
            result.append(miss)
    return result


def _branch_meant(misses: list[_Miss], level: int) -> list[_Miss]:
    branches: dict[str, list[_Miss]] = {}
    for miss in misses:
        branches.setdefault(miss.place.forks[level].label, []).append(miss)
    depth = misses[0].place.forks[level].depth

    def is_shallow(errors: Iterable[_Miss]) -> bool:
        return all(len(miss.path) == depth and not miss.place.is_key for miss in errors)

    def is_other_make(errors: Iterable[_Miss]) -> bool:
        return any(len(miss.path) == depth and _OTHER_MAKE.search(miss.type) for miss in errors)

    inside = [errors for errors in branches.values() if not is_shallow(errors) and not is_other_make(errors)]
    if inside:
        # The branch with the fewest foreign keys, then the fewest faults, is the one that was meant.
        best = min(inside, key=lambda errors: (sum(_is_foreign(miss) for miss in errors), len(errors)))
        return _settled(best, level + 1)
    # The value itself fits no branch. Where one of them is of the same make, it knows the limits that were passed.
    same_make = [errors for errors in branches.values() if not is_other_make(errors)]
    if len(same_make) == 1 and not same_make[0][0].type.endswith(("literal_error", "enum")):
        return _settled(same_make[0], level + 1)
    tried = tuple(errors[0].place.forks[level].branch for errors in branches.values())
    kind = None if None in tried else Kind(type=Union, branches=tried)
    first = misses[0]
    return [replace(first, type="union", place=replace(first.place, kind=kind), context={})]


def _is_foreign(miss: _Miss) -> bool:
    """Tell whether it is a key that the model neither has nor nearly has."""
    if miss.type != "extra_forbidden" or miss.place.owner is None:
        return False
    return nearest(str(miss.path[-1]), keys_of(miss.place.owner)) is None


def _misspelt(misses: Iterable[_Miss], document: object) -> dict[Path, Path]:
    """Path of every unknown key that is nearly a known one -> path that was meant."""
    meant: dict[Path, Path] = {}
    for miss in misses:
        if miss.type != "extra_forbidden" or miss.place.owner is None:
            continue
        written = block if isinstance(block := _value(document, miss.path[:-1]), dict) else {}
        known = list(keys_of(miss.place.owner))
        word = str(miss.path[-1])
        near = nearest(word, [key for key in known if key not in written]) or nearest(word, known)
        if near is not None:
            meant[miss.path] = (*miss.path[:-1], near)
    return meant


def _value(document: object, path: Path) -> object:
    """Return the value of a path, `None` where the file has none."""
    for step in path:
        if isinstance(document, dict):
            document = document.get(step)
        elif isinstance(document, list) and isinstance(step, int) and step < len(document):
            document = document[step]
        else:
            return None
    return document


def _told(miss: _Miss, meant: Path | None, document: object) -> list[Trouble]:
    """Return the faults that one error stands for: one, but for a validator that found several."""
    error = miss.context.get("error")
    if isinstance(error, Faults):
        return [_fault(miss, fault, document) for fault in error.faults]
    if isinstance(error, Fault):
        return [_fault(miss, error, document)]
    if miss.type in {"value_error", "assertion_error"}:
        return [_in_own_words(miss, str(error))]
    if miss.type == "missing":
        return [_missing(miss)]
    if miss.type == "extra_forbidden":
        return [_unknown_key(miss, meant)]
    if miss.type.startswith("union_tag_"):
        return [_wrong_tag(miss)]
    return [_wrong_value(miss)]


def _fault(miss: _Miss, fault: Fault, document: object) -> Trouble:
    path = (*miss.path, *fault.at)
    value = _value(document, path) if fault.at else miss.value
    found = show(value) if fault.found is None else fault.found
    return Trouble(path=path, line=None, found=found, expected=fault.expected, advice=fault.advice)


def _in_own_words(miss: _Miss, text: str) -> Trouble:
    said = _OWN_WORDS.fullmatch(text)
    found = show(miss.value) if said is None else said["found"]
    expected = text if said is None else said["expected"]
    advice = said["advice"] if said is not None and said["advice"] else "correct it"
    return Trouble(path=miss.path, line=None, found=found, expected=expected, advice=advice)


def _missing(miss: _Miss) -> Trouble:
    key = miss.path[-1]
    expected = wanted(miss.place.kind, key)
    if description := _description(miss.place):
        expected += f" ({description})"
    advice = f"add the key {quoted(key)}" if isinstance(key, str) else "add it to the list"
    return Trouble(path=miss.path, line=None, found="nothing", expected=expected, advice=advice)


def _description(place: Place) -> str | None:
    """Return what the models say of the value: its type before the key it stands under."""
    said = [inner.description for inner in (place.kind.metadata if place.kind else ()) if isinstance(inner, FieldInfo)]
    text = next(filter(None, [*said, place.field.description if place.field else None]), None)
    return None if text is None else text.rstrip(".")


def _unknown_key(miss: _Miss, meant: Path | None) -> Trouble:
    word = str(miss.path[-1])
    owner = miss.place.owner
    known = [] if owner is None else list(keys_of(owner))
    return Trouble(
        path=miss.path,
        line=None,
        found=f"the key {quoted(word)}",
        expected=choices(known, word) if known else "no such key",
        advice="delete it, or use one of those" if meant is None else f"did you mean {quoted(str(meant[-1]))}?",
    )


def _wrong_tag(miss: _Miss) -> Trouble:
    """Tell which word of a discriminated union is missing or wrong; `wanted` lists those that exist."""
    kind = miss.place.kind
    key = None if kind is None else kind.discriminator
    if kind is None or key is None or not isinstance(miss.value, dict):
        return _wrong_value(miss)
    tags = tags_of(kind)
    path = (*miss.path, key)
    if key not in miss.value:
        near = nearest(key, [str(written) for written in miss.value])
        return Trouble(
            path=path,
            line=None,
            found="nothing" if near is None else f"the key {quoted(near)}",
            expected=choices(tags) if near is None else f"the key {quoted(key)}",
            advice=f"add the key {quoted(key)}" if near is None else f"did you mean {quoted(key)}?",
        )
    return _choice(path, miss.value[key], tags)


def _choice(path: Path, value: object, allowed: Iterable[object]) -> Trouble:
    listed = list(allowed)
    word = value if isinstance(value, str) else None
    near = None if word is None else nearest(word, [option for option in listed if isinstance(option, str)])
    return Trouble(
        path=path,
        line=None,
        found=show(value),
        expected=choices(listed, word),
        advice="write that" if len(listed) == 1 else "choose one" if near is None else f"did you mean {quoted(near)}?",
    )


def _wrong_value(miss: _Miss) -> Trouble:
    kind = miss.place.kind
    # The unit of an item stands in the key of its list.
    key = next((step for step in reversed(miss.path) if isinstance(step, str)), None)
    if kind is not None and (allowed := options(kind)) and miss.type in {"literal_error", "enum", "union"}:
        return _choice(miss.path, miss.value, allowed)
    expected, advice = _length(miss) or (wanted(kind, key), _advice(miss, key))
    if kind is not None and isinstance(miss.value, str):
        words = [word for branch in kind.branches for word in options(stripped(branch)) if isinstance(word, str)]
        near = nearest(miss.value, words)
        advice = advice if near is None else f"did you mean {quoted(near)}?"
    if miss.type == "multiple_of":
        expected = f"a multiple of {miss.context['multiple_of']}"
    elif miss.type == "string_pattern_mismatch":
        expected = f"text of the form {miss.context['pattern']}"
        if description := _description(miss.place):
            expected = f"text as described ({description})"
    elif expected == "a value":
        expected = re.sub("^Input should (be|have) ", "", miss.text)
        expected = expected[:1].lower() + expected[1:]
    return Trouble(path=miss.path, line=None, found=show(miss.value), expected=expected, advice=advice)


def _length(miss: _Miss) -> tuple[str, str] | None:
    if miss.type == "string_too_short":
        least = miss.context["min_length"]
        return ("some text" if least == 1 else f"text of at least {least} characters"), "write it out"
    if miss.type == "string_too_long":
        return f"text of at most {miss.context['max_length']} characters", "shorten it"
    if miss.type == "too_short":
        least = miss.context["min_length"]
        return f"a list of at least {least}", "add what is missing"
    if miss.type == "too_long":
        return f"a list of at most {miss.context['max_length']}", "delete what is too much"
    return None


def _advice(miss: _Miss, key: object) -> str:
    value = miss.value
    if value is None:
        if miss.path and isinstance(miss.path[-1], int):
            return "write the item, or delete its '-'"
        required = miss.place.field is None or miss.place.field.is_required()
        return "write the value" if required else "write the value, or delete the key"
    if miss.type in _NUMBERS:
        if miss.type.startswith("int_") and isinstance(value, float):
            return "write a whole number"
        return number_advice(value, key)
    if miss.type in _RANGES:
        return "correct the number"
    if miss.type == "string_type":
        return "put quotes around it" if isinstance(value, bool | int | float) else "write a text"
    if miss.type.startswith("bool_"):
        word = str(value).lower()
        return "write true" if word in _YES else "write false" if word in _NO else "write true or false"
    if miss.type.startswith("date"):
        return "write year, month and day"
    if miss.type.startswith(("list_", "tuple_", "set_", "frozen_set_")):
        return "write each item on a line of its own, with '- ' before it"
    if miss.type.startswith(("model_", "dict_", "mapping_")):
        return "write its keys, indented, on the lines below"
    return "correct it"
