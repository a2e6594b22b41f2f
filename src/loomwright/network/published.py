"""Published tables: each a file in `tables` with a header that names its document, edition, table and label.

A header line is '# key: text'; then come the column names and the rows, separated by tabs. An empty cell is a value
that the source does not give.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

__all__ = ["TABLES", "Table", "read_table"]

TABLES = (
    "ampacity_marine", "ampacity_small", "blade_fuse_times", "blade_fuses", "bundling", "engine_space",
    "metric_resistance", "wire_areas",
)  # fmt: skip
_HEADER = ("document", "edition", "table", "label", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A published table: its header, and its rows by the text of the first column."""

    name: str
    header: Mapping[str, str]
    columns: tuple[str, ...]
    rows: Mapping[str, Mapping[str, str]]

    def value(self, key: str, column: str) -> float | None:
        """Return one number, None where the source gives none.

        Raises
        ------
        KeyError
            Where the table has no such row or column.
        """
        text = self.rows[key][column]
        return float(text) if text else None

    def numbers(self, column: str) -> dict[float, float]:
        """Return the given numbers of a column by the number in the first column, in the order of the file."""
        first = self.columns[0]
        return {float(row[first]): float(row[column]) for row in self.rows.values() if row[column]}


@cache
def read_table(name: str) -> Table:
    """Return a table of `TABLES`, read once, when first asked for.

    Raises
    ------
    ValueError
        Where the file lacks a header line, repeats a key, or a row has more cells than there are columns.
    """
    text = (files("loomwright.network") / "tables" / f"{name}.tsv").read_text(encoding="utf-8")
    return _parse(name, text)


def _parse(name: str, text: str) -> Table:
    lines = text.splitlines()
    pairs = (line[1:].partition(":") for line in lines if line.startswith("#"))
    header = {key.strip(): words.strip() for key, _, words in pairs}
    missing = [key for key in _HEADER if not header.get(key)]
    if missing:
        msg = f"{name}.tsv: header: found no {missing[0]!r}, expected {', '.join(_HEADER)}"
        raise ValueError(msg)
    body = [line.split("\t") for line in lines if line.strip() and not line.startswith("#")]
    columns = tuple(body[0])
    rows: dict[str, Mapping[str, str]] = {}
    for cells in body[1:]:
        if len(cells) > len(columns) or cells[0] in rows:
            msg = (
                f"{name}.tsv: row {cells[0]!r}: found it twice or too long, expected it once with {len(columns)} cells"
            )
            raise ValueError(msg)
        padded = cells + [""] * (len(columns) - len(cells))
        rows[cells[0]] = MappingProxyType(dict(zip(columns, padded, strict=True)))
    return Table(name=name, header=MappingProxyType(header), columns=columns, rows=MappingProxyType(rows))
