"""The pictures of the README, made by the tool itself from the demonstration shop: ``python -m tools.pictures``.

Needs the browser that the tests use (``CHROMIUM`` or ``chromium``). Drawings and pages come out of `loomwright.sheets`
unchanged; the browser and the PDF reader only turn them into points.
"""

import io
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PIL import Image, ImageOps

from loomwright.documents.car import resolve
from loomwright.documents.demo import demo_files
from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.kit import Kit
from loomwright.documents.reading import Source, load
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Vehicle
from loomwright.network.proof import prove
from loomwright.network.readings import readings
from loomwright.papers.blocks import Paper, Step
from loomwright.papers.guide import guide
from loomwright.papers.wiring_plan import wiring_plan
from loomwright.planning.installation import Installation
from loomwright.planning.plan import match
from loomwright.sheets import render
from loomwright.sheets.drawn import draw

if TYPE_CHECKING:
    from playwright.sync_api import Browser

__all__ = ["FOLDER", "LARGEST", "PICTURES", "main"]

FOLDER = Path(__file__).parent.parent / "docs" / "pictures"
LARGEST = 150_000  # bytes
PICTURES = ("plug-face.png", "guide-step.png", "wiring-plan.png", "footwell.png")

_GUIDE = ("kestrin-fallow", "rookery-4", {"year": "2014", "body": "sedan", "engine": "3.3", "trim": "touring"})
_PLAN = ("quillen-marram", "dunlin-7", {"year": "2000", "shifter": "floor", "alarm": "none"})  # cut wires, many relays
_FUNCTION = "horn"  # the joint that is shown
_PHONE: Any = {"width": 390, "height": 844}
_FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]


def _planned(vehicle_id: str, kit_id: str, choice: Mapping[str, str]) -> tuple[Installation, Shop]:
    """Return a kit of the demonstration in one of its cars."""
    texts = {n: t for n, t in demo_files().items() if n == "shop.yaml" or vehicle_id in n or kit_id in n}
    loaded = [e.document for e in load([Source(file=n, text=t.encode()) for n, t in texts.items()], MODELS)]
    vehicle = next(d for d in loaded if isinstance(d, Vehicle))
    kit = next(d for d in loaded if isinstance(d, Kit))
    shop = next(d for d in loaded if isinstance(d, Shop))
    found = match(resolve(vehicle, choice, [d for d in loaded if isinstance(d, Evidence)]), kit, shop)
    if not isinstance(found, Installation):
        raise SystemExit(f"the demonstration kit is refused: {found.reason}")
    return found, shop


def _step(paper: Paper, installation: Installation) -> tuple[int, Step]:
    """Return the number and the step in which the joint that is shown is measured."""
    joint = next(j for j in installation.joints if j.function == _FUNCTION)
    steps = [b for b in paper.blocks if isinstance(b, Step)]
    return next(
        (n, s) for n, s in enumerate(steps) if s.kind == "measure" and s.label == joint.label and s.face is not None
    )


@contextmanager
def _browser() -> Iterator["Browser"]:
    from playwright.sync_api import sync_playwright

    path = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if path is None:
        raise SystemExit("found no chromium, expected one on the PATH; install it, or name it in CHROMIUM")
    with sync_playwright() as playwright, _fonts() as fonts:
        environment: dict[str, str | float | bool] = {**os.environ, "FONTCONFIG_FILE": str(fonts)}
        browser = playwright.chromium.launch(executable_path=path, args=_FLAGS, env=environment)
        yield browser
        browser.close()


@contextmanager
def _fonts() -> Iterator[Path]:
    """Give the list of fonts for the browser: the one of the sheets, so that a picture is the same on every machine."""
    with as_file(files("fontpkg_source_sans_3") / "files") as held, tempfile.TemporaryDirectory() as folder:
        listed = Path(folder) / "fonts.conf"
        listed.write_text(
            f"<fontconfig><dir>{held}</dir><cachedir>{folder}/cache</cachedir>"
            f'<include ignore_missing="yes">/etc/fonts/fonts.conf</include></fontconfig>',
            encoding="utf-8",
        )
        yield listed


def _drawing(browser: "Browser", svg: str, *, width_px: int) -> bytes:
    page = browser.new_page(viewport={"width": width_px + 32, "height": 600}, device_scale_factor=2)
    page.set_content(
        f"<body style='margin:0'><div id=d style='display:inline-block;background:#fff;padding:16px'>"
        f"<div style='width:{width_px}px'>{svg}</div></div>"
        f"<style>svg{{width:100%;height:auto;display:block}}</style>"
    )
    shot: bytes = page.locator("#d").screenshot()
    page.close()
    return shot


def _phone(browser: "Browser", html: bytes, number: int) -> bytes:
    """Return two screens of a phone with the guide at a step, counted from 0: its head, and its first reading."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "guide.html"
        file.write_bytes(html)
        page = browser.new_page(viewport=_PHONE, device_scale_factor=2, is_mobile=True, has_touch=True)
        page.goto(file.as_uri())
        name = page.locator("section.step").nth(number).get_attribute("id")
        page.goto(f"{file.as_uri()}#{name}")
        page.wait_for_timeout(200)
        shots = [page.screenshot()]
        sheet = page.locator(f"#{name} .readings").first
        sheet.locator(".battery").fill("12.6")
        sheet.locator(".value").first.fill("12.5")
        sheet.evaluate("e => window.scrollTo(0, e.getBoundingClientRect().top + window.scrollY - 20)")
        page.wait_for_timeout(200)
        shots.append(page.screenshot())
        page.close()
    return _beside([Image.open(io.BytesIO(shot)).convert("RGB") for shot in shots])


def _beside(images: list[Image.Image]) -> bytes:
    """Return pictures side by side, framed by a thin line, half as large."""
    gap = 40
    framed = [ImageOps.expand(i, border=4, fill="#333333") for i in images]
    width = sum(i.width for i in framed) + gap * (len(framed) - 1)
    sheet = Image.new("RGB", (width, max(i.height for i in framed)), "white")
    at = 0
    for image in framed:
        sheet.paste(image, (at, 0))
        at += image.width + gap
    out = io.BytesIO()
    sheet.resize((sheet.width // 2, sheet.height // 2), Image.Resampling.LANCZOS).save(out, format="PNG")
    return out.getvalue()


def _page(pdf: bytes, words: str) -> bytes:
    """Return the first page with some words; the list of contents does not count."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    number = next(n for n in range(1, len(document)) if words in document[n].get_textpage().get_text_range())
    image = document[number].render(scale=1.6).to_pil()
    out = io.BytesIO()
    image.save(out, format="PNG")
    return out.getvalue()


def _small(png: bytes) -> bytes:
    """Return a picture with as many colours as keep it below the limit."""
    image = Image.open(io.BytesIO(png)).convert("RGB")
    for colours in (128, 64, 32, 16):
        out = io.BytesIO()
        image.quantize(colours, dither=Image.Dither.NONE).save(out, format="PNG", optimize=True)
        if out.tell() < LARGEST:
            break
    return out.getvalue()


def _all() -> Iterator[tuple[str, bytes]]:
    marks = {"tool": "Loomwright"}
    installation, shop = _planned(*_GUIDE)
    paper = guide(installation, prove(installation), readings(installation), shop, marks)
    wired, _ = _planned(*_PLAN)
    number, step = _step(paper, installation)
    if step.face is None:
        raise LookupError(step.id)
    picture = next(b.picture for b in paper.blocks if isinstance(b, Step) and b.picture is not None)
    with _browser() as browser:
        (face,) = draw(step.face.drawing, width_mm=170, words=step.face.words)
        yield "plug-face.png", _drawing(browser, face.svg, width_px=760)
        yield "guide-step.png", _phone(browser, render(paper, "html"), number)
        plan = wiring_plan(wired, prove(wired), shop, marks)
        yield "wiring-plan.png", _page(render(plan, "a4"), "Splice")
        (footwell,) = draw(picture.drawing, width_mm=150, words=picture.words)
        yield "footwell.png", _drawing(browser, footwell.svg, width_px=640)


def main() -> int:
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, png in _all():
        content = _small(png)
        (FOLDER / name).write_bytes(content)
        print(f"{name:20} {len(content) / 1000:6.0f} kB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
