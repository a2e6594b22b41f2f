"""Wire colours as people write them: the word is kept, the family it belongs to is found, look-alikes are named.

Codes are those of IEC 60757. Swatches, patterns and the table of look-alikes are this project's own.
"""

import difflib
import re
from dataclasses import dataclass
from functools import cache
from typing import Literal

from loomwright.sentences import told

__all__ = [
    "FAMILIES",
    "Family",
    "Shade",
    "WireColour",
    "clash",
    "clash_wires",
    "contrast",
    "label_ink",
    "outline_ink",
    "parse_colour",
    "relative_luminance",
    "swatch",
]

Shade = Literal["light", "plain", "dark"]
Rgb = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """One colour of IEC 60757: its two-letter code, plain name, display colour and black-and-white pattern."""

    code: str
    name: str
    rgb: Rgb
    pattern: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WireColour:
    """A colour as it was written, with the family it belongs to; base and stripe are two of these."""

    word: str
    family: str
    shade: Shade = "plain"

    @property
    def code(self) -> str:
        """Return the IEC 60757 code of the family, e.g. BU for light blue too."""
        return self.family


# Source: IEC 60757:2021, table 1 (order and codes from memory; RD, BU, GN, YE, GNYE seen in a public excerpt).
# The order of this literal is the order in which the standard joins codes (RDBU, not BURD).
# The display colours are ours: insulation dyes as they look on white paper, not a signal set.
FAMILIES: dict[str, Family] = {
    family.code: family
    for family in (
        Family(code="BK", name="black", rgb=(34, 34, 34), pattern="solid"),
        Family(code="BN", name="brown", rgb=(122, 74, 38), pattern="cross-hatch"),
        Family(code="RD", name="red", rgb=(200, 32, 38), pattern="upright lines"),
        Family(code="OG", name="orange", rgb=(240, 128, 24), pattern="broken upright lines"),
        Family(code="YE", name="yellow", rgb=(248, 212, 40), pattern="dots"),
        Family(code="GN", name="green", rgb=(30, 132, 66), pattern="falling lines"),
        Family(code="BU", name="blue", rgb=(32, 84, 176), pattern="level lines"),
        Family(code="VT", name="violet", rgb=(118, 60, 150), pattern="rising lines"),
        Family(code="GY", name="grey", rgb=(140, 142, 145), pattern="dense dots"),
        Family(code="WH", name="white", rgb=(255, 255, 255), pattern="blank"),
        Family(code="PK", name="pink", rgb=(244, 158, 186), pattern="circles"),
        Family(code="GD", name="gold", rgb=(190, 150, 60), pattern="crosses"),
        Family(code="TQ", name="turquoise", rgb=(48, 178, 178), pattern="broken level lines"),
        Family(code="SR", name="silver", rgb=(196, 200, 204), pattern="grid"),
        Family(code="GNYE", name="green-and-yellow", rgb=(150, 180, 50), pattern="bars"),
    )
}

# What people write for each family. Two-letter forms that mean different colours in different lists are not here:
# they are refused below with the choice spelled out.
_WORDS: dict[str, tuple[str, ...]] = {
    "BK": ("black", "blk", "bk"),
    "BN": ("brown", "brn", "bn", "tan", "beige", "chocolate", "br"),
    "RD": ("red", "rd", "maroon", "crimson"),
    "OG": ("orange", "org", "orn", "og", "amber"),
    "YE": ("yellow", "yel", "ye", "cream", "ylw"),
    "GN": ("green", "grn", "gn", "lime", "olive"),
    "BU": ("blue", "blu", "bu", "navy"),
    "VT": ("violet", "vio", "vt", "purple", "pur", "ppl", "lavender", "lilac"),
    "GY": ("grey", "gray", "gry", "gy", "slate"),
    "WH": ("white", "wht", "wh", "natural", "clear"),
    "PK": ("pink", "pnk", "pk"),
    "GD": ("gold", "gd"),
    "TQ": ("turquoise", "tq", "teal", "aqua", "cyan"),
    "SR": ("silver", "sr"),
    "GNYE": ("green-and-yellow", "green and yellow", "gnye"),
}
_AMBIGUOUS: dict[str, tuple[str, str]] = {
    "gr": ("grey", "green"),
    "bl": ("black", "blue"),
    "pu": ("purple", "pink"),
    "g": ("green", "grey"),
    "b": ("black", "blue or brown"),
}
_LIGHT = frozenset({"light", "lt", "lgt", "pale", "sky", "baby", "bright"})
_DARK = frozenset({"dark", "dk", "drk", "deep"})
# Words that mean a lighter or darker dye of the family without saying so.
_SHADED: dict[str, Shade] = {
    "tan": "light", "beige": "light", "cream": "light", "lime": "light", "lavender": "light", "lilac": "light",
    "navy": "dark", "maroon": "dark", "olive": "dark", "chocolate": "dark", "teal": "dark",
}  # fmt: skip
# A mixture of the family's dye with white or black would miss these by eye.
_OWN_RGB: dict[str, Rgb] = {"tan": (212, 176, 130), "beige": (226, 204, 168), "cream": (250, 238, 190)}
# Only whole words are proposed to somebody who mistyped one.
_WHOLE_WORDS = tuple(
    word for words in _WORDS.values() for word in words if word in {"red", "tan"} or (len(word) > 3 and word != "gnye")
)
_FAMILY_OF = {word: code for code, words in _WORDS.items() for word in words}


@cache
def parse_colour(text: str) -> WireColour:
    """Read one colour as people write it: 'light blue', 'Tan', 'dk grn', 'LBU', 'slate'.

    Returns:    the written word (single spaces, as typed), its family and its shade.
    Raises:     ValueError -- for two colours at once, for a form that means two colours, and for an unknown word;
                the message lists what was probably meant.
    """
    word = " ".join(text.split())
    plain = re.sub(r"[.]", " ", word.lower())
    plain = " ".join(plain.split())
    if plain in _FAMILY_OF:
        return WireColour(word=word, family=_FAMILY_OF[plain], shade=_SHADED.get(plain, "plain"))
    if re.search(r"[/+,]|\bwith\b", plain):
        msg = f"found {word!r}, expected one colour; write base and stripe in their own fields"
        raise ValueError(msg)
    shade, rest = _split_shade([token for token in re.split(r"[\s-]+", plain) if token])
    name = " ".join(rest)
    if name in _AMBIGUOUS:
        one, other = _AMBIGUOUS[name]
        msg = f"found {word!r}, which may be {one} or {other}; write the colour in full"
        raise ValueError(msg)
    if name not in _FAMILY_OF and shade == "plain":
        shade, name = _split_prefix(name)
    if name not in _FAMILY_OF:
        raise ValueError(_unknown(word, name))
    return WireColour(
        word=word, family=_FAMILY_OF[name], shade=_SHADED.get(name, "plain") if shade == "plain" else shade
    )


def _split_shade(tokens: list[str]) -> tuple[Shade, list[str]]:
    rest = [token for token in tokens if token not in _LIGHT | _DARK]
    if any(token in _LIGHT for token in tokens):
        return "light", rest
    if any(token in _DARK for token in tokens):
        return "dark", rest
    return "plain", rest


def _split_prefix(name: str) -> tuple[Shade, str]:
    """Take apart 'ltblue', 'dkgrn' and 'LBU' ('L' before a code is custom, not IEC 60757)."""
    for prefix in ("light", "dark", "lt", "dk", "l", "d"):
        rest = name.removeprefix(prefix)
        if rest != name and rest in _FAMILY_OF:
            return ("light" if prefix.startswith("l") else "dark"), rest
    return "plain", name


def _unknown(word: str, name: str) -> str:
    near = difflib.get_close_matches(name, _WHOLE_WORDS, n=3, cutoff=0.6)
    names = ", ".join(family.name for family in FAMILIES.values())
    meant = f"did you mean {' or '.join(near)}?" if near else f"known colours: {names}"
    return f"found colour {word!r}, expected a colour word; {meant}"


# Look-alikes under a dashboard with a hand lamp, with the reason. Ours, from common practice; order does not matter.
_LOOK_ALIKES: dict[frozenset[str], str] = {
    frozenset(pair): reason
    for pair, reason in (
        (("OG", "RD"), "orange and red run together under a warm lamp"),
        (("OG", "BN"), "a dirty orange looks brown"),
        (("OG", "YE"), "a faded orange looks yellow"),
        (("OG", "PK"), "a faded orange looks pink"),
        (("BN", "RD"), "a dark red looks brown"),
        (("BN", "BK"), "brown looks black in the shade"),
        (("BN", "GD"), "gold looks like a light brown"),
        (("BK", "BU"), "dark blue looks black in the shade"),
        (("BK", "VT"), "violet looks black in the shade"),
        (("BK", "GN"), "dark green looks black in the shade"),
        (("BU", "VT"), "blue and violet run together under a warm lamp"),
        (("BU", "TQ"), "turquoise is taken for blue"),
        (("GN", "TQ"), "turquoise is taken for green"),
        (("GN", "BU"), "dark green and dark blue run together in the shade"),
        (("VT", "PK"), "a faded violet looks pink"),
        (("RD", "PK"), "a faded red looks pink"),
        (("YE", "WH"), "yellow looks white under a warm lamp"),
        (("YE", "GD"), "gold is taken for yellow"),
        (("GY", "WH"), "a dirty white looks grey"),
        (("GY", "SR"), "grey and silver cannot be told apart"),
        (("WH", "SR"), "silver is taken for white"),
        (("GNYE", "GN"), "the yellow half may face away"),
        (("GNYE", "YE"), "the green half may face away"),
    )
}
# These pairs are alike only where both, or the named one, have the given shade.
_NEEDS: dict[frozenset[str], tuple[tuple[str, Shade], ...]] = {
    frozenset(("BK", "GN")): (("GN", "dark"),),
    frozenset(("GN", "BU")): (("GN", "dark"), ("BU", "dark")),
}
# A light dye joins other neighbours: tan next to white, yellow, pink and grey; pale anything next to white.
_PALE_ALIKES: dict[frozenset[str], str] = {
    frozenset(("BN", "WH")): "tan looks like a dirty white",
    frozenset(("BN", "YE")): "tan looks like a dirty yellow",
    frozenset(("BN", "PK")): "tan and pink run together under a warm lamp",
    frozenset(("BN", "GY")): "tan and grey run together in the shade",
    frozenset(("GN", "YE")): "a light green looks yellow under a warm lamp",
    frozenset(("PK", "WH")): "a faded pink looks white",
    frozenset(("BU", "GY")): "a light blue looks grey under a warm lamp",
    frozenset(("BU", "WH")): "a faded light blue looks white",
}


def clash(a: WireColour, b: WireColour) -> str | None:
    """Say why somebody in bad light would take one colour for the other, or return None if nobody would.

    The answer is the same whichever way round the two are given.
    """
    if a.family == b.family:
        name = FAMILIES[a.family].name
        return told("both are {colour}" if a.shade == b.shade else "two shades of {colour}", colour=name)
    pair = frozenset((a.family, b.family))
    shades = {a.family: a.shade, b.family: b.shade}
    if "light" in shades.values() and pair in _PALE_ALIKES and _pale_one(pair, shades):
        return _PALE_ALIKES[pair]
    if any(shades[family] != shade for family, shade in _NEEDS.get(pair, ())):
        return None
    # No light dye looks black, and tan is far from the reds and from orange.
    if ("light" in shades.values() and "BK" in pair) or (shades.get("BN") == "light" and pair & {"RD", "OG"}):
        return None
    return _LOOK_ALIKES.get(pair)


def _pale_one(pair: frozenset[str], shades: dict[str, Shade]) -> bool:
    """Tell whether the member of the pair that the pale table speaks of is the light one."""
    spoken_of = {"BN", "GN", "BU", "PK"} & pair
    return any(shades[family] == "light" for family in spoken_of)


def clash_wires(
    a: tuple[WireColour, WireColour | None],
    b: tuple[WireColour, WireColour | None],
) -> str | None:
    """Say why one whole wire, (base, stripe or None), would be taken for another, or return None.

    A stripe may face away from the eye, so a striped wire is alike to a plain one of the same base. Base and stripe
    swapped ('brown/white' and 'white/brown') are alike as well: which is the stripe is hard to see on a short end.
    """
    base = clash(a[0], b[0])
    if base is not None:
        if a[1] is None or b[1] is None:
            return base if a[1] is b[1] else told("{base}, and a stripe may face away", base=base)
        stripe = clash(a[1], b[1])
        if stripe is not None:
            same = a[1].family == b[1].family and a[1].shade == b[1].shade
            name = FAMILIES[a[1].family].name
            stripes = told("of the stripes, {stripe}", stripe=stripe)
            if same:
                stripes = told("both stripes are {colour}", colour=name)
            return told("{base}, and {stripes}", base=base, stripes=stripes)
    if a[1] is not None and b[1] is not None and (a[0].family, a[1].family) == (b[1].family, b[0].family):
        return "base and stripe are the other way round"
    return None


def swatch(colour: WireColour) -> Rgb:
    """Return the display colour, sRGB 0..255: the family's, mixed with white for light and black for dark."""
    own = _OWN_RGB.get(colour.word.lower())
    if own is not None:
        return own
    rgb = FAMILIES[colour.family].rgb
    # The two shares are chosen by eye so that the three shades of blue are told apart on paper.
    if colour.shade == "light":
        return _mix(rgb, (255, 255, 255), 0.5)
    if colour.shade == "dark":
        return _mix(rgb, (0, 0, 0), 0.35)
    return rgb


def _mix(rgb: Rgb, other: Rgb, share: float) -> Rgb:
    red, green, blue = (round(c * (1 - share) + o * share) for c, o in zip(rgb, other, strict=True))
    return red, green, blue


def relative_luminance(rgb: Rgb) -> float:
    """Return the relative luminance of an sRGB colour, 0 (black) to 1 (white).

    L = 0.2126 R + 0.7152 G + 0.0722 B with each channel c made linear: c/12.92 up to 0.04045, else
    ((c + 0.055)/1.055)^2.4.

    References: W3C, Web Content Accessibility Guidelines (WCAG) 2.2, definition of relative luminance;
                IEC 61966-2-1 (sRGB) for the 0.04045 limit. WCAG 2.0 printed 0.03928; no 8-bit value lies between.
    """

    def linear(value: int) -> float:
        c = value / 255
        return c / 12.92 if c <= 0.04045 else float(((c + 0.055) / 1.055) ** 2.4)  # the formula's own

    red, green, blue = (linear(value) for value in rgb)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a: Rgb, b: Rgb) -> float:
    """Return the contrast ratio of two sRGB colours, 1 (same) to 21 (black on white).

    (L1 + 0.05)/(L2 + 0.05), L1 the lighter. Text wants at least 4.5.

    References: W3C, Web Content Accessibility Guidelines (WCAG) 2.2, definition of contrast ratio; criterion 1.4.3.
    """
    lighter, darker = sorted((relative_luminance(a), relative_luminance(b)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


_INK: Rgb = (26, 26, 26)
_PAPER: Rgb = (255, 255, 255)


def label_ink(rgb: Rgb) -> Rgb:
    """Return ink or paper, whichever reads better on the given colour; black where ink would fall short of 4.5."""
    best = max((_INK, _PAPER), key=lambda ink: contrast(rgb, ink))
    return best if contrast(rgb, best) >= 4.5 else (0, 0, 0)  # WCAG criterion 1.4.3


def outline_ink(rgb: Rgb) -> Rgb:
    """Return the colour of a swatch's outline: ink, but grey around the darkest swatches so that the edge shows."""
    return _INK if contrast(rgb, _INK) >= 1.5 else (120, 120, 120)  # by eye
