"""`weigh`: tell which fact of the documents matters most, so what to measure next."""

from pathlib import Path
from typing import Any

import click

from loomwright.cli.choosing import choose, matched, pair_arguments
from loomwright.cli.main import FINDINGS, OK
from loomwright.cli.progress import progress

__all__ = ["weigh"]


@click.command("weigh")
@pair_arguments
@click.option("--all", "everything", is_flag=True, help="Weigh the proven facts too; takes about a minute.")
@click.option("--kit", "of_kit", is_flag=True, help="Weigh the kit document too; takes about half a minute.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object; its keys are in docs/reference.")
def weigh(
    vehicle: Path, kit: Path, choice: tuple[str, ...], *, everything: bool, of_kit: bool, as_json: bool,
    **options: Any,
) -> int:  # fmt: skip
    """Tell what to measure next: which fact about VEHICLE matters most to KIT, and what tells it.

    Each fact of a circuit that the kit meets, and of the whole car, is changed by itself; the kit is planned, proved
    and started anew. A circuit that can move the verdict within the spread it is allowed stands first. Exit code 1: a
    fact that nobody has measured on this variant would move something.

    Example: loomwright weigh shop/vehicles/a.yaml shop/kits/b.yaml --with engine=2.4 year=2013
    """
    import json

    chosen = choose(vehicle, kit, choice, options)
    found = matched(chosen)

    from loomwright.faults.weight import measure_next
    from loomwright.papers.weigh_object import weigh_object
    from loomwright.papers.words.en.order import WEIGHING
    from loomwright.planning.installation import Refusal

    if isinstance(found, Refusal):
        if as_json:
            click.echo(json.dumps(weigh_object(found, "does-not-fit", ()), indent=2, ensure_ascii=False))
        else:
            from loomwright.papers.match_report import match_report
            from loomwright.sheets import render

            click.echo(render(chosen.said(match_report(found, None)), "text").decode())
        return FINDINGS

    weights = measure_next(found, chosen.shop, everything=everything, kit=of_kit, tell=progress(WEIGHING))
    if as_json:
        from loomwright.network.proof import prove
        from loomwright.network.results import verdict

        now = weights[0].verdict_before if weights else verdict(found, prove(found).findings)
        click.echo(json.dumps(weigh_object(found, now, weights), indent=2, ensure_ascii=False))
    else:
        from loomwright.papers.weighing import weighing_paper
        from loomwright.sheets import render

        click.echo(render(chosen.said(weighing_paper(found, weights)), "text").decode())
    return FINDINGS if any(w.moves and w.standing not in {"proven", "stated"} for w in weights) else OK
