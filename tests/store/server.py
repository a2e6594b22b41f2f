"""A private PostgreSQL server for tests: in a folder of its own, on a socket only, run by a user without rights."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from sqlalchemy import create_engine, text

_ROOT_USER = 0
_INSTALLED = Path("/usr/lib/postgresql")  # where Debian keeps what it does not put on the PATH
_IN_MEMORY = Path("/dev/shm")
_ROOM = 2_000_000_000  # bytes
_PROGRAMS = ("initdb", "pg_ctl")


def quick_folder() -> str | None:
    """Return a folder in memory where there is one with room, else `None` for the usual one.

    These tests end processes and never cut the power, so nothing in them depends on a disk; waiting for one thousands
    of times takes most of their time.
    """
    return str(_IN_MEMORY) if _IN_MEMORY.is_dir() and shutil.disk_usage(_IN_MEMORY).free > _ROOM else None


def find_programs() -> Path | None:
    """Return the folder with the server's programs, `None` where the machine has none."""
    on_path = shutil.which("initdb")
    folders = [Path(on_path).resolve().parent] if on_path else []
    folders += sorted(_INSTALLED.glob("*/bin"), reverse=True)
    return next((one for one in folders if all((one / program).is_file() for program in _PROGRAMS)), None)


class Server:
    """A server that runs until it is stopped; each test gets a schema of its own."""

    def __init__(self, programs: Path) -> None:
        self._programs = programs
        self._user = "nobody" if os.geteuid() == _ROOT_USER else None  # the server refuses to run as root
        # The path of a socket has at most 107 characters, which the folders of tests may exceed.
        self.folder = Path(tempfile.mkdtemp(prefix="pg", dir=quick_folder()))
        if self._user is not None:
            shutil.chown(self.folder, self._user)
        self._count = 0
        self._run("initdb", "--auth=trust", "--username=bench", "--encoding=UTF8", "--locale=C", "--no-sync")
        with (self.folder / "data" / "postgresql.conf").open("a", encoding="utf-8") as settings:
            settings.write(f"listen_addresses = ''\nunix_socket_directories = '{self.folder}'\nmax_connections = 60\n")
            settings.write("fsync = off\n")  # for the reason above
        self.start()

    def start(self) -> None:
        self._run("pg_ctl", "start", "--wait", "--silent", "--log", str(self.folder / "log"))

    def stop(self, *, mode: str = "fast") -> None:
        self._run("pg_ctl", "stop", "--wait", "--silent", "--mode", mode)

    def close(self) -> None:
        self.stop(mode="immediate")
        shutil.rmtree(self.folder)

    def new_place(self) -> str:
        """Return the address of an empty schema: a database of its own for each test would be 7 MB and a second."""
        self._count += 1
        name = f"shop{self._count}"
        address = f"postgresql://bench@/postgres?host={self.folder}"
        engine = create_engine(address.replace("postgresql:", "postgresql+psycopg:"))
        with engine.begin() as connection:
            connection.execute(text(f"CREATE SCHEMA {name}"))
        engine.dispose()
        return f"{address}&options=-csearch_path%3D{name}"

    def _run(self, program: str, *arguments: str) -> None:
        subprocess.run(
            [self._programs / program, "--pgdata", self.folder / "data", *arguments],
            user=self._user, cwd=self.folder, check=True, stdout=subprocess.DEVNULL, timeout=60,
        )  # fmt: skip
