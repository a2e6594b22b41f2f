"""The published tables as files: headers, unique keys, values that rise or fall as they must."""

from itertools import pairwise
from pathlib import Path

import pytest

import loomwright.network
from loomwright.network.published import TABLES, _parse, read_table

_FOLDER = Path(loomwright.network.__file__).parent / "tables"
_HEAD = "# document: d\n# edition: e\n# table: t\n# label: published\n# note: n\n"


def test_every_file_is_listed_and_every_listed_file_is_there() -> None:
    assert sorted(path.stem for path in _FOLDER.glob("*.tsv")) == sorted(TABLES)


@pytest.mark.parametrize("name", TABLES)
def test_each_table_says_where_it_comes_from(name: str) -> None:
    table = read_table(name)
    assert "published" in table.header["label"] or "from memory" in table.header["label"]
    assert len(table.rows) >= 3
    assert all(set(row) == set(table.columns) for row in table.rows.values())


# Direction of each column down its file: physics or the standard decides it.
@pytest.mark.parametrize(
    ("name", "column", "rises"),
    [
        ("metric_resistance", "iec_class_2", False),
        ("metric_resistance", "iec_class_5", False),
        ("metric_resistance", "iec_class_5_tinned", False),
        ("metric_resistance", "iso_6722", False),
        ("blade_fuses", "cold_mohm", False),
        ("blade_fuses", "drop_mv", False),
        ("blade_fuse_times", "small_min_s", False),
        ("blade_fuse_times", "small_max_s", False),
        ("blade_fuse_times", "min_s", False),
        ("blade_fuse_times", "max_s", False),
        ("bundling", "factor", False),
        ("engine_space", "factor", True),
    ],
)
def test_columns_are_monotonic(name: str, column: str, rises: bool) -> None:
    numbers = read_table(name).numbers(column)
    keys = list(numbers)
    assert keys == sorted(keys)
    # Two gates of the fuse times share a value, so equal neighbours are allowed there only.
    values = list(numbers.values())
    steps = [b - a if rises else a - b for a, b in pairwise(values)]
    assert all(step > 0 for step in steps)


@pytest.mark.parametrize("column", ["awg_cmil", "sae_cmil"])
def test_areas_rise_with_size(column: str) -> None:
    values = [float(row[column]) for row in read_table("wire_areas").rows.values()]
    assert values == sorted(values)


def test_tinned_is_worse_than_plain_and_flexible_worse_than_solid() -> None:
    table = read_table("metric_resistance")
    for row in table.rows.values():
        if row["iec_class_2"]:
            assert float(row["iec_class_2"]) < float(row["iec_class_5"]) < float(row["iec_class_5_tinned"])


def test_a_value_that_the_source_does_not_give_is_none() -> None:
    assert read_table("blade_fuses").value("3", "cold_mohm") is None
    assert read_table("blade_fuses").value("10", "cold_mohm") == 7.7


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "# document: d\na\tb\n1\t2\n",
            "x.tsv: header: found no 'edition', expected document, edition, table, label, note",
        ),
        (_HEAD + "a\tb\n1\t2\n1\t3\n", "x.tsv: row '1': found it twice or too long, expected it once with 2 cells"),
        (_HEAD + "a\tb\n1\t2\t3\n", "x.tsv: row '1': found it twice or too long, expected it once with 2 cells"),
    ],
)
def test_a_broken_file_is_refused(text: str, message: str) -> None:
    with pytest.raises(ValueError, match=r"^x\.tsv") as caught:
        _parse("x", text)
    assert str(caught.value) == message
