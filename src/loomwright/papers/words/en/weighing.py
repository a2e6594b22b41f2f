"""Sentences of the paper that ranks the facts of the documents by what hangs on them."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = [
    "AS_WRITTEN", "CAR_AS_WRITTEN", "CAR_METER", "INTRO", "KIT_AS_WRITTEN", "KIT_METER", "METER", "NOBODY", "NOTHING",
    "NO_METER", "PLANNED", "QUIET", "REFUSED", "ROUTES", "SPREAD", "SPREAD_METER", "SUBTITLE", "TITLE", "VERDICTS",
]  # fmt: skip

TITLE = "What to measure next"
SUBTITLE = "{kit} in the {car}"
INTRO = (
    "Each point is one fact of the documents and what would come of it if it were otherwise. The one that matters most "
    "stands first. Measure it on this variant and record the reading as evidence. Where a circuit can move the verdict "
    "without any fact being wrong, within the spread that it is allowed, it stands before all others."
)
NOTHING = "Everything that the kit meets in this car is measured. With --all the proven facts are weighed too."
AS_WRITTEN = "{circuit} at {pin}, {standing}. If its {fact} were {instead} instead of {written},"
PLANNED: Mapping[str, str] = MappingProxyType({
    "stop": "the kit as planned would do harm or not work ({codes})",
    "fix": "the kit as planned would work in part ({codes})",
    "none": "the kit as planned would work all the same",
})
ROUTES = "; a new plan serves {tasks} in another way and {verdict}."
REFUSED = "the kit must not be fitted at all. {reason}"
QUIET = "; the plan stays as it is and {verdict}."
VERDICTS: Mapping[str, str] = MappingProxyType({
    "fits": "fits",
    "fits-with-exceptions": "fits with exceptions",
    "does-not-fit": "does not fit",
})
METER = "Measure {pin} with {state}: {written} as written, {instead} otherwise."
SPREAD = "{circuit} at {pin}, {standing}. Nothing need be wrong: with {instead} that its spread allows,"
SPREAD_METER = "Measure what it draws with everything on, and write that into the document with a closer spread."
KIT_AS_WRITTEN = (
    "The kit's terminal {terminal}, {standing} by its document. If the {fact} were {instead} instead of {written},"
)
KIT_METER = "No meter in the car tells it: read the part or its maker's data, and correct the kit document."
NO_METER = "No voltage tells it: read the fuse, the label or the diagram."
NOBODY = "Facts that move neither the plan nor a verdict: {count}."
CAR_AS_WRITTEN = "The whole car, stated by its document. If its {fact} were {instead} instead of {written},"
CAR_METER: Mapping[str, str] = MappingProxyType({
    "gearbox": "Count the pedals and look at the shifter.",
    "park interlock": (
        "Outdoors, wheels blocked, parking brake set, foot hard on the brake and nobody before or behind the car: "
        "with the shifter in R and then in D, the key must not turn the starter."
    ),
    "immobiliser": (
        "Try a plain cut key without a chip in the lock: with a coded key system the starter stays still, or the "
        "engine dies at once. The document of the car's key system names the kind."
    ),
    "alternator": (
        "Measure at the battery after ten minutes of driving, everything off: a plain one holds about its full "
        "charging voltage, a smart one may have let it fall below 13 V."
    ),
    "idle speed": "Read the speed of the warm engine in park with everything off.",
    "starter current": "Put a clamp meter round the battery cable and crank the warm engine.",
    "battery rating": "Read the cold-cranking rating on the battery's label.",
})
