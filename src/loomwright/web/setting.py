"""From a page's context to its HTML: the templates, and what they may call."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from loomwright.papers.blocks import Paper, Text
from loomwright.papers.drawings import FaceDrawing
from loomwright.sheets.page_drawings import PageDrawings, codes_of, paper_in_page, runs
from loomwright.web.asking import Page
from loomwright.web.static import versioned

__all__ = ["Chrome", "Setter"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chrome:
    """What stands around every page.

    Parameters
    ----------
    shop
        Name of the shop, empty before there is one.
    here
        First word of the address, by which the menu knows where one is.
    token
        What forms must say again.
    is_fragment
        Whether only a part of the page is taken; drawings that are there already are then left out.
    """

    shop: str
    here: str
    token: str
    is_fragment: bool


class Setter:
    """Sets pages. It may be used from several threads at once."""

    def __init__(self) -> None:
        environment = Environment(
            loader=PackageLoader("loomwright.web", "templates"), autoescape=True, undefined=StrictUndefined,
            trim_blocks=True, lstrip_blocks=True,
        )  # fmt: skip
        environment.globals["static"] = versioned
        environment.filters["capital"] = lambda words: words[:1].upper() + words[1:]
        self._environment = environment

    def html(self, page: Page, chrome: Chrome) -> str:
        """Return a page."""
        drawings = PageDrawings()
        template = self._environment.get_template(page.template)
        return template.render(page=page.context, title=page.title, chrome=chrome, **_calls(drawings))


def _calls(drawings: PageDrawings) -> Mapping[str, Callable[..., object]]:
    """Return what draws on one page; everything that a person wrote is escaped by the room that draws it."""

    def face(drawing: FaceDrawing) -> tuple[Markup, int]:
        svg, broad = drawings.face(drawing)
        return Markup(svg), broad

    def paper(found: Paper) -> Markup:
        return Markup(paper_in_page(found))

    def say(text: Text) -> Markup:
        return Markup(runs(text))

    return MappingProxyType({
        "swatch": lambda colour, stripe=None: Markup(drawings.swatch(colour, stripe)),
        "mark": lambda condition: Markup(drawings.mark(condition)),
        "shapes": lambda: Markup(drawings.shapes()),
        "codes": codes_of,
        "drawn": Markup,
        "face": face,
        "paper": paper,
        "say": say,
    })  # fmt: skip
