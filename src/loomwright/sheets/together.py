"""Many sheets at a time: while the typesetter sets one, which needs nothing of Python, another is prepared or set."""

from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor

from loomwright.papers.blocks import Paper
from loomwright.sheets import Form, render

__all__ = ["render_each"]

_AT_ONCE = 2  # what any machine has cores for; more would wait for each other's Python
_FIRST: Sequence[Form] = ("a4", "letter", "html", "text")


def render_each(wanted: Sequence[tuple[Paper, Form]]) -> Iterator[bytes]:
    """Begin to draw papers in their forms and give them in the order in which they are wanted, the bytes of `render`.

    What takes longest is begun first, and the two sizes of one paper apart, so that the second finds the drawings of
    the first. Where the caller stops, by an error or by Ctrl-C, what was not begun is left.

    Raises
    ------
    RenderError
        If the typesetter refuses a page, when it is that sheet's turn.
    """
    pool = ThreadPoolExecutor(_AT_ONCE, thread_name_prefix="sheet")
    order = sorted(range(len(wanted)), key=lambda n: _FIRST.index(wanted[n][1]))
    begun = {n: pool.submit(render, *wanted[n]) for n in order}
    return _in_turn(pool, [begun[n] for n in range(len(wanted))])


def _in_turn(pool: ThreadPoolExecutor, begun: Sequence[Future[bytes]]) -> Iterator[bytes]:
    try:
        for one in begun:
            yield one.result()
    finally:
        pool.shutdown(cancel_futures=True)
