"""How the workbench is served: to whom, and how much it takes."""

from dataclasses import dataclass

__all__ = ["LOCAL_HOSTS", "Settings"]

LOCAL_HOSTS = frozenset({"127.0.0.1", "localhost", "[::1]"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What the person who starts the workbench decides.

    Parameters
    ----------
    hosts
        Names under which a browser may ask; a page of another site cannot then reach the workbench by a name that it
        lets point here. `None` lets every name in and is meant only for a network that needs the passphrase.
    passphrase
        What everybody must say once before anything is shown; `None` where only this machine may ask.
    largest_upload
        Largest body of a request [bytes].
    largest_archive
        The same for a whole shop that is brought in [bytes]; it is kept on the disk, not in the memory. Larger ones
        come in by the command line.
    raises
        Whether a fault of the program breaks through, for tests, instead of being told on a page.
    """

    hosts: frozenset[str] | None = LOCAL_HOSTS
    passphrase: str | None = None
    largest_upload: int = 8_000_000
    largest_archive: int = 1_000_000_000
    raises: bool = False
