"""The paper that says what to measure next: facts of the documents, ranked by what hangs on them."""

from collections.abc import Sequence

from loomwright.faults.weight import Weight
from loomwright.network.states import state_words
from loomwright.papers.blocks import Block, Bullets, Paper, Paragraph, Quantity, Text
from loomwright.papers.saying import joined, lifted, say
from loomwright.papers.words.en import weighing as words
from loomwright.planning.installation import Installation
from loomwright.sentences import linked, told

__all__ = ["weighing_paper"]


def _name(installation: Installation, circuit: str) -> str:
    c = installation.car.circuits[circuit]
    return c.name or c.function


def _outcome(weight: Weight) -> str:
    if weight.refused is not None and weight.fitted == "none":
        return told(words.REFUSED, reason=weight.refused)
    said = told(words.PLANNED[weight.fitted], codes=", ".join(weight.codes[:3]))
    verdict = words.VERDICTS[weight.verdict_after]
    if weight.routes:
        return linked((said, told(words.ROUTES, tasks=linked(weight.routes, ", "), verdict=verdict)), "")
    return linked((said, told(words.QUIET, verdict=verdict)), "")


def _teller(weight: Weight, trace: str) -> Text:
    told = weight.told_by
    if told is None:
        if weight.terminal is not None:
            return (words.KIT_METER,)
        if not weight.circuit:
            return (words.CAR_METER[weight.fact],)
        return (words.SPREAD_METER,) if weight.fact == "spread" else (words.NO_METER,)
    written, instead = (
        Quantity(value=v, unit="V", trace=trace, digits=1) for v in (told.written_v, told.instead_v)
    )  # fmt: skip
    return say(words.METER, pin=told.pin, state=state_words(told.state), written=written, instead=instead)


def _item(installation: Installation, weight: Weight) -> Text:
    trace = f"weight:{weight.circuit}/{weight.fact}"
    if weight.terminal is not None:
        fact = told(
            words.KIT_AS_WRITTEN, terminal=weight.terminal, standing=weight.standing, fact=weight.fact,
            written=weight.written, instead=weight.instead,
        )  # fmt: skip
    elif not weight.circuit:
        fact = told(words.CAR_AS_WRITTEN, fact=weight.fact, written=weight.written, instead=weight.instead)
    elif weight.fact == "spread":
        fact = told(
            words.SPREAD, circuit=_name(installation, weight.circuit), pin=weight.pin, standing=weight.standing,
            instead=weight.instead,
        )  # fmt: skip
    else:
        fact = told(
            words.AS_WRITTEN, circuit=_name(installation, weight.circuit), pin=weight.pin, standing=weight.standing,
            fact=weight.fact, written=weight.written, instead=weight.instead,
        )  # fmt: skip
    return joined(lifted(fact, trace), lifted(_outcome(weight), trace), _teller(weight, trace))


def weighing_paper(installation: Installation, weights: Sequence[Weight]) -> Paper:
    """Return the facts that move something as a list, heaviest first, and how many move nothing."""
    moving = [w for w in weights if w.moves]
    blocks: list[Block] = [Paragraph(text=say(words.INTRO))]
    if not any(w.circuit for w in weights):
        blocks.append(Paragraph(text=say(words.NOTHING)))
    if moving:
        blocks.append(Bullets(items=tuple(_item(installation, w) for w in moving), numbered=True))
    if rest := len(weights) - len(moving):
        count = Quantity(value=float(rest), unit="", trace="weight:rest", digits=0)
        blocks.append(Paragraph(text=say(words.NOBODY, count=count), small=True))
    return Paper(
        id="weighing", title=words.TITLE,
        subtitle=told(words.SUBTITLE, kit=installation.kit.name, car=installation.car.name),
        language="en", marks={}, blocks=tuple(blocks),
    )  # fmt: skip
