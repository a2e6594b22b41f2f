"""Sentences and names that the rooms below the papers tell, English -> French."""

from collections.abc import Mapping
from types import MappingProxyType

from loomwright.papers.words.fr._colour_reasons import COLOUR_REASONS
from loomwright.papers.words.fr._counting import COUNTING
from loomwright.papers.words.fr._names import COLOURS, NAMES
from loomwright.papers.words.fr._planning import PLANNING
from loomwright.papers.words.fr._proof import PROOF
from loomwright.papers.words.fr._start import START

__all__ = ["TABLES", "TOLD"]

TABLES: tuple[Mapping[str, str], ...] = (COLOURS, NAMES, COUNTING, COLOUR_REASONS, PLANNING, PROOF, START)
TOLD: Mapping[str, str] = MappingProxyType({english: french for table in TABLES for english, french in table.items()})
