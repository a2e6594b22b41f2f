"""A thin lead may work the coil of a relay on a big feed; the same lead before the relay's contact may not."""

from dataclasses import replace

from loomwright.planning.installation import Installation, Joint
from tests.network.sound import codes, rejoined, sound_car, sound_kit
from tests.planning import builders as b

_LOCK = b.circuit(
    "lock", "lock", {"template": "switched feed", "load_a": 5, "load": "motor"},
    {"from": "source", "to": "s:fuse", "fuse_a": 20},
    {"from": "s:fuse", "to": "body/5", "closed_when": "lock pressed", "switch": "the lock relay"},
    b.wire("body/5", "load", "brown"),
)  # fmt: skip


def _with_thin_lead(kind: str, rating_a: float) -> Installation:
    """Return the small pair whose lock lead is of 0.5 mm2, whatever it has to carry."""
    fed = {} if kind == "negative output" else {"fed_from": "power"}
    kit = sound_kit(b.terminal("out", "lock", kind, rating_a=rating_a, **fed), wanted=["lock"])

    def thin(joint: Joint) -> Joint:
        return replace(joint, area_mm2=0.5)

    return rejoined(b.fitted(sound_car(_LOCK), kit), "lock", thin)


def _unprotected(plan: Installation) -> set[str]:
    return {subject for code, subject in codes(plan) if code == "wire-unprotected"}


def test_a_lead_that_only_works_a_coil_is_protected_by_that_coil() -> None:
    # The diode across the coil faces backwards: no current of the feed's reaches the lead through it.
    plan = _with_thin_lead("negative output", 0.3)
    assert b.route(plan, "lock").joints[0].part is not None
    assert _unprotected(plan) == set()


def test_the_same_lead_straight_on_the_wire_is_not() -> None:
    # Source: 33 CFR 183.455(c)(1): a fuse of at most 150 % of the ampacity; 20 A before 0.5 mm2 are far beyond.
    plan = _with_thin_lead("positive output", 20.0)
    assert b.route(plan, "lock").joints[0].part is None
    assert len(_unprotected(plan)) == 1
