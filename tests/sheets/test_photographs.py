"""Which picture files are kept as they are, and which are drawn anew since something was written into them."""

import io

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from loomwright.sheets.photographs import bare


def _made(kind: str, **more: object) -> bytes:
    picture = Image.effect_noise((64, 48), 60).convert("RGB")
    out = io.BytesIO()
    picture.save(out, kind, **more)
    return out.getvalue()


def _png_with_a_text() -> bytes:
    text = PngInfo()
    text.add_text("Author", "hidden")
    return _made("PNG", pnginfo=text)


def _comment_between_scans() -> bytes:
    """A progressive picture with a comment before its last scan. Source: ITU-T T.81, B.2.1 and figure B.2."""
    data = _made("JPEG", progressive=True)
    at = data.rindex(b"\xff\xda")
    return data[:at] + b"\xff\xfe\x00\x08hidden" + data[at:]


@pytest.mark.parametrize("data", [_made("JPEG"), _made("JPEG", progressive=True, quality=95), _made("PNG")])
def test_a_plain_picture_stays_byte_by_byte(data: bytes) -> None:
    assert bare(data) == data


@pytest.mark.parametrize(
    "data",
    [
        _made("JPEG", comment=b"hidden"), _made("JPEG", exif=b"Exif\0\0hidden"), _made("JPEG", xmp=b"hidden"),
        _made("JPEG", icc_profile=b"hidden"), _made("JPEG") + b"hidden",
        _made("JPEG") + _made("JPEG", comment=b"hidden"), _png_with_a_text(), _made("PNG") + b"hidden",
        _comment_between_scans(),
    ],
    ids=["comment", "Exif", "XMP", "profile", "after", "a second one", "PNG text", "after PNG", "between scans"],
)  # fmt: skip
def test_what_was_written_into_a_picture_goes_and_the_rest_stays_as_it_is_then(data: bytes) -> None:
    assert b"hidden" in data
    found = bare(data)
    assert b"hidden" not in found
    assert bare(found) == found
    with Image.open(io.BytesIO(found)) as opened:
        assert (opened.format, opened.size) == ("PNG" if data.startswith(b"\x89PNG") else "JPEG", (64, 48))


@pytest.mark.parametrize(
    "data",
    [
        b"", b"no picture", _made("JPEG")[:-40], _made("PNG")[:-40], b"\xff\xd8\xff\xe0",
        _made("PNG", exif=b"no Exif data"),
    ],
    ids=["empty", "text", "cut JPEG", "cut PNG", "begun", "damaged Exif"],
)  # fmt: skip
def test_what_is_no_whole_picture_is_told(data: bytes) -> None:
    with pytest.raises(ValueError, match="found a file that is no whole picture, expected a JPEG or PNG picture"):
        bare(data)
