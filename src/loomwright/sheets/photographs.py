"""Photographs made small enough for a paper, and the codes by which a phone finds a film from paper."""

import base64
import io
import warnings

from loomwright.papers.drawings import Photograph
from loomwright.sheets.svg import INK, PAPER, drawing, element

__all__ = ["LARGEST_BYTES", "data_uri", "draw_code", "draw_photograph", "reduced"]

LARGEST_BYTES = 25_000_000
_LARGEST_PIXELS = 80_000_000  # a picture of so many takes some 240 MB to open
_LONG_SIDE_PX = 900  # two thirds of the width of a page at 200 dots an inch, and twice what a phone shows
_QUALITY = 72
_QUIET = 4  # modules around a code. Source: ISO/IEC 18004, quiet zone of a QR code.


def reduced(data: bytes, long_side_px: int = _LONG_SIDE_PX, quality: int = _QUALITY) -> Photograph:
    """Return a photograph upright, without what the camera wrote into it, and small enough to be sent.

    Where it was taken, by whom and with what stays out of the paper.

    Parameters: data : bytes -- a JPEG or PNG file
                long_side_px : int -- its long side afterwards, at most [px]
                quality : int -- of the JPEG picture, 1 to 95
    Raises:     ValueError -- 'found ..., expected ...' where the data is no such picture or too large.
    """
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
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError) as problem:
        msg = "found a file that is no whole picture, expected a JPEG or PNG picture"
        raise ValueError(msg) from problem
    flat.thumbnail((long_side_px, long_side_px))
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=quality, optimize=True)
    return Photograph(jpeg=out.getvalue(), width_px=flat.width, height_px=flat.height)


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
