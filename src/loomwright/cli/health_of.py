"""What the commands about this machine share: the self-check of a store that may not be there."""

from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from loomwright.health.check import Check
    from loomwright.store.values import Revision

__all__ = ["examined"]


def examined(
    place: str, documents: Sequence[tuple[str, str]] = ()
) -> "tuple[tuple[Check, ...], Path, tuple[Revision, ...]]":
    """Return the self-check, the folder of the log, and documents of the store by kind and id.

    A store that cannot be opened is told as a check that failed.

    Raises StoreError for a document that is not there.
    """
    from loomwright.errors import StoreError
    from loomwright.health.check import Check
    from loomwright.health.doctor import doctor
    from loomwright.health.kept_folder import kept_folder
    from loomwright.store.store import open_store

    is_file = "://" not in place
    folder = Path(place).absolute().parent if is_file else Path.cwd()
    kept = folder / f"{Path(place).name}.kept" if is_file else folder
    with ExitStack() as stack:
        store, wrong = None, None
        if not is_file or Path(place).exists():
            try:
                store = stack.enter_context(open_store(Path(place) if is_file else place))
            except StoreError as problem:
                wrong = Check(name="Store", good=False, said=str(problem), do="Look at what it says.")
        checks = doctor(store, folder)
        if wrong is not None:
            checks = tuple(wrong if check.name == "Store" else check for check in checks)
        if documents and store is None:
            raise StoreError(f"{place}: found no store, expected that of the documents; name it with --store")
        if store is not None:
            kept = kept_folder(store)
            return checks, kept, tuple(store.latest(kind, id) for kind, id in documents)
        return checks, kept, ()
