"""A workbench that listens, for tests with a real browser."""

import socket
import threading
import time

import uvicorn

from loomwright.store.store import Store
from loomwright.web.app import create_app
from loomwright.web.settings import Settings
from tests.web.conftest import clock

__all__ = ["Served"]


class Served:
    """A workbench that listens on a free port of this machine."""

    def __init__(self, store: Store, settings: Settings | None = None) -> None:
        self._socket = socket.socket()
        self._socket.bind(("127.0.0.1", 0))
        self.app = create_app(store, clock, settings)
        config = uvicorn.Config(self.app, log_level="error", lifespan="off")
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run, kwargs={"sockets": [self._socket]}, daemon=True)
        self._thread.start()
        self.address = f"http://127.0.0.1:{self._socket.getsockname()[1]}"
        until = time.monotonic() + 120
        while not self._server.started:
            assert time.monotonic() < until, "the workbench did not start"
            time.sleep(0.02)

    def close(self) -> None:
        """Stop listening."""
        self._server.should_exit = True
        self._thread.join(timeout=120)
        self._socket.close()
