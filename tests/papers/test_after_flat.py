"""What to do after a flat battery, in the workshop and in service mode; and that the papers of a kit agree in it."""

import re

import pytest

from loomwright.papers.after_flat import after_flat, learned
from loomwright.papers.operating_card import service
from loomwright.papers.programming import dialogues_needed
from loomwright.papers.saying import plain
from loomwright.sheets import render
from tests.pairs import PAIRS
from tests.papers.builders import built, built_pair, steps

pairs = pytest.mark.parametrize("pair", PAIRS, ids="-".join)
_TIMES = {"once": "one flash", "twice": "two flashes", "three times": "three flashes", "four times": "four flashes"}


@pairs
def test_card_and_removal_page_tell_the_same_after_a_flat_battery(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    told = [plain(text) for text in after_flat(made.job)]
    for name in ("operating-card", "removal"):
        page = " ".join(render(made.cards[name], "text").decode().split())
        assert all(" ".join(text.split()) in page for text in told), name
    # The cables come first and the kit last; its fuses are out in between.
    fuses_out = next(i for i, t in enumerate(told) if "fuses out" in t)
    own_start = next(i for i, t in enumerate(told) if t.startswith("Start on"))
    fuses_in = next(i for i, t in enumerate(told) if "Put the kit's fuses back" in t)
    remote = next(i for i, t in enumerate(told) if "start by remote" in t)
    assert fuses_out < own_start < fuses_in < remote


@pairs
def test_whatever_part_d_taught_is_named_to_be_taught_again(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    page = render(made.cards["removal"], "text").decode()
    taught = [s.title for s in steps(made.guide) if s.id.startswith("dialogue:")]
    assert set(learned(made.job)) <= set(taught)
    for name in learned(made.job):
        assert name in " ".join(page.split())
    keys = made.job.car.traits.keys_to_learn
    assert (f"Keys of the car needed for that: {keys}." in page) == bool(keys and made.job.uses_module)


@pairs
def test_the_module_learns_in_the_one_way_that_fits_the_keys_of_the_car(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    ways = [d for d in dialogues_needed(made.job) if d.keys is not None]
    assert len(ways) <= 1
    if ways and made.job.car.traits.keys_to_learn:
        assert ways[0].keys == made.job.car.traits.keys_to_learn


@pairs
def test_service_mode_is_told_where_somebody_looks_for_it(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    told = [plain(text) for text in service(made.job)]
    assert made.kit.service is not None
    assert any(" ".join(made.kit.service.split()) in " ".join(text.split()) for text in told)
    assert any("fuses out" in text for text in told)
    for name in ("operating-card", "removal"):
        page = " ".join(render(made.cards[name], "text").decode().split())
        assert all(" ".join(text.split()) in page for text in told), name


def test_a_socket_that_the_kit_takes_is_told_to_the_workshop() -> None:
    page = " ".join(render(built("2012 wagon").cards["removal"], "text").decode().split())
    assert "The BUS plug of the kit sits in the diagnostic socket." in page


@pytest.mark.parametrize("pair", [PAIRS[0], PAIRS[-1]], ids="-".join)
def test_what_a_remote_says_of_the_lamps_is_what_the_controller_answers(pair: tuple[str, str]) -> None:
    made = built_pair(pair)
    kit = made.kit
    card = render(made.cards["operating-card"], "text").decode()
    for remote in kit.remotes:
        said = re.search(r"lamps flash (once|twice|three times|four times) when the car has heard it", remote.start)
        assert said is not None, remote.start
        assert re.search(rf"^{_TIMES[said[1]]} +The request was heard\.", card, re.MULTILINE)
    assert kit.service is not None
    said = re.search(r"lamps flash (once|twice|three times|four times)", kit.service)
    assert said is not None
    assert re.search(rf"^{_TIMES[said[1]]} +The service mode is on\.", card, re.MULTILINE)
