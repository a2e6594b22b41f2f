"""Wiring mistakes sown into the demonstration: each is found, by a finding that names the right thing."""

from dataclasses import dataclass, field, replace
from typing import Any

import pytest

from loomwright.network.proof import prove, prove_solved
from loomwright.network.results import Finding
from loomwright.planning.installation import Installation, Refusal
from tests import demonstration
from tests.demonstration import BASE, KIT_FILE, V6, VEHICLE_FILE

Edit = tuple[str, str, str]


@dataclass(frozen=True, kw_only=True)
class Mistake:
    """One mistake: what is edited in the documents, and what is joined or built otherwise than planned.

    `joints` says, for a terminal of the controller, which fields of its joint differ; `built` edits the kit that is
    fitted, after another was planned. All findings of `expected` must come: code, severity and subject.
    """

    edits: tuple[Edit, ...] = ()
    built: tuple[Edit, ...] = ()
    joints: dict[str, dict[str, Any]] = field(default_factory=dict)
    expected: tuple[tuple[str, str, str], ...]
    choice: demonstration.Choice = BASE


def _wrongly_joined(installation: Installation, changes: dict[str, dict[str, Any]]) -> Installation:
    assert set(changes) <= {joint.terminal for joint in installation.joints}
    return replace(
        installation,
        routes=tuple(
            replace(route, joints=tuple(replace(joint, **changes.get(joint.terminal, {})) for joint in route.joints))
            for route in installation.routes
        ),
    )


_PIN_PAST_THE_SELECTOR = (
    VEHICLE_FILE,
    '{from: "s:selector-out", to: load, colour: yellow, stripe: black, area_mm2: 3.0, length_m: 0.9}',
    '{from: "s:selector-out", to: dash-join/7, colour: yellow, stripe: black, area_mm2: 3.0, length_m: 0.5}\n'
    "      - {from: dash-join/7, to: load, colour: yellow, stripe: black, area_mm2: 3.0, length_m: 0.4}",
)
_FEED_1 = "rating_a: 30, fuse_a: 30, standing_a: 0.004}"
_FEED_1_WIRE = "{terminal: power-1, label: FEED 1, colour: red, area_mm2: 3.0, pin: 1}"
_ACC = "{id: accessory, function: accessory, kind: relay output, plug: c1, pin: 5, fed_from: power-2, rating_a: 30}"
_START = "{id: start, function: start, kind: relay output, plug: c1, pin: 4, fed_from: power-1, rating_a: 30}"

_BOTH_FEEDS = ("feeds-joined", "stop", "v:feed-1/source~s:feed-1-fuse")

MISTAKES: dict[str, Mistake] = {
    # The brake switch.
    "brake lead on the feed side of the switch": Mistake(
        joints={"brake": {"pin": "pedal/1"}}, expected=(("input-wrong", "stop", "j:brake/pedal/2"),)
    ),
    "brake lead on the cruise wire of its own colours": Mistake(
        joints={"brake": {"pin": "pedal/4"}}, expected=(("input-wrong", "stop", "j:brake/pedal/2"),)
    ),
    # The ignition switch.
    "ignition conductor on the accessory pin": Mistake(
        joints={"ignition": {"pin": "ignition/3"}},
        expected=(("dead-when-it-should-live", "stop", "ignition-1"), _BOTH_FEEDS),
    ),
    "ignition and accessory swapped": Mistake(
        joints={"ignition": {"pin": "ignition/3"}, "accessory": {"pin": "ignition/2"}},
        expected=(("dead-when-it-should-live", "stop", "ignition-1"), _BOTH_FEEDS),
    ),
    "start conductor on the ignition pin": Mistake(
        joints={"start": {"pin": "ignition/2"}}, expected=(("dead-when-it-should-live", "stop", "start"),)
    ),
    "ignition conductor on the start pin": Mistake(
        joints={"ignition": {"pin": "ignition/6"}},
        expected=(("live-when-it-should-be-dead", "stop", "start"), ("dead-when-it-should-live", "stop", "ignition-1")),
    ),
    "second ignition conductor on the accessory pin": Mistake(
        joints={"ignition-2": {"pin": "ignition/3"}}, expected=(("dead-when-it-should-live", "fix", "ignition-2"),)
    ),
    "accessory conductor on the ignition pin": Mistake(
        joints={"accessory": {"pin": "ignition/2"}},
        expected=(_BOTH_FEEDS, ("dead-when-it-should-live", "fix", "accessory")),
    ),
    "the two feeds swapped": Mistake(
        joints={"power-1": {"pin": "ignition/5"}, "power-2": {"pin": "ignition/1"}}, expected=(_BOTH_FEEDS,)
    ),
    "both feeds from one wire": Mistake(joints={"power-2": {"pin": "ignition/1"}}, expected=(_BOTH_FEEDS,)),
    "a feed from the switched side": Mistake(joints={"power-2": {"pin": "ignition/2"}}, expected=(_BOTH_FEEDS,)),
    "ignition wire cut where it should be tapped": Mistake(
        joints={"ignition": {"kind": "T interrupted"}}, expected=(("dead-when-it-should-live", "stop", "ignition-1"),)
    ),
    "start wire cut where it should be tapped": Mistake(
        joints={"start": {"kind": "T interrupted"}}, expected=(("dead-when-it-should-live", "stop", "start"),)
    ),
    "start tapped past the park switch": Mistake(
        edits=(_PIN_PAST_THE_SELECTOR,),
        joints={"start": {"kind": "tap", "pin": "dash-join/7", "branch": None}},
        expected=(("live-when-it-should-be-dead", "stop", "start"),),
    ),
    # The kick panel.
    "parking light on a turn lamp": Mistake(
        joints={"parking-light": {"pin": "body-a/18"}},
        expected=(
            ("live-when-it-should-be-dead", "stop", "turn-left"), ("dead-when-it-should-live", "fix", "parking-light")
        ),
    ),
    "parking light on the dimmed dash lamps beside it": Mistake(
        joints={"parking-light": {"pin": "body-a/8"}},
        expected=(
            ("live-when-it-should-be-dead", "stop", "dash-lamps"), ("dead-when-it-should-live", "fix", "parking-light")
        ),
    ),
    "horn lead on the lock wire": Mistake(
        joints={"horn": {"pin": "body-a/9"}},
        expected=(("pulled-by-itself", "fix", "lock"), ("dead-when-it-should-live", "fix", "horn")),
    ),
    "horn lead on a ground wire": Mistake(
        joints={"horn": {"pin": "body-a/16"}}, expected=(("dead-when-it-should-live", "fix", "horn"),)
    ),
    "horn lead on a battery feed": Mistake(
        joints={"horn": {"pin": "body-a/1"}},
        expected=(("over-rating", "stop", "k:horn/driver"), ("wire-unprotected", "fix", "j:horn/body-a/6/lead")),
    ),
    "hood lead on a door switch": Mistake(
        joints={"hood": {"pin": "body-a/3"}}, expected=(("input-wrong", "stop", "j:hood-switch/body-a/5"),)
    ),
    "hood lead one place too far": Mistake(
        joints={"hood": {"pin": "body-a/6"}}, expected=(("input-wrong", "stop", "j:hood-switch/body-a/5"),)
    ),
    "hood lead on the parking-brake switch": Mistake(
        joints={"hood": {"pin": "body-a/12"}}, expected=(("input-wrong", "stop", "j:hood-switch/body-a/5"),)
    ),
    "alarm lead on the unlock wire": Mistake(
        choice=V6,
        joints={"alarm-disarm": {"pin": "body-a/10"}},
        expected=(("pulled-by-itself", "fix", "unlock"), ("trigger-not-pulled", "fix", "alarm-disarm")),
    ),
    "engine-speed lead on the bus": Mistake(
        choice=V6, joints={"tach": {"pin": "dash-join/10"}}, expected=(("no-pulses", "stop", "j:tach/dash-join/14"),)
    ),
    # What carries current.
    "a feed without its fuse": Mistake(
        edits=(
            (KIT_FILE, _FEED_1_WIRE, _FEED_1_WIRE.replace("3.0", "1.0")),
            (KIT_FILE, _FEED_1, "rating_a: 30, standing_a: 0.004}"),
        ),
        expected=(("wire-unprotected", "fix", "j:battery-feed/ignition/1/lead"),),
    ),
    "a feed conductor too thin": Mistake(
        edits=((KIT_FILE, _FEED_1_WIRE, _FEED_1_WIRE.replace("3.0", "0.35")),),
        expected=(
            ("over-rating", "stop", "j:battery-feed/ignition/1/lead"),
            ("wire-unprotected", "fix", "j:battery-feed/ignition/1/lead"),
            ("drop-too-large", "fix", "ignition-1"),
        ),
    ),
    "a fuse too small for the blower": Mistake(
        built=((KIT_FILE, "fuse_a: 30, standing_a: 0.001}", "fuse_a: 10, standing_a: 0.001}"),),
        expected=(("over-rating", "stop", "j:battery-feed/ignition/5/fuse"),),
    ),
    "a ground lead of bell wire": Mistake(
        joints={"ground": {"area_mm2": 0.05, "length_m": 3.0}}, expected=(("ground-rises", "fix", "k:ground"),)
    ),
    "a controller that never sleeps": Mistake(
        edits=((KIT_FILE, "standing_a: 0.004}", "standing_a: 0.4}"),), expected=(("standing-draw", "fix", "kit"),)
    ),
    # What the kit commands.
    "start output held while the engine runs": Mistake(
        edits=((KIT_FILE, _START, _START.replace("}", ", on_while: [cranking, running]}")),),
        expected=(("live-when-it-should-be-dead", "stop", "start"),),
    ),
    "accessory kept on while cranking": Mistake(
        built=((KIT_FILE, _ACC, _ACC.replace("}", ", on_while: [ignition on, cranking, running]}")),),
        expected=(("live-when-it-should-be-dead", "fix", "accessory"),),
    ),
    # What the documents say of the car.
    "a hood switch that opens with the hood": Mistake(
        edits=((VEHICLE_FILE, "closed_when: hood open", "closed_when: not hood open"),),
        expected=(("input-wrong", "stop", "j:hood-switch/body-a/5"),),
    ),
}  # fmt: skip


def _found(findings: tuple[Finding, ...]) -> set[tuple[str, str, str]]:
    return {(f.code, f.severity, f.subject) for f in findings}


@pytest.mark.parametrize("name", MISTAKES)
def test_a_sown_mistake_is_found_and_named(name: str) -> None:
    mistake = MISTAKES[name]
    planned = demonstration.edited_pair(*mistake.edits).match(mistake.choice)
    assert isinstance(planned, Installation)
    if mistake.built:
        planned = replace(planned, kit=demonstration.edited_pair(*mistake.built).kit)
    findings = prove(_wrongly_joined(planned, mistake.joints)).findings
    assert _found(findings) >= set(mistake.expected)
    for finding in findings:
        # Each tells what to do and where the rule comes from, and its numbers have units.
        assert finding.message.endswith(".")
        assert finding.advice.endswith(".")
        assert finding.source
        assert all(number.unit for number in finding.numbers)


@pytest.mark.parametrize("choice", demonstration.CHOICES, ids=demonstration.choice_name)
def test_a_sound_car_has_nothing_to_stop_for_or_to_fix(choice: demonstration.Choice) -> None:
    proof = prove_solved(demonstration.installation(choice), demonstration.solved(choice))
    assert [(f.code, f.subject, f.message) for f in proof.findings if f.severity != "note"] == []
    assert demonstration.installation(choice).unserved == ()
    # What does not cancel at a node, as a share of all currents; of a parked car those are some milliamperes.
    assert proof.worst_residual < 1e-9


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        ((VEHICLE_FILE, "park_interlock: start circuit", "park_interlock: shifter lock only"), "shifter-lock-only"),
        ((VEHICLE_FILE, "        closed_when: in park\n", "        colour: yellow\n"), "no-park"),
        ((VEHICLE_FILE, "gearbox: automatic", "gearbox: manual"), "manual-gearbox"),
        ((VEHICLE_FILE, "drive: combustion", "drive: hybrid"), "hybrid"),
        ((VEHICLE_FILE, "drive: combustion", "drive: mild hybrid 48 V"), "mild-hybrid-48-v"),
        ((KIT_FILE, "    - {function: immobiliser, vehicle: kestrin-fallow}\n", ""), "no-immobiliser"),
        ((KIT_FILE, "  - {id: brake, terminal: brake,", "  - {id: brake, terminal: door,"), "no-brake"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_a_car_that_must_not_be_fitted_is_refused(edit: Edit, code: str) -> None:
    found = demonstration.edited_pair(edit).match(BASE)
    assert isinstance(found, Refusal)
    assert found.code == code
    assert found.would_fit_if


def test_a_start_pinned_past_the_park_switch_is_not_planned() -> None:
    """The builder may pin a route, but not one that lets the starter turn in gear."""
    lead = (
        "leads:\n",
        "leads:\n  - {id: start, terminal: start, label: START, colour: violet, stripe: red, area_mm2: 3.0}\n",
    )
    pin = (
        "pinned:\n",
        "pinned:\n  - {vehicle: kestrin-fallow, function: start, how: tap, pin: dash-join/7, reason: Nearer.}\n",
    )
    found = demonstration.edited_pair(
        _PIN_PAST_THE_SELECTOR, (KIT_FILE, *lead), (demonstration.SHOP_FILE, *pin)
    ).match(BASE)  # fmt: skip
    assert isinstance(found, Installation)
    start = next(route for route in found.routes if route.function == "start")
    assert [joint.pin for joint in start.joints] == ["ignition/6"]
    assert any("past the park/neutral switch" in rejected.fact for rejected in start.rejected)
