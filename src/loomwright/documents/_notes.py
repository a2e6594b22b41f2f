"""Where the checks between documents write down what they find, and the checks that all of them share."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from loomwright.documents._tree import Path, Trouble
from loomwright.documents._words import choices, nearest, quoted
from loomwright.documents.colours import WireColour, parse_colour
from loomwright.documents.reading import Loaded
from loomwright.documents.vehicle import Axis
from loomwright.errors import Message

__all__ = ["Notes"]


@dataclass(slots=True, kw_only=True)
class Notes:
    """The faults found in one document."""

    loaded: Loaded
    messages: list[Message] = field(default_factory=list)

    def add(self, path: Path, found: str, expected: str, advice: str) -> None:
        """Write down one fault of the value at this path of the file."""
        trouble = Trouble(path=path, line=None, found=found, expected=expected, advice=advice)
        self.messages.append(self.loaded.tree.message(trouble))

    def known(self, path: Path, word: str, options: Iterable[str], what: str) -> bool:
        """Tell whether the word is one of the options; where it is not, write it down.

        `what` names the options in words, as in 'a place of this vehicle'.
        """
        listed = list(dict.fromkeys(options))
        if word in listed:
            return True
        near = nearest(word, listed)
        expected = f"{what}: {choices(listed, word)}" if listed else f"{what}, of which there is none"
        self.add(path, quoted(word), expected, "choose one" if near is None else f"did you mean {quoted(near)}?")
        return False

    def once(self, paths: Sequence[tuple[Path, str]], what: str) -> None:
        """Write down every word that stands at a second place; `what` is the kind of word, as in 'label'."""
        first: dict[str, Path] = {}
        for path, word in paths:
            plain = " ".join(word.split()).casefold()
            if plain in first:
                line = self.loaded.tree.line(first[plain])
                self.add(
                    path,
                    f"the {what} {quoted(word)} again (first on line {line})",
                    f"each {what} once",
                    "change one of the two",
                )
            else:
                first[plain] = path

    def colour(self, path: Path, word: str) -> WireColour | None:
        """Return the colour of this word, or `None` after writing down that there is none."""
        try:
            return parse_colour(word)
        except ValueError as error:
            said, _, advice = str(error).partition("; ")
            found, _, expected = said.removeprefix("found ").partition(", expected ")
            self.add(path, found, expected, advice)
            return None

    def condition(self, path: Path, condition: Mapping[str, Sequence[str]], axes: Sequence[Axis]) -> bool:
        """Tell whether every axis and value of a condition exists; write down those that do not."""
        by_id = {axis.id: axis for axis in axes}
        sound = True
        for axis_id, values in condition.items():
            at = (*path, axis_id)
            if not self.known(at, axis_id, by_id, "an axis of the vehicle"):
                sound = False
                continue
            for index, text in enumerate(values):
                listed = (*at, index) in self.loaded.lines
                sound &= self._value((*at, index) if listed else at, text, by_id[axis_id])
        return sound

    def _value(self, path: Path, text: str, axis: Axis) -> bool:
        order = [value.value for value in axis.values]
        first, _, last = text.partition(" to ")
        if text in order or not last:
            return self.known(path, text, order, f"a value of the axis '{axis.id}'")
        if not axis.ordered:
            self.add(
                path,
                quoted(text),
                f"single values, since the axis '{axis.id}' is not ordered",
                "write a list of values, or 'ordered: true' at the axis",
            )
            return False
        ends = [self.known(path, end, order, f"a value of the axis '{axis.id}'") for end in (first, last)]
        if all(ends) and order.index(first) > order.index(last):
            self.add(path, quoted(text), "the earlier value first", f"write '{last} to {first}'")
            return False
        return all(ends)
