"""`restore`: make a store from a backup."""

from pathlib import Path

import click

from loomwright.cli.stores import made_store, store_option
from loomwright.errors import LoomwrightError

__all__ = ["restore"]


@click.command("restore")
@click.argument("backup", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@store_option("The new store, a file that is not there yet, or the postgresql:// address of an empty one.")
def restore(backup: Path, *, store: str) -> None:
    """Make a store from BACKUP, a file that the workbench wrote; a store that holds something is never written over.

    Who was erased since the backup was made is erased again, where the list of erasures lies beside the new store.

    Example: loomwright restore loomwright.store.kept/backups/2026-11-30-080000.store --store again.store
    """
    if "://" not in store and Path(store).exists():
        raise LoomwrightError(f"{store}: found a file, expected none; name another one with --store")
    with made_store(store) as opened:
        name = opened.database.name  # without a password
        if opened.last_number():
            raise LoomwrightError(
                f"{name}: found a store that holds something, expected an empty one; name another one with --store"
            )
        count = opened.restore(backup)
    click.echo(f"{name} has everything from {backup}: {count} revisions.")
