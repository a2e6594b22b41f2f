"""The text of a document as plain values, with the line of each of them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

import yaml

from loomwright.documents._scalars import NotFiniteError, resolve
from loomwright.documents._syntax import BrokenText, decoded, plain_words
from loomwright.documents._words import quoted, show
from loomwright.errors import DocumentError, Message

__all__ = ["Origin", "Path", "Source", "Tree", "Trouble", "grown", "read_tree"]

Path: TypeAlias = tuple[str | int, ...]

_DEEPEST = 60
_LONGEST_KEY = 160


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A file as it was read: the name it goes by in messages, and its content."""

    file: str
    text: str | bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where a value stands: file, line (from 1), and its path as messages write it."""

    file: str
    line: int
    path: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """A fault on its way to become a message: its place is still a path of keys and indexes.

    `line` is `None` where it follows from the path, and 0 where the fault has none.
    """

    path: Path
    line: int | None
    found: str
    expected: str
    advice: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tree:
    """A document before it is checked.

    Parameters
    ----------
    file
        The file as the caller named it.
    value
        Mappings with text keys, lists, texts, numbers, booleans and `None`.
    lines
        Path of a value -> its line, from 1; for a value under a key the line of the key. The path of the whole
        document is the empty tuple.
    """

    file: str
    value: dict[str, object]
    lines: Mapping[Path, int] = field(repr=False)

    def line(self, path: Path) -> int:
        """Line of the value, or of the innermost one around it that the file has."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)

    def named(self, path: Path) -> str:
        """Path as messages write it: ``circuits[battery-feed].path[2].colour``.

        An item of a list is named by its `id` where it has one, else by its place, counted from 0.
        """
        text = ""
        here: object = self.value
        for step in path:
            if isinstance(here, dict):
                here = here.get(str(step))
                plain = isinstance(step, str) and _is_plain(step, "-_")
                text += (f".{step}" if text else str(step)) if plain else f"[{quoted(str(step))}]"
            elif isinstance(here, list) and isinstance(step, int):
                here = here[step] if step < len(here) else None
                name = here.get("id") if isinstance(here, dict) else None
                text += f"[{name}]" if isinstance(name, str) and _is_plain(name, "-_. ") else f"[{step}]"
            else:
                text += f".{step}" if text else str(step)
        return text

    def origin(self, path: Path) -> Origin:
        """Where the value of this path stands."""
        return Origin(file=self.file, line=self.line(path), path=self.named(path))

    def message(self, trouble: Trouble) -> Message:
        """Return the fault as the message that the person gets."""
        line = self.line(trouble.path) if trouble.line is None else trouble.line
        return Message(
            file=self.file,
            line=line or None,
            field=self.named(trouble.path),
            found=trouble.found,
            expected=trouble.expected,
            advice=trouble.advice,
        )


def read_tree(source: Source) -> Tree:
    """Read the text of one document into plain values.

    Raises
    ------
    DocumentError
        With every fault of the text: not a text, bad syntax, a key given twice, an anchor, a tag ...
    """
    tree, troubles = grown(source)
    if troubles:
        raise DocumentError(tree.message(trouble) for trouble in troubles)
    return tree


def grown(source: Source) -> tuple[Tree, tuple[Trouble, ...]]:
    """Return the tree of a text as far as it could be read, and its faults.

    Raises
    ------
    DocumentError
        Where the text has no tree at all: with the fault that says why, after those found before it.
    """
    growth = _Growth()
    try:
        growth.run(decoded(source.text))
    except BrokenText as broken:
        so_far = Tree(file=source.file, value=growth.root, lines=growth.lines)
        last = Message(
            file=source.file,
            line=broken.line,
            field="",
            found=broken.found,
            expected=broken.expected,
            advice=broken.advice,
        )
        raise DocumentError([*map(so_far.message, growth.troubles), last]) from broken
    return Tree(file=source.file, value=growth.root, lines=growth.lines), tuple(growth.troubles)


def _is_plain(name: str, marks: str) -> bool:
    return 0 < len(name) <= 60 and all(c.isalnum() or c in marks for c in name)


@dataclass(slots=True)
class _Open:
    """A mapping or list that is still being read; `path` is `None` in a value that is thrown away."""

    path: Path | None
    block: dict[str, object] | None
    items: list[object]
    key: str | None = None
    key_line: int = 0
    thrown_away: bool = False


class _Growth:
    """One pass over the parser's events.

    The parser's own tree of nodes is not used: building it recurses in C, without a limit, and it has forgotten which
    nodes carried an anchor.
    """

    def __init__(self) -> None:
        self.root: dict[str, object] = {}
        self.lines: dict[Path, int] = {}
        self.troubles: list[Trouble] = []
        self._open: list[_Open] = []
        self._has_root = False
        self._is_empty = False

    def run(self, text: str) -> None:
        for event in _events(text):
            line = _line_of(event)
            if isinstance(event, yaml.ScalarEvent):
                self._scalar(event, line)
            elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
                self._begin(event, line)
            elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
                self._open.pop()
            elif isinstance(event, yaml.AliasEvent):
                self._alias(event, line)
            elif isinstance(event, yaml.DocumentStartEvent):
                self._document(event, line)
        if not self._has_root or self._is_empty:
            raise BrokenText(
                line=None,
                found="an empty file",
                expected="a document that begins with 'format: 1' and its 'kind'",
                advice="write the document, or leave the file out",
            )

    def _document(self, event: yaml.DocumentStartEvent, line: int) -> None:
        if self._has_root:
            raise BrokenText(
                line=line,
                found="a second document after '---'",
                expected="one document in a file",
                advice="move it to a file of its own",
            )
        if event.version or event.tags:
            raise BrokenText(
                line=1, found="a line that begins with '%'", expected="the document only", advice="delete that line"
            )

    def _scalar(self, event: yaml.ScalarEvent, line: int) -> None:
        text: str = event.value
        if self._wants_key():
            self._take_key(text, plain=not event.style, event=event, line=line)
            return
        value: object = text
        path = self._path()
        if not event.style:
            try:
                value = resolve(text)
            except NotFiniteError:
                value = None
                self._report(
                    path, self._line(line), quoted(text), "a finite number", "write the number itself, or leave it out"
                )
        self._place(value, path, line)
        self._refuse_marks(event, path, line)

    def _begin(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent, line: int) -> None:
        is_block = isinstance(event, yaml.MappingStartEvent)
        if self._wants_key():
            raise self._bad_key("a list or block as a key", line)
        if len(self._open) >= _DEEPEST:
            raise BrokenText(
                line=line,
                found=f"values nested more than {_DEEPEST} deep",
                expected=f"at most {_DEEPEST} levels",
                advice="check the brackets and the indentation",
            )
        if not self._open and not is_block:
            raise BrokenText(
                line=line,
                found="a list at the top of the file",
                expected="the keys of one document, 'format' and 'kind' first",
                advice="write each document into a file of its own",
            )
        path = self._path()
        block: dict[str, object] | None = {} if is_block else None
        items: list[object] = []
        self._place(items if block is None else block, path, line)
        self._refuse_marks(event, path, line)
        self._open.append(_Open(path=path, block=block, items=items))

    def _alias(self, event: yaml.AliasEvent, line: int) -> None:
        if self._wants_key():
            raise self._bad_key(f"the reference '*{event.anchor}' as a key", line)
        path = self._path()
        if not self._open:
            path = ()
        self._place(None, path, line)
        self._report(
            path,
            self._line(line),
            f"the reference {quoted(f'*{event.anchor}')}",
            "the value itself",
            "repeat the value, or put quotes around a text that begins with '*'",
        )

    def _wants_key(self) -> bool:
        return bool(self._open) and self._open[-1].block is not None and self._open[-1].key is None

    def _path(self) -> Path | None:
        """Path of the value that comes next."""
        if not self._open:
            return ()
        parent = self._open[-1]
        if parent.path is None or parent.thrown_away:
            return None
        if parent.block is None:
            return (*parent.path, len(parent.items))
        return (*parent.path, parent.key or "")

    def _line(self, line: int) -> int:
        """Line of the value that comes next: that of its key, where it has one."""
        parent = self._open[-1] if self._open else None
        return parent.key_line if parent is not None and parent.key is not None else line

    def _place(self, value: object, path: Path | None, line: int) -> None:
        if path is not None:
            self.lines[path] = self._line(line)
        if not self._open:
            self._has_root = True
            self._is_empty = value is None
            if self._is_empty:
                return
            if not isinstance(value, dict):
                raise BrokenText(
                    line=line,
                    found=show(value),
                    expected="the keys of a document, 'format' and 'kind' first",
                    advice="write the document as lines of 'key: value'",
                )
            self.root = value
            return
        parent = self._open[-1]
        if parent.block is None:
            parent.items.append(value)
            return
        if not parent.thrown_away:
            parent.block[parent.key or ""] = value
        parent.key = None
        parent.thrown_away = False

    def _take_key(self, key: str, *, plain: bool, event: yaml.ScalarEvent, line: int) -> None:
        parent = self._open[-1]
        block = parent.block
        if len(key) > _LONGEST_KEY:
            raise self._bad_key(f"a key of {len(key)} characters", line)
        parent.key = key
        parent.key_line = line
        path = self._path()
        if plain and key == "<<":
            parent.thrown_away = True
            self._report(
                path, line, "the merge key '<<'", "the keys themselves", "repeat the keys, or put quotes around '<<'"
            )
        elif block is not None and key in block:
            parent.thrown_away = True
            first = "" if path is None else f" (first on line {self.lines[path]})"
            self._report(path, line, f"the key {quoted(key)} twice{first}", "each key once", "delete one or rename it")
        self._refuse_marks(event, path, line)

    def _refuse_marks(
        self, event: yaml.ScalarEvent | yaml.MappingStartEvent | yaml.SequenceStartEvent, path: Path | None, line: int
    ) -> None:
        if event.anchor is not None:
            self._report(
                path,
                line,
                f"the anchor {quoted('&' + event.anchor)}",
                "the value alone",
                "delete the anchor, or put quotes around a text that begins with '&'",
            )
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._report(
                path,
                line,
                f"the tag {quoted(tag)}",
                "the value alone",
                "delete the tag, or put quotes around a text that begins with '!'",
            )

    def _report(self, path: Path | None, line: int, found: str, expected: str, advice: str) -> None:
        if path is None:  # inside a value that is thrown away: named by what holds it
            path = next(around.path for around in reversed(self._open) if around.path is not None)
        self.troubles.append(Trouble(path=path, line=line, found=found, expected=expected, advice=advice))

    def _bad_key(self, found: str, line: int) -> BrokenText:
        return BrokenText(line=line, found=found, expected="a short word as a key", advice="write a plain key")


def _line_of(event: yaml.Event) -> int:
    return 1 if event.start_mark is None else int(event.start_mark.line) + 1


def _events(text: str) -> Iterator[yaml.Event]:
    loader = yaml.CSafeLoader(text)
    try:
        while loader.check_event():
            if (event := loader.get_event()) is not None:
                yield event
    except yaml.YAMLError as error:
        raise plain_words(error, text) from error
    finally:
        loader.dispose()
