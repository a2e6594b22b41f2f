"""The log: what the workbench did and when, without a word of what anybody typed.

A line names the pattern of an address, never the address itself: a serial or a search may tell of a buyer. Of an
exception it has the kind and the places in the code, never its text, since that may repeat what a document says.
Files are turned over when they are full, so that the log has a bounded size.
"""

import logging
import time
from logging.handlers import RotatingFileHandler
from pathlib import Path

__all__ = ["COPIES", "LARGEST", "LOG", "failed", "log_to", "tail"]

LOG = logging.getLogger("loomwright")
LARGEST, COPIES = 1_000_000, 4
"""A file is turned over at this size [bytes], and so many older ones stay."""
_NAME = "workbench.log"


class _Utc(logging.Formatter):
    """Lines with the time in UTC, and nothing of exceptions but what is said of them on purpose."""

    converter = staticmethod(time.gmtime)  # the library calls it by the class

    def formatException(self, ei: object) -> str:  # noqa: N802 - the name that the library calls
        """Return nothing: the text of an exception may repeat what somebody typed."""
        del ei
        return ""


def log_to(folder: Path) -> logging.Handler:
    """Write the log into a folder from now on; close what is returned at the end.

    Raises OSError where the folder cannot be written.
    """
    (folder / "log").mkdir(parents=True, exist_ok=True)
    handler = RotatingFileHandler(folder / "log" / _NAME, maxBytes=LARGEST, backupCount=COPIES, encoding="utf-8")
    handler.setFormatter(_Utc("%(asctime)sZ %(levelname)s %(message)s", "%Y-%m-%dT%H:%M:%S"))
    LOG.addHandler(handler)
    LOG.setLevel(logging.INFO)
    LOG.propagate = False
    return handler


def failed(problem: BaseException) -> str:
    """Return the kind of an exception and where it came up, innermost last, without its text."""
    places = []
    trace = problem.__traceback__
    while trace is not None:
        code = trace.tb_frame.f_code
        places.append(f"{Path(code.co_filename).name}:{trace.tb_lineno} {code.co_name}")
        trace = trace.tb_next
    return f"{type(problem).__name__} at {' < '.join(reversed(places[-12:]))}"


def tail(folder: Path, lines: int = 400) -> str:
    """Return the last lines of the log; empty where there is none."""
    found: list[str] = []
    for name in (_NAME, f"{_NAME}.1"):
        try:
            part = (folder / "log" / name).read_text(encoding="utf-8", errors="replace").splitlines()
        except OSError:
            continue
        found = [*part, *found]
        if len(found) >= lines:
            break
    return "\n".join(found[-lines:])
