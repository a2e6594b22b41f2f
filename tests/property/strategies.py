"""The strategies of the property tests: connector faces, views of them and the wires in their places."""

from hypothesis import settings
from hypothesis import strategies as st

from loomwright.documents.colours import FAMILIES
from loomwright.documents.faces import Edge, FaceShape, Side, Turn
from loomwright.documents.landmarks import Occupant

__all__ = ["colour_words", "faces", "occupants_of", "sides", "turns"]

# A busy machine is slow now and then; that says nothing about the property.
no_deadline = settings(deadline=None)

sides: st.SearchStrategy[Side] = st.sampled_from(("wire", "mating"))
turns: st.SearchStrategy[Turn] = st.sampled_from((0, 90, 180, 270))
edges: st.SearchStrategy[Edge] = st.sampled_from(("top", "right", "bottom", "left"))
colour_words = st.builds(
    lambda shade, name: f"{shade}{name}",
    st.sampled_from(("", "light ", "dark ", "lt ")),
    st.sampled_from((*(family.name for family in FAMILIES.values() if family.code != "GNYE"), "tan", "purple")),
)


@st.composite
def faces(draw: st.DrawFn) -> FaceShape:
    """Draw a face of 1 to 64 pins: one to four rows, equal or not, with gaps, staggers and bigger terminals."""
    row = st.lists(st.booleans(), min_size=1, max_size=16).filter(any)
    one_long_row = st.lists(st.lists(st.booleans(), min_size=1, max_size=64).filter(any), min_size=1, max_size=1)
    plan = draw(st.one_of(st.lists(row, min_size=1, max_size=4), one_long_row))
    # Numbers are shuffled, since nothing may lean on pins being numbered in reading order.
    pins = iter(draw(st.permutations([str(n) for n in range(1, sum(map(sum, plan)) + 1)])))
    rows = tuple(tuple(next(pins) if there else None for there in each) for each in plan)
    numbered = [pin for each in rows for pin in each if pin is not None]
    halves = st.sampled_from((-0.5, 0.0, 0.5))
    return FaceShape(
        id="drawn",
        rows=rows,
        large=frozenset(draw(st.lists(st.sampled_from(numbered), max_size=3))),
        latch=draw(edges),
        drawn_from=draw(sides),
        stagger=draw(st.one_of(st.just(()), st.tuples(*(halves for _ in rows)))),
    )


@st.composite
def occupants_of(draw: st.DrawFn, shape: FaceShape) -> dict[str, Occupant | None]:
    """Draw a wire, or none, for each place of a face."""
    wire: st.SearchStrategy[Occupant] = st.tuples(colour_words, st.one_of(st.none(), colour_words))
    return {pin: draw(st.one_of(st.none(), wire)) for pin in shape.pins}
