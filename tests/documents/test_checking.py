"""Faults between documents: each is made from the demo shop by a small edit and told with file, line and field."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml

from loomwright.documents.checking import check_documents, load_checked
from loomwright.documents.demo import demo_files
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, load
from loomwright.errors import DocumentError, Message

CAR = "vehicles/kestrin-fallow.yaml"
KIT = "kits/rookery-4.yaml"
SHOP = "shop.yaml"
EVIDENCE = "evidence/kestrin-fallow.yaml"

EDITS = yaml.safe_load(Path(__file__).with_name("faults_of_edits.yaml").read_text(encoding="utf-8"))


def edited(file: str, *edits: tuple[str, str]) -> dict[str, str]:
    texts = dict(demo_files())
    for old, new in edits:
        own = texts[file].partition("\ntranslations:")[0]  # what it says in other languages repeats its texts
        assert own.count(old) == 1, f"{old!r} stands {own.count(old)} times in {file}"
        texts[file] = texts[file].replace(old, new, 1)
    return texts


def faults(texts: Mapping[str, str], *, whole: bool = True) -> tuple[Message, ...]:
    return check_documents(load([Source(file=file, text=text) for file, text in texts.items()], MODELS), whole=whole)


def test_the_demo_shop_has_no_fault() -> None:
    assert [one.file for one in load_checked(demo_files())] == sorted(demo_files())
    assert {EVIDENCE, KIT, SHOP, CAR} <= set(demo_files())


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit["new"])
def test_a_small_edit_is_told(edit: dict[str, Any]) -> None:
    texts = edited(edit["file"], (edit["old"], edit["new"]))
    # Only where the names of the other families are told are they read, since working out their cars takes time.
    whole = any("[...]" in wanted["words"].replace("line [...]", "") for wanted in edit["told"])
    told = faults(texts if whole else {file: texts[file] for file in (CAR, KIT, SHOP, EVIDENCE)}, whole=whole)
    assert [message.file for message in told] == [wanted["file"] for wanted in edit["told"]]
    for message, wanted in zip(told, edit["told"], strict=True):
        # '[...]' stands for names and line numbers that grow with the demo shop.
        before, _, after = wanted["words"].partition("[...]")
        words = str(message).partition(": ")[2]
        assert words == wanted["words"] or (after and words.startswith(before) and words.endswith(after)), words
    for message, wanted in zip(told, edit["told"], strict=True):
        assert message.line is not None
        assert texts[message.file].splitlines()[message.line - 1].strip().startswith(wanted["line"])


def test_all_faults_are_raised_at_once_in_the_order_of_the_file() -> None:
    texts = edited(
        KIT, ("label: HOOD", "label: Brake"), ("default: 15 min", "default: 12 min"), ("c2, pin: 9,", "c2, pin: 8,")
    )
    with pytest.raises(DocumentError, match="c2/8") as raised:
        load_checked(texts)
    assert [message.field for message in raised.value.messages] == [
        "controller.terminals[unlock].pin",
        "leads[hood].label",
        "settings[run-time].default",
    ]


def test_a_second_document_of_the_same_id() -> None:
    texts = {**demo_files(), "kits/copy.yaml": demo_files()[KIT]}
    assert [str(message) for message in faults(texts)] == [
        "kits/copy.yaml:4: id: found the id 'rookery-4', which kits/rookery-4.yaml has too, "
        "expected a document of its own id; rename one of the two"
    ]


def test_a_kit_alone_is_checked_without_vehicles() -> None:
    texts = edited(
        KIT,
        ("label: KEY\n    kind: t\n    housing: kf-key-8", "label: KEY\n    kind: t\n    housing: kf-key-9"),
        ('{engine: "2.4"}', '{engine: "9"}'),
    )
    assert faults({KIT: texts[KIT]}) == ()


def test_a_family_with_too_many_cars_is_refused_before_they_are_made() -> None:
    more = "".join(f"      - {{value: v{i}, cue: car {i}}}\n" for i in range(600))
    text = demo_files()[CAR].replace(
        "\nnot_built:", f"  - id: colour\n    ask: Which?\n    values:\n{more}\nnot_built:"
    )
    assert [str(message) for message in faults({CAR: text})] == [
        "vehicles/kestrin-fallow.yaml:11: axes: found more than 4000 buildable cars, "
        "expected a smaller family; split it into two"
    ]


def test_one_vehicle_of_a_shop_is_checked_without_the_others() -> None:
    # What the kit, the shop and the evidence say of a family that is not read here is no fault; the rest still is.
    texts = {file: text for file, text in demo_files().items() if not file.startswith("vehicles/") or file == CAR}
    loaded = load([Source(file=file, text=text) for file, text in texts.items()], MODELS)
    assert any("a vehicle of this shop" in str(message) for message in check_documents(loaded))
    assert check_documents(loaded, whole=False) == ()
    texts[SHOP] = texts[SHOP].replace("pin: body-a/6", "pin: body-a/66")
    texts[KIT] = texts[KIT].replace('only: {engine: "2.4"}', 'only: {engine: "2.5"}')
    wrong = load([Source(file=file, text=text) for file, text in texts.items()], MODELS)
    fields = [message.field for message in check_documents(wrong, whole=False)]
    assert fields == ["vehicle_module.services[4].only.engine", "pinned[0].pin"]


def _with_dome_lamp(behaviour: str, step: str = "") -> tuple[Message, ...]:
    """Say what is told of the demo car with another behaviour of its dome lamp and one more step in its path."""
    texts = edited(
        CAR,
        ("behaviour: {template: switched feed, load_a: 0.8, load: lamp}", f"behaviour: {behaviour}"),
        ("      - {from: body-a/2, to: load,", f"{step}      - {{from: body-a/2, to: load,"),
    )
    return faults({CAR: texts[CAR]})


def test_what_was_never_built_may_name_an_unknown_axis_though_there_is_evidence() -> None:
    texts = edited(CAR, ("not_built:\n", "not_built:\n  - {wheels: four}\n"))
    told = faults({file: texts[file] for file in (CAR, EVIDENCE)}, whole=False)
    assert [message.field for message in told] == ["not_built[0].wheels"]


def test_two_contacts_side_by_side_may_feed_one_wire() -> None:
    lamp = "{template: switched feed, load_a: 0.8, load: lamp}"
    switch = '      - {from: "s:dome-fuse", to: body-a/2, closed_when: passenger door open, switch: other contact}\n'
    assert _with_dome_lamp(lamp, switch) == ()
    (told,) = _with_dome_lamp(lamp, '      - {from: "s:dome-fuse", to: body-a/2}\n')
    assert "closes a circle" in str(told)


def test_every_template_that_is_fed_names_a_circuit_that_feeds_it() -> None:
    for behaviour in ("module output, on_when: lamps on", "start request", "switched ground", "input wire"):
        (told,) = _with_dome_lamp(f"{{template: {behaviour}, fed_by: body-fed}}")
        assert "did you mean 'body-feed'?" in str(told)
        assert _with_dome_lamp(f"{{template: {behaviour}, fed_by: body-feed}}") == ()
        (told,) = _with_dome_lamp(f"{{template: {behaviour}, fed_by: windows}}")
        assert "which the car does not have (on 2011, sedan, 2.4, base" in str(told)


def test_a_leg_of_a_reversing_motor_needs_another_leg() -> None:
    leg = "{{template: reversing leg, partner: {}, live_when: lock pressed}}"
    (told,) = _with_dome_lamp(leg.format("dome-lamp"))
    assert "found 'dome-lamp', which is no other leg of a motor" in str(told)
    (told,) = _with_dome_lamp(leg.format("motor-lock"))
    assert "which is no other leg of a motor" in str(told)
    (told,) = _with_dome_lamp(leg.format("motor-lok"))
    assert "did you mean 'motor-lock'?" in str(told)


def test_an_output_of_a_module_may_have_further_loads_and_needs_its_first() -> None:
    output = "{template: module output, on_when: lamps on, loads: {step: {load_a: 0.4}}}"
    assert _with_dome_lamp(output, "      - {from: body-a/2, to: step, colour: white, length_m: 2}\n") == ()
    (told,) = _with_dome_lamp(output)
    assert "the load 'step' at no end of the path" in str(told)
