"""Guide and wiring plan of a kit in a car, made when somebody asks for them."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from loomwright import __version__
from loomwright.network.vehicle_side import BATTERY_V
from loomwright.papers.blocks import Paper
from loomwright.papers.guide import guide
from loomwright.papers.languages import LANGUAGES, language_of
from loomwright.papers.translating import in_language
from loomwright.papers.wiring_plan import wiring_plan
from loomwright.planning.installation import Refusal
from loomwright.sheets import Form, render
from loomwright.web.asking import Answer, Ask, Bytes, WebError
from loomwright.web.desk import Desk, Fit
from loomwright.web.page_vehicles import some_choice
from loomwright.web.photos import photos_for

__all__ = ["FORMS", "guide_paper", "said", "show"]

# End of the name -> form and media type.
FORMS: Mapping[str, tuple[Form, str]] = MappingProxyType({
    ".html": ("html", "text/html; charset=utf-8"),
    "-a4.pdf": ("a4", "application/pdf"),
    "-letter.pdf": ("letter", "application/pdf"),
})


def said(paper: Paper, fit: Fit, language: str = "") -> Paper:
    """Return a paper in a language, else in that of the shop."""
    return in_language(paper, language_of(language or fit.shop.language, fit.shop, fit.car, fit.kit))


def guide_paper(desk: Desk, fit: Fit, marks: Mapping[str, str] | None = None, language: str = "") -> Paper:
    """Return the buyer's guide, in the shop's language where no other is named."""
    if isinstance(fit.found, Refusal) or fit.proof is None:
        raise WebError(409, "This kit must not be fitted to this car: there is no guide for it.")
    table = desk.readings(fit, BATTERY_V)
    marks = {"tool": f"Loomwright {__version__}", **(marks or {})}
    paper = guide(fit.found, fit.proof, table, fit.shop, marks, photos_for(desk, fit.car.vehicle, fit.kit.id))
    return said(paper, fit, language)


def _guide_paper(desk: Desk, fit: Fit, language: str) -> Paper:
    return guide_paper(desk, fit, None, language)


def _plan_paper(_: Desk, fit: Fit, language: str) -> Paper:
    if isinstance(fit.found, Refusal) or fit.proof is None:
        raise WebError(409, "This kit must not be fitted to this car: there is no wiring plan for it.")
    paper = wiring_plan(fit.found, fit.proof, fit.shop, {"tool": f"Loomwright {__version__}"})
    return said(paper, fit, language)


_PAPERS: Mapping[str, Callable[[Desk, Fit, str], Paper]] = MappingProxyType({
    "guide": _guide_paper,
    "wiring-plan": _plan_paper,
})


def show(desk: Desk, ask: Ask) -> Answer:
    """Return a sheet; `?save` makes the browser keep it as a file, `?language` says it in another language."""
    wanted = ask.path["sheet"]
    ending = next((end for end in FORMS if wanted.endswith(end)), None)
    name = wanted.removesuffix(ending or "")
    if ending is None or name not in _PAPERS:
        raise WebError(404, "There is no such sheet.")
    vehicle = ask.path["vehicle"]
    fit = desk.fit(vehicle, ask.path["kit"], some_choice(desk.vehicle(vehicle), ask.under("car.")))
    form, media_type = FORMS[ending]
    language = ask.one("language")
    if language and language not in LANGUAGES:
        raise WebError(404, f"There is no sheet in the language {language!r}; there is: {', '.join(LANGUAGES)}.")
    data = desk.sheets.get((fit.key, wanted, language), lambda: render(_PAPERS[name](desk, fit, language), form))
    saved = ask.one("save") != ""
    return Bytes(
        data=data, media_type=media_type, name=f"{fit.kit.id}-{fit.car.vehicle}-{wanted}", inline=not saved,
        own_policy=form == "html",
    )  # fmt: skip
