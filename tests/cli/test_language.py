"""Papers in the language of the shop, in the one asked for, and in none that there is not."""

from pathlib import Path

import pytest

from loomwright.cli.main import BAD_INPUT, OK, main

VEHICLE = "vehicles/kestrin-fallow.yaml"
KIT = "kits/rookery-4.yaml"
PLAIN = ("--with", "engine=2.4", "year=2013", "body=sedan", "trim=base")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder into which the command `demo` has written."""
    folder = tmp_path_factory.mktemp("language") / "shop"
    assert main(["demo", str(folder)]) == OK
    return folder


def _match(shop: Path, *more: str) -> int:
    return main(["match", str(shop / VEHICLE), str(shop / KIT), *more, *PLAIN])


def test_the_command_asks_for_a_language(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _match(shop, "--language", "fr") == OK
    said = capsys.readouterr().out
    assert "Est-ce que cela convient" in said
    assert "connecteur A du module de carrosserie" in said


def test_without_it_the_shop_decides(shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (shop / "shop.yaml").read_text(encoding="utf-8")
    own = tmp_path / "shop.yaml"
    own.write_text(text.replace("paper: Letter\n", "paper: Letter\nlanguage: fr\n"), encoding="utf-8")
    assert _match(shop, "--shop", str(own)) == OK
    assert "Est-ce que cela convient" in capsys.readouterr().out
    assert _match(shop, "--shop", str(own), "--language", "en") == OK
    assert "Does it fit?" in capsys.readouterr().out


def test_a_language_that_is_not_there_is_told(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _match(shop, "--language", "de") == BAD_INPUT
    seen = capsys.readouterr()
    assert seen.out == ""
    assert seen.err == "language: found 'de', expected one of: en (English), fr (français); choose one of these\n"


def test_a_shop_with_such_a_language_is_told(shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (shop / "shop.yaml").read_text(encoding="utf-8")
    own = tmp_path / "shop.yaml"
    own.write_text(text.replace("paper: Letter\n", "paper: Letter\nlanguage: de\n"), encoding="utf-8")
    assert main(["check", str(own)]) == BAD_INPUT
    told = capsys.readouterr().err
    line = text.splitlines().index("paper: Letter") + 2
    assert f"{own}:{line}: language: found 'de', expected" in told
    assert "en" in told
    assert "fr" in told


def test_a_translation_of_nothing_is_told(shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (shop / "shop.yaml").read_text(encoding="utf-8")
    own = tmp_path / "shop.yaml"
    own.write_text(text.replace('comes back only after a call."', 'comes back after a call."', 1), encoding="utf-8")
    assert main(["check", str(own)]) == OK  # the paper is English there, which is no fault
    seen = capsys.readouterr()
    told = seen.out + seen.err
    assert "translations.fr[2].text: found a translation of" in told
    assert "expected a text of this document; did you mean" in told
