"""A route that the builder pinned and the planner could not take is told by the proof."""

from loomwright.network.proof import prove
from loomwright.planning.installation import Installation
from tests import demonstration
from tests.demonstration import BASE, SHOP_FILE

_PIN = "  - {vehicle: kestrin-fallow, function: horn, how: tap, pin: body-a/21, reason: It was so last time.}\n"


def test_a_pin_that_cannot_be_kept_is_a_note_with_the_builders_reason() -> None:
    plan = demonstration.edited_pair((SHOP_FILE, "pinned:\n", "pinned:\n" + _PIN)).match(BASE)
    assert isinstance(plan, Installation)
    (told,) = [f for f in prove(plan).findings if f.code == "pin-overruled"]
    assert (told.severity, told.subject) == ("note", "horn")
    assert "The builder pinned it (It was so last time), but" in told.message
    kept = prove(demonstration.installation(BASE)).findings
    assert [f for f in kept if f.code == "pin-overruled"] == []
