"""`ask`: ask a buyer as little as settles whether a kit fits their car, and tell what comes of it."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from loomwright.cli.choosing import load_pair, pair_of, pairs_of_words
from loomwright.cli.main import FINDINGS, OK
from loomwright.cli.progress import progress

if TYPE_CHECKING:
    from collections.abc import Mapping

    from loomwright.fitting.order import Order
    from loomwright.fitting.questions import Choice, Question

__all__ = ["ask"]

# As in `loomwright.fitting.questions`, which the help must not load.
_PARKINGS = ("attached-garage", "enclosed-garage", "street", "private-ground")


@click.command("ask")
@click.argument("pair", nargs=-1, metavar="VEHICLE KIT")
@click.option("--shop", type=click.Path(path_type=Path), help="Shop file; else shop.yaml above the vehicle.")
@click.option(
    "--evidence", multiple=True, type=click.Path(path_type=Path), help="Evidence files; else those of the shop."
)
@click.option(
    "--answer", "given", multiple=True, metavar="AXIS=VALUE ...", help="An answer; the value 'not sure' may be given."
)
@click.option("--keys", type=click.IntRange(0, 99), help="How many of the buyer's keys start the engine.")
@click.option("--parked", type=click.Choice(_PARKINGS), help="Where the car stands when it is to be started.")
@click.option("--place", help="Which of the places of the shop's local limits, or 'elsewhere'.")
@click.option("--language", metavar="CODE", help="What the answer is written in: en or fr; else as the shop file says.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object with the verdict and the next question.")
def ask(
    pair: tuple[str, ...], given: tuple[str, ...], *, keys: int | None, parked: str | None, place: str | None,
    language: str | None, as_json: bool, **options: Any,
) -> int:  # fmt: skip
    """Ask as little as settles whether KIT fits a buyer's VEHICLE, and tell what comes of it.

    In a terminal, without --answer or --json, the questions come one at a time. Else the answers given count, and the
    next question is told. Exit code 1: an exception, an open question about the car, or the kit does not fit.

    Example: loomwright ask shop/vehicles/a.yaml shop/kits/b.yaml --answer engine=2.4 year=2013 --keys 2
    """
    vehicle, kit, more = pair_of(pair)
    answers = pairs_of_words((*given, *more), "--answer")
    read = load_pair(vehicle, kit, options["shop"], options["evidence"])

    from loomwright.fitting.order import begin, order_check
    from loomwright.fitting.questions import KEYS, PARKED, PLACE
    from loomwright.papers.words.en import order as words

    own = {KEYS: None if keys is None else str(keys), PARKED: parked, PLACE: place}
    answers |= {name: value for name, value in own.items() if value is not None}
    order = begin(read.vehicle, read.kit, read.shop, read.evidence, progress(words.PLANNING))
    if not given and not more and not as_json and sys.stdin.isatty():
        order, answers = _interview(order, answers)
    check = order_check(order, answers, progress(words.PROVING))
    if as_json:
        import json

        from loomwright.papers.order_object import order_object

        click.echo(json.dumps(order_object(check), indent=2, ensure_ascii=False))
    else:
        from loomwright.papers.languages import language_of
        from loomwright.papers.order_check import order_paper
        from loomwright.papers.translating import in_language
        from loomwright.sheets import render

        code = read.shop.language if language is None else language
        paper = in_language(order_paper(check), language_of(code, read.shop, read.vehicle, read.kit))
        click.echo(render(paper, "text").decode(), nl=False)
    return OK if check.ready else FINDINGS


def _interview(order: "Order", answers: dict[str, str]) -> "tuple[Order, dict[str, str]]":
    """Ask one question at a time until nothing that matters is left; 'b' takes the last answer back.

    Raises click.Abort where the terminal ends the input.
    """
    from loomwright.fitting.order import advance
    from loomwright.fitting.questions import NOT_SURE, Question
    from loomwright.papers.order_check import worded
    from loomwright.papers.words.en import order as words

    asked: list[str] = []
    while True:
        order, step = advance(order, answers, progress(words.PROVING))
        if not isinstance(step, Question):
            return order, answers
        question = worded(step)
        _show(question, len(asked) + 1)
        value = _choose(question)
        if value is not None:
            answers = {**answers, question.id: value or NOT_SURE}
            asked.append(question.id)
        elif asked:
            back = asked.pop()
            answers = {name: value for name, value in answers.items() if name != back}
        else:
            click.echo(words.NO_BEFORE)


def _labelled(question: "Question") -> "Mapping[str, Choice]":
    """Return the choices by what is typed for them: a count by itself, everything else by its place in the list."""
    if question.kind == "keys":
        return {choice.value: choice for choice in question.choices}
    return {str(index): choice for index, choice in enumerate(question.choices, start=1)}


def _show(question: "Question", number: int) -> None:
    from loomwright.papers.words.en import order as words

    click.echo()
    click.echo(words.ASKED.format(number=number, ask=question.ask))
    for label, choice in _labelled(question).items():
        if label == choice.value:
            click.echo(words.OPTION.format(number=label, value=choice.cue))
        elif choice.cue:
            click.echo(words.OPTION_CUE.format(number=label, value=choice.value, cue=choice.cue))
        else:
            click.echo(words.OPTION.format(number=label, value=choice.value))
    click.echo(words.OPTION_NOT_SURE)
    if number > 1:
        click.echo(words.OPTION_BACK)
    if question.never:
        click.echo(words.NEVER.format(values=", ".join(choice.value for choice in question.never)))


def _choose(question: "Question") -> str | None:
    """Return the value chosen, '' for not sure, or None for back."""
    from loomwright.papers.words.en import order as words

    while True:
        word = click.prompt(words.PROMPT, prompt_suffix=": ").strip().lower()
        if word in ("n", "not sure", "?"):
            return ""
        if word in ("b", "back"):
            return None
        labelled = _labelled(question)
        if word in labelled:
            return labelled[word].value
        if question.kind == "keys" and word.isdecimal():
            return word  # more than are needed
        labels = list(labelled)
        click.echo(words.NO_SUCH.format(first=labels[0], last=labels[-1]))
