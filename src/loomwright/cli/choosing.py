"""What several commands share: from the words on the command line to one car, one kit and what comes of them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from loomwright.cli.files import load_files, shop_files
from loomwright.errors import DocumentError, LoomwrightError

if TYPE_CHECKING:
    from loomwright.documents.car import Car
    from loomwright.documents.kit import Kit
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
    """Give a command the arguments VEHICLE KIT --with axis=value ..."""
    for decorate in (
        click.argument("more", nargs=-1, metavar="[axis=value]..."),
        click.argument("kit", type=click.Path(path_type=Path, dir_okay=False)),
        click.argument("vehicle", type=click.Path(path_type=Path, dir_okay=False)),
        click.option(
            "--with",
            "choice",
            multiple=True,
            metavar="AXIS=VALUE",
            help="Which car it is, such as engine=2.4 year=2013.",
        ),
        click.option(
            "--evidence", multiple=True, type=click.Path(path_type=Path), help="Evidence files; else those of the shop."
        ),
        click.option("--shop", type=click.Path(path_type=Path), help="Shop file; else shop.yaml above the vehicle."),
    ):
        command = decorate(command)
    return command


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
    loaded = load_files([vehicle, kit, *papers])
    if faults := check_documents(loaded):
        raise DocumentError(faults)
    documents = [entry.document for entry in loaded]
    family, product, owner = documents[0], documents[1], documents[2]
    if not isinstance(family, Vehicle):
        raise LoomwrightError(
            f"{vehicle}: found a document of another kind, expected a vehicle; give the vehicle first"
        )
    if not isinstance(product, Kit):
        raise LoomwrightError(f"{kit}: found a document of another kind, expected a kit; give the kit second")
    if not isinstance(owner, Shop):
        raise LoomwrightError(f"{papers[0]}: found a document of another kind, expected a shop; name the shop's file")
    try:
        car = resolve(family, choice, [d for d in documents if isinstance(d, Evidence)])
    except ResolveError as problem:
        raise LoomwrightError(f"--with: {problem}") from problem
    return Chosen(car=car, kit=product, shop=owner)


def matched(chosen: Chosen) -> "Installation | Refusal":
    """Plan the kit into the car."""
    from loomwright.planning.plan import match

    return match(chosen.car, chosen.kit, chosen.shop)


def choose(vehicle: Path, kit: Path, choice: Sequence[str], options: dict[str, Any]) -> Chosen:
    """Return the chosen pair from the arguments that `pair_arguments` gives a command."""
    words = [*choice, *options["more"]]
    return car_and_kit(vehicle, kit, words, options["shop"], options["evidence"])
