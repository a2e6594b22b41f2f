"""What is in the repository: no trace of one machine, locks that agree, modules that say what they are."""

import ast
import re
import subprocess
import tomllib
from pathlib import Path

import pytest

_ROOT = Path(__file__).parent.parent
_MODULES = sorted((_ROOT / "src" / "loomwright").rglob("*.py"))
_LOCKS = ("requirements.lock", "requirements-test.lock")

# Each is written in pieces, so that this file does not hold what it forbids.
_FORBIDDEN = {
    "a path of one machine": re.compile(rb"(?<![\w.])/" + rb"(?:work|root|home)" + rb"/"),
    "an address of a package index": re.compile(rb"--(?:extra-)?index" + rb"-url|--find" + rb"-links"),
    "the host of a registry": re.compile(
        rb"py" + rb"pi\.org|python" + rb"hosted|npm" + rb"js\.|deb\.deb" + rb"ian|crates" + rb"\.io"
    ),
    "a word about how the project was made": re.compile(
        rb"\btrans" + rb"cripts?\b|language" + rb" model|\bai[- ]gener" + rb"ated|chat" + rb"bot|co-auth" + rb"ored-by",
        re.IGNORECASE,
    ),
}


def _git(*arguments: str) -> bytes:
    return subprocess.run(["git", *arguments], cwd=_ROOT, check=True, capture_output=True).stdout


def _faults(place: str, content: bytes) -> list[str]:
    return [f"{place} holds {what}" for what, pattern in _FORBIDDEN.items() if pattern.search(content)]


def test_no_file_tells_of_a_machine_or_a_registry() -> None:
    files = [_ROOT / name for name in _git("ls-files", "-z").decode().split("\0") if name]
    assert _ROOT / "pyproject.toml" in files
    faults = [fault for path in files if path.is_file() for fault in _faults(path.name, path.read_bytes())]
    assert faults == []


def test_no_file_name_and_no_commit_tells_of_a_machine_or_a_registry() -> None:
    assert _faults("a file name", _git("ls-files")) == []
    assert _faults("a commit message", _git("log", "--format=%B")) == []


@pytest.mark.parametrize(
    "text",
    [
        "/" + "work/main/x.py",
        "see /" + "root/.cache",
        "cd '/" + "home/me'",
        "--index" + "-url x",
        "--extra-index" + "-url x",
        "https://py" + "pi.org/simple",
        "files.python" + "hosted.org",
        "the Trans" + "cript",
    ],
)
def test_what_is_forbidden_is_found(text: str) -> None:
    assert len(_faults("x", text.encode())) == 1


@pytest.mark.parametrize("text", ["framework/main", "./work/main", "the root/home of it", "--no-emit-index-url", "URI"])
def test_what_is_allowed_is_let_through(text: str) -> None:
    assert _faults("x", text.encode()) == []


@pytest.mark.parametrize("path", _MODULES, ids=lambda path: str(path.relative_to(_ROOT / "src")))
def test_every_module_says_what_it_is_and_what_it_offers(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert ast.get_docstring(tree), "a module begins with a docstring"
    if path.name in {"__init__.py", "__main__.py"} or "words" in path.parts:
        return  # a module of the catalogue of sentences offers every sentence in it
    assigned = {
        target.id
        for node in tree.body
        if isinstance(node, ast.Assign | ast.AnnAssign)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name)
    }
    assert "__all__" in assigned, "a module names what it offers in __all__"


def _pinned(lock: str) -> dict[tuple[str, str], str]:
    """Return (name, environment marker) -> version of every line of a lock."""
    text = (_ROOT / lock).read_text(encoding="utf-8")
    lines = re.findall(r"^([a-z0-9-]+)==(\S+)(?: ; (.+?))? \\\n    --hash=sha256:[0-9a-f]{64}", text, re.MULTILINE)
    assert len(lines) == len(re.findall(r"^[a-z]", text, re.MULTILINE)), "each line has one version and its hashes"
    return {(name, marker): version for name, version, marker in lines}


def test_the_locks_agree() -> None:
    run, test = (_pinned(lock) for lock in _LOCKS)
    assert run.items() <= test.items()


@pytest.mark.parametrize("lock", _LOCKS)
def test_a_lock_holds_what_the_project_asks_for(lock: str) -> None:
    project = tomllib.loads((_ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wanted = [*project["project"]["dependencies"], *project["build-system"]["requires"]]
    if "test" in lock:
        wanted += project["project"]["optional-dependencies"]["test"]
    names = {re.match(r"[\w-]+", requirement)[0].lower() for requirement in wanted}  # type: ignore[index]
    assert names <= {name for name, _ in _pinned(lock)}
