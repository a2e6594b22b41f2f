"""The rooms of the package know each other in one direction only, and nothing is in a circle."""

import ast
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

_PACKAGE = "loomwright"
_SOURCE = Path(__file__).parent.parent / "src"

# A room may import itself and the rooms before it.
_ROOMS = (
    "documents", "planning", "network", "starting", "faults", "finding", "making", "signals", "fitting", "papers",
    "sheets", "store", "health",
)  # fmt: skip
# They may import every room above, but not each other, and no room may import them.
_FACES = ("web", "cli")
# The one command that opens the pages.
_DOORS = frozenset({("loomwright.cli.serve", "web")})
# Modules at the top that everybody may import. They import nothing of the package but each other.
_COMMON = ("errors", "sentences", "units")
# Rooms that may touch files, the clock, a process or the network.
_OUTWARD = ("store", "health", "web", "cli")
_OUTWARD_LIBRARIES = frozenset({"http", "socket", "sqlite3", "subprocess", "time", "urllib"})
# Parts of them that touch nothing: they only take text apart.
_PURE = frozenset({"urllib.parse"})
# Libraries that only some rooms may import.
_RESERVED = {
    "alembic": ("store",),
    "click": ("cli",),
    "jinja2": ("web",),
    "rich": ("cli",),
    "schemdraw": ("sheets",),
    "segno": ("sheets",),
    "sqlalchemy": ("store",),
    "starlette": ("web",),
    "typst": ("sheets",),
    "uvicorn": ("web", "cli"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Import:
    """One import: the module that has it, the module it asks for, and the line."""

    importer: str
    imported: str
    line: int


def _module_name(path: Path, root: Path) -> str:
    parts = path.relative_to(root).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _modules(root: Path) -> dict[str, Path]:
    return {_module_name(path, root): path for path in sorted((root / _PACKAGE).rglob("*.py"))}


def _imports(root: Path) -> list[_Import]:
    """Read every import of every module, those inside functions included."""
    modules = _modules(root)
    found = []
    for name, path in modules.items():
        package = name if path.name == "__init__.py" else name.rpartition(".")[0]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            targets: list[str] = []
            if isinstance(node, ast.Import):
                targets = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                base = node.module or ""
                if node.level:
                    above = ".".join(package.split(".")[: len(package.split(".")) - node.level + 1])
                    base = f"{above}.{base}".rstrip(".")
                # `from a import b` asks for the module a.b where there is one, else for a name in a.
                inner = [f"{base}.{alias.name}" for alias in node.names]
                targets = [target if target in modules else base for target in inner]
            else:
                continue
            found += [_Import(importer=name, imported=target, line=node.lineno) for target in dict.fromkeys(targets)]
    return found


def _room(module: str) -> str | None:
    """Return the first folder or module below the package; `None` for other libraries, "" for the package itself."""
    package, _, rest = module.partition(".")
    return rest.split(".")[0] if package == _PACKAGE else None


def _allowed(room: str, other: str) -> bool:
    if other in {room, *_COMMON}:
        return True
    if room in _COMMON:
        return False
    if room == "__main__":
        return other == "cli"
    if other == "":
        return room in _FACES  # for the version
    if room in _FACES:
        return other in _ROOMS
    return other in _ROOMS and room in _ROOMS and _ROOMS.index(other) < _ROOMS.index(room)


def _direction_faults(imports: Iterable[_Import]) -> list[str]:
    faults = []
    for item in imports:
        room, other = _room(item.importer), _room(item.imported)
        library = item.imported.split(".")[0]
        if other is not None:
            wrong = not _allowed(room or "", other) and (item.importer, other) not in _DOORS
        else:
            outward = library in _OUTWARD_LIBRARIES and item.imported not in _PURE
            wrong = (outward and room not in _OUTWARD) or (
                library in _RESERVED and room not in _RESERVED[library]
            )
        if wrong:
            faults.append(f"{item.importer}:{item.line} imports {item.imported}")
    return faults


def _circle(edges: Iterable[tuple[str, str]]) -> list[str]:
    """Return one circle of a directed graph, or nothing."""
    graph: dict[str, set[str]] = {}
    for start, end in edges:
        if start != end:
            graph.setdefault(start, set()).add(end)
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as problem:
        return [str(name) for name in problem.args[1]]
    return []


def _folder(module: str, modules: Mapping[str, Path]) -> str:
    return module if modules[module].name == "__init__.py" else module.rpartition(".")[0]


def _circles(root: Path) -> list[list[str]]:
    modules = _modules(root)
    edges = [
        (item.importer, item.imported)
        for item in _imports(root)
        if item.imported in modules and item.imported != _PACKAGE
    ]
    folders = [(_folder(start, modules), _folder(end, modules)) for start, end in edges]
    # A folder and the folder it stands in are one thing here: a package shows what its parts hold.
    folders = [(a, b) for a, b in folders if not f"{a}.".startswith(f"{b}.") and not f"{b}.".startswith(f"{a}.")]
    return [circle for circle in (_circle(edges), _circle(folders)) if circle]


def test_every_folder_is_a_known_room() -> None:
    found = {_room(name) for name in _modules(_SOURCE)} - {""}
    assert found <= {*_ROOMS, *_FACES, *_COMMON, "__main__"}
    assert {"documents", "cli", "errors", "units"} <= found


def test_imports_follow_the_direction() -> None:
    assert _direction_faults(_imports(_SOURCE)) == []


def test_no_module_and_no_folder_is_in_a_circle() -> None:
    assert _circles(_SOURCE) == []


def _write(root: Path, files: Mapping[str, str]) -> Path:
    for name, text in files.items():
        path = root / _PACKAGE / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("documents/a.py", "from loomwright.network import solve"),
        ("documents/a.py", "import loomwright.planning.routes"),
        ("documents/a.py", "from ..planning import routes"),
        ("documents/a.py", "def late() -> None:\n    from loomwright.cli import main"),
        ("documents/a.py", "import typst"),
        ("network/a.py", "import time"),
        ("papers/a.py", "from loomwright import sheets"),
        ("papers/a.py", "import click"),
        ("web/a.py", "from loomwright.cli import main"),
        ("cli/a.py", "from loomwright.web import app"),
        ("units.py", "from loomwright.documents import colours"),
        ("somewhere/a.py", "from loomwright.documents import colours"),
        ("documents/a.py", "from loomwright import __version__"),
    ],
)
def test_a_wrong_import_is_found(tmp_path: Path, file: str, text: str) -> None:
    faults = _direction_faults(_imports(_write(tmp_path, {"sheets/__init__.py": "", file: text})))
    assert len(faults) == 1, faults


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("network/a.py", "from loomwright.documents import Car\nfrom loomwright.errors import X\nimport numpy"),
        ("network/a.py", "from loomwright.network.b import c"),
        ("cli/a.py", "from loomwright.sheets import render\nimport time\nimport click"),
        ("cli/a.py", "from loomwright import __version__"),
        ("store/a.py", "import sqlite3"),
        ("errors.py", "from loomwright.units import express"),
        ("__main__.py", "from loomwright.cli.main import main"),
    ],
)
def test_a_right_import_is_let_through(tmp_path: Path, file: str, text: str) -> None:
    assert _direction_faults(_imports(_write(tmp_path, {file: text}))) == []


def test_a_circle_of_modules_is_found(tmp_path: Path) -> None:
    root = _write(tmp_path, {
        "network/a.py": "from loomwright.network import b",
        "network/b.py": "def late() -> None:\n    from loomwright.network.a import x",
    })  # fmt: skip
    assert [set(circle) for circle in _circles(root)] == [{"loomwright.network.a", "loomwright.network.b"}]


def test_a_circle_of_folders_is_found_where_no_module_is_in_one(tmp_path: Path) -> None:
    root = _write(tmp_path, {
        "network/one/a.py": "from loomwright.network.two.b import x",
        "network/two/b.py": "",
        "network/two/c.py": "from loomwright.network.one.d import x",
        "network/one/d.py": "",
    })  # fmt: skip
    assert [set(circle) for circle in _circles(root)] == [{"loomwright.network.one", "loomwright.network.two"}]
