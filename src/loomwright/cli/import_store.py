"""`import`: take what was exported, or a folder of documents, into a store."""

from pathlib import Path

import click

from loomwright.cli.stores import made_store, store_option

__all__ = ["import_"]


@click.command("import")
@click.argument("source", type=click.Path(path_type=Path, exists=True))
@store_option("The store it goes into, a file, which is made where it is not there, or a postgresql:// address.")
@click.option("--by", metavar="NAME", help="Your name, for what is saved anew; else whoever began the shop.")
def import_(source: Path, *, store: str, by: str | None) -> None:
    """Take SOURCE, a folder or .zip that was exported or a plain folder of documents, into a store.

    An empty store takes the whole history over. Else it goes document by document: what is new, or newer than here, is
    saved as a version; what was changed here and there stays as it is here, and is named. All of it comes, or nothing.

    Example: loomwright import shop.zip --store new.store
    """
    with made_store(store) as opened:
        who = None
        if by:
            known = (person.id for person in opened.workers() if person.name == by)
            who = next(known, None) or opened.add_person(by).id
        take = opened.import_folder if source.is_dir() else opened.import_archive
        found = take(source, by=who)
    if found.history:
        click.echo(f"The whole history came: {found.history} revisions.")
    click.echo(f"{len(found.saved)} saved as new versions, {found.unchanged} unchanged.")
    for kind, id in found.conflicts:
        click.echo(f"{kind} {id}: changed here and there; it stays as it is here.")
