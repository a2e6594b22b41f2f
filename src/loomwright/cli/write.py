"""`write`: write the guide and the sheets for a car and a kit."""

import time
from pathlib import Path
from typing import Any, Literal

import click

from loomwright.cli.choosing import choose, matched, pair_arguments
from loomwright.cli.main import FINDINGS, OK

__all__ = ["write"]

_PRINTED: tuple[Literal["a4", "letter"], ...] = ("a4", "letter")


@click.command("write")
@pair_arguments
@click.option("--out", required=True, type=click.Path(path_type=Path, file_okay=False), help="Folder for the sheets.")
def write(vehicle: Path, kit: Path, choice: tuple[str, ...], *, out: Path, **options: Any) -> int:
    """Write the buyer's guide, the builder's wiring plan and the small sheets for KIT in VEHICLE.

    The guide comes as one file for a phone (guide.html) and on paper (guide-a4.pdf, guide-letter.pdf), the wiring plan
    likewise. The operating card, the label for the underside of the hood, the settings sheet, the removal page and the
    bench test come for the screen and on the paper that the shop document names. match.json holds the whole result.
    """
    import json

    begun = time.perf_counter()
    chosen = choose(vehicle, kit, choice, options)  # first, so that a wrong input is told at once

    from loomwright import __version__
    from loomwright.cli.files import write_whole
    from loomwright.cli.pictures import photos_beside
    from loomwright.faults.wrong_pins import wrong_pins
    from loomwright.network.proof import prove
    from loomwright.network.readings import readings
    from loomwright.papers.match_object import match_object, refusal_object
    from loomwright.papers.match_report import match_report
    from loomwright.papers.whole_set import BOTH, SMALL, printed_on, whole_set
    from loomwright.planning.installation import Refusal
    from loomwright.sheets import Form, render
    from loomwright.sheets.together import render_each
    from loomwright.starting.findings import with_start

    photos = photos_beside(chosen.loaded)

    def tell(words: str) -> None:
        click.echo(f"{time.perf_counter() - begun:5.2f} s  {words}", err=True)

    tell(f"{chosen.car.name}, {len(chosen.car.circuits)} circuits; kit {chosen.kit.name} {chosen.kit.revision}")
    found = matched(chosen)
    if isinstance(found, Refusal):
        # A guide of an earlier run would invite to fit what must not be fitted: the refusal takes its place.
        report = chosen.said(match_report(found, None))
        printed = {form: render(report, form) for form in _PRINTED}
        names = (*BOTH, *SMALL)
        refused = {f"{name}-{form}.pdf": printed[form] for name in names for form in printed_on(name, chosen.shop)}
        refused |= {f"{name}.html": render(report, "html") for name in names}
        refused["match.json"] = json.dumps(refusal_object(found), indent=2, ensure_ascii=False).encode()
        write_whole({out / name: content for name, content in refused.items()})
        click.echo(render(report, "text").decode())
        return FINDINGS
    tell(f"planned {len(found.routes)} routes with {len(found.joints)} joints")
    proof = with_start(prove(found))
    tell(f"proved {proof.points} states of {proof.nodes} nodes: {len(proof.findings)} findings")
    table = readings(found)
    tell(f"computed {len(table.readings)} readings")
    marks = {"tool": f"Loomwright {__version__}"}
    sheets = whole_set(found, proof, table, chosen.shop, marks, photos)
    said = {name: chosen.said(paper) for name, paper in sheets.items()}
    forms: dict[str, tuple[Form, ...]] = {name: ("html", *printed_on(name, chosen.shop)) for name in said}
    drawn = render_each([(said[name], form) for name in said for form in forms[name]])
    result = match_object(found, proof, wrong_pins(found))  # while the first sheets are set
    files: dict[str, bytes] = {}
    for name in said:
        files |= {f"{name}.html" if form == "html" else f"{name}-{form}.pdf": next(drawn) for form in forms[name]}
        tell(f"drew {name}")
    files["match.json"] = json.dumps(result, indent=2, ensure_ascii=False).encode()
    write_whole({out / name: content for name, content in files.items()})
    click.echo(f"{chosen.car.name} with kit {chosen.kit.name}: {result['verdict'].replace('-', ' ')}.")
    click.echo(f"The sheets are in {out}:")
    for name, content in files.items():
        click.echo(f"  {name:24} {len(content) / 1000:8.0f} kB")
    return OK if result["verdict"] == "fits" else FINDINGS
