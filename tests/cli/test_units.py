"""The option that chooses the units of the sheets, on the demonstration."""

from pathlib import Path

import pytest

from loomwright.cli.main import BAD_INPUT, OK, main
from loomwright.documents.demo import demo_files

_WITH = ("--with", "year=2013", "body=sedan", "engine=2.4", "trim=base")


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("units")
    for name, text in demo_files().items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize(("units", "has", "has_not"), [("inch", " AWG", "mm²"), ("metric", " mm²", "AWG")])
def test_the_option_decides_over_the_shop(demo: Path, tmp_path: Path, units: str, has: str, has_not: str) -> None:
    pair = (str(demo / "vehicles/kestrin-fallow.yaml"), str(demo / "kits/rookery-4.yaml"))
    assert main(["write", *pair, "--out", str(tmp_path), "--units", units, *_WITH]) == OK
    plan = (tmp_path / "wiring-plan.html").read_text(encoding="utf-8").replace("\N{NO-BREAK SPACE}", " ")
    assert has in plan
    assert has_not not in plan


def test_another_system_is_refused_with_the_two_that_there_are(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pair = (str(demo / "vehicles/kestrin-fallow.yaml"), str(demo / "kits/rookery-4.yaml"))
    assert main(["match", *pair, "--units", "cubits", *_WITH]) == BAD_INPUT
    told = capsys.readouterr().err
    assert "'cubits'" in told
    assert "metric" in told
    assert "inch" in told
