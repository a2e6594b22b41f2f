"""The process that does one piece of long work: texts in, progress and the result out, nothing else touched."""

import os
import signal
from multiprocessing.connection import Connection

from loomwright.errors import DocumentError, LoomwrightError
from loomwright.web.working.kinds import KINDS
from loomwright.web.working.task import Asked

__all__ = ["work"]

_NICE = 10  # pages go first
_MOST_MESSAGES = 20


def work(pipe: Connection, kind: str, asked: Asked) -> None:
    """Do one piece of work; sends ('at', done, total, words), and last ('done', made) or ('failed', text)."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the workbench, which ends this process itself
    if hasattr(os, "nice"):
        os.nice(_NICE)
    try:
        made = KINDS[kind].run(asked, lambda done, total, words: pipe.send(("at", done, total, words)))
        pipe.send(("done", made))
    except DocumentError as problem:
        pipe.send(("failed", "\n".join(str(m) for m in problem.messages[:_MOST_MESSAGES])))
    except LoomwrightError as problem:
        pipe.send(("failed", str(problem)))
    except BrokenPipeError:
        return  # nobody waits for it any more
    finally:
        pipe.close()
