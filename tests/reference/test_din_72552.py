"""Terminal numbers against public lists of DIN 72552."""

import pytest

from loomwright.documents.terminals import TERMINALS, terminal, terminals_of

# Source: DIN 72552 as listed by memim.com, de.zxc.wiki and delcon.fi (published lists; the standard was not read).
PUBLISHED = {
    "15": "switched positive", "30": "battery positive", "31": "ground", "50": "starter", "85": "relay coil",
    "86": "relay coil", "87": "make contact", "87a": "break contact", "31b": "ground through a switch",
    "30g": "not the same as 15", "17": "glow", "19": "preheat", "1": "ignition coil", "33": "motor", "53": "wiper",
}  # fmt: skip


@pytest.mark.parametrize(("number", "words"), PUBLISHED.items())
def test_published_numbers(number: str, words: str) -> None:
    assert words in terminal(number).meaning
    assert terminal(number).label == "published"


# Source: DIN 72552 (from memory): 54 stop lamps, 57 and 58 parking lamps, 61 charge, 71 horn, 75 radio, L and R turn.
@pytest.mark.parametrize(
    ("number", "words"),
    [
        ("54", "stop"),
        ("58", "side"),
        ("57", "parking"),
        ("61", "charge"),
        ("71", "horn"),
        ("75", "radio"),
        ("L", "left"),
    ],
)
def test_numbers_from_memory_say_so(number: str, words: str) -> None:
    assert words in terminal(number).meaning
    assert terminal(number).label == "from memory"


def test_maker_usage_is_not_passed_off_as_the_standard() -> None:
    # Source: DIN 72552 has no 15R; it is makers' usage for the accessory position (common practice).
    assert [each.number for each in TERMINALS.values() if each.label == "common practice"] == ["15R"]


def test_the_trade_functions_of_the_four_heavy_wires() -> None:
    # Source: DIN 72552: 30 battery, 15 ignition, 50 starter, 75 radio and lighter.
    found = [terminals_of(name)[0].number for name in ("battery feed", "ignition", "start")]
    assert found == ["30", "15", "50"]
    assert "75" in [each.number for each in terminals_of("accessory")]
