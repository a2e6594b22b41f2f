"""`weigh`, and the trace of a reading, on the demonstration."""

import json
from pathlib import Path

import pytest

from loomwright.cli.main import BAD_INPUT, FINDINGS, OK, main
from loomwright.documents.demo import demo_files

_V6 = ("--with", "year=2014", "body=wagon", "engine=3.3", "trim=touring")


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    for name, text in demo_files().items():
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return tmp_path


def test_what_matters_most_stands_first(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pair = (str(demo / "vehicles/kestrin-fallow.yaml"), str(demo / "kits/rookery-4.yaml"))
    assert main(["weigh", *pair, *_V6]) == FINDINGS
    text = capsys.readouterr().out
    assert text.startswith("What to measure next\n")
    assert "Measure body-a/20 with key off: 0.0 V as written, 12.6 V otherwise." in " ".join(text.split())
    assert main(["weigh", *pair, *_V6, "--json"]) == FINDINGS
    told = json.loads(capsys.readouterr().out)
    assert told["verdict"] == "fits"
    assert [f["moves"] for f in told["facts"]] == sorted((f["moves"] for f in told["facts"]), reverse=True)
    assert told["facts"][0]["fact"] == "spread"
    assert told["facts"][1]["as_planned"] == "stop"
    assert {f["terminal"] for f in told["facts"]} == {None}


def test_a_refused_pair_has_nothing_to_weigh(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pair = (str(demo / "vehicles/kestrin-fallow.yaml"), str(demo / "kits/dunlin-7.yaml"))
    assert main(["weigh", *pair, *_V6, "--json"]) == FINDINGS
    told = json.loads(capsys.readouterr().out)
    assert told["facts"] == []
    assert told["refusal"]


def test_a_reading_is_traced_to_its_lines(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pair = (str(demo / "vehicles/kestrin-fallow.yaml"), str(demo / "kits/rookery-4.yaml"))
    assert main(["readings", *pair, *_V6, "--trace", "j:brake/pedal/2@identify/key off, brake pressed"]) == OK
    text = capsys.readouterr().out
    assert "stop-lamp contact of the pedal switch" in text
    assert "kestrin-fallow.yaml:" in text
    wanted = "j:brake/pedal/2@identify/key off, brake pressed"
    assert main(["readings", *pair, *_V6, "--trace", wanted, "--json"]) == OK
    traced = json.loads(capsys.readouterr().out)
    assert (traced["reading"], traced["way"]) == (wanted, "fed")
    volts = [traced["elements"][0]["from_v"], *(e["to_v"] for e in traced["elements"])]
    # The voltages along the way hang together, and the last one is the reading.
    assert [e["from_v"] for e in traced["elements"]] == volts[:-1]
    assert volts[-1] == pytest.approx(traced["nominal_v"], abs=0.001)
    assert any(e["document"] and e["document"]["file"].endswith("kestrin-fallow.yaml") for e in traced["elements"])
    assert main(["readings", *pair, *_V6, "--trace", "j:brake"]) == BAD_INPUT
    told = capsys.readouterr().err
    assert told.startswith("--trace: found 'j:brake', expected the id of a reading such as 'j:")
