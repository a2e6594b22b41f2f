"""The order check's questions, one after the other: which car it is, then what else decides about the kit.

Answers are a mapping of question id -> value, or NOT_SURE. The id of a question about the car is that of its axis;
the others have ids with a stroke, which no axis has.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from loomwright.documents.kit import Kit
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Axis, Vehicle
from loomwright.errors import LoomwrightError
from loomwright.fitting.outcomes import Outcomes, Variant
from loomwright.fitting.shortest import Questionnaire
from loomwright.planning.installation import Installation

__all__ = [
    "ELSEWHERE", "KEYS", "NOT_SURE", "PARKED", "PARKINGS", "PLACE", "AnswerError", "Choice", "Parking", "Question",
    "Settled", "family_name", "keys_needed", "next_question", "variant_words",
]  # fmt: skip

NOT_SURE = "not sure"
KEYS = "order/keys"
PARKED = "order/parked"
PLACE = "order/place"
ELSEWHERE = "elsewhere"

Parking = Literal["attached-garage", "enclosed-garage", "street", "private-ground"]
PARKINGS: tuple[Parking, ...] = ("attached-garage", "enclosed-garage", "street", "private-ground")


class AnswerError(LoomwrightError):
    """An answer that no car of the family has, or that is no answer to this question; the text says which."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One answer and what the buyer sees where it is the right one."""

    value: str
    cue: str  # empty where the papers have the words


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question to the buyer; NOT_SURE may be answered too."""

    id: str
    ask: str  # empty where the papers have the words
    choices: tuple[Choice, ...]  # only what is still possible
    kind: Literal["axis", "keys", "parking", "place"]
    never: tuple[Choice, ...] = ()  # values that were not built together with the answers so far


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """Nothing that matters is left to ask."""

    possible: tuple[Variant, ...]  # the variants that have every answer
    open: tuple[str, ...]  # axes whose answer would still change something, which the buyer was not sure of
    spare: tuple[str, ...]  # axes that stay open and change nothing


def family_name(vehicle: Vehicle) -> str:
    """Return the family's name as page one has it: maker and model of its first badge."""
    return f"{vehicle.names[0].maker} {vehicle.names[0].model}"


def variant_words(choice: Mapping[str, str]) -> str:
    """Return answers as a person says them: 'year 2013, body sedan'."""
    return ", ".join(f"{axis} {value}" for axis, value in choice.items())


def keys_needed(all_outcomes: Outcomes, possible: tuple[Variant, ...]) -> int:
    """Return how many working keys the vehicle module needs to learn, the most of all variants the kit fits."""
    found = (all_outcomes[variant] for variant in possible)
    fitting = [o.found.car.traits.keys_to_learn or 0 for o in found if isinstance(o.found, Installation)]
    return max(fitting, default=0)


def next_question(
    vehicle: Vehicle, kit: Kit, shop: Shop, answers: Mapping[str, str], all_outcomes: Outcomes
) -> Question | Settled:
    """Return what to ask next, or that nothing which matters is left to ask.

    An axis is asked only while its answer can change whether or how the kit fits, and only the values are offered that
    were built together with the answers so far. Where the kit can fit, the keys, the parking place and, where the
    shop has entered any, the places with limits follow.

    Parameters
    ----------
    vehicle
        The family.
    kit
        The kit.
    shop
        The shop.
    answers
        The answers so far: question id -> value, or NOT_SURE.
    all_outcomes
        What comes of the kit in every variant, as `outcomes` returned it, proved or not.

    Raises
    ------
    AnswerError
        Where an answer is none of its question's, or no car has these answers together.
    """
    _check_answers(vehicle, shop, answers)
    known = {a.id: answers[a.id] for a in vehicle.axes if answers.get(a.id, NOT_SURE) != NOT_SURE}
    questions = Questionnaire(outcomes=all_outcomes)
    left = questions.with_answers(known)
    if not left:
        raise AnswerError(_never_built(vehicle, known, all_outcomes))
    axis = questions.next_axis(left, questions.mask(a.id for a in vehicle.axes if a.id not in answers))
    if axis is not None:
        return _about(next(a for a in vehicle.axes if a.id == axis), questions.possible(axis, left))
    possible = questions.listed(left)
    if any(all_outcomes[variant].verdict != "does-not-fit" for variant in possible):
        needed = keys_needed(all_outcomes, possible) if kit.vehicle_module is not None else 0
        if needed and KEYS not in answers:
            return Question(id=KEYS, ask="", choices=_unworded(map(str, range(needed + 1))), kind="keys")
        if PARKED not in answers:
            return Question(id=PARKED, ask="", choices=_unworded(PARKINGS), kind="parking")
        if shop.local_limits and PLACE not in answers:
            places = (*(limit.place for limit in shop.local_limits), ELSEWHERE)
            return Question(id=PLACE, ask="", choices=_unworded(places), kind="place")
    unknown = [a.id for a in vehicle.axes if a.id not in known and len(questions.possible(a.id, left)) > 1]
    mask = questions.mask(unknown)
    open_axes = () if questions.settled(left, mask) else questions.needed(left, mask)
    return Settled(possible=possible, open=open_axes, spare=tuple(a for a in unknown if a not in open_axes))


def _unworded(values: Iterable[str]) -> tuple[Choice, ...]:
    return tuple(Choice(value=value, cue="") for value in values)


def _about(axis: Axis, possible: tuple[str, ...]) -> Question:
    choices = [Choice(value=v.value, cue=v.cue) for v in axis.values]
    return Question(
        id=axis.id, ask=axis.ask, choices=tuple(c for c in choices if c.value in possible), kind="axis",
        never=tuple(c for c in choices if c.value not in possible),
    )  # fmt: skip


def _check_answers(vehicle: Vehicle, shop: Shop, answers: Mapping[str, str]) -> None:
    """Raise AnswerError for the first answer to no question, or that is none of its question's choices."""
    allowed: dict[str, tuple[str, ...]] = {axis.id: tuple(v.value for v in axis.values) for axis in vehicle.axes}
    allowed |= {PARKED: PARKINGS, PLACE: (*(limit.place for limit in shop.local_limits), ELSEWHERE)}
    for name, value in answers.items():
        if value == NOT_SURE:
            continue
        if name == KEYS:
            if not value.isdecimal():
                raise AnswerError(f"keys: found {value!r}, expected a whole number; count those that start the engine")
        elif name not in allowed:
            axes = ", ".join(axis.id for axis in vehicle.axes) or "none"
            raise AnswerError(f"found an answer about {name!r}, expected one about: {axes}; correct that word")
        elif value not in allowed[name]:
            what = name.partition("/")[2] or name
            raise AnswerError(
                f"{what}: found {value!r}, expected one of: {', '.join(allowed[name])}, {NOT_SURE}; correct that word"
            )


def _never_built(vehicle: Vehicle, known: Mapping[str, str], all_outcomes: Outcomes) -> str:
    """Return in the buyer's words the fewest answers that no car has together, and where to look again."""
    fewest = next(
        some
        for count in range(1, len(known) + 1)
        for some in combinations(known.items(), count)
        if not any(set(some) <= set(variant) for variant in all_outcomes)
    )
    cues = {(axis.id, value.value): value.cue for axis in vehicle.axes for value in axis.values}
    look = "; ".join(f"{axis} {value} ({cues[axis, value].rstrip('.')})" for axis, value in fewest)
    return f"No {family_name(vehicle)} was built as {variant_words(dict(fewest))}; look again at {look}"
