# ruff: noqa: E501 - a sentence on one line is easier to read, to correct and to translate

"""The builder's wiring plan, the table of readings, and the report of a match."""

from collections.abc import Mapping
from types import MappingProxyType

PLAN_TITLE = "Wiring plan"
PLAN_SUBTITLE = "{kit}, revision {revision}, in the {car}"
VERDICT: Mapping[str, str] = MappingProxyType({
    "fits": "It fits. Nothing was found that must be put right.",
    "fits-with-exceptions": "It fits with exceptions. Read them below before the kit leaves the bench.",
    "does-not-fit": "It does not fit. Do not ship this kit for this car.",
})
HEAD_VERDICT = "Verdict"
VERDICT_COUNTS = "{stop} to stop for, {fix} to be put right, {note} to note; {unserved} wanted functions unserved."
VARIANT = "{ask} {value}: {cue}"
HEAD_VARIANT = "The car"
HEAD_ROUTES = "Routes"
ROUTES_TABLE = ("For", "Car wire", "Joint", "Kit lead", "Kit pin", "Between", "Standing")
WIRELESS_TABLE = ("For", "How", "By")
ROUTES_CAPTION = "By plug and place, in the order of the fitting. The number in brackets is that of DIN 72552; the ends of a relay have its numbers too. The holder of a lead's fuse stands at the car's end of the lead, a hand's width from the joint or the T: a wire is protected by what stands before it."
KIT_LEAD = "{label}, {colour}, {size}, {length}"
WIRE_END = "pin {pin}, {colour}: {name}"
JOINT_IN = "{joint}: {branch}"
FACTORY_FROM = "the car's own signal comes from the {side}"
CAR_WIRE = "{colour} at {plug}, pin {pin}: {name}"
GROUND_END = "{words}"
ADDED_END = "{name}: {place}"
BUS_END = "vehicle module {name}, firmware {firmware} {version}"
SETTING_END = "{name}: {value}"
NO_PART = "none"
PART = "{name}: {ends}"
THROUGH = " through {fuse}"
# What each end of a part is joined to, by the sign of the kit's output; 'lead' is the kit's lead behind its fuse.
PART_ENDS: Mapping[str, Mapping[str, str]] = MappingProxyType({
    "positive": MappingProxyType({
        "relay boosts": "86 to the lead, 85 to {ground}, 30 to {feed}{through}, 87 to the car wire",
        "relay grounds": "86 to the lead, 85 to {ground}, 30 to {ground}, 87 to the car wire",
        "relay changes over": "86 to the lead, 85 to {ground}, 87 to {feed}{through}, 87a to the end at the {side}, 30 to the other end",
        "diode": "in the lead, band to the car wire",
        "diode cuts in": "from the end at the {side} to the other end, band to the other end; the lead to the other end",
        "resistor": "in the lead",
    }),
    "negative": MappingProxyType({
        "relay inverts": "85 to the lead, 86 to {feed}, 30 to {feed}{through}, 87 to the car wire",
        "relay grounds": "85 to the lead, 86 to {feed}, 30 to {ground}, 87 to the car wire",
        "relay changes over": "85 to the lead, 86 to {feed}, 87 to {feed}{through}, 87a to the end at the {side}, 30 to the other end",
        "diode": "in the lead, band to the kit",
        "diode cuts in": "from the end at the {side} to the other end, band to the other end; the lead to the other end",
        "resistor": "in the lead",
    }),
})
STANDING_WHY = "{standing}: {why}"
HEAD_DRAWING = "The drawing"
DRAWING_CAPTION = "From each pin of the kit to the wire of the car"
DRAWING_WORDS = "Contacts are drawn at rest, and a car wire from its plug to its harness; broken lines are not proven. A T-harness carries every other pin of its plug straight through. The small number is that of DIN 72552."
HEAD_CUT = "Leads to cut and label"
CUT_CAPTION = "The loose leads of this kit, the thickest wire first. Length from the kit's plug to the end; add what your terminals take. Print each label twice, for both ends. The leads of a T are made with the T."
CUT_TABLE = ("Label", "Wire", "Size", "Length", "Kit place", "Far end")
CUT_PLACE = "{plug}/{pin}"
CUT_HOLDER = "fuse holder with {rating}"
CUT_PART = "{name} built in"
CUT_CAP = "end cap"
CUT_ENDS: Mapping[str, str] = MappingProxyType({"bare": "bare", "ring": "ring terminal for the ground bolt"})
HEAD_THROUGH = "What the T-harnesses carry through"
THROUGH_INTRO = "The car's own current runs through a T as well. What flows was computed in every state and is within these ratings; what a fault could make flow, the car's fuse decides."
THROUGH_T = "{label}: contacts for {rating}, wires straight through {size}."
THROUGH_FUSE = "Largest fuse of the car before it: {fuse}, at pin {pin}."
THROUGH_LARGER = "It is larger than the contacts are rated: build this T with contacts for that fuse where they can be had."
HEAD_SUPPLIES = "Wires of the relays"
SUPPLIES_INTRO = "These are no leads: they run inside the harness from the kit's own feed or ground to a relay. The fuse sits where the supply leaves the feed, so that the whole of it is guarded. Common practice: a relay near the end of its lead; cut its wires to that length."
SUPPLY = "{label}: from {feed} through a fuse of {rating} to the contact, at least {size}; coil {coil}"
SUPPLY_COIL = "{label}: from {at}, {coil}"
CUT_SUMS = "Of each size in all:"
CUT_OF_SIZE = "{size}: {length}"
WHERE_PLUG = "{plug}, {place}"
WHERE_GROUND = "Ground point, {place}"
WHERE_NONE = "Without a wire"
SPLICED = "Splice: kit pin {pin} also serves {others}."
SPLICED_TO = "{label} at pin {pin}"
HEAD_WHY = "Why so, and why not otherwise"
WHY = "{task}: {why}"
PINNED = "Fixed by the builder: {reason}"
GATED = "Only when proven: {gate}."
REJECTED_TABLE = ("Instead of", "Other way", "With", "Deciding fact", "Time")
HEAD_SETTINGS = "Settings"
SETTINGS_TABLE = ("Option", "Value", "Means", "Set at", "Came as")
HEAD_UNUSED = "Leads without a place in this car"
UNUSED_TABLE = ("Lead", "Colour", "Kit terminal", "Where", "Could be taken for")
HEAD_UNSERVED = "Not served"
UNSERVED_TABLE = ("Function", "Why not", "It would be served if")
REQUIRED = "{function} (required)"
HEAD_FINDINGS = "Findings"
FINDINGS_TABLE = ("Weight", "What", "When", "Advice", "Rule")
NO_FINDINGS = "No rule is broken in any state."
HEAD_UNPROVEN = "Unproven circuits"
UNPROVEN_TABLE = ("Circuit", "Where", "Why")
ALL_PROVEN = "Every circuit used is proven on this variant."
HEAD_CHECKED = "What was checked, under which assumptions"
CHECKED_FAMILIES = "States were solved for: {stages}."
SPREADS = "Every wire, contact, fuse and load was taken within its stated spread; readings are bands of that."
NOTHING = "none"

READINGS_TITLE = "Expected readings"
READINGS_SUBTITLE = "{kit} in the {car}, battery at rest {battery}"
READINGS_INTRO = (
    "What a 10 megohm meter shows on a sound car. Measure the battery first; where a line says below the battery, the "
    "battery as you measured it counts."
)
READINGS_TABLE = ("Point", "Stage", "State", "Should be", "Volts", "Clip", "Lamp")
PURPOSE: Mapping[str, str] = MappingProxyType({
    "identify": "car wire, before joining",
    "after joining": "at the kit's plug, joined",
    "check": "check",
})
VOLTS = "{low} to {high}"
POINT_JOINT = "{label}, {function}: {plug}, pin {pin}, {colour}"
POINT_TERMINAL = "{label}, {function}: kit plug {plug}, place {pin}"
POINT_BATTERY = "battery posts"
CLIP: Mapping[str, str] = MappingProxyType({"battery negative": "negative", "battery positive": "positive"})

REPORT_TITLE = "Does it fit?"
REPORT_SUBTITLE = "{kit}, revision {revision}, in the {car}"
REFUSED = "It does not fit, and must not be fitted."
REFUSED_IF = "It would fit if {cure}."
REFUSED_CODE = "Code: {code}"
REPORT_ROUTES = ("Function", "How", "Kit lead", "Through", "Car wire", "Standing")
REPORT_TIME = "Counted work: {minutes}."
REPORT_UNSERVED = "Not served: {function}. {why} It would be served if {cure}."
REPORT_FINDING = "{severity}: {message} {advice}"
REPORT_UNPROVEN = "Not proven on this car: {wire}."
REPORT_UNUSED = "Unused leads: {labels}."
REPORT_SETTING = "{name}: {value}"
REPORT_SETTINGS = "Settings that differ from how they come: {settings}."
HEAD_REPORT_ROUTES = "How each function is served"
HEAD_REPORT_OPEN = "What is open"
HEAD_REPORT_BUYER = "Needed of the buyer"
REPORT_PART = "{kind} {size}"
REPORT_BUYER = "{function}: {needed}."
HEAD_NOT_DRAWN = "Not drawn yet"
NOT_DRAWN_INTRO = "The documents name no photograph of these. They would help the buyer most; tick what you have taken."
ALL_DRAWN = "The documents name a photograph of every plug, place and part of the kit that the buyer has to find."
NOT_DRAWN_PLUG = "The {plug} in its place ({place}), from where the person lies, latch and first pin in sight"
NOT_DRAWN_PLACE = "How to open: {place}"
NOT_DRAWN_GROUND = "The ground point: {point}"
NOT_DRAWN_SOCKET = "Kit plug {plug} from the back, the numbers of its places in sight"
NOT_DRAWN_BRANCH = "The {label} end of the harness"
NOT_DRAWN_BOXES = "The controller with its serial label, its fuse holders, and the vehicle module if there is one"
FUSE_NAME = "Fuse {rating}\N{NO-BREAK SPACE}A"
FUNCTION_OF = "{function}, {which}"
THE_SAME = "the same"
NO_UNUSED = "Every lead has a place."
ALWAYS = "always"
WHEN = "{stage}: {state}"
NO_LAMP = "no lamp: {why}"
NOT_PROVED = "It was planned, but not proved."
REPORT_WIRE = "{plug}, pin {pin}, {colour}"
