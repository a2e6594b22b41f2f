"""The codes of findings and refusals, each with its meaning in one sentence.

Codes are stable: scripts and notes of a shop may rely on them, so a code is never given a second meaning. A test reads
the code of every finding and refusal out of the sources and compares both ways, so that none is forgotten here and
none stays after it is gone. Severity, advice and source stand where the finding is made and nowhere else.
"""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["FINDING_CODES", "REFUSAL_CODES"]

FINDING_CODES: Mapping[str, str] = MappingProxyType({
    "car-wire-unprotected": "The kit feeds a wire of the car past the car's own fuse with more than the wire carries.",
    "crank-goes-on": "The car's own computer cranks on after the kit has let go, with the hood open.",
    "crank-sags": "While a warm engine is cranked the battery stands below what a sound one holds.",
    "dead-when-it-should-live": "A load does not get its voltage in a state in which it should.",
    "depends-on-history": "A relay stands one way after what went before and the other way when the same state is met "
    "from rest.",
    "drop-too-large": "A load that is fed through the kit loses clearly more voltage than on the car's own key.",
    "drops-out-in-crank": "A relay or the controller drops out while a weak battery cranks the engine.",
    "evidence-contradicts": "Somebody saw another colour or another pin than the vehicle document says, on a car like "
    "this one.",
    "fed-in-part": "A wire that should be dead floats at some voltage between dead and live.",
    "feeds-joined": "Two battery feeds with a fuse each are connected to each other behind their fuses.",
    "fuse-too-close": "A fuse carries more than three quarters of its rating for as long as the state lasts.",
    "ground-rises": "The kit's ground stands too far above the battery's negative clamp while current flows.",
    "input-polled": "An input of the controller sits on a wire that its module holds up in short pulses only.",
    "input-undefined": "The voltage at an input of the controller is neither clearly high nor clearly low, so it may "
    "be read either way.",
    "input-wrong": "The controller reads a pedal, hood, door, brake or selector as the opposite of what it is.",
    "live-when-it-should-be-dead": "A load is live in a state in which it should be dead.",
    "misses-circuit": "A conductor of the kit is joined to another circuit than the plan names.",
    "no-pulses": "The wire chosen for the engine speed reads the same with the engine standing and running.",
    "not-carried": "A T does not carry a wire of its plug from one side to the other.",
    "not-joined": "A conductor of the kit that the plan joins is joined to nothing.",
    "over-rating": "A part, plug pin, output or fuse carries more current than it is rated for.",
    "pin-overruled": "A route that the builder pinned in the shop document could not be taken.",
    "protection-broken": "Some order of events breaks a property that must hold, such as a still starter with the hood "
    "open.",
    "protection-untested": "A fault of an input takes a protection away unnoticed, and no test shows it.",
    "pulled-by-itself": "A wire that works something by being pulled to ground does not stand at its resting level, "
    "although nobody operates it.",
    "relay-chatters": "A relay pulls in, loses its feed by that, drops out and pulls in again without end.",
    "relays-race": "Two relays wait for each other, and which one pulls in first decides what happens.",
    "runs-on-without-kit": "The engine runs on when the kit loses its supply, and no protection of the kit stops it.",
    "setting-misfits": "A setting stands at a value that does not go with how a function is served.",
    "settings-contradict": "Settings of the controller contradict each other, the car, or the cold.",
    "short-hurts-wire": "A lead of the kit shorted to the body is hurt before the fuse in its way need open.",
    "standing-draw": "The kit draws more current from the parked car than a battery should have to give.",
    "start-goes-wrong": "A rehearsal of the start does not come out as it should.",
    "start-held": "The kit's start signal lasts longer than the engine computer takes without calling it a fault.",
    "trigger-not-pulled": "A wire that should be pulled to ground by its switch or by the kit stays up.",
    "unproven": "The kit uses a circuit that nobody has measured on this variant of the car.",
    "wire-unprotected": "A wire of the kit can get more current than it carries before a fuse or a limiter opens.",
    "wrong-fuse": "A lead of the kit has another fuse than the kit document gives it, or none.",
    "wrong-terminal": "A conductor of the kit sits in the wrong place of the controller's plug.",
})  # fmt: skip

REFUSAL_CODES: Mapping[str, str] = MappingProxyType({
    "hybrid": "The car is a hybrid.",
    "electric": "The car is electric.",
    "mild-hybrid-48-v": "The car has a 48 V system that starts its engine.",
    "manual-gearbox": "The car has a manual gearbox.",
    "shifter-lock-only": "Only a mechanical lock holds the selector; nothing electrical keeps the starter off in gear.",
    "drive-unknown": "The vehicle document does not say what drives the car.",
    "gearbox-unknown": "The vehicle document does not say which gearbox the car has.",
    "no-park": "Nothing recorded proves that the starter stays off in gear.",
    "no-brake": "Nothing tells the controller that the brake pedal is pressed.",
    "no-hood-switch": "Nothing tells the controller that the hood is open.",
    "no-tach": "Nothing tells the controller that the engine turns.",
    "no-start-button": "Nothing lets the controller press the car's start button.",
    "no-brake-line": "Nothing lets the controller give the brake signal without which a button car does not crank.",
    "no-start": "Nothing lets the controller turn the starter.",
    "no-ignition": "Nothing lets the controller keep the ignition on.",
    "no-battery-feed": "No feed of the car can carry what the kit takes.",
    "no-ground": "The vehicle document names no ground point that the kit can use.",
    "no-immobiliser": "The car's immobiliser keeps the engine off, and the kit has nothing that serves it.",
})  # fmt: skip
"""Codes of a refusal; each ``no-...`` names the function that nothing serves."""
