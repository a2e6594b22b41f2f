"""The fitting guide of the demonstration is one that somebody prints, sends and opens: its pages and sizes."""

from functools import cache

import pypdfium2
import pytest

from loomwright.papers.blocks import Step
from loomwright.sheets import Form, render
from tests.papers.builders import VARIANTS, built
from tests.sheets.leaves import squeezed, texts_of


@cache
def _printed(variant: str, form: Form) -> bytes:
    return render(built(variant).guide, form)


@pytest.mark.parametrize("variant", VARIANTS)
@pytest.mark.parametrize(("form", "most_pages"), [("a4", 38), ("letter", 42)])
def test_pages_and_size_of_the_paper_guide(variant: str, form: Form, most_pages: int) -> None:
    data = _printed(variant, form)
    assert len(pypdfium2.PdfDocument(data)) <= most_pages
    assert len(data) < 900_000


@pytest.mark.parametrize("variant", VARIANTS)
def test_size_of_the_page_for_the_phone(variant: str) -> None:
    assert len(render(built(variant).guide, "html")) < 600_000


@pytest.mark.parametrize("variant", VARIANTS)
def test_short_as_it_is_nothing_of_the_guide_is_lost_on_paper(variant: str) -> None:
    guide = built(variant).guide
    pages = pypdfium2.PdfDocument(_printed(variant, "a4"))
    said = squeezed("".join(page.get_textpage().get_text_bounded() for page in pages))
    steps = [block for block in guide.blocks if isinstance(block, Step)]
    # Paper shows a plug from one side in a step; what a right reading means is said without the word before it.
    turned = {step.face.words_turned for step in steps if step.face}
    pictured = {step.picture.words: step.place for step in steps if step.picture}
    lost = []
    for text in texts_of(guide):
        rest = text.removeprefix("Right: ").removeprefix("Right. ").replace(pictured.get(text, "\0"), " ")
        # What several readings mean alike is said once up to its first full stop, so texts are looked for by sentence.
        sentences = [squeezed(sentence) for sentence in rest.split(". ")]
        if text not in turned:
            lost += [sentence for sentence in sentences if sentence.rstrip(".") not in said]
    # A sentence over the end of a page has the foot of that page in its middle.
    assert len(set(lost)) <= 3
    for sentence in lost:
        assert any(sentence[:i] in said and sentence[i:] in said for i in range(5, len(sentence) - 4))
