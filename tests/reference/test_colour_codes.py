"""Wire colours against IEC 60757 and contrast against the published anchors of WCAG."""

import pytest

from loomwright.documents.colours import FAMILIES, contrast, parse_colour, relative_luminance

# Source: IEC 60757:2021, list of designations, in the order in which combined colours are written (from memory;
# RD, BU, GN, YE and GNYE and the rule of order were read in a public excerpt). Light blue is designated BU too.
IEC_60757 = {
    "black": "BK", "brown": "BN", "red": "RD", "orange": "OG", "yellow": "YE", "green": "GN", "blue": "BU",
    "violet": "VT", "grey": "GY", "white": "WH", "pink": "PK", "gold": "GD", "turquoise": "TQ", "silver": "SR",
    "green-and-yellow": "GNYE",
}  # fmt: skip


@pytest.mark.parametrize(("name", "code"), IEC_60757.items())
def test_codes_of_iec_60757(name: str, code: str) -> None:
    assert parse_colour(name).code == code
    assert parse_colour(code).code == code


def test_order_of_iec_60757() -> None:
    assert list(FAMILIES) == list(IEC_60757.values())


def test_the_other_names_of_iec_60757() -> None:
    # Source: IEC 60757:2021 names violet also purple, grey also slate, and counts light blue as blue.
    assert [parse_colour(word).code for word in ("purple", "slate", "light blue")] == ["VT", "GY", "BU"]


# Source: W3C, WCAG 2.2, definition of contrast ratio: it ranges from 1 to 21, black on white being 21.
def test_ends_of_the_contrast_scale() -> None:
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21.0)
    assert contrast((90, 40, 10), (90, 40, 10)) == pytest.approx(1.0)


# Source: IEC 61966-2-1 (sRGB), luminance row of the RGB-to-XYZ matrix to four digits: 0.2126, 0.7152, 0.0722.
@pytest.mark.parametrize(("rgb", "luminance"), [((255, 0, 0), 0.2126), ((0, 255, 0), 0.7152), ((0, 0, 255), 0.0722)])
def test_luminance_of_the_primaries(rgb: tuple[int, int, int], luminance: float) -> None:
    assert relative_luminance(rgb) == pytest.approx(luminance, abs=5e-5)


# Source: W3C, Understanding WCAG 2.2, criterion 1.4.3 (technique G18): on white, #767676 is the lightest grey that
# reaches 4.5 to 1; #777777 falls short of it.
def test_the_lightest_grey_that_still_reads_on_white() -> None:
    white = (255, 255, 255)
    assert contrast((0x76, 0x76, 0x76), white) >= 4.5 > contrast((0x77, 0x77, 0x77), white)
