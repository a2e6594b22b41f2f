"""Small workbooks made by hand for tests: the packaging is that of ECMA-376, part 2, the sheets that of its part 1."""

import io
import zipfile
from collections.abc import Mapping, Sequence

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_REL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACK = "http://schemas.openxmlformats.org/package/2006"
_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml"

# Source: OpenDocument 1.3, part 3: a package whose first member is its media type, with the table in content.xml.
_ODS = "application/vnd.oasis.opendocument.spreadsheet"


def xlsx(sheets: Mapping[str, Sequence[Sequence[str | float]]]) -> bytes:
    """Return a workbook; a text that begins with '=' becomes a formula with no value."""
    out = io.BytesIO()
    numbers = range(1, len(sheets) + 1)
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        parts = "".join(
            f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{_TYPE}.worksheet+xml"/>' for n in numbers
        )
        archive.writestr(
            "[Content_Types].xml",
            f'<Types xmlns="{_PACK}/content-types"><Default Extension="rels" '
            'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            f'<Override PartName="/xl/workbook.xml" ContentType="{_TYPE}.sheet.main+xml"/>{parts}</Types>',
        )
        archive.writestr("_rels/.rels", _links([("officeDocument", "xl/workbook.xml")]))
        named = "".join(
            f'<sheet name="{name}" sheetId="{n}" r:id="r{n}"/>' for n, name in zip(numbers, sheets, strict=True)
        )
        archive.writestr(
            "xl/workbook.xml", f'<workbook xmlns="{_MAIN}" xmlns:r="{_REL}"><sheets>{named}</sheets></workbook>'
        )
        archive.writestr(
            "xl/_rels/workbook.xml.rels", _links([("worksheet", f"worksheets/sheet{n}.xml") for n in numbers])
        )
        for n, rows in zip(numbers, sheets.values(), strict=True):
            body = "".join(f'<row r="{r}">{_cells(r, row)}</row>' for r, row in enumerate(rows, 1))
            archive.writestr(
                f"xl/worksheets/sheet{n}.xml", f'<worksheet xmlns="{_MAIN}"><sheetData>{body}</sheetData></worksheet>'
            )
    return out.getvalue()


def _links(targets: Sequence[tuple[str, str]]) -> str:
    links = "".join(
        f'<Relationship Id="r{n}" Type="{_REL}/{kind}" Target="{to}"/>' for n, (kind, to) in enumerate(targets, 1)
    )
    return f'<Relationships xmlns="{_PACK}/relationships">{links}</Relationships>'


def _cells(r: int, row: Sequence[str | float]) -> str:
    cells = []
    for c, value in enumerate(row):
        at = f"{chr(65 + c)}{r}"
        if isinstance(value, float | int):
            cells.append(f'<c r="{at}"><v>{value}</v></c>')
        elif value.startswith("="):
            cells.append(f'<c r="{at}" t="str"><f>{value[1:]}</f><v>computed</v></c>')
        elif value:
            cells.append(f'<c r="{at}" t="inlineStr"><is><t>{value}</t></is></c>')
    return "".join(cells)


def ods(rows: Sequence[Sequence[str]]) -> bytes:
    """Return an OpenDocument table of one sheet."""
    out = io.BytesIO()
    office = "urn:oasis:names:tc:opendocument:xmlns:"
    body = "".join(
        "<table:table-row>"
        + "".join(
            f'<table:table-cell office:value-type="string"><text:p>{cell}</text:p></table:table-cell>'
            if cell else "<table:table-cell/>"
            for cell in row
        )
        + "</table:table-row>"
        for row in rows
    )  # fmt: skip
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", _ODS, zipfile.ZIP_STORED)
        archive.writestr(
            "META-INF/manifest.xml",
            f'<manifest:manifest xmlns:manifest="{office}manifest:1.0"><manifest:file-entry manifest:full-path="/" '
            f'manifest:media-type="{_ODS}"/></manifest:manifest>',
        )
        archive.writestr(
            "content.xml",
            f'<office:document-content xmlns:office="{office}office:1.0" xmlns:table="{office}table:1.0" '
            f'xmlns:text="{office}text:1.0"><office:body><office:spreadsheet><table:table table:name="List">{body}'
            "</table:table></office:spreadsheet></office:body></office:document-content>",
        )
    return out.getvalue()
