"""The installation page: what a wire does, what opened or shorted wires change, where things are."""

from collections.abc import Mapping
from types import MappingProxyType

CONDITION: Mapping[str, str] = MappingProxyType({
    "live": "live",
    "dead": "dead",
    "up": "held up",
    "pulled": "pulled to ground",
    "ground": "at ground",
    "moving": "moving",
    "between": "in between",
    "loose": "loose",
})
CONDITION_MEANS: Mapping[str, str] = MappingProxyType({
    "live": "battery voltage, fed firmly",
    "dead": "no voltage",
    "up": "rests high, works by being pulled to ground",
    "pulled": "would rest high, something pulls it to ground",
    "ground": "joined to battery negative",
    "moving": "data or pulses: a meter shows a mean that moves",
    "between": "neither live nor dead: a level, or a fault",
    "loose": "nothing holds it, the meter may show anything",
})
BESIDE = "Beside the car or under the hood"
BESIDE_WORDS = "Not in the footwell."
PIN = "pin {pin}"
VOLTS = "{volts}"
GROUND_WIRE = "body ground"
KIT_RUNS = "the kit runs the engine"
KIT_ON = "the kit has {outputs} on"
READS: Mapping[bool | None, str] = MappingProxyType({True: "on", False: "off", None: "neither on nor off"})
SENSE = "The kit takes {function} for {reads} ({volts})."
SENSE_WRONG = "The kit takes {function} for {reads} ({volts}); with everything sound for {sound}."
BLOWN = "{what} opens: {current}, within {time} at the latest."
CHATTERS = "A relay chatters: it pulls in and drops out without end."
PHASE: Mapping[str, str] = MappingProxyType({
    "": "nothing asked of the kit",
    "ignition on": "ignition on",
    "cranking": "cranking",
    "running": "running",
})
FLOATS = "anything: nothing holds the wire then"
ABOUT = "about {volts:.1f} V"
ABOUT_MOVING = "about {volts:.1f} V, moving"
NO_SCENARIO = "one state at a time"
START_ENGINE_STILL = "The engine stands still."
START_ENGINE = "The engine turns at {rpm}."
START_ENGINE_CHANGES = "The engine goes from {before} to {rpm}."
START_BATTERY = "The battery has {volts}."
START_BATTERY_DIPS = "The battery has {volts}, at its lowest {lowest}."
START_STARTER = "The starter takes up to {amps}."
START_KEY = "The key is in {key}."
START_ON = "The kit has {outputs} on."
START_OFF = "The kit has nothing on."
START_LASTS = "So it stays for {time}."
START_HOLDS: Mapping[bool, str] = MappingProxyType({True: "Yes", False: "No"})
KEY: Mapping[str, str] = MappingProxyType({"off": "off", "acc": "accessory", "run": "run", "crank": "start"})
