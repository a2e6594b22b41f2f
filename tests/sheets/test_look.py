"""Contrast and sizes of the web page, computed from its own style sheet."""

import re
from importlib.resources import files

import pytest

from loomwright.documents.colours import contrast

_STYLE = (files("loomwright.sheets") / "templates" / "manual.css").read_text(encoding="utf-8")


def _variables(selector: str) -> dict[str, tuple[int, int, int]]:
    block = _STYLE[_STYLE.index(selector) :]
    block = block[: block.index("}")]
    found = re.findall(r"--(\w+): #([0-9a-f]{6});", block)
    return {name: (int(code[:2], 16), int(code[2:4], 16), int(code[4:], 16)) for name, code in found}


_THEMES = {
    "bright": _variables(":root {"),
    "dark by the system": _variables(':root:not([data-theme="bright"])'),
    "dark by the button": _variables(':root[data-theme="dark"] {'),
    "print": _variables(':root, :root[data-theme="dark"] {'),
}


@pytest.mark.parametrize("theme", _THEMES)
@pytest.mark.parametrize(
    ("front", "back", "least"),
    [
        # Source: W3C, WCAG 2.2, success criteria 1.4.3 (4.5:1, text), 1.4.6 (7:1, enhanced: our aim, to be read in
        # sunlight) and 1.4.11 (3:1, outlines of controls).
        ("ink", "paper", 7.0),
        ("soft", "paper", 7.0),
        ("accent", "paper", 7.0),
        ("paper", "ink", 7.0),  # the panel of a signal word
        ("paper", "accent", 7.0),  # the button that leads on
        ("rule", "paper", 3.0),
    ],
)
def test_contrast(theme: str, front: str, back: str, least: float) -> None:
    colours = _THEMES[theme]
    assert contrast(colours[front], colours[back]) >= least


@pytest.mark.parametrize("theme", _THEMES)
def test_drawings_and_labels_keep_a_light_plate(theme: str) -> None:
    # Source: W3C, WCAG 2.2, 1.4.6. Drawings are inked for white paper, in the dark as well.
    assert contrast((26, 26, 26), _THEMES[theme]["plate"]) >= 7.0
    assert contrast((11, 85, 102), _THEMES[theme]["plate"]) >= 7.0


def test_both_dark_themes_are_the_same() -> None:
    assert _THEMES["dark by the system"] == _THEMES["dark by the button"]


def test_the_base_size_is_at_least_18_px() -> None:
    match = re.search(r"html \{ font-size: (\d+)px", _STYLE)
    assert match
    assert int(match[1]) >= 18


def test_no_state_is_told_by_colour_alone() -> None:
    # A verdict differs in its border style, and its word stands in it; there is no red and no green on the page.
    assert ".verdict.wrong { border-style: dashed; }" in _STYLE
    for red, green, blue in (c for theme in _THEMES.values() for c in theme.values()):
        assert max(red, green, blue) == blue or max(red, green, blue) - min(red, green, blue) < 24
