"""Serials, and what is kept for ever under one: guides as they went out and readings as they came in."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from loomwright.errors import StoreError
from loomwright.store.store import Store, open_store
from loomwright.store.values import Attachment

GUIDE = (
    Attachment(name="guide.html", media_type="text/html", data=b"<!doctype html><title>Guide</title>"),
    Attachment(name="guide.pdf", media_type="application/pdf", data=b"%PDF-1.7\0\xff"),
)


def test_serials_count_up_and_are_given_once(store: Store, by: str) -> None:
    assert [store.new_serial(by=by) for _ in range(3)] == ["2026-0001", "2026-0002", "2026-0003"]


def test_a_serial_is_not_that_of_a_job_that_came_from_elsewhere(store: Store, by: str) -> None:
    store.save("job", "2026-0041", "a: 1\n", by=by)
    store.save("job", "2026-0007.extra", "a: 1\n", by=by)
    assert store.new_serial(by=by) == "2026-0042"


def test_each_year_counts_from_one(tmp_path: Path) -> None:
    moment = datetime(2026, 12, 31, 23, 59, tzinfo=UTC)
    with open_store(tmp_path / "shop.db", clock=lambda: moment) as store:
        by = store.add_person("Wren").id
        assert store.new_serial(by=by) == "2026-0001"
        moment = datetime(2027, 1, 1, tzinfo=UTC)
        assert store.new_serial(by=by) == "2027-0001"


def test_a_clock_without_a_zone_is_a_mistake_of_the_caller(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="clock: found 2026-01-01T00:00:00 without a zone, expected one with it"):
        open_store(tmp_path / "shop.db", clock=lambda: datetime(2026, 1, 1))  # noqa: DTZ001 - the mistake itself


def test_an_issued_guide_is_frozen_under_its_serial(store: Store, by: str) -> None:
    serial = store.new_serial(by=by)
    job = store.save("job", serial, f"id: '{serial}'\nvehicle: fallow\n", by=by)
    first = store.record("issue", serial, f"job: {job.number}\n", by=by, attach=GUIDE)
    second = store.record("issue", serial, f"job: {job.number}\nwhy: a wire was renamed\n", by=by, attach=GUIDE[:1])
    assert (
        [entry.id for entry in store.records("issue", serial)]
        == [first.id, second.id]
        == [f"{serial}.1", f"{serial}.2"]
    )
    assert [store.bytes_of(one) for one in store.attachments(first)] == [file.data for file in GUIDE]
    with pytest.raises(StoreError, match=f"issue {serial}.1: found one that is kept already, expected a new id"):
        store.save("issue", first.id, "job: 9\n", by=by, base=first)
    with pytest.raises(StoreError, match="found one that is kept already"):
        store.remove("issue", first.id, by=by, base=first)
    with pytest.raises(StoreError, match="there is nothing to undo"):
        store.undo("issue", first.id, by=by)


def test_readings_are_kept_in_the_order_they_came(store: Store, by: str) -> None:
    for serial in ("2026-0001", "2026-00011"):
        store.save("job", serial, "vehicle: fallow\n", by=by)
    for volts in (12.4, 0.1, 11.9):
        store.record("reading", "2026-0001", f"point: c:column/3\nvolts: {volts}\n", by=by)
    store.record("reading", "2026-00011", "volts: 5.0\n", by=by)
    texts = [store.at(entry.number).text for entry in store.records("reading", "2026-0001")]
    assert [text.splitlines()[1] for text in texts] == ["volts: 12.4", "volts: 0.1", "volts: 11.9"]


def test_a_record_needs_its_job(store: Store, by: str) -> None:
    with pytest.raises(StoreError, match="job 2026-0009: found no such document, expected one that was saved"):
        store.record("reading", "2026-0009", "volts: 1.0\n", by=by)
