"""The reference pages: made from the code as it is now, with nothing left out."""

from itertools import chain
from pathlib import Path

import pytest

from loomwright.cli.main import COMMANDS
from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.kinds import MODELS
from loomwright.network.finding_codes import FINDING_CODES, REFUSAL_CODES
from loomwright.planning.candidates import slug
from tools.reference import findings, sources
from tools.reference.__main__ import FOLDER, main
from tools.reference.documents import key_meaning, keys, parts_of
from tools.reference.json_keys import JSON_MODULES, JSON_PARTS, keys_of
from tools.reference.json_meanings import JSON_MEANINGS
from tools.reference.key_meanings import KEY_MEANINGS
from tools.reference.markdown import anchor, table
from tools.reference.pages import PAGES

_PARTS = tuple(dict.fromkeys(chain.from_iterable(parts_of(model) for model in MODELS.values())))
_KEYS = [(part, key, field) for part in _PARTS for key, field, _ in keys(part)]


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_current(name: str) -> None:
    kept = (FOLDER / name).read_text(encoding="utf-8")
    assert kept == PAGES[name](), "run `make reference` and read what changed"


def test_no_page_is_left_over() -> None:
    assert {path.name for path in FOLDER.iterdir()} == set(PAGES)


def test_the_check_tells_a_stale_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("tools.reference.__main__.FOLDER", tmp_path)
    monkeypatch.setattr("tools.reference.__main__.pages", lambda: {"a.md": "new", "b.md": "same"})
    (tmp_path / "a.md").write_text("old")
    (tmp_path / "b.md").write_text("same")
    assert main(["--check"]) == 1
    assert capsys.readouterr().out == "out of date: a.md\n"
    assert (tmp_path / "a.md").read_text() == "old"
    assert main([]) == 0
    assert (tmp_path / "a.md").read_text() == "new"
    assert main(["--check"]) == 0


# Documents ---------------------------------------------------------------------------------------------------------


def test_every_key_of_every_document_is_on_the_page_with_a_meaning() -> None:
    text = (FOLDER / "documents.md").read_text(encoding="utf-8")
    assert len(_KEYS) > 150
    for part, key, field in _KEYS:
        assert key_meaning(part, key, field)
        assert f"| `{key}` |" in text, f"{part.__name__}.{key}"


def test_a_meaning_beside_the_models_is_there_only_where_the_model_has_none() -> None:
    needed = {
        name
        for part, key, field in _KEYS
        for name in (f"{part.__name__}.{key}", key)
        if name in KEY_MEANINGS and key_meaning(part, key, field) == KEY_MEANINGS[name]
    }
    assert set(KEY_MEANINGS) - needed == set()


def test_a_key_without_a_meaning_is_told() -> None:
    part, _, field = next(entry for entry in _KEYS if not entry[2].description)
    with pytest.raises(LookupError, match=r"^the key \w+\.unheard_of has no description$"):
        key_meaning(part, "unheard_of", field)


# Commands ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_on_the_page_with_its_options(name: str) -> None:
    text = (FOLDER / "commands.md").read_text(encoding="utf-8")
    _, _, after = text.partition(f"\n## {name}\n")
    section = after.partition("\n## ")[0]
    assert f"Usage: loomwright {name}" in section
    assert "--help" in section


# Findings ----------------------------------------------------------------------------------------------------------


def test_every_code_of_a_finding_has_a_meaning_and_none_is_left_over() -> None:
    assert set(findings.findings_made()) == set(FINDING_CODES)


def test_every_finding_has_a_severity_an_advice_and_a_source() -> None:
    for code, made in findings.findings_made().items():
        assert made.severities, code
        assert made.severities <= {"stop", "fix", "note"}, code
        assert made.advice, code
        assert made.sources, code


def test_every_code_of_a_refusal_has_a_meaning_and_none_is_left_over() -> None:
    fixed, open_ = set[str](), set[str]()
    for code in findings.refusals_made():
        (open_ if "<...>" in code else fixed).add(code)
    # What fills a hole: `no-` a function that no start may be without, `-unknown` a trait.
    assert open_ == {"no-<...>", "<...>-unknown"}
    needed = {f"no-{slug(name)}" for name, facts in FUNCTIONS.items() if facts.needed} | {"no-immobiliser"}
    # Some cars need more, such as a start button; what is named must at least be a function the kit works.
    nameable = {f"no-{slug(name)}" for name, facts in FUNCTIONS.items() if facts.kit != "leave"} | needed
    unknown = {code for code in REFUSAL_CODES if code.endswith("-unknown")}
    assert unknown == {"drive-unknown", "gearbox-unknown"}
    assert fixed | needed | unknown <= set(REFUSAL_CODES) <= fixed | nameable | unknown


def _read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str) -> dict[str, findings.Made]:
    monkeypatch.setattr(findings, "SOURCE", tmp_path)
    (tmp_path / "a.py").write_text(text)
    return findings.findings_made()


def test_codes_are_read_out_of_conditions_and_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = _read(tmp_path, monkeypatch, (
        "def f(x, y):\n"
        "    if y:\n"
        "        code, words = 'third', 'w'\n"
        "    else:\n"
        "        code = 'fourth'\n"
        "    yield Finding(code='first' if x else 'second', severity='stop' if x else 'note', advice=f'see {y}')\n"
        "    yield Finding(code=code, severity='fix', source='s')\n"
    ))  # fmt: skip
    assert {k: v.severities for k, v in made.items()} == {
        "first": {"stop"}, "second": {"note"}, "third": {"fix"}, "fourth": {"fix"},
    }  # fmt: skip
    assert made["first"].advice == ["see <...>"]
    assert made["third"].sources == ["s"]


def test_a_code_that_is_no_literal_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(LookupError, match=r"^a\.py:1: the code of this Finding is not a literal text$"):
        _read(tmp_path, monkeypatch, "f = Finding(code=make(), severity='fix')")


# JSON --------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("function", JSON_PARTS)
def test_every_key_of_the_printed_objects_has_a_meaning_and_none_is_left_over(function: str) -> None:
    assert set(keys_of(function)) == set(JSON_MEANINGS[function])


def test_every_printed_object_is_on_the_page() -> None:
    made = {path.stem for path in (findings.SOURCE / "papers").glob("*_object.py")}
    assert {module.__name__.rpartition(".")[2] for module in JSON_MODULES} == made


# Sources -----------------------------------------------------------------------------------------------------------


def test_every_citation_is_in_the_bibliography() -> None:
    assert sources.unknown_citations() == ()


def test_everything_in_the_bibliography_is_cited() -> None:
    assert sources.uncited_patterns() == ()


def test_a_citation_without_an_entry_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "tests").mkdir()
    (tmp_path / "src").mkdir()
    (tmp_path / "tests" / "a.py").write_text(
        "# Source: a friend of a friend.\nX = 1  # ISO " + "99999 says so\n# Source: common practice.\n"
    )
    monkeypatch.setattr(sources, "_ROOT", tmp_path)
    sources._texts.cache_clear()
    try:
        found = sources.unknown_citations()
    finally:
        sources._texts.cache_clear()
    assert found == ("tests/a.py: ISO 99999", "tests/a.py: a friend of a friend.")


# The little Markdown -----------------------------------------------------------------------------------------------


def test_a_table_keeps_bars_and_line_breaks_inside_its_cells() -> None:
    assert table(("a", "b"), [("x|y", "one\ntwo")]) == "| a | b |\n| --- | --- |\n| x\\|y | one two |"


def test_an_anchor_is_that_of_the_usual_renderers() -> None:
    assert anchor("Template: keyed feed") == "#template-keyed-feed"
