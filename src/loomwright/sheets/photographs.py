"""Photographs made small enough for a paper, and the codes by which a phone finds a film from paper."""

import base64
import io
import re
import warnings
from typing import TYPE_CHECKING

from loomwright.papers.drawings import Photograph
from loomwright.sheets.svg import INK, PAPER, drawing, element

if TYPE_CHECKING:
    from PIL.Image import Image

__all__ = ["KEPT_PX", "KEPT_QUALITY", "LARGEST_BYTES", "bare", "data_uri", "draw_code", "draw_photograph", "reduced"]

LARGEST_BYTES = 25_000_000
_LARGEST_PIXELS = 80_000_000  # a picture of so many takes some 240 MB to open
_LONG_SIDE_PX = 900  # two thirds of the width of a page at 200 dots an inch, and twice what a phone shows
_QUALITY = 72
KEPT_PX, KEPT_QUALITY = 1800, 82
"""Long side [px] and quality of what a shop keeps: enough to read a label on a plug, with some 400 kB."""

# Of a PNG file, what is needed to draw it. Left out are texts, times, Exif data and profiles, which have a name.
_DRAWN = frozenset({b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"sBIT", b"bKGD", b"pHYs"})
_PNG, _SCAN = b"\x89PNG\r\n\x1a\n", 0xDA
_JFIF = 16  # bytes of that segment without a small picture in it (ITU-T T.871)
_WRITTEN = re.compile(rb"\xff[\xe0-\xef\xfe]")  # such a segment between two scans; no byte of a scan looks so
_QUIET = 4  # modules around a code. Source: ISO/IEC 18004, quiet zone of a QR code.


def reduced(data: bytes, long_side_px: int = _LONG_SIDE_PX, quality: int = _QUALITY) -> Photograph:
    """Return a photograph upright, without what the camera wrote into it, and small enough to be sent.

    Where it was taken, by whom and with what stays out of the paper.

    Parameters: data : bytes -- a JPEG or PNG file
                long_side_px : int -- its long side afterwards, at most [px]
                quality : int -- of the JPEG picture, 1 to 95
    Raises:     ValueError -- 'found ..., expected ...' where the data is no such picture or too large.
    """
    flat = _drawn_anew(data, long_side_px)
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=quality, optimize=True)
    return Photograph(jpeg=out.getvalue(), width_px=flat.width, height_px=flat.height)


def bare(data: bytes) -> bytes:
    """Return a picture file of the same kind, as it is kept: without what a camera or program wrote into it.

    One that has nothing of it stays as it is, byte by byte; so a picture that is kept may go out and come in again.
    Another one is drawn anew, upright, with a long side of `KEPT_PX` at most.

    Parameters: data : bytes -- a JPEG or PNG file
    Raises:     ValueError -- 'found ..., expected ...' where the data is no such picture or too large.
    """
    is_png = data.startswith(_PNG)
    if _is_bare_png(data) if is_png else _is_bare_jpeg(data):
        return data
    out = io.BytesIO()
    flat = _drawn_anew(data, KEPT_PX)
    if is_png:
        flat.save(out, "PNG", optimize=True)
    else:
        flat.save(out, "JPEG", quality=KEPT_QUALITY, optimize=True)
    return out.getvalue()


def _is_bare_png(data: bytes) -> bool:
    """Walk the chunks: length, type, data and check sum of each (ISO/IEC 15948, 5.3); nothing stands after the last."""
    at, kind = len(_PNG), b""
    while at + 12 <= len(data) and kind != b"IEND":
        kind = data[at + 4 : at + 8]
        if kind not in _DRAWN:
            return False
        at += 12 + int.from_bytes(data[at : at + 4], "big")
    return kind == b"IEND" and at == len(data)


def _is_bare_jpeg(data: bytes) -> bool:
    """Walk the segments up to the first scan: marker, length, content (ITU-T T.81, B.1.1.4).

    Cameras write into segments for applications and comments; of these only the two that tell how colours are coded
    are none of theirs. The first end of image is the end of the file, so that no film or second picture follows.
    """
    at = 2
    while data[at : at + 1] == b"\xff" and at + 4 <= len(data):
        marker, size = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        content = data[at + 4 : at + 2 + size]
        if marker == _SCAN:
            return data.find(b"\xff\xd9", at) == len(data) - 2 and _WRITTEN.search(data, at) is None
        is_colour = marker == 0xE0 and size == _JFIF and content.startswith(b"JFIF\0")
        is_colour = is_colour or (marker == 0xEE and content.startswith(b"Adobe"))
        if (0xE0 <= marker <= 0xEF or marker == 0xFE) and not is_colour:
            return False
        at += 2 + size
    return False


def _drawn_anew(data: bytes, long_side_px: int) -> "Image":
    from PIL import Image, ImageOps, UnidentifiedImageError

    if len(data) > LARGEST_BYTES:
        msg = f"found a picture of {len(data) / 1e6:.0f} MB, expected at most {LARGEST_BYTES / 1e6:.0f} MB"
        raise ValueError(msg)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)  # the own limit is told below
            with Image.open(io.BytesIO(data), formats=("JPEG", "PNG")) as opened:
                if opened.width * opened.height > _LARGEST_PIXELS:
                    msg = f"found a picture of {opened.width} by {opened.height} dots, expected at most 80 million"
                    raise ValueError(msg)
                upright = ImageOps.exif_transpose(opened)
                flat = Image.new("RGB", upright.size, "white")
                rgba = upright.convert("RGBA")
                flat.paste(rgba, mask=rgba.getchannel("A"))
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, SyntaxError) as problem:
        # The library says SyntaxError where it finds, too late to say anything else, that Exif data are damaged.
        msg = "found a file that is no whole picture, expected a JPEG or PNG picture"
        raise ValueError(msg) from problem
    flat.thumbnail((long_side_px, long_side_px))
    return flat


def data_uri(photo: Photograph) -> str:
    """Return the picture as an address that holds it."""
    return "data:image/jpeg;base64," + base64.b64encode(photo.jpeg).decode("ascii")


def draw_photograph(photo: Photograph, width_mm: float, title: str) -> str:
    """Return the picture as a drawing of a width [mm]."""
    height_mm = width_mm * photo.height_px / photo.width_px
    return drawing(
        width_mm, height_mm, title, (element("image", href=data_uri(photo), width=width_mm, height=height_mm),)
    )


def draw_code(link: str, side_mm: float, title: str) -> str:
    """Return an address as a QR code of ISO/IEC 18004, as a drawing with its quiet zone [mm]."""
    import segno

    rows = segno.make_qr(link, error="m").matrix
    runs = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            wide = 0
            while x + wide < len(row) and row[x + wide]:
                wide += 1
            if wide:
                runs.append(f"M{x + _QUIET} {y + _QUIET}h{wide}v1h-{wide}z")
            x += wide + 1
    count = len(rows) + 2 * _QUIET
    code = (
        element("rect", width=count, height=count, fill=PAPER),
        element("path", d="".join(runs), fill=INK, shape_rendering="crispEdges"),
    )
    scale = side_mm / count
    return drawing(side_mm, side_mm, title, (element("g", *code, transform=f"scale({scale:.4f})"),))
