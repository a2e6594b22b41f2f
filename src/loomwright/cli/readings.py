"""`readings`: tell what a meter must read at each point, step by step."""

from pathlib import Path
from typing import Any

import click

from loomwright.cli.choosing import choose, matched, pair_arguments
from loomwright.cli.main import FINDINGS, OK

__all__ = ["readings"]


@click.command("readings")
@pair_arguments
@click.option(
    "--battery", "battery_v", type=click.FloatRange(11.0, 15.0), default=12.6, show_default=True,
    help="The battery as just measured, at rest [V].",
)  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object; its keys are in docs/reference.")
def readings(
    vehicle: Path, kit: Path, choice: tuple[str, ...], *, battery_v: float, as_json: bool, **options: Any
) -> int:
    """Tell what a meter must read at each point of VEHICLE with KIT, before and after joining.

    Readings hold for the battery as you just measured it; give that with --battery.
    """
    import json

    from loomwright.network.readings import readings as compute
    from loomwright.papers.match_object import readings_object, refusal_object
    from loomwright.papers.match_report import match_report
    from loomwright.papers.reading_table import reading_table
    from loomwright.planning.installation import Refusal
    from loomwright.sheets import render

    chosen = choose(vehicle, kit, choice, options)
    found = matched(chosen)
    if isinstance(found, Refusal):
        text = (
            json.dumps(refusal_object(found), indent=2)
            if as_json
            else render(match_report(found, None), "text").decode()
        )
        click.echo(text)
        return FINDINGS
    table = compute(found, battery_v)
    if as_json:
        click.echo(json.dumps(readings_object(found, table), indent=2, ensure_ascii=False))
    else:
        click.echo(render(reading_table(found, table, chosen.shop), "text").decode())
    return OK
