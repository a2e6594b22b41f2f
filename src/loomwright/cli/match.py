"""`match`: tell whether a kit fits a car, how, and why not."""

from pathlib import Path
from typing import Any

import click

from loomwright.cli.choosing import choose, matched, pair_arguments
from loomwright.cli.main import FINDINGS, OK

__all__ = ["match"]


@click.command("match")
@pair_arguments
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object; its keys are in docs/reference.")
def match(vehicle: Path, kit: Path, choice: tuple[str, ...], *, as_json: bool, **options: Any) -> int:
    """Tell whether KIT fits VEHICLE, how each function is served, and why not otherwise.

    Example: loomwright match shop/vehicles/a.yaml shop/kits/b.yaml --with engine=2.4 year=2013
    """
    import json

    chosen = choose(vehicle, kit, choice, options)  # first, so that a wrong input is told at once
    found = matched(chosen)

    from loomwright.faults.wrong_pins import wrong_pins
    from loomwright.network.proof import prove
    from loomwright.papers.match_object import match_object
    from loomwright.planning.installation import Installation
    from loomwright.starting.findings import with_start

    proof = with_start(prove(found)) if isinstance(found, Installation) else None
    slips = wrong_pins(found) if isinstance(found, Installation) else ()
    result = match_object(found, proof, slips)
    if as_json:
        click.echo(json.dumps(result, indent=2, ensure_ascii=False))
    else:
        from loomwright.papers.match_report import match_report
        from loomwright.sheets import render

        click.echo(render(chosen.said(match_report(found, proof, chosen.shop)), "text").decode())
    return OK if result["verdict"] == "fits" else FINDINGS
