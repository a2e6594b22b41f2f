"""What a model refuses, told with place, found, expected and advice: the whole message of each kind of fault."""

import pytest

from loomwright.documents.fault import Fault, Faults
from tests.documents.sample import GARDEN, faults_of, read

# What stands in the sample, what somebody writes instead, and what they are told.
REFUSED: list[tuple[str, str, list[str]]] = [
    (
        "clay",
        "clya",
        [
            "5: beds[north].soil: found 'clya', expected one of 'clay', 'sand'; did you mean 'clay'?",
        ],
    ),
    (
        "by: hose",
        "by: house",
        [
            "6: beds[north].water.by: found 'house', expected one of 'hose', 'can', 'bucket'; did you mean 'hose'?",
        ],
    ),
    (
        "by: hose, ",
        "",
        [
            "6: beds[north].water.by: found nothing, expected one of 'hose', 'can', 'bucket'; add the key 'by'",
        ],
    ),
    (
        "by: hose",
        "bi: hose",
        [
            "6: beds[north].water.by: found nothing, expected one of 'hose', 'can', 'bucket'; add the key 'by'",
        ],
    ),
    (
        "length_m: 12",
        "length_m: 12 ft",
        [
            "6: beds[north].water.length_m: found '12 ft', expected a number in metres above 0 and at most 50; "
            "write the number alone, in metres",
        ],
    ),
    (
        "length_m: 12",
        "length_m: 120",
        [
            "6: beds[north].water.length_m: found the number 120, expected a number in metres above 0 and at most "
            "50; correct the number",
        ],
    ),
    (
        "length_m: 12",
        "lenght_m: 12",
        [
            "6: beds[north].water.lenght_m: found the key 'lenght_m', expected one of 'by', 'length_m'; did you "
            "mean 'length_m'?",
        ],
    ),
    (
        ", length_m: 12",
        "",
        [
            "6: beds[north].water.length_m: found nothing, expected a number in metres above 0 and at most 50 "
            "(Length of the hose); add the key 'length_m'",
        ],
    ),
    (
        "by: hose, length_m: 12",
        "by: can, trips: 0",
        [
            "6: beds[north].water.trips: found the number 0, expected a whole number from 1 to 9; correct the number",
        ],
    ),
    (
        "{by: hose, length_m: 12}",
        "3",
        [
            "6: beds[north].water: found the number 3, expected a block whose 'by' is one of 'hose', 'can', "
            "'bucket'; write its keys, indented, on the lines below",
        ],
    ),
    (
        "name: leek",
        "name: weed",
        [
            "8: beds[north].plants[0].name: found a weed, expected a plant; pull it",
        ],
    ),
    (
        "name: leek",
        "name: Leek",
        [
            "8: beds[north].plants[0].name: found 'Leek', expected lower-case letters; write it small",
        ],
    ),
    (
        "2026-03-31",
        "2026-03-30",
        [
            "9: beds[north].plants[0].sown: found '2026-03-30', expected any day but Monday; correct it",
        ],
    ),
    (
        "2026-03-31",
        "20260331",
        [
            "9: beds[north].plants[0].sown: found the number 20260331, expected a date such as 2026-05-31; write "
            "year, month and day",
        ],
    ),
    (
        "2026-03-31",
        "31/3/2026",
        [
            "9: beds[north].plants[0].sown: found '31/3/2026', expected a date such as 2026-05-31; write year, "
            "month and day",
        ],
    ),
    (
        "2026-03-31",
        '"12"',
        [
            "9: beds[north].plants[0].sown: found '12', expected a date such as 2026-05-31; write year, month and day",
        ],
    ),
    (
        "150.0",
        '"150"',
        [
            "10: beds[north].plants[0].depth_mm: found '150', expected a number in millimetres; write it without "
            "quotes",
        ],
    ),
    (
        "150.0",
        "1E3",
        [
            "10: beds[north].plants[0].depth_mm: found '1E3', expected a number in millimetres; write 1000",
        ],
    ),
    (
        "150.0",
        "0123",
        [
            "10: beds[north].plants[0].depth_mm: found '0123', expected a number in millimetres; write 123",
        ],
    ),
    (
        "150.0",
        "12,5",
        [
            "10: beds[north].plants[0].depth_mm: found '12,5', expected a number in millimetres; write 12.5",
        ],
    ),
    (
        "150.0",
        ".5",
        [
            "10: beds[north].plants[0].depth_mm: found '.5', expected a number in millimetres; write 0.5",
        ],
    ),
    (
        "150.0",
        "yes",
        [
            "10: beds[north].plants[0].depth_mm: found 'yes', expected a number in millimetres; write a number in "
            "millimetres",
        ],
    ),
    (
        "150.0",
        "true",
        [
            "10: beds[north].plants[0].depth_mm: found true, expected a number in millimetres; write a number in "
            "millimetres",
        ],
    ),
    (
        "150.0",
        "",
        [
            "10: beds[north].plants[0].depth_mm: found nothing, expected a number in millimetres; write the value, "
            "or delete the key",
        ],
    ),
    (
        "150.0",
        ".nan",
        [
            "10: beds[north].plants[0].depth_mm: found '.nan', expected a finite number; write the number itself, "
            "or leave it out",
        ],
    ),
    (
        "150.0",
        "[]",
        [
            "10: beds[north].plants[0].depth_mm: found an empty list, expected a number in millimetres; write a "
            "number in millimetres",
        ],
    ),
    (
        "        depth_mm: 150.0",
        "        tall: on",
        [
            "10: beds[north].plants[0].tall: found 'on', expected true or false; write true",
        ],
    ),
    (
        "        depth_mm: 150.0",
        "        tall: 1",
        [
            "10: beds[north].plants[0].tall: found the number 1, expected true or false; write true",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    support: {wood: oak}",
        [
            "13: beds[south].support.height_m: found nothing, expected a number in metres; add the key 'height_m'",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    support: {wire: 3, height_m: x}",
        [
            "13: beds[south].support.wire: found the number 3, expected text; put quotes around it",
            "13: beds[south].support.height_m: found 'x', expected a number in metres; write a number in metres",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    support: fense",
        [
            "13: beds[south].support: found 'fense', expected a block with 'wood' and 'height_m', a block with "
            "'wire' and 'height_m' or one of 'none', 'fence'; did you mean 'fence'?",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    support: 3",
        [
            "13: beds[south].support: found the number 3, expected a block with 'wood' and 'height_m', a block "
            "with 'wire' and 'height_m' or one of 'none', 'fence'; correct it",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    support: {}",
        [
            "13: beds[south].support.wood: found nothing, expected text; add the key 'wood'",
            "13: beds[south].support.height_m: found nothing, expected a number in metres; add the key 'height_m'",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    support: {wir: a, height_m: 1}",
        [
            "13: beds[south].support.wir: found the key 'wir', expected one of 'wire', 'height_m', 'rows'; did you "
            "mean 'wire'?",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    price: []",
        [
            "13: beds[south].price: found an empty list, expected a number or text; correct it",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    corner: [1]",
        [
            "13: beds[south].corner[1]: found nothing, expected a number; add it to the list",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    corner: [1, 2, 3]",
        [
            "13: beds[south].corner: found a list of 3, expected a list of at most 2; delete what is too much",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    corner: [1, a]",
        [
            "13: beds[south].corner[1]: found 'a', expected a number; write a number",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    except: a",
        [
            "13: beds[south].except: found 'a', expected a list; write each item on a line of its own, with '- ' "
            "before it",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    except: [1, a, null]",
        [
            "13: beds[south].except[0]: found the number 1, expected text; put quotes around it",
            "13: beds[south].except[2]: found nothing, expected text; write the item, or delete its '-'",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    code: ab",
        [
            "13: beds[south].code: found 'ab', expected text of the form ^[A-Z]{2}-[0-9]+$; correct it",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    spacing_mm: a",
        [
            "13: beds[south].spacing_mm: found 'a', expected a number in millimetres; write a number in millimetres",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    spacing_mm: [1, b]",
        [
            "13: beds[south].spacing_mm[1]: found 'b', expected a number in millimetres; write a number in millimetres",
        ],
    ),
    (
        "soil: sand",
        "soil: sand\n    inner: [{id: deep, soil: silt, plants: [{nam: x}]}]",
        [
            "13: beds[south].inner[deep].soil: found 'silt', expected one of 'clay', 'sand'; choose one",
            "13: beds[south].inner[deep].plants[0].nam: found the key 'nam', expected one of 'name', 'sown', "
            "'depth_mm', 'tall'; did you mean 'name'?",
        ],
    ),
    (
        "id: south",
        "id: north",
        [
            "11: beds[north].id: found 'north', expected each id once; rename one of them",
        ],
    ),
    (
        "kind: garden",
        "kind: garden\nnotes: {a: 1, b: x, 3: 1.0}\nname: abcdefghijklmnopqrstuvwxyz",
        [
            "3: notes.b: found 'x', expected a whole number; write a number",
            "3: notes.3: found the number 1.0, expected a whole number; write a whole number",
            "4: name: found 'abcdefghijklmnopqrstuvwxyz', expected text of at most 20 characters; shorten it",
        ],
    ),
    (
        "  - id: south\n    soil: sand",
        "  - {}\n  - 3\n  -",
        [
            "11: beds[1].id: found nothing, expected text; add the key 'id'",
            "11: beds[1].soil: found nothing, expected one of 'clay', 'sand'; add the key 'soil'",
            "12: beds[2]: found the number 3, expected a block with 'id' and 'soil'; write its keys, indented, on "
            "the lines below",
            "13: beds[3]: found nothing, expected a block with 'id' and 'soil'; write the item, or delete its '-'",
        ],
    ),
]


def test_the_sample_itself_is_right() -> None:
    assert faults_of(GARDEN) == []


@pytest.mark.parametrize(("right", "wrong", "told"), REFUSED)
def test_a_wrong_value_is_told_whole(right: str, wrong: str, told: list[str]) -> None:
    assert right in GARDEN
    assert [message.removeprefix("g.yaml:") for message in faults_of(GARDEN.replace(right, wrong, 1))] == told


def test_a_misspelt_key_is_one_fault_and_not_an_unknown_key_and_a_missing_one() -> None:
    assert len(faults_of(GARDEN.replace("soil: sand", "sole: sand"))) == 1
    assert len(faults_of(GARDEN.replace("soil: sand", "xyz: sand"))) == 2


def test_a_validator_may_tell_several_faults_at_once() -> None:
    text = GARDEN + "  - {id: north, soil: clay}\n  - {id: south, soil: clay}\n"
    assert faults_of(text) == [
        "g.yaml:13: beds[north].id: found the id 'north' again, expected each id once; rename one of them",
        "g.yaml:14: beds[south].id: found 'south', expected each id once; rename one of them",
    ]


def test_all_faults_of_a_file_come_together_in_the_order_of_lines() -> None:
    text = GARDEN.replace("clay", "clya").replace("leek", "LEEK").replace("hose,", "hose, hose: 1,")
    text = text.replace("format: 1", "format: 1\nformat: 1") + "    price: .inf\n    tall: no\n"
    assert [int(message.split(":")[1]) for message in faults_of(text)] == [2, 6, 7, 9, 14, 15]


def test_a_value_that_the_text_could_not_give_is_told_once() -> None:
    assert faults_of(GARDEN.replace("soil: sand", "soil: *clay")) == [
        "g.yaml:12: beds[south].soil: found the reference '*clay', expected the value itself; repeat the value, or put "
        "quotes around a text that begins with '*'"
    ]


def test_a_file_with_very_many_faults_tells_the_first_ones() -> None:
    text = GARDEN + "".join(f"    unknown{number}: 1\n" for number in range(1000))
    told = faults_of(text)
    assert len(told) == 201
    assert told[-1] == "g.yaml: found more than 200 faults, expected none; correct these first, and read the file again"


def test_a_date_is_read_as_a_date() -> None:
    bed = read(GARDEN).document.beds[0]  # type: ignore[attr-defined]
    assert str(bed.plants[0].sown) == "2026-03-31"


def test_several_faults_need_at_least_one() -> None:
    with pytest.raises(ValueError, match="found none, expected at least one"):
        Faults([])
    assert str(Faults([Fault(found="a", expected="b", advice="c")])) == "found a, expected b; c"
