"""The commands from outside, on the demonstration shop: what they write, print and return."""

import contextlib
import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from loomwright.cli.main import COMMANDS, FINDINGS, OK, main
from loomwright.documents.car import variants
from loomwright.documents.checking import load_checked
from loomwright.documents.demo import demo_files
from loomwright.documents.vehicle import Vehicle

VEHICLE = "vehicles/kestrin-fallow.yaml"
KIT = "kits/rookery-4.yaml"
PLAIN = ("--with", "engine=2.4", "year=2013", "body=sedan", "trim=base")
V6 = ("--with", "engine=3.3", "year=2014", "body=sedan", "trim=touring")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder into which the command `demo` has written."""
    folder = tmp_path_factory.mktemp("commands") / "shop"
    assert main(["demo", str(folder)]) == OK
    return folder


def _edited(shop: Path, to: Path, name: str, old: str, new: str) -> Path:
    """Copy the shop with one text of one file changed."""
    for file in shop.rglob("*.yaml"):
        copy = to / file.relative_to(shop)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(file.read_bytes())
    text = (to / name).read_text(encoding="utf-8")
    assert old in text
    (to / name).write_text(text.replace(old, new, 1), encoding="utf-8")
    return to


def _json(capsys: pytest.CaptureFixture[str], code: int, *words: object) -> Any:
    capsys.readouterr()
    assert main([str(word) for word in words]) == code
    seen = capsys.readouterr()
    assert seen.err == ""
    return json.loads(seen.out)


def _tree(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


# demo and check


def test_demo_writes_the_promised_tree_and_nothing_else(shop: Path) -> None:
    assert {"evidence/kestrin-fallow.yaml", KIT, "shop.yaml", VEHICLE} <= set(_tree(shop))
    assert _tree(shop) == sorted(demo_files())
    for name, text in demo_files().items():
        assert (shop / name).read_bytes() == text.encode()


def test_the_demo_is_in_order(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["check", str(shop)]) == OK
    families = [one.document for one in load_checked(demo_files()) if isinstance(one.document, Vehicle)]
    cars = {family.id: len(list(variants(family))) for family in families}
    # Five years, two bodies, two engines, two trims; no base V6 and no wagon of 2015: 5x2x3 - 3.
    assert cars["kestrin-fallow"] == 27
    words = f"{len(demo_files())} documents are in order; {sum(cars.values())} different cars worked out.\n"
    assert capsys.readouterr().out == words


def test_demo_again_changes_nothing(shop: Path) -> None:
    before = set(shop.rglob("*.yaml"))
    assert main(["demo", str(shop)]) == OK
    assert set(shop.rglob("*.yaml")) == before
    assert _tree(shop) == sorted(demo_files())


def test_demo_again_keeps_a_file_that_somebody_changed(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = _edited(shop, tmp_path / "mine", KIT, "name: Rookery 4", "name: Rookery 4 B")
    (mine / "shop.yaml").unlink()
    (mine / "notes.txt").write_text("mine", encoding="utf-8")
    text = (mine / KIT).read_text(encoding="utf-8")
    capsys.readouterr()
    assert main(["demo", str(mine)]) == 2
    assert "--replace" in capsys.readouterr().err
    assert (mine / KIT).read_text(encoding="utf-8") == text
    assert not (mine / "shop.yaml").exists()
    assert main(["demo", str(mine), "--replace"]) == OK
    assert (mine / KIT).read_text(encoding="utf-8") == demo_files()[KIT]
    assert (mine / "shop.yaml").is_file()
    assert (mine / "notes.txt").read_text(encoding="utf-8") == "mine"


def test_schema_prints_a_schema_of_each_kind(capsys: pytest.CaptureFixture[str]) -> None:
    for kind in ("vehicle", "kit", "shop", "evidence"):
        found = _json(capsys, OK, "schema", kind)
        assert found["properties"]["kind"]["const"] == kind


# match

_KEYS = {
    "verdict": str, "vehicle": str, "choice": dict, "kit": str, "kit_revision": str, "installation": (str, type(None)),
    "refusal": (dict, type(None)), "routes": list, "unserved": list, "findings": list, "unproven": list,
    "unused_leads": list, "settings": dict, "minutes": (float, type(None)), "proof": (dict, type(None)),
}  # fmt: skip
_ROUTE_KEYS = {
    "task": str, "function": str, "how": str, "required": bool, "joints": list, "setting": (dict, type(None)),
    "minutes": float, "why": str, "rejected": list, "pinned": (str, type(None)), "gated": (str, type(None)),
}  # fmt: skip
_JOINT_KEYS = {
    "id": str, "kind": str, "terminal": str, "label": str, "colour": str, "stripe": (str, type(None)),
    "circuit": (str, type(None)), "pin": (str, type(None)), "place": (str, type(None)), "part": (dict, type(None)),
}  # fmt: skip
_LEAD_KEYS = {
    "label": str, "colour": str, "stripe": (str, type(None)), "where": str, "terminal": str, "clash": (str, type(None)),
}  # fmt: skip
_FINDING_KEYS = {
    "code": str, "severity": str, "subject": str, "message": str, "state": (dict, type(None)), "path": list,
    "numbers": list, "advice": str, "source": str,
}  # fmt: skip
_READING_KEYS = {
    "id": str, "joint": str, "circuit": (str, type(None)), "node": str, "purpose": str, "state": dict, "clip": str,
    "lo_v": float, "hi_v": float, "nominal_v": float, "per_battery_volt": float, "driven": bool, "widened_v": float,
    "flicker": bool, "lamp": dict,
}  # fmt: skip


def _has(found: dict[str, Any], keys: dict[str, Any]) -> None:
    """Every promised key is there with its type; more may be there."""
    for key, kind in keys.items():
        assert key in found
        assert isinstance(found[key], kind), (key, found[key])


def test_match_prints_one_object_with_the_promised_keys(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = _json(capsys, OK, "match", shop / VEHICLE, shop / KIT, *PLAIN, "--json")
    _has(found, _KEYS)
    assert found["verdict"] == "fits"
    assert found["choice"] == {"year": "2013", "body": "sedan", "engine": "2.4", "trim": "base"}
    assert (found["vehicle"], found["kit"], found["kit_revision"]) == ("kestrin-fallow", "rookery-4", "C")
    for route in found["routes"]:
        _has(route, _ROUTE_KEYS)
        for joint in route["joints"]:
            _has(joint, _JOINT_KEYS)
        for rejected in route["rejected"]:
            _has(rejected, {"how": str, "what": str, "fact": str, "minutes": (float, type(None))})
    for lead in found["unused_leads"]:
        _has(lead, _LEAD_KEYS)
    _has(found["proof"], {"nodes": int, "elements": int, "states": int, "worst_residual": float})
    # The engine speed of the 2.4 comes over the bus and that of the V6 does not, so its lead is left over here.
    assert "TACH" in {lead["label"] for lead in found["unused_leads"]}
    assert {route["function"] for route in found["routes"] if route["required"]} >= {
        "ignition", "start", "brake", "battery feed", "ground", "immobiliser", "hood switch",
    }  # fmt: skip


def test_unproven_circuits_are_named_with_their_reason(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = _json(capsys, OK, "match", shop / VEHICLE, shop / KIT, *V6, "--json")
    assert found["unproven"]
    for entry in found["unproven"]:
        _has(entry, {"circuit": str, "status": str, "why": str})
        assert entry["status"] in {"unproven", "contradicted"}
    for finding in found["findings"]:
        _has(finding, _FINDING_KEYS)
        assert finding["severity"] in {"stop", "fix", "note"}
    assert {f["subject"] for f in found["findings"] if f["code"] == "unproven"} == {
        entry["circuit"] for entry in found["unproven"] if entry["status"] == "unproven"
    }


def test_the_words_after_with_may_stand_anywhere(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pair = [str(shop / VEHICLE), str(shop / KIT)]
    every = ["engine=2.4", "year=2013", "body=sedan", "trim=base"]
    orders = [
        [*pair, "--with", *every, "--json"],
        [*pair, "--json", "--with", *every],
        ["--with", *every, *pair, "--json"],
        [*pair, *every, "--json"],
        [*pair, *(word for one in every for word in ("--with", one)), "--json"],
        [*pair, "--with", *reversed(every), "engine=2.4", "--json"],
    ]
    found = [_json(capsys, OK, "match", *words) for words in orders]
    assert all(one == found[0] for one in found)


def test_the_same_call_prints_the_same(shop: Path) -> None:
    """In two processes, so that no order of a set or a dictionary of this one helps."""
    call = [sys.executable, "-m", "loomwright", "match", str(shop / VEHICLE), str(shop / KIT), *V6, "--json"]
    first, second = (subprocess.run(call, capture_output=True, check=False) for _ in range(2))
    assert first.returncode == second.returncode == OK
    assert first.stdout == second.stdout
    assert first.stderr == second.stderr == b""


def test_a_refused_car_ends_with_1_and_says_what_would_fit(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    manual = _edited(shop, tmp_path, VEHICLE, "gearbox: automatic", "gearbox: manual")
    for command in ("match", "readings"):
        found = _json(capsys, FINDINGS, command, manual / VEHICLE, manual / KIT, *PLAIN, "--json")
        _has(found, _KEYS)
        assert found["verdict"] == "does-not-fit"
        assert found["routes"] == []
        _has(found["refusal"], {"code": str, "reason": str, "caution": str, "would_fit_if": str})
        assert "manual" in found["refusal"]["reason"]


def test_an_unserved_wish_ends_with_1(shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without its HORN lead the kit fits all the same, with one exception."""
    line = "  - {id: horn, terminal: horn, label: HORN, colour: brown, stripe: black, area_mm2: 0.5, length_m: 1.5}\n"
    poorer = _edited(shop, tmp_path, KIT, line, "")
    shop_text = (poorer / "shop.yaml").read_text(encoding="utf-8")
    (poorer / "shop.yaml").write_text(shop_text[: shop_text.index("pinned:")], encoding="utf-8")
    found = _json(capsys, FINDINGS, "match", poorer / VEHICLE, poorer / KIT, *PLAIN, "--json")
    assert found["verdict"] == "fits-with-exceptions"
    assert [entry["function"] for entry in found["unserved"]] == ["horn"]
    assert found["unserved"][0]["would_fit_if"]


def test_match_in_words_says_the_verdict_and_every_function(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["match", str(shop / VEHICLE), str(shop / KIT), *PLAIN]) == OK
    told = capsys.readouterr().out
    found = _json(capsys, OK, "match", shop / VEHICLE, shop / KIT, *PLAIN, "--json")
    for route in found["routes"]:
        assert route["function"] in told.lower()
        for joint in route["joints"]:
            if joint["pin"] is not None:
                assert joint["label"] in told


# readings


def test_readings_prints_every_band_with_its_state(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = _json(capsys, OK, "readings", shop / VEHICLE, shop / KIT, *PLAIN, "--json")
    _has(found, {"vehicle": str, "choice": dict, "kit": str, "installation": str, "battery_v": float, "readings": list})
    assert len(found["readings"]) >= 30
    assert len({reading["id"] for reading in found["readings"]}) == len(found["readings"])
    for reading in found["readings"]:
        _has(reading, _READING_KEYS)
        _has(reading["state"], {"words": str, "stage": str, "key": str, "active": list, "commands": list})
        _has(reading["lamp"], {"allowed": bool, "lit": bool, "why": str})
        assert reading["lo_v"] <= reading["nominal_v"] <= reading["hi_v"]
        assert reading["purpose"] in {"identify", "after joining", "check"}
        # No wire of the car stands above its own charging voltage, and none below ground by more than a drop.
        assert reading["lo_v"] > -0.5
        assert reading["hi_v"] < 15.0
    # The plan and the readings speak of the same installation.
    plan = _json(capsys, OK, "match", shop / VEHICLE, shop / KIT, *PLAIN, "--json")
    assert found["installation"] == plan["installation"]
    joints = {joint["id"] for route in plan["routes"] for joint in route["joints"]}
    assert {r["joint"] for r in found["readings"] if not r["joint"].startswith("check:")} <= joints


def test_readings_follow_the_battery(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    low, high = (
        _json(capsys, OK, "readings", shop / VEHICLE, shop / KIT, *PLAIN, "--battery", volts, "--json")
        for volts in ("12.0", "12.8")
    )
    assert (low["battery_v"], high["battery_v"]) == (12.0, 12.8)
    rise = {r["id"]: r["nominal_v"] for r in low["readings"]}
    live = [r for r in high["readings"] if r["joint"].startswith("j:ignition/") and r["state"]["key"] == "run"]
    assert live
    for reading in live:
        # What is fed from the battery rises with it, volt for volt but for the drop on the way.
        assert 0.6 < reading["nominal_v"] - rise[reading["id"]] < 0.9


def test_readings_in_words_names_every_lead(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["readings", str(shop / VEHICLE), str(shop / KIT), *PLAIN]) == OK
    told = capsys.readouterr().out
    for label in ("BRAKE", "GROUND", "IGN", "START"):
        assert label in told


# write

_SHEETS = [
    "bench-test-letter.pdf", "bench-test.html", "guide-a4.pdf", "guide-letter.pdf", "guide.html",
    "hood-label-letter.pdf", "hood-label.html", "match.json",
    "operating-card-letter.pdf", "operating-card.html", "removal-letter.pdf", "removal.html", "settings-letter.pdf",
    "settings.html", "wiring-plan-a4.pdf", "wiring-plan-letter.pdf", "wiring-plan.html",
]  # fmt: skip


@pytest.fixture(scope="module")
def written(shop: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """Give the folder into which the command `write` has written, and what it told."""
    out = tmp_path_factory.mktemp("written") / "sheets"
    with contextlib.redirect_stdout(io.StringIO()) as told:
        assert main(["write", str(shop / VEHICLE), str(shop / KIT), *V6, "--out", str(out)]) == OK
    return out, told.getvalue()


def test_write_makes_the_promised_sheets(
    shop: Path, written: tuple[Path, str], capsys: pytest.CaptureFixture[str]
) -> None:
    out, told = written
    assert _tree(out) == _SHEETS
    for name in _SHEETS:
        content = (out / name).read_bytes()
        assert name in told
        if name.endswith(".pdf"):
            assert content.startswith(b"%PDF-")
            assert content.rstrip().endswith(b"%%EOF")
        elif name.endswith(".html"):
            assert content.lower().startswith(b"<!doctype html>")
            assert content.rstrip().endswith(b"</html>")
    printed = _json(capsys, OK, "match", shop / VEHICLE, shop / KIT, *V6, "--json")
    assert json.loads((out / "match.json").read_text(encoding="utf-8")) == printed


def test_write_twice_gives_the_same_bytes(shop: Path, written: tuple[Path, str], tmp_path: Path) -> None:
    assert main(["write", str(shop / VEHICLE), str(shop / KIT), *V6, "--out", str(tmp_path)]) == OK
    for name in _SHEETS:
        assert (tmp_path / name).read_bytes() == (written[0] / name).read_bytes(), name


def test_write_for_a_refused_car_puts_the_refusal_where_a_guide_may_stand(shop: Path, tmp_path: Path) -> None:
    manual = _edited(shop, tmp_path / "shop", VEHICLE, "gearbox: automatic", "gearbox: manual")
    out = tmp_path / "sheets"
    out.mkdir()
    (out / "guide.html").write_text("an older guide", encoding="utf-8")
    assert main(["write", str(manual / VEHICLE), str(manual / KIT), *PLAIN, "--out", str(out)]) == FINDINGS
    for page in ("guide", "operating-card", "hood-label"):
        assert "manual gearbox" in (out / f"{page}.html").read_text(encoding="utf-8"), page
    assert json.loads((out / "match.json").read_text(encoding="utf-8"))["verdict"] == "does-not-fit"


# help


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_a_command_says_what_it_does_and_every_option(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert main([name, "--help"]) == OK
    told = capsys.readouterr().out
    lines = told.splitlines()
    assert lines[0].startswith(f"Usage: loomwright {name}")
    options = told.partition("Options:\n")[2]
    assert options
    # Each option begins a line and has words after it or on the next.
    entries = [line for line in options.splitlines() if line.startswith("  -")]
    assert entries
    for number, entry in enumerate(entries):
        head = entry.split("  ")[1]
        after = options.partition(entry)[2].splitlines()[1:2] if len(entry.split("  ")) < 3 else [entry]
        assert after, (head, number)
        assert any(character.islower() for character in after[0])
    sentence = next(line for line in lines[2:] if line.strip())
    assert sentence[0:2] == "  "
    assert sentence.strip()[0].isupper()


def test_help_names_the_exit_codes(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == OK
    told = " ".join(capsys.readouterr().out.split())
    assert "0 all is well, 1 there are findings, 2 the input is wrong" in told
