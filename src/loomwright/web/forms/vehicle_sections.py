"""The sections of a vehicle that have a form, in the order in which they are entered."""

from loomwright.documents.basis import Condition, Part
from loomwright.documents.vehicle import Axis, GroundPoint, Hazard, Name, Place, Plug, Traits
from loomwright.web.forms.section import ID_WORDS, Section

__all__ = ["VEHICLE_SECTIONS", "NeverBuilt"]


class NeverBuilt(Part):
    """A combination that was never made, as a form has it: the document has the condition by itself."""

    only: Condition


VEHICLE_SECTIONS = (
    Section(
        key="names",
        one="name",
        many="Names",
        path=("names",),
        model=Name,
        needed=True,
        intro="Every badge under which this car is sold. The first one is what the papers call it.",
        words={"maker": "Maker", "model": "Model"},
    ),
    Section(
        key="axes",
        one="difference",
        many="How cars of this family differ",
        path=("axes",),
        model=Axis,
        intro=(
            "Years, bodies, engines, trims: each with something the buyer can see that tells one value from the others."
        ),
        words={
            "id": "One word for it, such as year, body, engine, trim",
            "ask": "The question to the buyer",
            "ordered": "Are the values in order, as years are? | Conditions may then say '2011 to 2013'.",
            "values": "Values, and what the buyer can see",
            "value": "Value",
            "cue": "What the buyer can see",
        },
    ),
    Section(
        key="not-built",
        one="combination never built",
        many="Never built",
        path=("not_built",),
        model=NeverBuilt,
        words={"only": "Never built where {axis} is"},
        wrapped="only",
        intro=("Combinations of the values above that the maker never built. Order checks do not ask about them."),
    ),
    Section(
        key="traits",
        one="set of facts",
        many="The whole car",
        path=("traits",),
        model=Traits,
        needed=True,
        intro=(
            "Facts that decide what may be fitted at all. Where they differ within the family, add a second "
            "set with its condition."
        ),
        words={
            "fuel": "Fuel",
            "drive": "Drive",
            "gearbox": "Gearbox",
            "key": "Key",
            "start_style": "How it is started",
            "park_interlock": "What keeps it from starting in gear",
            "immobiliser": "Immobiliser",
            "keys_to_learn": "Working keys needed while the module learns",
            "cylinders": "Cylinders",
            "idle_rpm": "Idle speed, turns per minute",
            "starter_a": "Cranking current, A",
            "battery_cca_a": "Cold-cranking rating of the battery, A",
            "battery_ah": "Capacity of the battery, Ah",
            "batteries": "Batteries in parallel",
            "alternator": "Alternator",
            "charging_v": "Charging voltage, V",
        },
    ),
    Section(
        key="places",
        one="place",
        many="Places",
        path=("places",),
        model=Place,
        needed=True,
        id_from=("name",),
        intro="Where in the car plugs, grounds and hazards are, as somebody in the driver's footwell finds them.",
        words={
            "id": ID_WORDS,
            "name": "Name",
            "words": "How to find it | As somebody finds it who lies in the driver's footwell.",
            "x": "Across: 0 is the left end of the dash, 100 the right",
            "y": "Down: 0 is the top of the dash, 100 the carpet",
            "access": "What to do to get at it | One action a line.",
            "tools": "Tools | One a line.",
            "through": "Outside the cabin: how a lead gets in from there",
            "behind": "What must stand open to reach it",
            "minutes": "Minutes to reach it and to close up again",
        },
    ),
    Section(
        key="plugs",
        one="plug",
        many="Plugs",
        path=("plugs",),
        model=Plug,
        needed=True,
        id_from=("name",),
        intro="Connector housings of the car. What sits in their pins follows from the circuits.",
        words={
            "id": ID_WORDS,
            "name": "Name",
            "housing": "Housing type | Lower-case words joined by -; a kit's T-harness names the same.",
            "face.rows": "Rows of pins",
            "face.drawn_from": "The side from which the rows were written",
            "face.latch": "Where the latch is",
            "face.large": "Pins with bigger terminals | Separated by spaces.",
            "look": "Colour, size and latch, as the eye finds it",
            "place": "Where it is",
            "seen_side": "The side one sees with the plug in place",
            "seen_turn": "Turned clockwise, as seen from where the person lies, degrees",
            "opening": "How to open it",
            "brittle": "Does its latch break easily?",
        },
    ),
    Section(
        key="grounds",
        one="ground point",
        many="Ground points",
        path=("grounds",),
        model=GroundPoint,
        id_from=("place",),
        intro="Bolts into bare metal that this car offers for the kit's ground.",
        words={"id": ID_WORDS, "place": "Where it is", "words": "How to find it"},
    ),
    Section(
        key="hazards",
        one="hazard",
        many="What can hurt",
        path=("hazards",),
        model=Hazard,
        id_from=("kind", "place"),
        intro=(
            "Airbags, edges, fans, hot parts: where they are, and what tells them. The guide warns before "
            "the step they belong to."
        ),
        words={
            "id": ID_WORDS,
            "kind": "Kind",
            "place": "Where it is",
            "words": "What to know",
            "wait_minutes": "Waiting time with the battery off, from the maker, minutes",
        },
    ),
)
