"""Papers in another language: whole catalogues, no sentence outside them, and the same paper otherwise."""

import ast
import copy
import pickle
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import get_args

import pytest

import loomwright
from loomwright.documents.basis import LanguageCode
from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.texts import spaced, texts_of
from loomwright.fitting.order import begin, order_check
from loomwright.fitting.questions import KEYS, PARKED, PLACE
from loomwright.network.tracing import trace_reading
from loomwright.papers.bench_test import bench_test
from loomwright.papers.blocks import Paper, Quantity
from loomwright.papers.foreign import Foreign
from loomwright.papers.language import Language
from loomwright.papers.languages import ENGLISH, FRENCH, LANGUAGES, language_of
from loomwright.papers.match_report import match_report
from loomwright.papers.order_check import order_paper
from loomwright.papers.reading_table import reading_table
from loomwright.papers.rehearsal import start_paper
from loomwright.papers.saying import joined, lifted, plain, say
from loomwright.papers.trace_table import trace_paper
from loomwright.papers.translating import SAID, in_language
from loomwright.papers.wiring_plan import wiring_plan
from loomwright.papers.words import en, fr
from loomwright.papers.words.fr._told import TABLES, TOLD
from loomwright.papers.words.pairing import french_spaces, texts
from loomwright.sentences import capital, clause, linked, listing, told
from loomwright.sheets import render
from loomwright.sheets import words as sheet_words
from loomwright.starting.advice import advise
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.verdicts import VERDICTS
from tests.pairs import PAIRS
from tests.papers.builders import VARIANTS, Built, built, built_pair, documents, quantities

_SOURCE = Path(loomwright.__file__).parent
_FIELD = re.compile(r"\{(\w+)")

# What is written the same in both languages: names, signs, and words that both have.
_ALIKE = frozenset({
    "Option", "Verdict", "Circuit", "Point", "Volts", "question", "source", "note", "positive", "s", "DANGER",
    "format ",
})  # fmt: skip


def _fields(text: str) -> list[str]:
    return sorted(set(_FIELD.findall(text)))


def test_french_has_every_text_of_english_and_no_other() -> None:
    assert texts(fr).keys() == texts(en).keys()


def test_every_text_has_the_same_fields_in_both_languages() -> None:
    french = texts(fr)
    assert {path: _fields(french[path]) for path in french} == {path: _fields(t) for path, t in texts(en).items()}
    assert [english for english, said in TOLD.items() if _fields(english) != _fields(said)] == []


def test_no_english_text_is_left_in_french() -> None:
    french = texts(fr)
    words = {path: re.sub(r"\{[^}]*\}", "", text) for path, text in texts(en).items()}
    left = [t for path, t in words.items() if t and french[path] == texts(en)[path] and re.search(r"[A-Za-z]{2}", t)]
    assert [text for text in left if text not in _ALIKE] == []


def test_one_english_text_has_one_french_one() -> None:
    french = texts(fr)
    said: dict[str, set[str]] = {}
    for path, english in texts(en).items():
        said.setdefault(english, set()).add(french[path])
    assert {english: both for english, both in said.items() if len(both) > 1} == {}
    for table in TABLES:
        for english, words in table.items():
            assert TOLD[english] == words, english
            assert said.get(english, {words}) == {words}, english


def test_every_function_of_the_trade_has_its_french_name() -> None:
    assert [name for name in FUNCTIONS if name not in FRENCH.sentences] == []


def test_the_sheets_have_their_own_words_in_every_language() -> None:
    english = sheet_words.words_for("en")
    for code in LANGUAGES:
        found = sheet_words.words_for(code)
        assert found.keys() == english.keys()
        assert {key: _fields(found[key]) for key in found} == {key: _fields(english[key]) for key in english}


def test_documents_know_the_languages_of_the_papers() -> None:
    assert set(get_args(LanguageCode)) == set(LANGUAGES)


def _told_patterns() -> Iterator[tuple[str, str]]:
    """Every plain pattern that a room below the papers tells, with its file."""
    rooms = ("planning", "network", "starting", "faults")
    files = [p for room in rooms for p in sorted((_SOURCE / room).glob("*.py"))]
    for path in [*files, _SOURCE / "documents" / "standing.py", _SOURCE / "documents" / "colours.py"]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "told":
                for one in ast.walk(node.args[0]):
                    if isinstance(one, ast.Constant) and isinstance(one.value, str) and not _joined(node.args[0]):
                        yield one.value, path.name


def _joined(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr)


def test_every_pattern_that_a_room_tells_has_a_french_one() -> None:
    # Where a setting comes from is told to programs alone.
    silent = {"settings.py"}
    left = [(p, f) for p, f in _told_patterns() if p not in FRENCH.sentences and f not in silent]
    assert [(p, file) for p, file in left if re.search(r"[A-Za-z]{3} ", p)] == []


def test_a_room_that_tells_something_new_would_be_found() -> None:
    assert len(list(_told_patterns())) > 250


# --- no sentence outside the catalogue -------------------------------------------------------------------------

_OPEN, _SHUT = "\N{LEFT WHITE CURLY BRACKET}", "\N{RIGHT WHITE CURLY BRACKET}"


@cache
def _marking() -> Language:
    """A language in which every text of the catalogue stands between marks."""
    every = {*TOLD, *texts(en).values()}
    return Language(code="en", name="marks", sentences={text: f"{_OPEN}{text}{_SHUT}" for text in every})


def _read(value: object) -> Iterator[str]:
    """Yield every text of a paper as one string, a number in it as 0; drawings too."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple) and any(isinstance(run, Quantity) for run in value):
        yield "".join(run if isinstance(run, str) else "0" for run in value)
    elif isinstance(value, tuple):
        for one in value:
            yield from _read(one)
    elif isinstance(value, Mapping):
        for one in value.values():
            yield from _read(one)
    elif type(value) in SAID:
        for name in SAID[type(value)]:
            yield from _read(getattr(value, name))


def _outside(text: str) -> str:
    """Return what of a text stands outside all marks."""
    depth, out = 0, []
    for letter in text:
        depth += (letter == _OPEN) - (letter == _SHUT)
        if depth == 0 and letter != _SHUT:
            out.append(letter)
    assert depth == 0, text
    return "".join(out)


def _known(made: Built) -> list[str]:
    """Every text that somebody wrote into a document, the longest first, and as a sentence begins or ends with it."""
    written = {spaced(t) for d in (made.vehicle, made.kit, made.shop, made.installation.car) for t in texts_of(d)}
    forms = {f for t in written for f in (t, t.rstrip("."), t[:1].upper() + t[1:], t[:1].upper() + t[1:].rstrip("."))}
    return sorted((f for f in forms if len(f) > 1), key=len, reverse=True)


_CODES = re.compile(r"\b(?:[A-Z0-9]+(?:[ /-][A-Z0-9]+)*|[a-z0-9-]+/\w+|[CcHh]\d+/\d+)\b")


def _left(paper: Paper, known: list[str]) -> list[str]:
    """Return what of a paper is neither from the catalogue nor from a document, nor a number, a unit or a code."""
    left = []
    for text in _read(in_language(paper, _marking())):
        rest = spaced(_outside(text))
        for words in known if re.search(r"[A-Za-z]{3}", rest) else ():
            if words in rest:
                rest = re.sub(rf"(?<!\w){re.escape(words)}(?!\w)", " ", rest)
        if re.search(r"[A-Za-z]{3}", _CODES.sub(" ", rest)):
            left.append(f"{rest}  <-  {text[:200]}")
    return list(dict.fromkeys(left))


def _papers(made: Built) -> dict[str, Paper]:
    return {
        "guide": made.guide,
        "wiring plan": wiring_plan(made.installation, made.proof, made.shop, {}),
        "readings": reading_table(made.installation, made.readings, made.shop),
        "match": match_report(made.installation, made.proof),
        **made.cards,
    }


@pytest.mark.parametrize("variant", VARIANTS)
def test_no_paper_says_a_word_that_is_in_no_catalogue(variant: str) -> None:
    made = built(variant)
    known = _known(made)
    assert {name: left for name, paper in _papers(made).items() if (left := _left(paper, known))} == {}


@pytest.mark.parametrize("pair", PAIRS[2::2], ids=lambda pair: pair[0])
def test_no_paper_of_another_pair_says_such_a_word(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    known = _known(made)
    assert {name: left for name, paper in _papers(made).items() if (left := _left(paper, known))} == {}


def test_no_other_paper_says_such_a_word() -> None:
    made = built("2014 sedan")
    one, known = made.installation, _known(made)
    reading = next(r for r in made.readings.readings if r.band.driven)
    vehicle, kit, evidence, shop = documents()
    order = begin(vehicle, kit, shop, (evidence,))
    whole = {**VARIANTS["2014 sedan"], PARKED: "attached-garage", KEYS: "1", PLACE: "Port Corvane"}
    papers = {
        "bench test": bench_test(one, made.proof, made.readings, shop, {}),
        "trace": trace_paper(trace_reading(one, reading, made.readings.battery_v), lambda _: None),
        "start": start_paper(one, None, (rehearse(one, SCENARIOS["cold"]),), advise(one)),
        "order, open": order_paper(order_check(order, {"engine": "3.3"})),
        "order": order_paper(order_check(order, whole)),
    }
    # Elements without words of their own are told by their ids.
    found = {name: _left(paper, [*known, "v:battery"]) for name, paper in papers.items()}
    assert {name: left for name, left in found.items() if left} == {}


def test_the_search_finds_a_sentence_outside_the_catalogue() -> None:
    made = built("2012 wagon")
    paper = Paper(id="x", title="Never heard of", subtitle="Fitting guide", language="en")
    assert _left(paper, _known(made)) == ["Never heard of  <-  Never heard of"]


# --- what a language does ---------------------------------------------------------------------------------------


def test_a_paper_in_english_is_the_paper() -> None:
    paper = built("2012 wagon").guide
    assert in_language(paper, ENGLISH) == paper


@pytest.mark.parametrize("variant", VARIANTS)
def test_a_paper_in_french_has_the_same_numbers_with_their_traces_and_decimal_commas(variant: str) -> None:
    paper = built(variant).guide
    french = in_language(paper, FRENCH)
    assert french.language == "fr"
    before, after = list(quantities(paper.blocks)), list(quantities(french.blocks))
    assert sorted((q.trace, q.value) for q in after) == sorted((q.trace, q.value) for q in before)
    assert {q.decimal for q in after} == {","}
    assert any("," in q.printed for q in after)


def test_a_sentence_is_said_from_what_it_was_made_of() -> None:
    found = told("The kit had {one}.", one="x")
    assert str(found) == "The kit had x."
    said = {"The kit had {one}.": "Le kit a {one}.", "red": "rouge", "{said} and {item}": "{said} et {item}"}
    french = Language(code="xx", name="x", sentences=said)
    assert (
        french.of(told("The kit had {one}.", one=listing(["red", "green", "red"]))) == "Le kit a rouge, green et rouge."
    )
    assert french.of(listing(["red", "red"])) == "rouge et rouge"
    assert french.of(clause(told("The kit had {one}.", one="red"))) == "le kit a rouge"
    assert french.of(capital(linked(("red", "blue"), ", "))) == "Rouge, blue"
    assert french.of("red/blue") == "red/blue"
    assert french.of("red/red") == "rouge/rouge"


def test_a_copy_remembers_what_it_was_made_of() -> None:
    sentence = told("the kit had {one}", one="red")
    text = say("Wait: {what}", what=sentence)
    for found in (pickle.loads(pickle.dumps(text)), copy.deepcopy(text)):
        assert found == text
        assert FRENCH.text(found) == FRENCH.text(text) != text


def test_a_text_of_a_document_without_a_translation_stays_and_says_its_language() -> None:
    language = FRENCH.with_texts({"A white plug.": "Un connecteur blanc."}, {"A white plug.", "Pull it off."}, "en")
    assert language.of("A  white\nplug.") == "Un connecteur blanc."
    kept = language.text(say("{look} {do}", look="A white plug.", do="Pull it off."))
    assert kept == ("Un connecteur blanc. ", "Pull it off.")
    assert isinstance(kept[1], Foreign)
    assert kept[1].language == "en"


def test_the_translations_of_the_demonstration_reach_the_guide() -> None:
    made = built("2014 sedan")
    language = language_of("fr", made.shop, made.installation.car, made.kit)
    assert language.texts
    found = [text for text in _read(in_language(made.guide, language)) if isinstance(text, Foreign)]
    assert found == []


def test_a_number_of_a_sentence_has_the_decimal_sign_of_the_language() -> None:
    said = FRENCH.of(told("On this wire {rpm:.0f} rpm are {hertz:.1f} Hz.", rpm=376.0, hertz=12.53))
    assert said == "Sur ce fil, 376 tr/min font 12,5 Hz."
    assert FRENCH.of(told("{charge_ah:+.2f} Ah in the battery", charge_ah=1.04)) == "+1,04 Ah dans la batterie"
    # A name with a point in it is no number.
    assert FRENCH.of(told("{axis} {value}", axis="engine", value="2.4")) == "moteur 2.4"
    assert ENGLISH.of(told("{hertz:.1f} Hz", hertz=12.53)) == "12.5 Hz"


def test_a_number_is_lifted_out_of_a_sentence_of_any_language_alike() -> None:
    found = lifted(told("{words}: {found}.", words="x", found=told("{rpm:.0f} rpm at the end", rpm=680.0)), "t")
    longer = lifted(told("{volts}; at least {least} V", volts=told("off after {s:.2f} s", s=0.5), least=9.6), "t")
    for english in (found, longer):
        french = FRENCH.text(english)
        before, after = list(quantities(english)), list(quantities(french))
        assert before
        assert [(q.value, q.digits, q.trace) for q in after] == [(q.value, q.digits, q.trace) for q in before]
        assert {q.decimal for q in after} == {","}
    assert plain(FRENCH.text(found)).endswith("680 tr/min à la fin.")
    assert plain(FRENCH.text(longer)).endswith("au moins 9,6 V")
    # What a document says in English and nobody translated keeps its value too.
    (kept,) = quantities(FRENCH.text(lifted("Wait for 2.5 s there.", "t")))
    assert (kept.value, kept.printed) == (2.5, "2,5")


def test_units_are_written_as_in_the_language() -> None:
    speed = Quantity(value=680.0, unit="rpm", trace="t", digits=0)
    assert FRENCH.number(speed).unit == "tr/min"
    assert ENGLISH.number(speed) == speed
    assert FRENCH.text(say("{speed}", speed=speed)) == (FRENCH.number(speed),)
    assert FRENCH.number(Quantity(value=24.0, unit="in", trace="t", digits=0)).unit == "po"


def test_signs_between_two_texts_are_those_of_the_language() -> None:
    assert FRENCH.of(linked(("red", "blue"), "; ")) == "rouge\N{NARROW NO-BREAK SPACE}; bleu"
    assert FRENCH.of(linked(("red", "blue"), ": ")) == "rouge\N{NO-BREAK SPACE}: bleu"
    assert plain(FRENCH.text(joined("red", "blue", between="; "))) == "rouge\N{NARROW NO-BREAK SPACE}; bleu"
    assert ENGLISH.of(linked(("red", "blue"), "; ")) == "red; blue"


def test_no_french_text_has_a_number_with_a_point_or_a_unit_of_english() -> None:
    every = {**texts(fr), **TOLD}
    wrong = re.compile(r"\d\.\d+ ?(?:V|A|s|Hz|%|min)\b|\brpm\b|\bdegC\b")
    assert [text for text in every.values() if wrong.search(re.sub(r"\{[^}]*\}", "", text))] == []


def test_every_scenario_and_every_answer_of_a_start_is_said_in_french() -> None:
    every = [words for one in SCENARIOS.values() for words in (one.words, *(event.words for event in one.events))]
    assert [words for words in every if words not in FRENCH.sentences] == []
    assert [words for words, _ in VERDICTS.values() if words not in FRENCH.sentences] == []


def test_the_paper_of_the_start_is_french_throughout() -> None:
    made = built("2014 sedan")
    one = made.installation
    language = language_of("fr", made.shop, one.car, made.kit)
    runs = tuple(rehearse(one, SCENARIOS[name]) for name in ("cold", "weak-battery", "run-time", "takeover"))
    text = render(in_language(start_paper(one, None, runs, advise(one)), language), "text").decode()
    assert re.findall(r"\d\.\d|\brpm\b|\bdegC\b|\b(?:the|while|with|of|for)\b", text) == []
    assert "tr/min" in text
    assert re.search(r"\d,\d+ Ah", text)


def test_french_spaces_do_not_break() -> None:
    assert french_spaces("Où : « là » ; prêt ?") == (
        "Où\N{NO-BREAK SPACE}: «\N{NO-BREAK SPACE}là\N{NO-BREAK SPACE}»\N{NARROW NO-BREAK SPACE}; "
        "prêt\N{NARROW NO-BREAK SPACE}?"
    )
