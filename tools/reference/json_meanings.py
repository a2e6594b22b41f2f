"""What each key of the printed JSON objects holds: (type, meaning). A key with `[]` is one entry of a list.

Parts that occur in several places are described once, under the name of the function that makes them.
"""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["JSON_MEANINGS"]

_M = Mapping[str, tuple[str, str]]

_CAR: _M = {
    "vehicle": ("text", "Id of the vehicle document."),
    "choice": ("object of texts", "Which car of the family it is: axis to value."),
    "kit": ("text", "Id of the kit document."),
    "kit_revision": ("text", "Revision of the kit."),
}
_REJECTED: _M = {
    "how": ("text", "The way that was not taken, such as `tap` or `bus`."),
    "what": ("text", "The pin, lead, setting or part it would have used."),
    "fact": ("text", "The one fact that decided against it."),
    "minutes": ("number or null", "What it would cost [min], where it was possible but dearer."),
}
_STATE: _M = {
    "words": ("text", "The state in plain words."),
    "stage": ("text", "`bare`, `fitting`, `fitted`, `learned`, `kit dead` or `removed`."),
    "joined": ("whole number or null", "In stage `fitting`: how many steps of the fitting are done."),
    "key": ("text", "`off`, `acc`, `run` or `crank`."),
    "active": ("list of texts", "The stimuli that differ from rest."),
    "commands": ("list of texts", "The outputs of the kit that are on."),
}

JSON_MEANINGS: Mapping[str, _M] = MappingProxyType({
    "_car": _CAR,
    "_rejected": _REJECTED,
    "_state": _STATE,
    "_joint": {
        "id": ("text", "Stable id of the joint."),
        "kind": ("text", "`T tapped`, `T interrupted`, `tap`, `ground point`, `plug` or `added part`."),
        "terminal": ("text", "Terminal of the controller."),
        "label": ("text", "What is printed on the kit's lead."),
        "colour": ("text", "Colour of the kit's lead."),
        "stripe": ("text or null", "Stripe of the kit's lead."),
        "circuit": ("text or null", "Circuit of the car; null at a ground point or an added part."),
        "pin": ("text or null", "`plug/pin` in the car."),
        "place": ("text or null", "Place in the car."),
        "part": ("object or null", "The interface part between lead and wire."),
        "part.id": ("text", "Id of this use of the part."),
        "part.part": ("text", "Id of the part in the kit document."),
        "part.pattern": ("text", "How it is wired: `relay inverts`, `relay boosts`, `relay grounds`, `diode`, "
                         "`resistor`."),
        "part.why": ("text", "Why it is needed."),
    },
    "_route": {
        "task": ("text", "Name of the task; the function, with the circuit where the car has several."),
        "function": ("text", "The function that is served."),
        "how": ("text", "How: `T tapped`, `T interrupted`, `tap`, `plug`, `bus`, `setting`, `added part` or `none`."),
        "required": ("true or false", "Whether no start may be without it."),
        "joints": ("list of joints", "Where the kit meets the car for it."),
        "setting": ("object or null", "The setting that serves the function instead of a wire."),
        "setting.id": ("text", "Id of the setting."),
        "setting.value": ("text", "Its value."),
        "minutes": ("number", "Work on this route alone [min]."),
        "why": ("text", "What is done and why this way."),
        "rejected": ("list of rejected ways", "The other ways, each with its deciding fact."),
        "pinned": ("text or null", "The builder's reason, where the shop document fixes this route."),
        "gated": ("text or null", "What must be proven before it may be used."),
    },
    "_unserved": {
        "task": ("text", "Name of the task."),
        "function": ("text", "The function that nothing serves."),
        "required": ("true or false", "Whether no start may be without it."),
        "why": ("text", "The fact that stands nearest to a cure."),
        "would_fit_if": ("text", "The single fact that would have to be different."),
        "rejected": ("list of rejected ways", "Every way that was tried, with its fact."),
    },
    "_finding": {
        "code": ("text", "Stable code; see [findings](findings.md)."),
        "severity": ("text", "`stop`, `fix` or `note`."),
        "subject": ("text", "Id of the element, circuit, route or lead it is about."),
        "message": ("text", "What was found, in one or two sentences."),
        "state": ("state or null", "The first state that shows it."),
        "path": ("list of texts", "Ids of the elements along which the current flows."),
        "numbers": ("list of objects", "The numbers behind the sentence."),
        "numbers[].name": ("text", "What the number is."),
        "numbers[].value": ("number", "Its value."),
        "numbers[].unit": ("text", "Its unit."),
        "numbers[].where": ("text", "The point or element it belongs to."),
        "advice": ("text", "What to do."),
        "source": ("text", "The rule, or the published source."),
    },
    "_lead": {
        "label": ("text", "What is printed on the lead."),
        "colour": ("text", "Its colour."),
        "stripe": ("text or null", "Its stripe."),
        "where": ("text", "`loose lead`, or the label of the branch it is in."),
        "terminal": ("text", "Terminal of the controller it comes from."),
        "clash": ("text or null", "A wire of the car that it could be mistaken for."),
    },
    "match_object": {
        "verdict": ("text", "`fits`, `fits-with-exceptions` or `does-not-fit`."),
        "installation": ("text or null", "Hash of everything the plan was made from; the same input, the same hash."),
        "refusal": ("object or null", "Why the kit must not be fitted to this car."),
        "refusal.code": ("text", "Stable code; see [refusals](findings.md#refusals)."),
        "refusal.reason": ("text", "The reason."),
        "refusal.caution": ("text", "What could happen."),
        "refusal.would_fit_if": ("text", "The single fact that would have to be different."),
        "routes": ("list of routes", "How each function is served."),
        "unserved": ("list of unserved functions", "What nothing serves."),
        "findings": ("list of findings", "What the proof found, worst first."),
        "unproven": ("list of objects", "Circuits the kit uses that the evidence does not prove on this car."),
        "unproven[].circuit": ("text", "Id of the circuit."),
        "unproven[].status": ("text", "`unproven` or `contradicted`."),
        "unproven[].why": ("text", "What the evidence says."),
        "unused_leads": ("list of leads", "Leads this car does not need."),
        "settings": ("object of texts", "Every setting of the kit and its value in this car."),
        "minutes": ("number or null", "Time for the whole fitting [min]."),
        "proof": ("object or null", "How much was computed."),
        "proof.nodes": ("whole number", "Points of the joined circuit."),
        "proof.elements": ("whole number", "Elements between them."),
        "proof.states": ("whole number", "States that were solved."),
        "proof.worst_residual": ("number", "Largest imbalance of current left at any point [A]."),
    },
    "readings_object": {
        "installation": ("text", "Hash of everything the plan was made from."),
        "battery_v": ("number", "The battery at rest for which the readings hold [V]."),
        "readings": ("list of objects", "The readings, in fitting order."),
        "readings[].id": ("text", "Stable id of the reading."),
        "readings[].joint": ("text", "Id of the joint or check it belongs to."),
        "readings[].circuit": ("text or null", "Circuit of the car."),
        "readings[].node": ("text", "The point that is touched."),
        "readings[].purpose": ("text", "`identify` before joining, `after joining`, or `check`."),
        "readings[].state": ("state", "What must be so while one measures."),
        "readings[].clip": ("text", "Where the meter's other lead goes: `battery negative` or `battery positive`."),
        "readings[].lo_v": ("number", "Least reading of a sound car [V]."),
        "readings[].hi_v": ("number", "Largest reading of a sound car [V]."),
        "readings[].nominal_v": ("number", "Reading with every value at its middle [V]."),
        "readings[].per_battery_volt": ("number", "How far the reading moves when the battery moves by one volt."),
        "readings[].driven": ("true or false", "False where nothing holds the point and a meter may show anything."),
        "readings[].widened_v": ("number", "By how much sampled cars widened the band [V]; 0 where none lay outside."),
        "readings[].flicker": ("true or false", "True on pulses and data: a meter shows an average that moves."),
        "readings[].lamp": ("object", "The test lamp at this point."),
        "readings[].lamp.allowed": ("true or false", "Whether a lamp may be put there at all."),
        "readings[].lamp.lit": ("true or false", "Whether it would light."),
        "readings[].lamp.why": ("text", "Why, or why not."),
    },
})  # fmt: skip
