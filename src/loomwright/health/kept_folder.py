"""Where the workbench keeps what is no document: results of long work, its log, backups that somebody asked for."""

from pathlib import Path

from loomwright.store.store import Store

__all__ = ["kept_folder"]


def kept_folder(store: Store) -> Path:
    """Return the folder beside the store; for a store on a server, in the folder that the program was started in."""
    path = store.database.path
    name = path.name if path is not None else str(store.database.engine.url.database)
    return (store.folder or Path.cwd()) / f"{name}.kept"
