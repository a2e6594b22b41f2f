"""`problem-report`: save what whoever helps you has to see, after showing what it is."""

from pathlib import Path

import click

from loomwright.errors import LoomwrightError

__all__ = ["problem_report"]


@click.command("problem-report")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--store", default="loomwright.store", show_default=True, metavar="PATH", help="The shop's store.")
@click.option(
    "--document", "documents", multiple=True, metavar="KIND/ID",
    help="A document that belongs to the problem, such as vehicle/kestrin-fallow; may be given several times.",
)  # fmt: skip
@click.option("--yes", is_flag=True, help="Save it without asking.")
def problem_report(file: Path, *, store: str, documents: tuple[str, ...], yes: bool) -> None:
    """Save FILE, one .zip with versions, the self-check, the end of the log, and the documents you choose.

    It shows what is in it and asks before it saves. Nothing about buyers is in it.
    """
    from loomwright.cli.files import write_whole
    from loomwright.cli.health_of import examined
    from loomwright.health.report import KINDS, problem_report

    if file.exists():
        raise LoomwrightError(f"{file}: found a file, expected none; name another one")
    asked = []
    for name in documents:
        kind, slash, id = name.partition("/")
        if kind not in KINDS or not slash or not id:
            raise LoomwrightError(f"--document: found {name!r}, expected one of {', '.join(KINDS)}, then / and its id")
        asked.append((kind, id))
    checks, folder, chosen = examined(store, asked)
    report = problem_report(checks, folder, chosen)
    for name, text in report.files.items():
        click.echo(f"--- {name}, {len(text.encode()) / 1000:.1f} kB")
        click.echo(text if not name.startswith("documents/") else "    (the document as it is, without who measured)")
    if yes or click.confirm(f"Save this as {file}?"):
        write_whole({file: report.data})
        click.echo(f"Saved {file}.")
    else:
        click.echo("Nothing was saved.")
