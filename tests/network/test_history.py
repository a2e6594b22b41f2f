"""A relay that holds itself is told; one that does not is not."""

from loomwright.network.elements import GROUND, Element, Netlist, Origin, When, line
from loomwright.network.rules_history import check_history
from loomwright.network.shapes import COIL_DROP_OUT, COIL_PULL_IN
from loomwright.network.solving import solve_stories
from loomwright.network.states import State
from loomwright.network.stories import Story

_HERE = Origin(side="vehicle", of="it", words="relay")
_OHM = 90.0


def _element(name: str, kind: str, a: str, b: str, ohm: float, **more: object) -> Element:
    return Element(id=name, kind=kind, a=a, b=b, shape=line(1 / ohm), origin=_HERE, **more)  # type: ignore[arg-type]


def _relay(*, holds_itself: bool) -> Netlist:
    """Return a relay whose coil a brake switch feeds, and perhaps its own contact as well."""
    pressed = (When(stimuli=(("brake pressed", True),)),)
    return Netlist.of(
        [
            _element("v:battery", "battery", "batt+", GROUND, 0.005, emf_v=12.6),
            _element("switch", "switch", "batt+", "coil+", 0.005, when=pressed),
            _element(
                "coil", "coil", "coil+", GROUND, _OHM,
                pull_in_a=COIL_PULL_IN * 12 / _OHM, drop_out_a=COIL_DROP_OUT * 12 / _OHM,
            ),
            _element("contact", "contact", "batt+", "coil+" if holds_itself else "lamp", 0.005, coil="coil"),
            _element("lamp", "resistor", "lamp", GROUND, 12.0),
        ],
        0,
    )  # fmt: skip


_STORY = Story(
    id="brake",
    name="brake",
    states=(State(stage="bare"), State(stage="bare", active=frozenset({"brake pressed"})), State(stage="bare")),
)


def test_a_relay_that_holds_itself_depends_on_what_was_before() -> None:
    (finding,) = check_history(solve_stories(_relay(holds_itself=True), [_STORY]))
    assert (finding.code, finding.subject) == ("depends-on-history", "coil")
    assert finding.message == (
        "relay is pulled in with key off after what went before, and dropped out when the same state is met from rest."
    )


def test_a_relay_that_only_follows_its_switch_does_not() -> None:
    assert list(check_history(solve_stories(_relay(holds_itself=False), [_STORY]))) == []
