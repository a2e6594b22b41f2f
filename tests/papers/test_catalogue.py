"""Every sentence stands in the catalogue: no other module of the papers holds one, and no text lies there unused."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

import loomwright.papers
from loomwright.documents.behaviour import STIMULI
from loomwright.papers.saying import say
from loomwright.papers.words.en import naming

_HOME = Path(loomwright.papers.__file__).parent
_CATALOGUE = _HOME / "words"
# Finding a pin in words is a catalogue of its own, older than the rest; a language unknown is an error, no paper.
_CODE = [p for p in sorted(_HOME.glob("*.py")) if p.name not in ("count_words.py", "languages.py", "match_object.py")]


def _docstrings(tree: ast.Module) -> set[int]:
    """Return the ids of strings that stand alone as a statement: docstrings of modules, functions and constants."""
    return {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}


def _texts(tree: ast.Module) -> Iterator[str]:
    skip = _docstrings(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in skip:
            yield node.value


def _is_sentence(text: str) -> bool:
    """Tell whether somebody would read this: several words, or words that end with a stop. Trace names are no text."""
    if re.match(r"^(practice|document|reading|joint|route|finding|proof|installation|readings|what-if):", text):
        return False
    words = re.findall(r"[A-Za-z]{2,}", text)
    return (len(words) >= 4 and " " in text) or (len(words) >= 2 and text.rstrip().endswith((".", "!", "?", ":")))


@pytest.mark.parametrize("path", _CODE, ids=lambda p: p.name)
def test_no_sentence_outside_the_catalogue(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert [t for t in _texts(tree) if _is_sentence(t)] == []


def test_the_search_would_find_a_sentence() -> None:
    tree = ast.parse('"""What it is."""\nx = f"Wait {n} minutes before you go on."\ny = "T tapped"\n')
    assert [t for t in _texts(tree) if _is_sentence(t)] == [" minutes before you go on."]


def test_every_text_of_the_catalogue_is_used() -> None:
    # The command line asks and tells in words of the same catalogue.
    code = "\n".join(p.read_text(encoding="utf-8") for p in _HOME.parent.rglob("*.py"))
    dotted = set(re.findall(r"\.(\w+)", code))
    bare = Counter(re.findall(r"(?<![\w.])\w+", code))
    unused = []
    for path in sorted((_CATALOGUE / "en").glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            target = node.targets[0] if isinstance(node, ast.Assign) else getattr(node, "target", None)
            if isinstance(target, ast.Name) and target.id.isupper():
                used = target.id in dotted or bare[target.id] > 1  # once where it is made
                unused += [] if used else [f"{path.name}: {target.id}"]
    assert unused == []


def test_a_template_without_its_field_is_refused() -> None:
    with pytest.raises(KeyError, match="wait"):
        say("Wait {wait} now.")


def test_whatever_a_person_may_do_to_a_car_has_its_words() -> None:
    assert set(STIMULI) - {"engine running"} <= set(naming.DOING)
    # What holds by itself, and what nobody can set back by hand, needs no words at rest.
    assert {s for s, at_rest in STIMULI.items() if not at_rest} - set(naming.RESTING) == {
        "engine running", "wait lamp lit",
    }  # fmt: skip
