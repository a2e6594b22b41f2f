"""`ask` from outside: answers on the command line, questions in a terminal, and what is wrong with either."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from loomwright.cli.main import BAD_INPUT, FINDINGS, OK, main
from loomwright.documents.car import variants
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, load
from loomwright.documents.vehicle import Vehicle

VEHICLE = "vehicles/kestrin-fallow.yaml"
KIT = "kits/rookery-4.yaml"
EVERY = ("engine=2.4", "year=2013", "body=sedan", "trim=base")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder into which the command `demo` has written."""
    folder = tmp_path_factory.mktemp("ask") / "shop"
    assert main(["demo", str(folder)]) == OK
    return folder


def _ask(shop: Path, *words: str) -> int:
    return main(["ask", str(shop / VEHICLE), str(shop / KIT), *words])


def _object(capsys: pytest.CaptureFixture[str]) -> Any:
    seen = capsys.readouterr()
    assert seen.err == ""
    return json.loads(seen.out)


def test_answers_on_the_command_line_settle_the_car(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert _ask(shop, "--answer", *EVERY, "--keys", "1", "--parked", "street", "--place", "Brindle Falls") == OK
    text = capsys.readouterr().out
    assert "Rookery 4 fits this Kestrin Fallow: it serves everything it is meant to" in " ".join(text.split())
    assert "Set the run time to 10 min." in text


def test_the_words_after_answer_may_be_repeated_or_in_a_row(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    found = []
    for words in (("--answer", *EVERY), tuple(w for one in EVERY for w in ("--answer", one)), EVERY):
        assert _ask(shop, *words, "--json") == OK
        found.append(_object(capsys))
    assert found[0] == found[1] == found[2]
    assert found[0]["verdict"] == "fits"
    assert found[0]["question"]["id"] == "order/keys"


def test_following_the_questions_of_the_object_leads_to_the_car(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A program can ask: the object names the question, the answer goes back on the command line."""
    truth = dict(word.split("=") for word in EVERY)
    words: list[str] = []
    asked = []
    capsys.readouterr()
    while True:
        code = _ask(shop, "--json", *words)
        question = _object(capsys)["question"]
        if question["kind"] != "axis":
            break
        assert code == FINDINGS
        assert truth[question["id"]] in [choice["value"] for choice in question["choices"]]
        asked.append(question["id"])
        words.append(f"{question['id']}={truth[question['id']]}")
    assert code == OK
    assert len(asked) <= len(truth)


def test_not_sure_is_an_answer(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert _ask(shop, "--answer", "engine=2.4", "year=not sure", "body=sedan", "trim=base", "--json") == FINDINGS
    found = _object(capsys)
    assert found["open"] == ["year"]
    assert found["choice"] is None
    assert len(found["possible"]) == 5


def test_a_refused_car_ends_with_1(shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for file in shop.rglob("*.yaml"):
        copy = tmp_path / file.relative_to(shop)
        copy.parent.mkdir(parents=True, exist_ok=True)
        text = file.read_text(encoding="utf-8")
        copy.write_text(text.replace("gearbox: automatic", "gearbox: manual"), encoding="utf-8")
    capsys.readouterr()
    assert _ask(tmp_path, "--json") == FINDINGS
    found = _object(capsys)
    assert (found["verdict"], found["question"]) == ("does-not-fit", None)
    assert found["refusals"][0]["code"] == "manual-gearbox"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ["--answer", "body=wagon", "year=2015"],
            "No Kestrin Fallow was built as year 2015, body wagon; look again at year 2015 (Driver's door frame label, "
            "last line begins MY15; a camera above the rear plate); body wagon (One tall tailgate with the rear window "
            "in it and a wiper on it)\n",
        ),
        (
            ["--answer", "body=van"],
            "body: found 'van', expected one of: sedan, wagon, not sure; correct that word\n",
        ),
        (
            ["--answer", "wheels=4"],
            "found an answer about 'wheels', expected one about: year, body, engine, trim; correct that word\n",
        ),
        (
            ["--answer", "year=2012", "year=2013"],
            "--answer: year is given as 2012 and as 2013; give it once\n",
        ),
        (
            ["--answer", "=2012"],
            "--answer: found '=2012', expected axis=value such as engine=2.4; correct that word\n",
        ),
        (
            [*EVERY, "--place", "Nowhere"],
            "place: found 'Nowhere', expected one of: Brindle Falls, Port Corvane, Marrow Sound, elsewhere, not sure; "
            "correct that word\n",
        ),
    ],
)
def test_a_bad_answer_ends_with_2(
    words: list[str], told: str, shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert _ask(shop, *words) == BAD_INPUT
    seen = capsys.readouterr()
    assert (seen.out, seen.err) == ("", told)


@pytest.mark.parametrize("words", [["--keys", "-1"], ["--keys", "one"], ["--parked", "attic"], ["--loud"]])
def test_a_wrong_option_ends_with_2(words: list[str], shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert _ask(shop, *words) == BAD_INPUT
    assert "Usage: loomwright ask" in capsys.readouterr().err


def test_cues_that_differ_only_in_case_and_space_are_told(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A buyer could not tell such values apart."""
    for file in shop.rglob("*.yaml"):
        copy = tmp_path / file.relative_to(shop)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(file.read_bytes())
    text = (tmp_path / VEHICLE).read_text(encoding="utf-8")
    old = "One tall tailgate with the rear window in it and a wiper on it."
    assert old in text
    same = "a BOOT lid  under a rear window that does not open; no rear wiper."
    (tmp_path / VEHICLE).write_text(text.replace(old, same), encoding="utf-8")
    capsys.readouterr()
    assert _ask(tmp_path, *EVERY) == BAD_INPUT
    seen = capsys.readouterr()
    assert "axes[body].values[1].cue: found the cue 'a BOOT lid  under" in seen.err
    assert "expected each cue once; change one of the two" in seen.err


def test_firmware_for_a_car_that_does_not_exist_is_told(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for file in shop.rglob("*.yaml"):
        copy = tmp_path / file.relative_to(shop)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(file.read_bytes())
    text = (tmp_path / KIT).read_text(encoding="utf-8")
    assert 'only: {engine: "2.4"}' in text
    (tmp_path / KIT).write_text(text.replace('only: {engine: "2.4"}', 'only: {engine: "2.6"}', 1), encoding="utf-8")
    capsys.readouterr()
    assert _ask(tmp_path, *EVERY) == BAD_INPUT
    assert "found '2.6', expected a value of the axis 'engine': one of '2.4', '3.3'" in capsys.readouterr().err


# In a terminal --------------------------------------------------------------------------------------------------------


def _talk(shop: Path, lines: list[str]) -> tuple[str, int]:
    """Answer the questions of the command in a terminal of its own; return what it showed and its exit code."""
    import pty

    ours, theirs = pty.openpty()
    call = [sys.executable, "-m", "loomwright", "ask", str(shop / VEHICLE), str(shop / KIT)]
    process = subprocess.Popen(call, stdin=theirs, stdout=theirs, stderr=theirs)
    os.close(theirs)
    shown = b""
    waiting = list(lines)
    while True:
        try:
            piece = os.read(ours, 4096)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        shown += piece
        if shown.endswith(b"Your answer: ") and waiting:
            os.write(ours, f"{waiting.pop(0)}\n".encode())
    code = process.wait()
    os.close(ours)
    assert waiting == []
    return shown.decode().replace("\r\n", "\n"), code


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals")
def test_in_a_terminal_the_questions_come_one_at_a_time(shop: Path, capfd: pytest.CaptureFixture[str]) -> None:
    truth = dict(word.split("=") for word in EVERY)
    (family,) = (one.document for one in load([Source(file="v", text=(shop / VEHICLE).read_bytes())], MODELS))
    assert isinstance(family, Vehicle)
    assert truth in [dict(choice) for choice in variants(family)]
    # A wrong number first, then back from the second question; keys are typed as they are counted.
    lines = ["9", "1", "b"]
    main(["ask", str(shop / VEHICLE), str(shop / KIT), "--json"])
    question = json.loads(capfd.readouterr().out)["question"]
    words: list[str] = []
    while question["kind"] == "axis":
        place = [choice["value"] for choice in question["choices"]].index(truth[question["id"]]) + 1
        lines.append(str(place))
        words.append(f"{question['id']}={truth[question['id']]}")
        main(["ask", str(shop / VEHICLE), str(shop / KIT), "--json", *words])
        question = json.loads(capfd.readouterr().out)["question"]
    shown, code = _talk(shop, [*lines, "3", "1", "4"])
    assert code == OK, shown
    assert "Answer with a number from 1 to" in shown
    assert shown.count("\n1. ") == 2  # asked again after going back
    assert "How many of your keys start the engine?" in shown
    assert "The car stands in a garage attached to a building." in shown
    assert "it serves everything it is meant to" in " ".join(shown.split())


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals")
def test_in_a_terminal_not_sure_leaves_open_what_matters(shop: Path) -> None:
    shown, code = _talk(shop, ["b", *["n"] * 7])
    assert code == FINDINGS, shown
    assert "This is the first question." in shown
    assert "Rookery 4 fits each of the 27 cars that your answers leave, but not in the same way." in " ".join(
        shown.split()
    )
