"""Bad input from outside: one clear message for each fault, exit code 2, no traceback, nothing half written."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from loomwright.cli.main import BAD_INPUT, OK, main
from loomwright.documents.demo import demo_files

VEHICLE = "vehicles/kestrin-fallow.yaml"
KIT = "kits/rookery-4.yaml"
EVIDENCE = "evidence/kestrin-fallow.yaml"
WITH = ("--with", "engine=2.4", "year=2013", "body=sedan", "trim=base")

# file:line: field: found X, expected Y; do Z - the line and the field are left out where the whole file is meant.
_MESSAGE = re.compile(r"^(?P<file>[^:]+)(:(?P<line>\d+))?(: (?P<field>\S.*?))?: found .+, expected .+; .+[^.]$")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Give a folder with the demonstration shop in it."""
    for name, text in demo_files().items():
        (tmp_path / "shop" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "shop" / name).write_text(text, encoding="utf-8")
    return tmp_path / "shop"


@pytest.fixture
def told(capsys: pytest.CaptureFixture[str]) -> Callable[..., list[str]]:
    """Give a function that runs a call which must fail, and returns its messages."""

    def run(*words: object) -> list[str]:
        assert main([str(word) for word in words]) == BAD_INPUT
        seen = capsys.readouterr()
        assert seen.out == ""
        assert "Traceback" not in seen.err
        # A fault of syntax shows the line with a mark below it, indented; that belongs to the message before.
        return [line for line in seen.err.splitlines() if not line.startswith("     ")]

    return run


def _edit(file: Path, old: str, new: str) -> int:
    """Replace the first place of a text in a file and return the line on which it began."""
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


def _one(messages: list[str]) -> re.Match[str]:
    assert len(messages) == 1, messages
    found = _MESSAGE.match(messages[0])
    assert found is not None, messages[0]
    return found


def _inside(folder: Path) -> dict[Path, bytes | None]:
    return {path: path.read_bytes() if path.is_file() else None for path in folder.rglob("*")}


# What is changed in which file, how many lines below the place the fault is told, its field, and words of the message.
_SLIPS: dict[str, tuple[str, str, str, int, str, list[str]]] = {
    "a field is missing": (
        VEHICLE, "    function: start\n", "", -1,
        "circuits[start].function", ["found nothing", "add the key 'function'"],
    ),
    "a field of the kit is missing": (
        KIT, "    label: KEY\n", "", -1, "branches[key-t].label", ["found nothing", "add the key 'label'"]
    ),
    "a wrong unit": (
        VEHICLE, "area_mm2: 5.0, length_m: 1.9", "area_mm2: 5 kg, length_m: 1.9", 0,
        "circuits[feed-1].path[1].area_mm2", ["found '5 kg'", "mm2", "AWG"],
    ),
    "a length in volts": (
        VEHICLE, "area_mm2: 5.0, length_m: 1.9", "area_mm2: 5.0, length_m: 1.9 V", 0,
        "circuits[feed-1].path[1].length_m", ["found '1.9 V'", "a length"],
    ),
    "an unknown colour": (
        VEHICLE, "colour: pink, area_mm2: 3.0", "colour: pinkish, area_mm2: 3.0", 0,
        "circuits[ignition-1].path[1].colour", ["'pinkish'", "did you mean pink?"],
    ),
    "a pin that the plug does not have": (
        VEHICLE, '{from: "s:brake-lamp", to: cluster/12,', '{from: "s:brake-lamp", to: cluster/19,', 0,
        "circuits[parking-brake].path[2].to", ["pin '19' of plug 'cluster'", "1 to 16"],
    ),
    "an unknown axis in a condition": (
        VEHICLE, "only: {body: wagon}", "only: {bodi: wagon}", 0,
        "circuits[unlock].only.bodi", ["found 'bodi'", "did you mean 'body'?"],
    ),
    "an unknown value in a condition": (
        VEHICLE, "only: {body: wagon}", "only: {body: wagn}", 0,
        "circuits[unlock].only.body", ["found 'wagn'", "did you mean 'wagon'?"],
    ),
    "a key given twice": (
        VEHICLE, "    function: start\n", "    function: start\n    function: start\n", 1,
        "circuits[start].function", ["twice", "delete one"],
    ),
    "a key that does not exist": (
        VEHICLE, "    note: Live in run only.", "    remark: Live in run only.", 0,
        "circuits[ignition-2].remark", ["found", "expected"],
    ),
    "not a number": (
        VEHICLE, "area_mm2: 5.0, length_m: 1.9", "area_mm2: .nan, length_m: 1.9", 0,
        "circuits[feed-1].path[1].area_mm2", ["'.nan'", "a finite number"],
    ),
    "an infinite number": (
        VEHICLE, "fuse_a: 40}", "fuse_a: .inf}", 0, "circuits[feed-1].path[0].fuse_a", ["'.inf'", "a finite number"]
    ),
    "a newer format": (
        VEHICLE, "format: 1\n", "format: 2\n", 0, "format", ["a document of format 2", "update the program"]
    ),
    "no format": (KIT, "format: 1\n", "", -1, "format", ["found nothing", "begin with the line 'format: 1'"]),
    "an unknown kind": (KIT, "kind: kit\n", "kind: kti\n", 0, "kind", ["'kti'", "did you mean 'kit'?"]),
    "an anchor": (
        VEHICLE, "behaviour: {template: battery feed, load_a: 0}", "behaviour: &b {template: battery feed, load_a: 0}",
        0, "circuits[feed-1].behaviour", ["the anchor '&b'", "delete the anchor"],
    ),
    "a tag of another program": (
        KIT, "name: Rookery 4\n", "name: !!python/object/apply:os.system [id]\n", 0, "name", ["found", "expected"]
    ),
    "evidence about a circuit that is not there": (
        EVIDENCE, "circuit: feed-1\n", "circuit: feed-9\n", 0, "records[0].circuit", ["'feed-9'"]
    ),
}  # fmt: skip


@pytest.mark.parametrize("slip", _SLIPS)
def test_a_slip_is_told_with_file_line_and_field(slip: str, shop: Path, told: Callable[..., list[str]]) -> None:
    name, old, new, below, field, words = _SLIPS[slip]
    line = _edit(shop / name, old, new)
    before = _inside(shop)
    message = _one(told("check", shop))
    assert message["file"] == str(shop / name)
    # What is missing is told where the thing around it begins, somewhat above.
    assert int(message["line"]) == line + below if below >= 0 else 1 <= int(message["line"]) <= line
    assert message["field"] == field
    for word in words:
        assert word in message[0]
    assert _inside(shop) == before


def test_a_wire_size_in_gauge_numbers_is_read(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _edit(shop / VEHICLE, "area_mm2: 5.0, length_m: 1.9", "area_mm2: 10 AWG, length_m: 6 ft")
    assert main(["check", str(shop)]) == OK
    assert "in order" in capsys.readouterr().out


def test_two_circuits_in_one_pin_are_told_at_each_place(shop: Path, told: Callable[..., list[str]]) -> None:
    line = _edit(
        shop / VEHICLE,
        "{from: source, to: ignition/6}\n      - {from: ignition/6,",
        "{from: source, to: ignition/2}\n      - {from: ignition/2,",
    )
    messages = [_MESSAGE.match(text) for text in told("check", shop)]
    assert [(m["line"], m["field"]) for m in messages if m] == [
        (str(line), "circuits[start].path[0].to"),
        (str(line + 1), "circuits[start].path[1].from"),
    ]
    assert all(m and "where the circuit 'ignition-1' sits" in m[0] and "one circuit in a pin" in m[0] for m in messages)


def test_all_faults_of_all_files_are_told_at_once(shop: Path, told: Callable[..., list[str]]) -> None:
    expected = []
    for slip in ("a field of the kit is missing", "a wrong unit", "an infinite number"):
        name, old, new, _, field, _ = _SLIPS[slip]
        _edit(shop / name, old, new)
        expected.append((str(shop / name), field))
    messages = [_MESSAGE.match(text) for text in told("check", shop)]
    assert all(messages)
    assert sorted((m["file"], m["field"]) for m in messages if m) == sorted(expected)


def test_what_a_sound_file_means_is_told_beside_the_form_of_another(shop: Path, told: Callable[..., list[str]]) -> None:
    for slip in ("a field of the kit is missing", "an unknown colour"):
        name, old, new, *_ = _SLIPS[slip]
        _edit(shop / name, old, new)
    (shop / "shop.yaml").unlink()
    messages = told("check", shop / VEHICLE, shop / KIT, shop / "shop.yaml")
    assert all(_MESSAGE.match(text) for text in messages)
    for words in ("did you mean pink?", "add the key 'label'", "nothing to read"):
        assert sum(words in text for text in messages) == 1


# What a file holds instead of a document, and words of the one message about it.
_FILES: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "found an empty file"),
    "only a comment": (b"# nothing yet\n", "found an empty file"),
    "binary": (bytes(range(256)) * 8, "found binary data"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(64), "found binary data"),
    "zeros": (bytes(1000), "found binary data"),
    "another encoding": ("format: 1\nname: Tür\n".encode("latin-1"), "UTF-8"),
    "a list": (b"- 1\n- 2\n", "expected"),
    "half a quote": (b'format: 1\nkind: kit\nname: "Rook\n', "expected"),
    "two documents": (b"format: 1\n---\nformat: 1\n", "one document in a file"),
    "too large": (b"x" * 50_000_000, "found a file of 50 MB"),
}


@pytest.mark.parametrize("kind", _FILES)
def test_a_file_that_is_no_document_is_one_message(kind: str, shop: Path, told: Callable[..., list[str]]) -> None:
    content, words = _FILES[kind]
    (shop / VEHICLE).write_bytes(content)
    message = _one(told("check", shop / VEHICLE))
    assert message["file"] == str(shop / VEHICLE)
    assert words in message[0]


def test_an_alias_bomb_is_refused_before_it_grows(shop: Path, told: Callable[..., list[str]]) -> None:
    """Nine levels of nine references would be 400 million values."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    (shop / VEHICLE).write_text("\n".join(lines), encoding="utf-8")
    messages = told("check", shop / VEHICLE)
    assert "the anchor '&a0'" in messages[0]
    assert len(messages) <= 100


def test_a_flood_of_faults_ends_after_a_hundred(shop: Path, told: Callable[..., list[str]]) -> None:
    lines = "".join(f"key-{n}: 1\n" for n in range(5000))
    (shop / KIT).write_text(f"format: 1\nkind: kit\n{lines}", encoding="utf-8")
    messages = told("check", shop / KIT)
    assert len(messages) == 101
    assert re.fullmatch(r"\.\.\. and \d+ more faults; correct these first and ask again\.", messages[-1])


def test_deep_nesting_is_told(shop: Path, told: Callable[..., list[str]]) -> None:
    (shop / KIT).write_text("a: " + "[" * 50_000 + "]" * 50_000, encoding="utf-8")
    messages = told("check", shop / KIT)
    assert all(_MESSAGE.match(text) for text in messages)


def test_a_folder_without_documents_is_told(tmp_path: Path, told: Callable[..., list[str]]) -> None:
    (tmp_path / "notes.txt").write_text("no document", encoding="utf-8")
    assert "a folder without .yaml files" in _one(told("check", tmp_path))[0]


@pytest.mark.parametrize("name", ["none.yaml", "none"])
def test_a_missing_path_is_told(name: str, tmp_path: Path, told: Callable[..., list[str]]) -> None:
    message = _one(told("check", tmp_path / name))
    assert message["file"] == str(tmp_path / name)
    assert "nothing to read" in message[0]


def test_every_missing_path_is_told_at_once(tmp_path: Path, told: Callable[..., list[str]]) -> None:
    messages = told("check", tmp_path / "a.yaml", tmp_path / "b.yaml")
    assert [m["file"] for text in messages if (m := _MESSAGE.match(text))] == [
        str(tmp_path / "a.yaml"),
        str(tmp_path / "b.yaml"),
    ]


# From here on: the commands that take a vehicle and a kit.

COMMANDS = ("match", "readings", "write")


def _words(command: str, shop: Path, *more: str) -> list[str]:
    out = ["--out", str(shop.parent / "out")] if command == "write" else []
    return [command, str(shop / VEHICLE), str(shop / KIT), *more, *out]


@pytest.fixture(params=COMMANDS)
def command(request: pytest.FixtureRequest, shop: Path) -> Iterator[str]:
    """Give the name of each command in turn; none may leave anything behind."""
    yield request.param
    assert not (shop.parent / "out").exists()


def test_a_wrong_document_is_told_by_each_command(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    line = _edit(shop / KIT, "    label: KEY\n", "    label: [KEY]\n")
    message = _one(told(*_words(command, shop, *WITH)))
    assert (message["line"], message["field"]) == (str(line), "branches[key-t].label")


def test_a_fault_of_meaning_is_told_by_each_command(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    _edit(shop / KIT, "conductors:\n      - {terminal: power-1,", "conductors:\n      - {terminal: power-7,")
    messages = told(*_words(command, shop, *WITH))
    assert any("power-7" in text for text in messages)
    assert all(_MESSAGE.match(text) for text in messages)


def test_the_kit_given_first_is_told(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    words = _words(command, shop, *WITH)
    words[1], words[2] = words[2], words[1]
    messages = told(*words)
    assert [(m["file"], m["field"]) for text in messages if (m := _MESSAGE.match(text))] == [
        (str(shop / KIT), "kind"),
        (str(shop / VEHICLE), "kind"),
    ]
    assert all("give the vehicle first and the kit second" in text for text in messages)


# The words after --with, and words of the message.
_CHOICES: dict[str, tuple[list[str], list[str]]] = {
    "nothing": ([], ["year, body, engine, trim", "2011, 2012, 2013, 2014, 2015"]),
    "some": (["--with", "engine=2.4", "year=2013"], ["body, trim", "sedan, wagon"]),
    "an unknown axis": (["--with", "motor=2.4", "year=2013"], ["'motor'", "year, body, engine, trim"]),
    "an unknown value": (["--with", "engine=1.8", "year=2013"], ["engine=1.8", "2.4, 3.3"]),
    "a car never built": (["--with", "engine=3.3", "year=2013", "body=sedan", "trim=base"], ["never built"]),
    "no value": (["--with", "engine=", "year=2013"], ["'engine='", "expected axis=value"]),
    "no axis": (["--with", "=2.4"], ["'=2.4'", "expected axis=value"]),
    "no sign": (["--with", "engine"], ["'engine'", "expected axis=value"]),
    "two values": ([*WITH, "engine=3.3"], ["engine is given as 2.4 and as 3.3"]),
}


@pytest.mark.parametrize("kind", _CHOICES)
def test_a_wrong_choice_is_told(kind: str, command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    choice, words = _CHOICES[kind]
    messages = told(*_words(command, shop, *choice))
    assert len(messages) == 1
    assert messages[0].startswith("--with: ")
    for word in words:
        assert word in messages[0]


def test_a_third_file_is_told(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    messages = told(*_words(command, shop, str(shop / "shop.yaml"), *WITH))
    assert "found 3 files" in messages[-1]
    assert "expected a vehicle and a kit" in messages[-1]


def test_a_missing_kit_is_told(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    (shop / KIT).unlink()
    assert _one(told(*_words(command, shop, *WITH)))["file"] == str(shop / KIT)


def test_a_folder_as_kit_is_told(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    words = _words(command, shop, *WITH)
    words[2] = str(shop)
    assert "is a directory" in _one(told(*words))[0]


def test_a_vehicle_outside_a_shop_is_told(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    (shop / "shop.yaml").unlink()
    messages = told(*_words(command, shop, *WITH))
    assert len(messages) == 1
    assert "no shop.yaml" in messages[0]
    assert "--shop" in messages[0]


def test_a_shop_of_another_kind_is_told(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    message = _one(told(*_words(command, shop, *WITH, "--shop", str(shop / EVIDENCE))))
    assert (message["file"], message["field"]) == (str(shop / EVIDENCE), "kind")


def test_evidence_of_another_kind_is_told(command: str, shop: Path, told: Callable[..., list[str]]) -> None:
    message = _one(told(*_words(command, shop, *WITH, "--evidence", str(shop / KIT))))
    assert (message["file"], message["field"]) == (str(shop / KIT), "kind")


def test_an_impossible_battery_is_told(shop: Path, told: Callable[..., list[str]]) -> None:
    assert "11.0" in told(*_words("readings", shop, *WITH, "--battery", "30"))[-1]


# Writing.


def test_a_file_in_place_of_the_folder_is_kept(tmp_path: Path, told: Callable[..., list[str]]) -> None:
    (tmp_path / "out").write_text("mine", encoding="utf-8")
    assert "is a file" in told("demo", tmp_path / "out")[-1]
    assert (tmp_path / "out").read_text(encoding="utf-8") == "mine"


def test_a_folder_below_a_file_is_told(tmp_path: Path, told: Callable[..., list[str]]) -> None:
    (tmp_path / "out").write_text("mine", encoding="utf-8")
    messages = told("demo", tmp_path / "out" / "below")
    assert len(messages) == 1
    assert "cannot be written" in messages[0]
    assert _inside(tmp_path) == {tmp_path / "out": b"mine"}


def test_no_file_is_written_where_one_of_them_cannot_be(tmp_path: Path, told: Callable[..., list[str]]) -> None:
    """A folder stands where the third of the four files should go."""
    (tmp_path / "out" / "shop.yaml").mkdir(parents=True)
    before = _inside(tmp_path)
    messages = told("demo", tmp_path / "out")
    assert len(messages) == 1
    assert messages[0].startswith(f"{tmp_path / 'out' / 'shop.yaml'}: cannot be written")
    assert _inside(tmp_path) == before


def test_a_disk_that_fills_up_leaves_nothing(
    tmp_path: Path, told: Callable[..., list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk is full when the third file is on its way."""
    made = Path.chmod
    count = 0

    def full(self: Path, mode: int) -> None:
        nonlocal count
        count += 1
        if count == 3:
            raise OSError(28, "No space left on device")
        made(self, mode)

    monkeypatch.setattr(Path, "chmod", full)
    messages = told("demo", tmp_path / "out")
    assert len(messages) == 1
    assert "no space left on device" in messages[0]
    assert _inside(tmp_path) == {}


def test_a_missing_schema_is_told(told: Callable[..., list[str]]) -> None:
    messages = told("schema", "car")
    assert len(messages) == 1
    assert "'vehicle', 'kit', 'shop', 'evidence'" in messages[0]
