"""What several commands share: from the words on the command line to one car, one kit and what comes of them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

import click

from loomwright.cli.files import load_files, shop_files
from loomwright.errors import DocumentError, LoomwrightError, Message

if TYPE_CHECKING:
    from pydantic import BaseModel

    from loomwright.documents.car import Car
    from loomwright.documents.kit import Kit
    from loomwright.documents.reading import Loaded
    from loomwright.documents.shop import Shop
    from loomwright.planning.installation import Installation, Refusal

__all__ = ["Chosen", "car_and_kit", "choose", "matched", "pair_arguments"]

_F = TypeVar("_F", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """One car, one kit and the shop."""

    car: "Car"
    kit: "Kit"
    shop: "Shop"


def pair_arguments(command: _F) -> _F:
    """Give a command the arguments VEHICLE KIT and --with AXIS=VALUE ..., the words after --with in any number."""

    @wraps(command)
    def with_pair(words: tuple[str, ...], choice: tuple[str, ...], **options: Any) -> Any:
        files = [word for word in words if "=" not in word or Path(word).exists()]
        if len(files) != 2:
            found = f"found {len(files)} files" + (f" ({', '.join(files)})" if files else "")
            raise click.UsageError(f"{found}, expected a vehicle and a kit; name both, the vehicle first")
        more = tuple(word for word in words if word not in files)
        return command(vehicle=Path(files[0]), kit=Path(files[1]), choice=(*choice, *more), **options)

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
    ):
        decorated = decorate(decorated)
    return cast("_F", decorated)


def _choice(words: Sequence[str]) -> dict[str, str]:
    choice: dict[str, str] = {}
    for word in words:
        axis, sign, value = word.partition("=")
        if not sign or not axis or not value:
            raise LoomwrightError(f"--with: found {word!r}, expected axis=value such as engine=2.4; correct that word")
        if axis in choice and choice[axis] != value:
            raise LoomwrightError(f"--with: {axis} is given as {choice[axis]} and as {value}; give it once")
        choice[axis] = value
    return choice


def _of_another_kind(one: "Loaded", wanted: str) -> Message:
    expected, _, advice = wanted.partition("; ")
    found = str(one.tree.value.get("kind"))
    return Message(
        file=one.file, line=one.lines.get(("kind",)), field="kind", found=f"a document of kind {found!r}",
        expected=expected, advice=advice,
    )  # fmt: skip


def car_and_kit(
    vehicle: Path, kit: Path, words: Sequence[str], shop: Path | None = None, evidence: Sequence[Path] = ()
) -> Chosen:
    """Load and check the documents and resolve the car.

    Raises DocumentError with every fault of the documents, LoomwrightError where the choice names no car.
    """
    from loomwright.documents.car import ResolveError, resolve
    from loomwright.documents.checking import check_documents
    from loomwright.documents.evidence import Evidence
    from loomwright.documents.kit import Kit
    from loomwright.documents.shop import Shop
    from loomwright.documents.vehicle import Vehicle

    choice = _choice(words)
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
    try:
        car = resolve(family, choice, [one for one in records if isinstance(one, Evidence)])
    except ResolveError as problem:
        raise LoomwrightError(f"--with: {problem}") from problem
    return Chosen(car=car, kit=product, shop=owner)


def matched(chosen: Chosen) -> "Installation | Refusal":
    """Plan the kit into the car."""
    from loomwright.planning.plan import match

    return match(chosen.car, chosen.kit, chosen.shop)


def choose(vehicle: Path, kit: Path, choice: Sequence[str], options: dict[str, Any]) -> Chosen:
    """Return the chosen pair from the arguments that `pair_arguments` gives a command."""
    return car_and_kit(vehicle, kit, choice, options["shop"], options["evidence"])
