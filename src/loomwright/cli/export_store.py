"""`export`: write everything that a shop keeps into a folder or one archive."""

from pathlib import Path

import click

from loomwright.cli.stores import store_option, there

__all__ = ["export"]


@click.command("export")
@click.argument("target", type=click.Path(path_type=Path))
@store_option("The shop's store, a file or a postgresql:// address.")
def export(target: Path, *, store: str) -> None:
    """Write everything that the shop keeps into TARGET: a new or empty folder, or a new file that ends with .zip.

    In it stand the documents as .yaml files with their pictures, every version there ever was, and the people. The same
    store gives the same bytes. Names and addresses of buyers are in it: keep it as you keep those.

    Example: loomwright export shop.zip
    """
    from loomwright.store.store import open_store

    with open_store(there(store)) as opened:
        write = opened.export_archive if target.suffix.lower() == ".zip" else opened.export_folder
        count = write(target)
        revisions = opened.last_number()
    click.echo(f"Everything is in {target}: {count} files, {revisions} revisions.")
    click.echo("The names and addresses of people and buyers are in it.")
