"""The start on the installation page, event by event: by links and buttons alone, and with the same picture."""

import re

import pytest
from starlette.testclient import TestClient

from loomwright.starting.frames import start_steps
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from tests.pairs import PAIRS, installations
from tests.web.conftest import CAR, FIT


def _at(demo: TestClient, asked: str) -> str:
    answer = demo.get(f"{FIT}?{CAR}&{asked}")
    assert answer.status_code == 200, answer.text[:500]
    return answer.text


def _now(page: str) -> str:
    step = r'aria-current="step"><span class="when"><span [^>]*>([\d.]+).*?</span></span> (.*?)</button>'
    found = re.search(step, page)
    assert found is not None
    return f"{found[1]} {found[2]}"


def test_a_start_begins_before_anything_is_asked(demo: TestClient) -> None:
    page = _at(demo, "scenario=warm&was=")
    assert _now(page) == "0.0 Before anything is asked"
    assert "The engine stands still." in page
    assert 'id="event-before" disabled' in page


def test_the_events_are_those_of_the_rehearsal(demo: TestClient) -> None:
    page = _at(demo, "scenario=hood")
    shown = [float(t) for t in re.findall(r'<span class="when"><span [^>]*>([\d.]+)', page)]
    # Other variants of the family have the same engine, so the times of their starts agree.
    steps = start_steps(rehearse(installations(PAIRS[0], 1)[0], SCENARIOS["hood"]))
    assert shown == pytest.approx([s.time_s for s in steps], abs=0.06)


def test_stepping_on_goes_from_event_to_event_and_the_wires_follow(demo: TestClient) -> None:
    seen = [_at(demo, f"scenario=warm&at={n}") for n in range(1, 8)]
    cranking = next(page for page in seen if _now(page).endswith("The kit: cranking"))
    running = next(page for page in seen if _now(page).endswith("The kit: running (let go)"))

    def start_wire(page: str) -> str:
        found = re.search(r'<span class="tag">START</span>.*?<strong>(.*?)</strong>', page, re.DOTALL)
        assert found is not None
        return found[1]

    assert start_wire(seen[0]) == "dead"
    assert start_wire(cranking) == "live"
    assert start_wire(running) == "dead"
    assert "The kit has ignition and start on." in cranking
    assert re.search(r"at its lowest .*?V", cranking)


def test_verdicts_are_told_in_words_with_their_numbers(demo: TestClient) -> None:
    page = _at(demo, "scenario=takeover&at=3")
    assert re.search(r"Does the engine start\? <strong>Yes\.</strong> <span class=\"found\">Fires at ", page)
    assert "Does the engine stay on for the driver?" in page


def test_the_buttons_work_without_scripts(demo: TestClient) -> None:
    page = _at(demo, "scenario=warm&was=warm&at=3&go=4")
    assert _now(page).endswith("The kit: cranking")
    assert re.search(r'name="go" value="5" id="event-after"', page)
    assert re.search(r'name="go" value="3" id="event-before"', page)


def test_another_start_begins_at_its_first_event(demo: TestClient) -> None:
    assert _now(_at(demo, "scenario=hood&was=warm&at=6")) == "0.0 Before anything is asked"


def test_a_number_beyond_the_last_event_shows_the_last(demo: TestClient) -> None:
    assert 'id="event-after" disabled' in _at(demo, "scenario=warm&at=999")


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("scenario=nothing", "Found &#39;nothing&#39;, expected a start of this car and kit."),
        ("scenario=warm&at=x", "Found &#39;x&#39;, expected the number of an event."),
        ("scenario=warm&at=0", "Found &#39;0&#39;, expected the number of an event."),
        ("scenario=warm&go=-1", "Found &#39;-1&#39;, expected the number of an event."),
    ],
)
def test_what_is_no_event_is_told(demo: TestClient, asked: str, found: str) -> None:
    answer = demo.get(f"{FIT}?{CAR}&{asked}")
    assert answer.status_code == 400
    assert found in answer.text


def test_a_wire_opened_changes_the_picture_at_the_event(demo: TestClient) -> None:
    page = _at(demo, "scenario=warm&at=4&open=lead:j:start/ignition/6")
    assert "What that changes" in page
    assert 'class="is-changed"' in page
