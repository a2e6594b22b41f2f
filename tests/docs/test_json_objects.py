"""What the JSON page says against real objects: the demonstration shop's match, readings, and a refusal."""

from collections.abc import Iterator
from functools import cache
from itertools import islice
from typing import Any

import pytest

from loomwright.documents.car import resolve
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Origin, Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.faults.weight import weights
from loomwright.fitting.order import begin, order_check
from loomwright.network.elements import Element
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.network.tracing import trace_reading
from loomwright.papers.match_object import match_object, readings_object, refusal_object
from loomwright.papers.order_object import order_object
from loomwright.papers.start_object import start_object
from loomwright.papers.trace_object import trace_object
from loomwright.papers.weigh_object import weigh_object
from loomwright.planning.installation import Installation, Refusal
from loomwright.planning.plan import match
from loomwright.starting.advice import advise
from loomwright.starting.rehearse import rehearse
from loomwright.starting.scenarios import SCENARIOS
from loomwright.starting.silent import check_start
from tools.reference.json_keys import parts_named
from tools.reference.json_meanings import JSON_MEANINGS

_CHOICE = {"year": "2014", "body": "sedan", "engine": "3.3", "trim": "touring"}
_MANUAL = ("gearbox: automatic", "gearbox: manual")
_NAMED = parts_named()
_WITH_CAR = {"match_object", "readings_object", "start_object", "trace_object", "weigh_object"}


def _documents(change: tuple[str, str] = ("", "")) -> tuple[Vehicle, Kit, Shop, list[Evidence]]:
    mine = {n: t for n, t in demo_files().items() if n == "shop.yaml" or "kestrin-fallow" in n or "rookery-4" in n}
    texts = {name: text.replace(*change) if change[0] else text for name, text in mine.items()}
    loaded = [e.document for e in load([Source(file=n, text=t.encode()) for n, t in texts.items()], MODELS)]
    vehicle = next(d for d in loaded if isinstance(d, Vehicle))
    kit = next(d for d in loaded if isinstance(d, Kit))
    shop = next(d for d in loaded if isinstance(d, Shop))
    return vehicle, kit, shop, [d for d in loaded if isinstance(d, Evidence)]


def _demo(change: tuple[str, str] = ("", "")) -> Installation | Refusal:
    vehicle, kit, shop, evidence = _documents(change)
    return match(resolve(vehicle, _CHOICE, evidence), kit, shop)


def _somewhere(_element: Element) -> Origin:
    return Origin(file="vehicles/a.yaml", line=7, path="circuits[0]")


@cache
def _objects() -> dict[str, dict[str, Any]]:
    fitted = _demo()
    refused = _demo(_MANUAL)
    order = begin(*_documents())
    assert isinstance(fitted, Installation)
    assert isinstance(refused, Refusal)
    return {
        "match": match_object(fitted, prove(fitted)),
        "refusal": refusal_object(refused),
        "readings": readings_object(fitted, readings(fitted)),
        "order begun": order_object(order_check(order, {})),
        "order settled": order_object(order_check(order, {**_CHOICE, "order/keys": "1"})),
        "order refused": order_object(order_check(begin(*_documents(_MANUAL)), {})),
        "start": start_object(fitted, check_start(fitted), (rehearse(fitted, SCENARIOS["warm"]),), advise(fitted)),
        "trace": trace_object(fitted, trace_reading(fitted, readings(fitted).readings[0], 12.6), _somewhere),
        "weigh": weigh_object(fitted, "fits", tuple(islice(weights(fitted, _documents()[2], everything=True), 3))),
        "start refused": start_object(refused, None, (), None),
    }


_TYPES: dict[str, tuple[type, ...]] = {
    "text": (str,),
    "number": (int, float),
    "whole number": (int,),
    "true or false": (bool,),
    "null": (type(None),),
    "state": (dict,),
}


def _fits(value: object, words: str) -> bool:
    if words.startswith("list of"):
        return isinstance(value, list)
    if words == "true or false or null":
        return value is None or isinstance(value, bool)
    if words.startswith("object"):
        return isinstance(value, dict) or (value is None and words.endswith("or null"))
    kinds = words.split(" or ") if words != "true or false" else [words]
    return any(isinstance(value, _TYPES[kind]) for kind in kinds) and (
        not isinstance(value, bool) or words == "true or false"
    )


def _faults(function: str, value: dict[str, Any], before: str = "") -> Iterator[str]:
    """Yield what an object holds that the page does not say, or says otherwise."""
    car = JSON_MEANINGS["car_and_kit"] if function in _WITH_CAR else {}
    meanings = {**JSON_MEANINGS[function], **car}
    for key, inner in value.items():
        path = f"{before}{key}"
        if path not in meanings:
            yield f"{function}: {path} is not on the page"
            continue
        words = meanings[path][0]
        if not _fits(inner, words):
            yield f"{function}: {path} is {inner!r}, said to be {words}"
        maker = _NAMED.get(f"{function}.{key}") or _NAMED.get(f"refusal_object.{key}")
        entries = inner if isinstance(inner, list) else [inner]
        for entry in entries:
            if not isinstance(entry, dict) or words.startswith(("object of", "list of texts", "list of cars")):
                continue
            if maker is not None:
                yield from _faults(maker, entry)
            else:
                yield from _faults(function, entry, f"{path}[]." if isinstance(inner, list) else f"{path}.")


@pytest.mark.parametrize(("name", "function"), [
    ("match", "match_object"), ("refusal", "match_object"), ("readings", "readings_object"),
    ("start", "start_object"), ("start refused", "start_object"), ("trace", "trace_object"), ("weigh", "weigh_object"),
    ("order begun", "order_object"), ("order settled", "order_object"), ("order refused", "order_object"),
])  # fmt: skip
def test_a_real_object_holds_what_the_page_says(name: str, function: str) -> None:
    assert list(_faults(function, _objects()[name])) == []


def test_the_real_objects_are_no_empty_shells() -> None:
    found = _objects()
    assert len(found["match"]["routes"]) > 10
    assert len(found["readings"]["readings"]) > 50
    assert found["refusal"]["refusal"]["code"] == "manual-gearbox"
    assert found["order begun"]["question"]["choices"]
    assert found["order settled"]["choice"] == _CHOICE
    assert len(found["start"]["properties"]) > 15
    assert found["trace"]["elements"]
    assert len(found["weigh"]["facts"]) == 3
    assert found["start"]["silent_faults"]
    assert len(found["start"]["scenarios"][0]["series"]) > 50
    assert [r["code"] for r in found["order refused"]["refusals"]] == ["manual-gearbox"]


def test_a_match_and_a_refusal_have_the_same_top_keys() -> None:
    found = _objects()
    assert set(found["match"]) == set(found["refusal"])


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"verdict": 3}, ["match_object: verdict is 3, said to be text"]),
        ({"news": 1}, ["match_object: news is not on the page"]),
        ({"proof": {"nodes": True}}, ["match_object: proof.nodes is True, said to be whole number"]),
        ({"routes": [{"why": None}]}, ["_route: why is None, said to be text"]),
    ],
)
def test_a_wrong_object_is_found(change: dict[str, Any], told: list[str]) -> None:
    assert list(_faults("match_object", change)) == told
