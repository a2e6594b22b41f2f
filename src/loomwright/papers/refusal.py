"""How the kit answers a start that it refuses."""

from collections.abc import Mapping
from typing import Any

from loomwright.starting.modes import REST, Mode, changed
from loomwright.starting.settings import StartSettings
from loomwright.starting.step import step

__all__ = ["refusal_answer"]


def refusal_answer(settings: StartSettings, sets: Mapping[str, Any]) -> str | None:
    """Return the answer of the lamps to a start asked for with some inputs so set; None where there is none."""
    asked = changed(REST, {"request": "start", **sets})
    replies = step(Mode(), asked, frozenset(), settings).replies
    return replies[0].partition(":")[0] if replies else None
