"""`serve`: open the workbench in a browser on this machine."""

import os
from pathlib import Path

import click

from loomwright.errors import LoomwrightError

__all__ = ["serve"]

_PASSPHRASE = "LOOMWRIGHT_PASSPHRASE"


@click.command("serve")
@click.option("--port", type=click.IntRange(1, 65535), default=8017, show_default=True, help="Port to listen on.")
@click.option(
    "--store", default="loomwright.store", show_default=True, metavar="PATH",
    help="The shop's store: a file, which is made where it is not there, or a postgresql:// address.",
)  # fmt: skip
@click.option("--open-to-network", is_flag=True, help="Let phones and benches of this network in; needs a passphrase.")
@click.option(
    "--passphrase",
    help=f"What everybody must say once when it is open to the network. Other users of this machine can read it in the "
    f"list of processes; the variable {_PASSPHRASE} of the environment, read where this is left out, they cannot.",
)
def serve(*, port: int, store: str, open_to_network: bool, passphrase: str | None) -> None:
    """Open the workbench: vehicles, kits, what comes of one in the other, guides, readings and jobs.

    It answers only this machine unless you open it to the network. Stop it with Ctrl-C.
    """
    # Taken out, so that the processes of long work do not have it; where nothing is opened it says nothing.
    waiting = os.environ.pop(_PASSPHRASE, "")
    if open_to_network and passphrase is None:
        passphrase = waiting or None
    if open_to_network and len(passphrase or "") < 8:
        raise LoomwrightError(
            "--open-to-network: found no passphrase of at least 8 characters, expected one; give it in the variable "
            f"{_PASSPHRASE} of the environment, or with --passphrase"
        )
    if passphrase is not None and not open_to_network:
        raise LoomwrightError("--passphrase: found it without --open-to-network, expected both or none; add the other")

    import socket
    from datetime import UTC, datetime

    import uvicorn

    from loomwright import __version__
    from loomwright.health.kept_folder import kept_folder
    from loomwright.health.log import LOG, log_to
    from loomwright.network.kernel import VARIABLE
    from loomwright.store.store import open_store
    from loomwright.web.app import create_app
    from loomwright.web.settings import LOCAL_HOSTS, Settings

    # A page must not wait for a compiler in the middle of a click; numpy's lanes answer one in hundredths of a second.
    os.environ.setdefault(VARIABLE, "off")
    host = "0.0.0.0" if open_to_network else "127.0.0.1"  # only where somebody asked for it, with a passphrase
    with socket.socket() as taken:
        if taken.connect_ex(("127.0.0.1", port)) == 0:
            raise LoomwrightError(f"--port: found {port} in use, expected a free one; choose another")
    settings = Settings(hosts=None if open_to_network else LOCAL_HOSTS, passphrase=passphrase)
    with open_store(store if "://" in store else Path(store)) as opened:
        log = log_to(kept_folder(opened))
        reach = "open to the network" if open_to_network else "this machine only"
        LOG.info("opened, version %s, %s", __version__, reach)
        app = create_app(opened, lambda: datetime.now(UTC), settings)
        click.echo(f"The workbench is at http://127.0.0.1:{port} (store: {opened.database.name}). Stop it with Ctrl-C.")
        uvicorn.run(app, host=host, port=port, log_level="warning", access_log=False, server_header=False)
        LOG.info("closed")
        LOG.removeHandler(log)
        log.close()
