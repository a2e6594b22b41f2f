"""`readings`: tell what a meter must read at each point, step by step."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from loomwright.cli.choosing import Chosen, choose, matched, pair_arguments
from loomwright.cli.files import load_files
from loomwright.cli.main import FINDINGS, OK
from loomwright.errors import LoomwrightError

if TYPE_CHECKING:
    from loomwright.documents.reading import Origin
    from loomwright.network.elements import Element
    from loomwright.planning.installation import Installation

__all__ = ["readings"]


@click.command("readings")
@pair_arguments
@click.option(
    "--battery", "battery_v", type=click.FloatRange(11.0, 15.0), default=12.6, show_default=True,
    help="The battery as just measured, at rest [V].",
)  # fmt: skip
@click.option("--trace", "wanted", metavar="ID", help="Show where one reading comes from; its id is in --json.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object; its keys are in docs/reference.")
def readings(
    vehicle: Path, kit: Path, choice: tuple[str, ...], *, battery_v: float, wanted: str | None, as_json: bool,
    **options: Any,
) -> int:  # fmt: skip
    """Tell what a meter must read at each point of VEHICLE with KIT, before and after joining.

    Readings hold for the battery as you just measured it; give that with --battery.
    """
    import json

    chosen = choose(vehicle, kit, choice, options)
    found = matched(chosen)

    from loomwright.network.readings import readings as compute
    from loomwright.papers.match_object import readings_object, refusal_object
    from loomwright.planning.installation import Refusal

    if wanted is not None and not isinstance(found, Refusal):
        _trace(chosen, found, battery_v, wanted, (vehicle, kit), as_json=as_json)
        return OK
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
        click.echo(render(chosen.said(match_report(found, None)), "text").decode())
        return FINDINGS
    click.echo(render(chosen.said(reading_table(found, compute(found, battery_v), chosen.shop)), "text").decode())
    return OK


def _trace(
    chosen: Chosen, plan: "Installation", battery_v: float, wanted: str, files: tuple[Path, Path], *, as_json: bool
) -> None:
    """Print the way of one reading.

    Raises LoomwrightError where there is no such reading.
    """
    import json
    from difflib import get_close_matches

    from loomwright.network.readings import readings as compute
    from loomwright.network.tracing import origin_of, trace_reading
    from loomwright.papers.trace_object import trace_object
    from loomwright.papers.trace_table import trace_paper
    from loomwright.sheets import render

    told = {reading.id: reading for reading in compute(plan, battery_v).readings}
    if wanted not in told:
        near = get_close_matches(wanted, told, n=1, cutoff=0.0)
        raise LoomwrightError(f"--trace: found {wanted!r}, expected the id of a reading such as {near[0]!r}")
    loaded = load_files(files)
    found = trace_reading(plan, told[wanted], battery_v)

    def origin(element: "Element") -> "Origin | None":
        return origin_of(element, plan, loaded[0], loaded[1])

    if as_json:
        click.echo(json.dumps(trace_object(plan, found, origin), indent=2, ensure_ascii=False))
    else:
        click.echo(render(chosen.said(trace_paper(found, origin)), "text").decode())
