"""`check`: read documents and tell everything that is wrong with them."""

from pathlib import Path

import click

__all__ = ["check"]


@click.command("check")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
def check(paths: tuple[Path, ...]) -> None:
    """Read documents and tell everything that is wrong with them, all at once.

    PATHS are .yaml files or folders of them. Every car that a vehicle family can be is worked out too.
    """
    from loomwright.cli.files import document_files, load_files
    from loomwright.cli.pictures import photos_beside
    from loomwright.documents.car import variants
    from loomwright.documents.checking import advise_documents, check_documents
    from loomwright.documents.vehicle import Vehicle
    from loomwright.errors import DocumentError

    loaded = load_files(document_files(paths))
    if faults := check_documents(loaded):
        raise DocumentError(faults)
    photos_beside(loaded)
    for advice in advise_documents(loaded):
        click.echo(f"note: {advice}")
    cars = sum(sum(1 for _ in variants(e.document)) for e in loaded if isinstance(e.document, Vehicle))
    click.echo(f"{len(loaded)} documents are in order; {cars} different cars worked out.")
