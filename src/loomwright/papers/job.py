"""What every paper about one installation looks up all the time: plugs, wires, labels, places, in words."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from loomwright.documents.behaviour import StartRequest
from loomwright.documents.car import Car
from loomwright.documents.functions import FUNCTIONS
from loomwright.documents.kit import Kit, Terminal
from loomwright.documents.reading import FORMAT
from loomwright.documents.shop import Shop
from loomwright.documents.vehicle import Plug
from loomwright.network.fitting_order import FitAction, fitting_order
from loomwright.network.joining import fuse_of
from loomwright.network.results import Finding, Proof, Readings
from loomwright.papers.blocks import Film, Picture, Text
from loomwright.papers.drawings import Photograph
from loomwright.papers.measures import LEAST_WAIT_MIN, Measures, amperes, minutes
from loomwright.papers.quantity import Quantity
from loomwright.papers.saying import Field, lifted, say
from loomwright.papers.showing import Shown, films_of, photos_of
from loomwright.papers.words.en import naming
from loomwright.planning.groups import HALVES
from loomwright.planning.installation import Installation, Joint
from loomwright.sentences import told, unstopped

__all__ = ["Job", "colour_words", "function_words", "key_states", "plug_of"]


def colour_words(colour: str, stripe: str | None) -> str:
    """Return a wire's colours as written, base first."""
    return told(naming.STRIPED if stripe else naming.NO_STRIPE, colour=colour, stripe=stripe)


def function_words(function: str) -> str:
    """Return a function with its number of DIN 72552, where it has one."""
    facts = FUNCTIONS.get(function)
    return told(naming.FUNCTION_DIN, function=function, din=facts.din) if facts and facts.din else function


def key_states(car: Car) -> Mapping[str, str]:
    """Return how a car's key positions are called, and how long its key is held in start."""
    return naming.KEY_BUTTON if car.traits.key == "button" else {**naming.KEY, "crank": _held(car)[1]}


def _held(car: Car) -> tuple[float, str, str]:
    """Return how long the key is held in start: below what an engine computer that cranks by itself takes."""
    limits = [c.behaviour.hold_s for c in car.circuits.values() if isinstance(c.behaviour, StartRequest)]
    return next(h for h in naming.HELD if all(h[0] < limit for limit in limits))


def plug_of(pin: str) -> str:
    """Return the plug id of 'plug/pin'."""
    return pin.partition("/")[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One installation with what was computed about it, and the shop that sends it."""

    installation: Installation
    proof: Proof
    readings: Readings
    shop: Shop
    photos: Mapping[str, Photograph] = field(default_factory=dict)  # see `showing.photo_key`

    @property
    def car(self) -> Car:
        """The car."""
        return self.installation.car

    @property
    def kit(self) -> Kit:
        """The kit."""
        return self.installation.kit

    def say(self, template: str, **fields: Field) -> Text:
        """Fill a template whose fields may name this car's key or button."""
        return say(template, **self.words, **fields)

    def lifted(self, sentence: str, trace: str) -> Text:
        """Return a sentence of another room with its numbers as quantities, in the units of the shop."""
        return lifted(sentence, trace, self.measures)

    def lines(self, templates: Iterable[str], **fields: Field) -> tuple[Text, ...]:
        """Fill each template of a list, see `say`."""
        return tuple(self.say(t, **fields) for t in templates)

    def fill(self, template: str, **fields: str) -> str:
        """Fill a template that becomes a plain string, such as a title."""
        return told(template, **self.words, **fields)

    @property
    def served(self) -> frozenset[str]:
        """The functions that the kit serves; of one that the car has in two halves the whole."""
        return frozenset(HALVES.get(r.function, r.function) for r in self.installation.routes if r.how != "none")

    @property
    def has_button(self) -> bool:
        """Whether the car is started with a button instead of a key."""
        return self.car.traits.key == "button"

    @property
    def two_batteries(self) -> bool:
        """Whether two batteries feed the car together, so that it is dead only with both of them off."""
        return (self.car.traits.batteries or 1) > 1

    @property
    def words(self) -> Mapping[str, str]:
        """How this car's switching on and starting is called."""
        if self.has_button:
            return naming.BUTTON
        words = {**naming.KEYED, "Crank_try": _held(self.car)[2]}
        # A diesel heats its glow plugs or its intake as soon as the key is on; a button car waits by itself.
        return {**words, "Start_engine": naming.START_GLOWN} if self.car.traits.fuel == "diesel" else words

    @property
    def key_states(self) -> Mapping[str, str]:
        """How this car's key positions are called."""
        return key_states(self.car)

    @property
    def measures(self) -> Measures:
        """The units the shop wants."""
        return Measures(shop=self.shop)

    @property
    def order(self) -> tuple[FitAction, ...]:
        """The actions of fitting in their order."""
        return fitting_order(self.installation)

    @property
    def ordered_joints(self) -> tuple[Joint, ...]:
        """The joints in fitting order."""
        return tuple(j for action in self.order for j in action.joints)

    @property
    def fused(self) -> tuple[str, ...]:
        """Labels of the leads that carry a fuse of the kit's."""
        return tuple(dict.fromkeys(j.label for j in self.installation.joints if self.is_fused(j)))

    @property
    def uses_module(self) -> bool:
        """Whether the vehicle module serves anything here."""
        return any(r.how == "bus" for r in self.installation.routes)

    @property
    def places(self) -> tuple[str, ...]:
        """The places where something is joined, in fitting order."""
        return tuple(dict.fromkeys(j.place for j in self.ordered_joints if j.place is not None))

    @property
    def cold_places(self) -> tuple[str, ...]:
        """The places at which an airbag sits behind what is opened: the battery is off when that comes off or on."""
        return tuple(p for p in self.places if any(h.kind == "airbag" and h.place == p for h in self.car.hazards))

    def terminal(self, joint: Joint) -> Terminal:
        """Return the controller terminal of a joint."""
        return next(t for t in self.kit.controller.terminals if t.id == joint.terminal)

    def is_fused(self, joint: Joint) -> bool:
        """Tell whether the lead of a joint has a fuse of the kit's, by its terminal or by its own conductor."""
        return fuse_of(self.kit, joint) is not None

    def fuse(self, joint: Joint) -> Quantity:
        """Return the rating of the fuse in the lead of a joint that is fused [A]."""
        rating = fuse_of(self.kit, joint)
        if rating is None:
            raise ValueError(f"{joint.label} has no fuse")
        return amperes(rating, f"joint:{joint.id}/fuse_a")

    def socket(self, joint: Joint) -> tuple[str, int, str]:
        """Return the plug and place of the controller at which a joint's lead ends, fit to sort by."""
        terminal = self.terminal(joint)
        return terminal.plug, int(terminal.pin) if terminal.pin.isdigit() else 0, terminal.pin

    def plug(self, joint: Joint) -> Plug | None:
        """Return the vehicle plug of a joint."""
        return None if joint.pin is None else self.car.plugs[plug_of(joint.pin)]

    def wire(self, joint: Joint) -> str:
        """Return the colour of the car's wire at a joint."""
        return "" if joint.pin is None else self.car.pins[joint.pin].words

    def lead_colour(self, joint: Joint) -> str:
        """Return the colour of the kit's lead."""
        return colour_words(joint.colour, joint.stripe)

    def in_car(self, *shown: tuple[str, Shown] | None) -> tuple[tuple[Picture, ...], tuple[Film, ...]]:
        """Return photographs and films of things of the vehicle document, each thing given with its name."""
        return self._shown(self.car.vehicle, [one for one in shown if one is not None])

    def in_kit(self, *shown: tuple[str, Shown] | None) -> tuple[tuple[Picture, ...], tuple[Film, ...]]:
        """Return photographs and films of things of the kit document, each thing given with its name."""
        return self._shown(self.kit.id, [one for one in shown if one is not None])

    def _shown(
        self, document: str, shown: Sequence[tuple[str, Shown]]
    ) -> tuple[tuple[Picture, ...], tuple[Film, ...]]:
        return tuple(photos_of(document, shown, self.photos)), tuple(films_of(thing for _, thing in shown))

    def circuit_name(self, circuit: str) -> str:
        """Return what a circuit is called."""
        found = self.car.circuits[circuit]
        return found.name or found.function

    def pin_words(self, pin: str) -> str:
        """Return a pin with its wire and what that is for: 'pin 8, brown (dimmed dash lamps)'."""
        occupant = self.car.pins[pin]
        return told(
            naming.PIN_WIRE_NAME,
            pin=pin.partition("/")[2],
            colour=occupant.words,
            name=self.circuit_name(occupant.circuit),
        )

    def restraint_pins(self, plug: str) -> tuple[str, ...]:
        """Return the names of the pins of a plug in which airbag wires sit."""
        return tuple(
            pin.partition("/")[2]
            for pin, occupant in self.car.pins.items()
            if plug_of(pin) == plug and self.is_restraint(occupant.circuit)
        )

    def why_words(self, circuit: str) -> str:
        """Return why a circuit is not proven, in the buyer's words."""
        why = self.car.standing[circuit].why
        return naming.WHY_PLAIN.get(why, why)

    def is_restraint(self, circuit: str) -> bool:
        """Tell whether a circuit belongs to the airbags and belts."""
        found = self.car.circuits[circuit]
        return found.function == "restraint" or found.behaviour.template == "airbag wire"

    def sound_after(self, joined: int) -> bool:
        """Tell whether the car was proved to work on its key after so many actions of fitting.

        The proof tells each broken rule of a stage once, in the first state that shows it, so a rule broken earlier
        counts for every later step as well.
        """
        return not any(
            f.state is not None and f.state.stage == "fitting" and (f.state.joined or 0) <= joined for f in self._broken
        )

    def sound_in(self, stage: str) -> bool:
        """Tell whether the car was proved to work on its key in a stage, with the kit asking for nothing."""
        return not any(f.state is not None and f.state.stage == stage and not f.state.commands for f in self._broken)

    @property
    def _broken(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.proof.findings if f.severity != "note")

    @property
    def wait_minutes(self) -> float | None:
        """The longest waiting time for the airbags that is on record [min]; None where one of them is not."""
        waits = [h.wait_minutes for h in self.car.hazards if h.kind == "airbag"]
        return None if not waits or any(w is None for w in waits) else max(w for w in waits if w is not None)

    @property
    def footer(self) -> Text:
        """What stands at the foot of every page for the buyer: whom to call, and what to have ready."""
        return say(naming.FOOTER, shop=self.shop.name, call=unstopped(self.shop.call))

    @property
    def call_line(self) -> Text:
        """Whom to call, alone: for the papers that have no steps and no readings."""
        return say(naming.CALL_LINE, shop=self.shop.name, call=unstopped(self.shop.call))

    @property
    def wait(self) -> Quantity:
        """How long to wait for the airbags once the battery is off; the longest known where the car's is not."""
        known = self.wait_minutes
        if known is None:
            return minutes(LEAST_WAIT_MIN, "practice:longest maker's waiting time")
        return minutes(known, f"document:{self.car.vehicle}/hazards")

    def marks(self, marks: Mapping[str, str]) -> Mapping[str, str]:
        """Return what identifies a sheet: kit, car, documents, installation, and what the caller knows."""
        own = {
            "kit": self.kit.name, "revision": self.kit.revision, "car": self.car.name,
            "installation": self.installation.id, "documents": told(naming.DOCUMENTS_FORMAT, number=str(FORMAT)),
        }  # fmt: skip
        return {**own, **marks}
