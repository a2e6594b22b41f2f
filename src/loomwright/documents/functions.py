"""The trade's functions: what a circuit or a kit terminal is for, which way it works, and its DIN 72552 number."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, get_args

__all__ = ["FUNCTIONS", "FunctionFacts", "FunctionName"]

FunctionName = Literal[
    "battery feed", "ground", "ignition", "second ignition", "accessory", "accessory 2", "start", "second start",
    "parking light", "parking light left", "parking light right", "turn light left", "turn light right", "stop light",
    "brake", "parking brake", "hood switch", "tach", "wait-to-start", "park/neutral", "key sense", "door switch",
    "lock", "unlock", "driver unlock", "lock motor", "factory alarm arm", "factory alarm disarm", "horn", "hatch",
    "running status", "bus", "immobiliser", "restraint", "intake heater", "glow plugs", "window", "mirror", "seat",
    "wiper", "blower", "radio", "lighting", "speed signal", "sensor", "charge", "fuel pump", "trailer", "other",
    "start button", "brake line",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class FunctionFacts:
    """What the trade knows of one function.

    `kit` tells what a kit does with it: 'feed' takes current, 'drive' operates it, 'sense' reads it, 'talk' exchanges
    data, 'leave' never touches it. `needed` marks what no start may be without. `din` is the terminal number of
    DIN 72552 printed small beside the word, empty where there is none.
    """

    kit: Literal["feed", "drive", "sense", "talk", "leave"]
    needed: bool = False
    din: str = ""
    gist: str = ""


_F = FunctionFacts
FUNCTIONS: Mapping[str, FunctionFacts] = MappingProxyType({
    "battery feed": _F(kit="feed", needed=True, din="30", gist="live at all times"),
    "ground": _F(kit="feed", needed=True, din="31", gist="battery negative"),
    "ignition": _F(kit="drive", needed=True, din="15", gist="live in run and while cranking"),
    "second ignition": _F(kit="drive", din="15", gist="a second feed live in run"),
    "accessory": _F(kit="drive", din="75", gist="live in accessory and run, dead while cranking"),
    "accessory 2": _F(kit="drive", din="75", gist="a second accessory feed"),
    "start": _F(kit="drive", needed=True, din="50", gist="live only while cranking"),
    "second start": _F(kit="drive", din="50", gist="a second contact live only while cranking"),
    "parking light": _F(kit="drive", din="58", gist="parking and tail lamps"),
    "parking light left": _F(kit="drive", din="57L", gist="left parking lamps"),
    "parking light right": _F(kit="drive", din="57R", gist="right parking lamps"),
    "turn light left": _F(kit="leave", din="L", gist="left turn lamps"),
    "turn light right": _F(kit="leave", din="R", gist="right turn lamps"),
    "stop light": _F(kit="leave", din="54", gist="stop lamps behind the switch"),
    "brake": _F(kit="sense", needed=True, din="54", gist="live while the pedal is pressed"),
    "parking brake": _F(kit="sense", gist="grounded while the parking brake is set"),
    "hood switch": _F(kit="sense", needed=True, gist="tells an open hood"),
    "tach": _F(kit="sense", needed=True, gist="engine speed"),
    "wait-to-start": _F(kit="sense", gist="lamp that is lit while the glow plugs heat"),
    "park/neutral": _F(kit="sense", gist="tells the selector in park or neutral"),
    "key sense": _F(kit="sense", gist="tells a key in the lock"),
    "door switch": _F(kit="sense", gist="tells an open door"),
    "lock": _F(kit="drive", gist="locks the doors"),
    "unlock": _F(kit="drive", gist="unlocks the doors"),
    "driver unlock": _F(kit="drive", gist="unlocks the driver door"),
    "lock motor": _F(kit="leave", gist="a door-lock motor"),
    "factory alarm arm": _F(kit="drive", gist="arms the factory alarm"),
    "factory alarm disarm": _F(kit="drive", gist="disarms the factory alarm"),
    "horn": _F(kit="drive", din="71", gist="sounds the horn"),
    "hatch": _F(kit="drive", gist="opens the hatch"),
    "running status": _F(kit="drive", gist="tells the vehicle module that the kit runs the engine"),
    "bus": _F(kit="talk", gist="data"),
    "immobiliser": _F(kit="leave", gist="key recognition"),
    "restraint": _F(kit="leave", gist="airbags and belts: never touched"),
    "intake heater": _F(kit="leave", gist="heats the intake air of a diesel"),
    "glow plugs": _F(kit="leave", din="19", gist="preheating"),
    "window": _F(kit="leave", gist="window lifts"),
    "mirror": _F(kit="leave", gist="mirrors"),
    "seat": _F(kit="leave", gist="seats"),
    "wiper": _F(kit="leave", din="53", gist="wipers and washer"),
    "blower": _F(kit="leave", gist="blower motor"),
    "radio": _F(kit="leave", gist="radio and speakers"),
    "lighting": _F(kit="leave", gist="other lamps"),
    "speed signal": _F(kit="leave", gist="vehicle speed"),
    "sensor": _F(kit="leave", gist="a sensor or switch of the factory's"),
    "charge": _F(kit="leave", din="61", gist="charge lamp"),
    "fuel pump": _F(kit="leave", gist="fuel pump"),
    "trailer": _F(kit="leave", gist="trailer socket"),
    "other": _F(kit="leave", gist="something else"),
    "start button": _F(kit="drive", gist="the driver's start button"),
    "brake line": _F(kit="drive", din="54", gist="the brake signal of a button car, which the kit gives itself"),
})  # fmt: skip

if set(FUNCTIONS) != set(get_args(FunctionName)):  # pragma: no cover - a slip of the pen while editing this file
    raise AssertionError(set(FUNCTIONS) ^ set(get_args(FunctionName)))
