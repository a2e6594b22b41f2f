"""Colour words by example, every family's swatch, and the table of look-alikes."""

import itertools

import pytest

from loomwright.documents.colours import (
    FAMILIES,
    WireColour,
    clash,
    clash_wires,
    contrast,
    label_ink,
    outline_ink,
    parse_colour,
    swatch,
)

EVERY = [WireColour(word=family.name, family=family.code, shade=shade)
         for family in FAMILIES.values() for shade in ("light", "plain", "dark")]  # fmt: skip


@pytest.mark.parametrize(
    ("written", "family", "shade"),
    [
        ("light blue", "BU", "light"),
        ("LT BLU", "BU", "light"),
        ("lt. blue", "BU", "light"),
        ("LBU", "BU", "light"),
        ("tan", "BN", "light"),
        ("dk green", "GN", "dark"),
        ("lt grn", "GN", "light"),
        ("light-green", "GN", "light"),
        ("violet", "VT", "plain"),
        ("Purple", "VT", "plain"),
        ("grey", "GY", "plain"),
        ("gray", "GY", "plain"),
        ("slate", "GY", "plain"),
        ("GNYE", "GNYE", "plain"),
        ("green-and-yellow", "GNYE", "plain"),
        ("navy", "BU", "dark"),
        ("red", "RD", "plain"),
    ],
)
def test_what_people_write_finds_its_family_and_keeps_its_word(written: str, family: str, shade: str) -> None:
    colour = parse_colour(written)
    assert (colour.word, colour.family, colour.shade) == (written, family, shade)


def test_stray_spaces_are_not_part_of_the_word() -> None:
    assert parse_colour("  Dark   Blue ").word == "Dark Blue"


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("oragne", "found colour 'oragne', expected a colour word; did you mean orange?"),
        ("brown/white", "found 'brown/white', expected one colour; write base and stripe in their own fields"),
        ("gr", "found 'gr', which may be grey or green; write the colour in full"),
        ("BL", "found 'BL', which may be black or blue; write the colour in full"),
        (
            "zzz",
            "found colour 'zzz', expected a colour word; known colours: black, brown, red, orange, yellow, green, "
            "blue, violet, grey, white, pink, gold, turquoise, silver, green-and-yellow",
        ),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_do(written: str, message: str) -> None:
    with pytest.raises(ValueError, match=r"^found ") as caught:
        parse_colour(written)
    assert str(caught.value) == message


@pytest.mark.parametrize("name", [family.name for family in FAMILIES.values()])
@pytest.mark.parametrize("shade", ["", "light ", "dark "])
def test_every_family_is_read_from_its_own_name(shade: str, name: str) -> None:
    family = parse_colour(shade + name).family
    assert FAMILIES[family].name == name


def test_every_family_has_a_pattern_and_a_swatch_of_its_own() -> None:
    assert len({family.pattern for family in FAMILIES.values()}) == len(FAMILIES)
    assert len({family.rgb for family in FAMILIES.values()}) == len(FAMILIES)


# Source: W3C, WCAG 2.2, success criterion 1.4.3: text has a contrast of at least 4.5 to 1.
@pytest.mark.parametrize("colour", [*EVERY, parse_colour("tan"), parse_colour("beige"), parse_colour("cream")])
def test_a_label_can_be_read_on_every_swatch(colour: WireColour) -> None:
    rgb = swatch(colour)
    assert contrast(rgb, label_ink(rgb)) >= 4.5
    assert contrast(rgb, outline_ink(rgb)) >= 1.5


def test_a_clash_is_mutual() -> None:
    for a, b in itertools.combinations_with_replacement(EVERY, 2):
        assert clash(a, b) == clash(b, a)
        assert (clash(a, b) is not None) or a.family != b.family


@pytest.mark.parametrize(
    ("one", "other", "reason"),
    [
        ("blue", "light blue", "two shades of blue"),
        ("purple", "violet", "both are violet"),
        ("brown", "orange", "a dirty orange looks brown"),
        ("orange", "red", "orange and red run together under a warm lamp"),
        ("tan", "white", "tan looks like a dirty white"),
        ("dark green", "black", "dark green looks black in the shade"),
        ("green", "black", None),
        ("light blue", "black", None),
        ("tan", "red", None),
        ("dark green", "blue", None),
        ("dark green", "dark blue", "dark green and dark blue run together in the shade"),
        ("yellow", "blue", None),
        ("red", "green", None),
    ],
)
def test_look_alikes(one: str, other: str, reason: str | None) -> None:
    assert clash(parse_colour(one), parse_colour(other)) == reason


def _wire(text: str) -> tuple[WireColour, WireColour | None]:
    base, _, stripe = text.partition("/")
    return parse_colour(base), parse_colour(stripe) if stripe else None


@pytest.mark.parametrize(
    ("one", "other", "reason"),
    [
        ("yellow", "yellow", "both are yellow"),
        ("yellow", "yellow/black", "both are yellow, and a stripe may face away"),
        ("light blue/black", "blue/black", "two shades of blue, and both stripes are black"),
        ("blue/black", "blue/brown", "both are blue, and of the stripes, brown looks black in the shade"),
        ("blue/black", "blue/white", None),
        ("brown/white", "white/brown", "base and stripe are the other way round"),
        ("brown/white", "green/white", None),
    ],
)
def test_whole_wires(one: str, other: str, reason: str | None) -> None:
    assert clash_wires(_wire(one), _wire(other)) == reason
    assert clash_wires(_wire(other), _wire(one)) == reason
