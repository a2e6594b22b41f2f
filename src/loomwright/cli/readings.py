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

    chosen = choose(vehicle, kit, choice, options)
    found = matched(chosen)

    from loomwright.network.readings import readings as compute
    from loomwright.papers.match_object import readings_object, refusal_object
    from loomwright.planning.installation import Refusal

    if as_json:
        result = (
            refusal_object(found) if isinstance(found, Refusal) else readings_object(found, compute(found, battery_v))
        )
        click.echo(json.dumps(result, indent=2, ensure_ascii=False))
        return FINDINGS if isinstance(found, Refusal) else OK

    from loomwright.papers.match_report import match_report
    from loomwright.papers.reading_table import reading_table
    from loomwright.sheets import render

    if isinstance(found, Refusal):
        click.echo(render(match_report(found, None), "text").decode())
        return FINDINGS
    click.echo(render(reading_table(found, compute(found, battery_v), chosen.shop), "text").decode())
    return OK
