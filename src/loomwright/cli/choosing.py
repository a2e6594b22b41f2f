"""What several commands share: from the words on the command line to one car, one kit and what comes of them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

import click

from loomwright.cli.files import load_files, shop_files
from loomwright.errors import DocumentError, LoomwrightError, Message

if TYPE_CHECKING:
    from pydantic import BaseModel

    from loomwright.documents.car import Car
    from loomwright.documents.evidence import Evidence
    from loomwright.documents.kit import Kit
    from loomwright.documents.reading import Loaded
    from loomwright.documents.shop import Shop
    from loomwright.documents.vehicle import Vehicle
    from loomwright.papers.blocks import Paper
    from loomwright.papers.language import Language
    from loomwright.planning.installation import Installation, Refusal
    from loomwright.starting.timeline import Timeline, WaitChart

__all__ = [
    "Chosen", "Pair", "car_and_kit", "choose", "load_pair", "matched", "pair_arguments", "pair_of", "pairs_of_words",
]  # fmt: skip

_F = TypeVar("_F", bound=Callable[..., Any])
_Drawing = TypeVar("_Drawing", "Timeline", "WaitChart")

_UNITS = {
    "metric": {"length_unit": "mm", "wire_unit": "mm2"},
    "inch": {"length_unit": "inch", "wire_unit": "AWG"},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """One car, one kit and the shop."""

    car: "Car"
    kit: "Kit"
    loaded: "tuple[Loaded, ...]"  # the documents with their files
    shop: "Shop"
    language: str | None = None  # of the papers; None where that of the shop holds

    @property
    def code(self) -> str:
        """ISO 639-1 code of the language that is asked for."""
        return self.language or self.shop.language

    def said(self, paper: "Paper") -> "Paper":
        """Return a paper in the language that is asked for.

        Raises LoomwrightError where there is none of that code.
        """
        from loomwright.papers.translating import in_language

        return in_language(paper, self._language())

    def drawn(self, drawing: "_Drawing") -> "_Drawing":
        """Return the drawing of a start in the language that is asked for.

        Raises LoomwrightError where there is none of that code.
        """
        from loomwright.papers.translating import drawing_in_language

        return drawing_in_language(drawing, self._language())

    def _language(self) -> "Language":
        from loomwright.papers.languages import language_of

        return language_of(self.code, self.shop, self.car, self.kit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """One family of vehicles, one kit, the shop and the evidence."""

    vehicle: "Vehicle"
    kit: "Kit"
    shop: "Shop"
    evidence: "tuple[Evidence, ...]"
    loaded: "tuple[Loaded, ...]"  # the documents with their files


def pair_of(words: Sequence[str]) -> tuple[Path, Path, tuple[str, ...]]:
    """Return the vehicle, the kit and the words with '=' of a command line on which they may stand in any order.

    Raises click.UsageError where the files are not two.
    """
    files = [word for word in words if "=" not in word or Path(word).exists()]
    if len(files) != 2:
        found = f"found {len(files)} files" + (f" ({', '.join(files)})" if files else "")
        raise click.UsageError(f"{found}, expected a vehicle and a kit; name both, the vehicle first")
    return Path(files[0]), Path(files[1]), tuple(word for word in words if word not in files)


def pair_arguments(command: _F) -> _F:
    """Give a command the arguments VEHICLE KIT and --with AXIS=VALUE ..., the words after --with in any number."""

    @wraps(command)
    def with_pair(words: tuple[str, ...], choice: tuple[str, ...], **options: Any) -> Any:
        vehicle, kit, more = pair_of(words)
        return command(vehicle=vehicle, kit=kit, choice=(*choice, *more), **options)

    decorated: Any = with_pair
    for decorate in (
        click.argument("words", nargs=-1, metavar="VEHICLE KIT"),
        click.option("--shop", type=click.Path(path_type=Path), help="Shop file; else shop.yaml above the vehicle."),
        click.option(
            "--evidence", multiple=True, type=click.Path(path_type=Path), help="Evidence files; else those of the shop."
        ),
        click.option(
            "--with",
            "choice",
            multiple=True,
            metavar="AXIS=VALUE ...",
            help="Which car it is, such as engine=2.4 year=2013.",
        ),
        click.option(
            "--units",
            type=click.Choice(tuple(_UNITS)),
            help="Lengths and wire sizes: metric (mm, mm2) or inch (inches, AWG); else as the shop file says.",
        ),
        click.option(
            "--language", metavar="CODE", help="What papers are written in: en or fr; else as the shop file says."
        ),
    ):
        decorated = decorate(decorated)
    return cast("_F", decorated)


def pairs_of_words(words: Sequence[str], option: str) -> dict[str, str]:
    """Return words such as 'engine=2.4' as a mapping.

    Raises LoomwrightError, naming the option they were given with, for any other word and for two values of an axis.
    """
    choice: dict[str, str] = {}
    for word in words:
        axis, sign, value = word.partition("=")
        if not sign or not axis or not value:
            raise LoomwrightError(
                f"{option}: found {word!r}, expected axis=value such as engine=2.4; correct that word"
            )
        if axis in choice and choice[axis] != value:
            raise LoomwrightError(f"{option}: {axis} is given as {choice[axis]} and as {value}; give it once")
        choice[axis] = value
    return choice


def _of_another_kind(one: "Loaded", wanted: str) -> Message:
    expected, _, advice = wanted.partition("; ")
    found = str(one.tree.value.get("kind"))
    return Message(
        file=one.file, line=one.lines.get(("kind",)), field="kind", found=f"a document of kind {found!r}",
        expected=expected, advice=advice,
    )  # fmt: skip


def load_pair(vehicle: Path, kit: Path, shop: Path | None = None, evidence: Sequence[Path] = ()) -> Pair:
    """Load and check the documents of one vehicle and one kit.

    Raises DocumentError with every fault of the documents, LoomwrightError where there is no shop.
    """
    from loomwright.documents.checking import check_documents
    from loomwright.documents.evidence import Evidence
    from loomwright.documents.kit import Kit
    from loomwright.documents.shop import Shop
    from loomwright.documents.vehicle import Vehicle

    around = shop_files(vehicle)
    if shop is None and not around:
        raise LoomwrightError(
            f"{vehicle}: no shop.yaml found in the folder above it; name one with --shop, or keep vehicles in "
            "a folder 'vehicles' beside shop.yaml"
        )
    papers = [shop] if shop is not None else [around[0]]
    papers += list(evidence) or list(around[1:])
    wanted: list[tuple[Path, type[BaseModel], str]] = [
        (vehicle, Vehicle, "a vehicle; give the vehicle first and the kit second"),
        (kit, Kit, "a kit; give the vehicle first and the kit second"),
        (papers[0], Shop, "a shop; name the file of kind 'shop'"),
        *((path, Evidence, "evidence; name files of kind 'evidence'") for path in papers[1:]),
    ]
    loaded = load_files([path for path, _, _ in wanted])
    if others := [
        _of_another_kind(one, words)
        for one, (_, model, words) in zip(loaded, wanted, strict=True)
        if not isinstance(one.document, model)
    ]:
        raise DocumentError(others)
    # One vehicle of a shop: its kit and its evidence may speak of the others, which are not read for this.
    if faults := check_documents(loaded, whole=False):
        raise DocumentError(faults)
    family, product, owner, *records = (one.document for one in loaded)
    if not (isinstance(family, Vehicle) and isinstance(product, Kit) and isinstance(owner, Shop)):
        raise TypeError("each document was just seen to be of its kind")
    proven = tuple(one for one in records if isinstance(one, Evidence))
    return Pair(vehicle=family, kit=product, shop=owner, evidence=proven, loaded=loaded)


def car_and_kit(
    vehicle: Path, kit: Path, words: Sequence[str], shop: Path | None = None, evidence: Sequence[Path] = ()
) -> Chosen:
    """Load and check the documents and resolve the car.

    Raises DocumentError with every fault of the documents, LoomwrightError where the choice names no car.
    """
    from loomwright.documents.car import ResolveError, resolve

    choice = pairs_of_words(words, "--with")
    pair = load_pair(vehicle, kit, shop, evidence)
    try:
        car = resolve(pair.vehicle, choice, pair.evidence)
    except ResolveError as problem:
        raise LoomwrightError(f"--with: {problem}") from problem
    return Chosen(car=car, kit=pair.kit, shop=pair.shop, loaded=pair.loaded)


def matched(chosen: Chosen) -> "Installation | Refusal":
    """Plan the kit into the car."""
    from loomwright.planning.plan import match

    return match(chosen.car, chosen.kit, chosen.shop)


def choose(vehicle: Path, kit: Path, choice: Sequence[str], options: dict[str, Any]) -> Chosen:
    """Return the chosen pair from the arguments that `pair_arguments` gives a command."""
    from loomwright.papers.languages import language_named

    language = options["language"]
    if language is not None:
        language_named(language)  # first, so that a wrong word is told before anything is computed
    chosen = replace(car_and_kit(vehicle, kit, choice, options["shop"], options["evidence"]), language=language)
    units = options["units"]
    return chosen if units is None else replace(chosen, shop=chosen.shop.model_copy(update=_UNITS[units]))
