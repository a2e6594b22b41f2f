"""The workbench from the command line: what is refused, and that it answers this machine and no other."""

import http.client
import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
import uvicorn

from loomwright.cli.main import BAD_INPUT, OK, main
from loomwright.web import app
from loomwright.web.settings import Settings


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--open-to-network"], "--open-to-network: found no passphrase of at least 8 characters, expected one"),
        (["--open-to-network", "--passphrase", "short"], "found no passphrase of at least 8 characters"),
        (["--passphrase", "long enough"], "--passphrase: found it without --open-to-network, expected both or none"),
    ],
)
def test_what_is_refused(words: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--store", str(tmp_path / "a.store"), *words]) == BAD_INPUT
    assert said in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("words", "variable", "wanted"),
    [
        (["--open-to-network"], "said in secret", "said in secret"),
        (["--open-to-network", "--passphrase", "said aloud"], "said in secret", "said aloud"),
        ([], "said in secret", None),
    ],
)
def test_the_passphrase_may_come_from_the_environment(
    words: list[str], variable: str, wanted: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Settings] = []
    monkeypatch.setenv("LOOMWRIGHT_PASSPHRASE", variable)
    monkeypatch.setenv("LOOMWRIGHT_KERNEL", "off")  # which the command would set for good
    monkeypatch.setattr(uvicorn, "run", lambda *_, **__: None)
    monkeypatch.setattr(app, "create_app", lambda _store, _clock, settings: opened.append(settings))
    port = ["--port", str(_free_port())]
    assert main(["serve", "--store", str(tmp_path / "a.store"), *port, *words]) == OK
    assert [settings.passphrase for settings in opened] == [wanted]
    assert "LOOMWRIGHT_PASSPHRASE" not in os.environ  # the processes of long work do not get it


def test_a_passphrase_of_the_environment_that_is_too_short_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LOOMWRIGHT_PASSPHRASE", "short")
    assert main(["serve", "--store", str(tmp_path / "a.store"), "--open-to-network"]) == BAD_INPUT
    told = capsys.readouterr().err
    assert "give it in the variable LOOMWRIGHT_PASSPHRASE" in told
    assert "short" not in told


def test_a_port_in_use_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert main(["serve", "--store", str(tmp_path / "a.store"), "--port", str(port)]) == BAD_INPUT
    assert f"--port: found {port} in use, expected a free one; choose another" in capsys.readouterr().err


def test_it_answers_this_machine_until_it_is_stopped(tmp_path: Path) -> None:
    port = _free_port()
    words = [sys.executable, "-m", "loomwright", "serve", "--port", str(port), "--store", str(tmp_path / "a.store")]
    process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    try:
        until = time.monotonic() + 120
        while True:
            try:
                connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
                connection.request("GET", "/begin")
                answer = connection.getresponse()
                break
            except OSError:
                assert process.poll() is None
                assert time.monotonic() < until
                time.sleep(0.1)
        assert answer.status == 200
        assert b"A new workbench" in answer.read()
        connection.close()
        # Every other address of this machine: 127.0.0.2 is one on Linux.
        with socket.socket() as other:
            other.settimeout(2)
            assert other.connect_ex(("127.0.0.2", port)) != 0
        os.kill(process.pid, signal.SIGINT)
        out, err = process.communicate(timeout=120)
    finally:
        process.kill()
        process.wait()
    assert f"The workbench is at http://127.0.0.1:{port}" in out
    assert err == ""
