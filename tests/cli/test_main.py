"""The entry point: quick help, exit codes, and errors told without a traceback."""

import subprocess
import sys
from collections.abc import Callable
from types import ModuleType

import click
import pytest

from loomwright import __version__
from loomwright.cli import main as entry
from loomwright.cli.main import BAD_INPUT, COMMANDS, FINDINGS, OK, main
from loomwright.errors import DocumentError, Message

# Each takes from 70 to 500 ms to import on a small machine; help must not wait for any of them.
_HEAVY = {
    "alembic", "highspy", "jinja2", "numpy", "plotly", "pydantic", "rich", "schemdraw", "scipy", "segno", "sqlalchemy",
    "starlette", "typst", "yaml",
}  # fmt: skip


def _loaded_by(statements: str) -> set[str]:
    """Run statements in a fresh interpreter and return the top names of what it has imported."""
    program = f"{statements}\nimport sys\nprint('loaded:', *sorted({{name.partition('.')[0] for name in sys.modules}}))"
    done = subprocess.run([sys.executable, "-c", program], check=True, capture_output=True, text=True)
    return set(done.stdout.rpartition("loaded:")[2].split())


def test_the_entry_point_loads_nothing_heavy() -> None:
    loaded = _loaded_by("import loomwright.cli.main")
    assert "click" in loaded
    assert loaded & _HEAVY == set()


@pytest.mark.parametrize("words", [["--help"], *([name, "--help"] for name in COMMANDS)], ids=" ".join)
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    loaded = _loaded_by(f"from loomwright.cli.main import main\nassert main({words!r}) == 0")
    assert "click" in loaded
    assert loaded & _HEAVY == set()


def test_a_heavy_library_would_be_seen() -> None:
    assert _loaded_by("import numpy") & _HEAVY == {"numpy"}


def test_help_lists_every_command_with_its_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == OK
    shown = " ".join(capsys.readouterr().out.split())
    for name, (_, line) in COMMANDS.items():
        assert f"{name} {line}" in shown


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_bears_its_own_name(name: str) -> None:
    group = entry.LazyGroup()
    command = group.get_command(click.Context(group), name)
    assert command is not None
    assert command.name == name


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == OK
    assert capsys.readouterr().out == f"loomwright, version {__version__}\n"


@pytest.mark.parametrize(
    ("words", "told"),
    [(["weave"], "No such command 'weave'."), (["--loud"], "No such option"), ([], "Usage: loomwright")],
)
def test_a_wrong_call_is_told_and_ends_with_2(words: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == BAD_INPUT
    seen = capsys.readouterr()
    assert told in seen.err
    assert seen.out == ""


@pytest.fixture
def install(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[], int | None]], None]:
    """Give a function that puts one body into the table as the command `probe`."""

    def put(body: Callable[[], int | None]) -> None:
        module = ModuleType("probe_commands")
        module.probe = click.command("probe")(body)  # type: ignore[attr-defined]
        monkeypatch.setitem(sys.modules, "probe_commands", module)
        monkeypatch.setattr(entry, "COMMANDS", {"probe": ("probe_commands:probe", "A probe.")})

    return put


@pytest.mark.parametrize(("returned", "code"), [(None, OK), (OK, OK), (FINDINGS, FINDINGS), (BAD_INPUT, BAD_INPUT)])
def test_a_command_decides_its_exit_code(
    install: Callable[[Callable[[], int | None]], None], returned: int | None, code: int
) -> None:
    install(lambda: returned)
    assert main(["probe"]) == code


def test_an_error_of_ours_is_one_message_and_2(
    install: Callable[[Callable[[], int | None]], None], capsys: pytest.CaptureFixture[str]
) -> None:
    def fail() -> int:
        raise DocumentError(
            [Message(file="a.yaml", line=3, field="id", found="5", expected="a slug", advice="write letters")]
        )

    install(fail)
    assert main(["probe"]) == BAD_INPUT
    seen = capsys.readouterr()
    assert (seen.out, seen.err) == ("", "a.yaml:3: id: found 5, expected a slug; write letters\n")


def test_a_stop_by_the_keyboard_is_told(
    install: Callable[[Callable[[], int | None]], None], capsys: pytest.CaptureFixture[str]
) -> None:
    def stop() -> int:
        raise KeyboardInterrupt

    install(stop)
    assert main(["probe"]) == 130
    assert capsys.readouterr().err.endswith("Stopped.\n")


def test_a_mistake_of_the_program_is_not_hidden(install: Callable[[Callable[[], int | None]], None]) -> None:
    def fail() -> int:
        msg = "a mistake"
        raise ValueError(msg)

    install(fail)
    with pytest.raises(ValueError, match=r"^a mistake$"):
        main(["probe"])
