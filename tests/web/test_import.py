"""Wire lists out of spreadsheets: columns, faults by the names of cells, nothing kept before it is confirmed."""

import io
import re
import zipfile
from html import unescape

import pytest
from starlette.testclient import TestClient

from loomwright.documents.demo import demo_files
from loomwright.store.store import Store
from loomwright.web.forms.draft import draft_of
from loomwright.web.forms.spreadsheet import Sheet, SheetError, column_name, read_sheets, sheet_text
from loomwright.web.forms.wire_list import guessed_columns, guessed_header, read_list
from tests.web.conftest import token_of, vehicle_in
from tests.web.workbooks import ods, xlsx

PAGE = "/vehicles/kestrin-fallow/import"
_LIST = (
    ("Our list", "", "", "", ""),
    ("Connector", "Pin", "Wire color", "Function", "Size"),
    ("body-a", 15, "white/red", "Door trigger (-)", 0.5),
    ("", "", "", "", ""),
    ("body-module plug A", 26, "blue", "magic wand", 1),
    ("body-q", 3, "", "lock", ""),
    ("body-a", 1, "red", "Constant", 5),
)


def _draft() -> object:
    return draft_of("vehicle", "kestrin-fallow", demo_files()["vehicles/kestrin-fallow.yaml"])


def _sheet(*rows: tuple[str | float, ...]) -> Sheet:
    return read_sheets(xlsx({"Wires": rows}))[0]


class TestReading:
    def test_a_workbook_an_open_document_and_a_csv_give_the_same(self) -> None:
        rows = [["Pin", "Colour"], ["1", "light blue"], ["", ""], ["3", "Grün/weiß"]]
        wanted = tuple(map(tuple, rows))
        assert read_sheets(xlsx({"A": rows}))[0].rows == wanted
        assert read_sheets(ods(rows))[0].rows == wanted
        for mark in ",;\t":
            text = "\n".join(mark.join(row) for row in rows)
            assert read_sheets(b"\xef\xbb\xbf" + text.encode())[0].rows == wanted
            assert read_sheets(text.encode("utf-16"))[0].rows == wanted
            assert read_sheets(text.encode("cp1252"))[0].rows == wanted

    def test_whole_numbers_have_no_point_and_rows_keep_their_number(self) -> None:
        sheet = read_sheets(xlsx({"A": [["", "x"], [], ["", 2.0, 0.75]]}))[0]
        assert sheet.rows == (("", "x", ""), ("", "", ""), ("", "2", "0.75"))

    def test_a_formula_is_a_text_or_the_value_it_had(self) -> None:
        assert read_sheets(b'pin,colour\n1,"=HYPERLINK(""http://x"")"\n')[0].rows[1][1] == '=HYPERLINK("http://x")'
        assert read_sheets(xlsx({"A": [["pin"], ["=1+1"]]}))[0].rows == (("pin",), ("computed",))

    @pytest.mark.parametrize(
        ("data", "words"),
        [
            (b"", "found an empty file"),
            (b"\xd0\xcf\x11\xe0rest", "the old .xls format"),
            (b"PK\x03\x04 no archive", "damaged"),
            (b"GIF89a\0\0\0", "a file of another kind"),
            (b"\n\n,,\n", "found no filled cell"),
            (b"a,b\n" * 3001, "found 3001 rows"),
            ((",".join("x" * 41)).encode(), "41 columns"),
        ],
        ids=["empty", "old", "broken", "picture", "blank", "long", "wide"],
    )
    def test_what_is_no_list_is_refused(self, data: bytes, words: str) -> None:
        with pytest.raises(SheetError, match=re.escape(words)):
            read_sheets(data)

    def test_a_bomb_is_refused_before_it_is_unpacked(self) -> None:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("xl/worksheets/sheet1.xml", b"0" * 20_000_000)
        assert len(out.getvalue()) < 100_000
        with pytest.raises(SheetError, match="unpacks to 20 MB"):
            read_sheets(out.getvalue())
        many = io.BytesIO()
        with zipfile.ZipFile(many, "w") as archive:
            for n in range(401):
                archive.writestr(f"{n}", b"")
        with pytest.raises(SheetError, match="in 401 parts"):
            read_sheets(many.getvalue())

    def test_another_archive_is_no_workbook(self) -> None:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as archive:
            archive.writestr("../../etc/x", b"hello")
        with pytest.raises(SheetError, match="no workbook"):
            read_sheets(out.getvalue())

    def test_long_texts_are_cut_and_many_cells_refused(self) -> None:
        assert len(read_sheets(b"a," + b"x" * 9999)[0].rows[0][1]) == 300
        with pytest.raises(SheetError, match="more than 40000 cells"):
            read_sheets(b"\n".join([b",".join([b"x"] * 40)] * 1001))

    def test_a_page_keeps_a_sheet_as_it_was(self) -> None:
        sheet = _sheet(("a,b", 'say "x"'), ("c", "=1"))
        assert read_sheets(sheet_text(sheet).encode())[0].rows == sheet.rows

    # Source: the names of columns in a spreadsheet, bijective base 26 (common practice).
    @pytest.mark.parametrize(("index", "name"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA"), (701, "ZZ")])
    def test_columns_have_the_names_of_spreadsheets(self, index: int, name: str) -> None:
        assert column_name(index) == name


class TestMeaning:
    def test_headings_are_found_and_guessed(self) -> None:
        sheet = _sheet(*_LIST)
        assert guessed_header(sheet) == 2
        assert guessed_columns(sheet, 2) == {"plug": 0, "pin": 1, "colour": 2, "function": 3, "area_mm2": 4}
        assert guessed_header(_sheet(("red", "blue"), ("1", "2"))) == 0

    def test_faults_have_the_names_of_their_cells(self) -> None:
        sheet = _sheet(*_LIST)
        found = read_list(sheet, 2, guessed_columns(sheet, 2), "", {}, _draft())  # type: ignore[arg-type]
        said = {fault.cell: fault.words for fault in found.faults}
        assert set(said) == {"D5", "A6", "C6", "B7"}
        assert "found 'magic wand'" in said["D5"]
        assert "found 'body-q', expected one of ignition, body-a" in said["A6"]
        assert "in which a circuit sits already" in said["B7"]
        assert found.unknown == ("magic wand",)
        assert (len(found.rows), found.skipped) == (4, 1)

    def test_words_are_explained_and_faulty_rows_left_out(self) -> None:
        sheet = _sheet(*_LIST)
        meanings = {"magic wand": "other"}
        found = read_list(sheet, 2, guessed_columns(sheet, 2), "", meanings, _draft(), leave_faulty=True)  # type: ignore[arg-type]
        assert [(c["id"], c["function"]) for c in found.circuits] == [
            ("door-switch", "door switch"),
            ("other", "other"),
        ]
        wire = next(step for step in found.circuits[0]["path"] if "colour" in step)
        assert (wire["colour"], wire["stripe"], wire["area_mm2"]) == ("white", "red", 0.5)

    def test_a_pin_stands_once_in_a_list(self) -> None:
        sheet = _sheet(("pin", "colour", "function"), ("body-b/5", "red", "seat"), ("body-b/5", "blue", "seat"))
        found = read_list(sheet, 1, guessed_columns(sheet, 1), "", {}, _draft())  # type: ignore[arg-type]
        assert [(f.cell, "stands in row 2 already" in f.words) for f in found.faults] == [("A3", True)]


def _hidden(text: str) -> dict[str, list[str]]:
    form = text[text.index('id="import"') :]
    sent: dict[str, list[str]] = {}
    for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form):
        sent.setdefault(name, []).append(unescape(value))
    sent["sheet"] = [
        unescape(t) for t in re.findall(r'<textarea name="sheet" hidden>(.*?)</textarea>', form, re.DOTALL)
    ]
    for name, options in re.findall(r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', form, re.DOTALL):
        chosen = re.search(r'<option value="([^"]*)" selected>', options)
        sent[name] = [chosen[1] if chosen else ""]
    sent["header"] = re.findall(r'name="header" value="(\d+)"', form)
    return sent


class TestPages:
    def test_nothing_is_kept_before_it_is_confirmed(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        book = xlsx({"Notes": [["&lt;script&gt;alert(1)"]], "Wires": _LIST})
        token = token_of(client, PAGE)
        first = client.post(PAGE, data={"token": token}, files={"file": ("../w.xlsx", book)})
        assert first.status_code == 200
        for words in ("<strong>D5</strong>", "<strong>A6</strong>", "B7", "C Wire color", "magic wand"):
            assert words in first.text
        sent = _hidden(first.text)
        assert sent["of"] == ["1"]
        refused = client.post(PAGE, data=sent | {"do": ["keep"]})
        assert refused.status_code == 422
        assert store.latest("vehicle", "kestrin-fallow").version == 1
        explained = client.post(PAGE, data=sent | {"means.1": ["other"], "do": ["show"]})
        assert "<strong>D5</strong>" not in explained.text
        kept = client.post(
            PAGE, data=_hidden(explained.text) | {"means.k1": ["other"], "leave": ["yes"], "do": ["keep"]}
        )
        assert kept.headers["location"] == "/vehicles/kestrin-fallow/edit#circuits"
        made = vehicle_in(store, "kestrin-fallow").circuits[-2:]
        assert [(c.id, c.path[0].to) for c in made] == [("door-switch", "body-a/15"), ("other", "body-a/26")]

    def test_another_sheet_has_other_columns(self, own: tuple[TestClient, Store]) -> None:
        client, _ = own
        book = xlsx({"Wires": _LIST, "Other": [["colour", "pin", "use"], ["red", "body-b/5", "seat"]]})
        first = client.post(PAGE, data={"token": token_of(client, PAGE)}, files={"file": ("w.xlsx", book)})
        other = client.post(PAGE, data=_hidden(first.text) | {"of": ["1"]})
        assert "1 wires, 0 faults" in " ".join(other.text.split())

    def test_hostile_files_are_told_in_words(self, own: tuple[TestClient, Store]) -> None:
        client, store = own
        token = token_of(client, PAGE)
        for data in (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"\0" * 50):
            found = client.post(PAGE, data={"token": token}, files={"file": ("w.xlsx", data)})
            assert found.status_code == 422
            assert "expected" in found.text
        assert client.post(PAGE, data={"token": token}).status_code == 422
        bad = client.post(PAGE, data={"token": token, "sheet": "pin\n1", "base": "1", "plug": "none"})
        assert bad.status_code in (400, 409)
        script = b"pin,colour,use\nbody-b/5,<script>alert(1)</script>,seat\n"
        found = client.post(PAGE, data={"token": token}, files={"file": ("<b>.csv", script)})
        assert "<script>alert" not in found.text
        assert store.latest("vehicle", "kestrin-fallow").version == 1

    def test_an_empty_list_has_a_row_for_each_empty_pin_and_comes_back(self, own: tuple[TestClient, Store]) -> None:
        client, _ = own
        found = client.get(f"{PAGE}/wires.csv")
        assert found.headers["content-type"].startswith("text/csv")
        sheet = read_sheets(found.content)[0]
        assert set(guessed_columns(sheet, guessed_header(sheet))) == {
            "plug", "pin", "colour", "stripe", "function", "name", "area_mm2", "fuse_a"
        }  # fmt: skip
        assert ("body-b", "5", "", "", "", "", "", "") in sheet.rows
        assert all(row[:2] != ("body-b", "1") for row in sheet.rows)
