"""`rehearse`: rehearse a start in time, and explore it in every order of events."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from loomwright.cli.choosing import choose, matched, pair_arguments
from loomwright.cli.main import FINDINGS, OK
from loomwright.errors import LoomwrightError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loomwright.planning.installation import Installation
    from loomwright.starting.record import Rehearsal

__all__ = ["rehearse"]


@click.command("rehearse")
@pair_arguments
@click.option("--scenario", "names", multiple=True, metavar="NAME", help="Rehearse only this one; all where left out.")
@click.option("--explore", is_flag=True, help="Also explore every order of events, sound and with single faults.")
@click.option("--svg", type=click.Path(path_type=Path), help="Write the picture of the first scenario to this file.")
@click.option(
    "--chart", type=click.Path(path_type=Path), help="Write waiting time against temperature of a diesel to this file."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object; its keys are in docs/reference.")
def rehearse(
    vehicle: Path, kit: Path, choice: tuple[str, ...], *, names: tuple[str, ...], explore: bool, svg: Path | None,
    chart: Path | None, as_json: bool, **options: Any,
) -> int:  # fmt: skip
    """Rehearse the start of VEHICLE with KIT in time, and with --explore in every order of events.

    Example: loomwright rehearse shop/vehicles/a.yaml shop/kits/b.yaml --with engine=2.4 --scenario cold --explore
    """
    import json

    chosen = choose(vehicle, kit, choice, options)
    found = matched(chosen)

    from loomwright.papers.start_object import start_object
    from loomwright.planning.installation import Refusal
    from loomwright.starting.advice import advise
    from loomwright.starting.findings import contradicting, findings_of, property_findings
    from loomwright.starting.port import Port
    from loomwright.starting.silent import check_start
    from loomwright.starting.verdicts import verdicts_of

    if isinstance(found, Refusal):
        if as_json:
            click.echo(json.dumps(start_object(found, None, (), None), indent=2, ensure_ascii=False))
        else:
            from loomwright.papers.match_report import match_report
            from loomwright.sheets import render

            click.echo(render(chosen.said(match_report(found, None)), "text").decode())
        return FINDINGS
    port = Port(found)
    rehearsals = _rehearsed(found, port, names)
    report = check_start(found) if explore else None
    advice = advise(found, port)
    findings = (
        *(property_findings(report) if report is not None else ()),
        *contradicting(advice.contradictions),
        *(f for one in rehearsals for f in findings_of(found, one)),
    )
    if svg is not None:
        from loomwright.sheets.timeline import draw_timeline
        from loomwright.starting.timeline import timeline_of

        _write(svg, draw_timeline(chosen.drawn(timeline_of(rehearsals[0])), width_mm=180, language=chosen.code))
    if chart is not None:
        from loomwright.sheets.timeline import draw_wait_chart
        from loomwright.starting.timeline import wait_chart

        if not advice.waits:
            raise LoomwrightError("--chart: found a petrol engine, expected a diesel; leave the option out")
        waits = chosen.drawn(wait_chart(found.car.name, advice))
        _write(chart, draw_wait_chart(waits, width_mm=120, language=chosen.code))
    if as_json:
        click.echo(json.dumps(start_object(found, report, rehearsals, advice, findings), indent=2, ensure_ascii=False))
    else:
        from loomwright.papers.rehearsal import start_paper
        from loomwright.sheets import render

        click.echo(render(chosen.said(start_paper(found, report, rehearsals, advice, findings)), "text").decode())
    # A scenario that asks what another setting would do counts where it was asked for by name.
    told = [r for r in rehearsals if names or not r.scenario.by_time]
    sound = all(v.holds for r in told for v in verdicts_of(r)) and not advice.contradictions
    kept = report is None or all(h.holds for h in report.properties)
    return OK if sound and kept else FINDINGS


def _rehearsed(installation: "Installation", port: Any, names: "Sequence[str]") -> "tuple[Rehearsal, ...]":
    from loomwright.starting.rehearse import rehearse as run
    from loomwright.starting.scenarios import scenarios_for
    from loomwright.starting.settings import start_settings

    settings = start_settings(installation)
    fuel = installation.car.traits.fuel or "petrol"
    speed = settings.detection != "voltage"
    told = {
        s.id: s
        for s in scenarios_for(fuel, keyed=settings.keyed, pulsed=settings.pulsed, senses=settings.senses, speed=speed)
    }
    for name in names:
        if name not in told:
            raise LoomwrightError(f"--scenario: found {name!r}, expected one of {', '.join(told)}; correct that word")
    return tuple(run(installation, told[name], settings, port) for name in (names or told))


def _write(file: Path, svg: str) -> None:
    try:
        file.write_text(svg + "\n", encoding="utf-8")
    except OSError as problem:
        raise LoomwrightError(f"{file}: {problem.strerror}; name a file in a folder that exists") from problem
