"""The example of the HTTP interface, run as it stands on its page against a workbench on a free port."""

import contextlib
import io
import socket
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
import uvicorn

from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.store.store import open_store
from loomwright.web.app import create_app
from tests.docs.pages import DOCS, blocks

_PAGE = DOCS / "how-to" / "use-the-http-interface.md"


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    with open_store(tmp_path / "demo.store") as store, socket.socket() as listening:
        by = store.add_person("Bench").id
        for name, text in sorted(demo_files().items()):
            document = read_document(Source(file=name, text=text), MODELS).document
            store.save(str(getattr(document, "kind", "")), str(getattr(document, "id", "")), text, by=by)
        listening.bind(("127.0.0.1", 0))
        app = create_app(store, lambda: datetime.now(UTC))
        server = uvicorn.Server(uvicorn.Config(app, log_level="error"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        until = time.monotonic() + 120
        while not server.started:
            assert time.monotonic() < until, "the workbench did not start"
            time.sleep(0.02)
        yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        server.should_exit = True
        thread.join(timeout=120)


def test_the_example_prints_what_the_page_says(address: str) -> None:
    found = blocks(_PAGE.read_text(encoding="utf-8"))
    at = next(n for n, block in enumerate(found) if block.kind == "python")
    program, printed = found[at].text, found[at + 1].text
    assert program.count('BENCH = "http://127.0.0.1:8017"') == 1
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        exec(compile(program.replace("http://127.0.0.1:8017", address), _PAGE.name, "exec"), {})
    assert said.getvalue() == printed
