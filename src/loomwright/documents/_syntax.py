"""Faults of the text itself, before it means anything: bytes, characters and YAML syntax, in plain words."""

import re
from dataclasses import dataclass

import yaml

from loomwright.documents._words import quoted

__all__ = ["BrokenText", "decoded", "plain_words"]

_LARGEST_BYTES = 2_000_000
# What YAML does not allow, and the line ends that most editors do not show (a message's line would then be off by one).
_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_EXCERPT = 72


@dataclass(eq=False, kw_only=True)
class BrokenText(Exception):  # noqa: N818 - it never leaves this room, and names what it is about
    """The text cannot be read at all.

    It is not frozen, because the interpreter writes a traceback into an exception.
    """

    line: int | None
    found: str
    expected: str
    advice: str


def decoded(content: str | bytes) -> str:
    """Return the text of a file, without a byte-order mark.

    Raises
    ------
    BrokenText
        Where it is too large, binary, not UTF-8, or holds a character that no editor shows.
    """
    data = content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass")
    if len(data) > _LARGEST_BYTES:
        raise BrokenText(
            line=None,
            found=f"{len(data) / 1e6:.1f} MB",
            expected=f"at most {_LARGEST_BYTES / 1e6:.0f} MB",
            advice="check that this is the right file, or split the document",
        )
    if b"\0" in data:
        raise BrokenText(
            line=_line(data, data.index(b"\0")),
            found="binary data",
            expected="a text file",
            advice="check that this is the right file and save it as UTF-8 text",
        )
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BrokenText(
            line=_line(data, error.start),
            found=f"the byte 0x{data[error.start]:02X}, which is not UTF-8",
            expected="UTF-8 text",
            advice="save the file as UTF-8",
        ) from error
    text = text.removeprefix("\ufeff")
    if match := _FORBIDDEN.search(text):
        raise BrokenText(
            line=_line(text.encode(), len(text[: match.start()].encode())),
            found=f"the invisible character U+{ord(match[0]):04X}",
            expected="printable text",
            advice="delete that character",
        )
    return text


def _line(data: bytes, offset: int) -> int:
    before = data[:offset].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return before.count(b"\n") + 1


# What the parser says, without the words that only its makers know -> found, expected, advice.
_PLAIN: tuple[tuple[str, str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "a second ': ' in one value, or a key indented under a value",
        "one 'key: value' in a line",
        "put quotes around a text that contains ': ', or correct the indentation",
    ),
    (
        "could not find expected ':'",
        "a line that is neither 'key: value' nor part of the text above",
        "a ':' and a space after the key",
        "add ': ' after the key, or correct the indentation",
    ),
    (
        "block sequence entries are not allowed",
        "a list item '- ' behind something else in one line",
        "each '- ' at the start of a line of its own",
        "begin a new line before the '- '",
    ),
    (
        "unexpected end of stream",
        "the end of the file inside a quoted text",
        "a closing quote",
        "close the quote that is opened at the mark",
    ),
    (
        "unexpected document indicator",
        "a line of '---' or '...' inside a quoted text",
        "a closing quote before it",
        "close the quote that is opened at the mark",
    ),
    (
        "did not find expected key",
        "something that is no key",
        "the next 'key: value', indented as the ones before it",
        "correct the indentation, or put quotes around the whole text",
    ),
    (
        "did not find expected '-' indicator",
        "a line without '- ' in a list",
        "the next '- ', indented as the ones before it",
        "correct the indentation, or add the '- '",
    ),
    (
        "did not find expected ',' or ']'",
        "a '[' that is not closed",
        "a ',' or a ']'",
        "close the list that is opened at the mark with ']'",
    ),
    (
        "did not find expected ',' or '}'",
        "a '{' that is not closed",
        "a ',' or a '}'",
        "close the block that is opened at the mark with '}'",
    ),
    (
        "escape c",
        "a '\\' in double quotes that begins no known escape",
        "a text in single quotes, where '\\' means itself",
        "use single quotes, or write '\\\\'",
    ),
    (
        "hexdecimal",
        "a '\\x', '\\u' or '\\U' without its hexadecimal digits",
        "2, 4 or 8 such digits",
        "use single quotes, or write '\\\\'",
    ),
    (
        "alphabetic or numeric character",
        "a text that begins with '*' or '&'",
        "a quoted text",
        "put quotes around it",
    ),
    (
        "unexpected ':'",
        "a ':' without a space behind it, inside brackets",
        "'key: value', or a quoted text",
        "put a space behind the ':', or quotes around the text",
    ),
    (
        "expected whitespace or line break",
        "a text that begins with '!'",
        "a quoted text",
        "put quotes around it",
    ),
    (
        "tag",
        "a text that begins with '!'",
        "a quoted text",
        "put quotes around it",
    ),
    (
        "comment or line break",
        "a text behind '|' or '>'",
        "the text on the lines below, indented",
        "move the text to the next line, or put quotes around it",
    ),
    (
        "indentation indicator",
        "'|' or '>' with a number",
        "'|' or '>' alone",
        "delete the number",
    ),
    (
        "nesting",
        "brackets nested a thousand deep",
        "a document of this program",
        "check that this is the right file",
    ),
)
# Problems that are noticed only behind the place that is wrong: the excerpt shows where the thing begins.
_OPENED = ("expected ':'", "unexpected end of stream", "unexpected document indicator", "',' or ']'", "',' or '}'")


def plain_words(error: yaml.YAMLError, text: str) -> BrokenText:
    """Return the fault that stopped the parser, with the line of the text and a caret under the place."""
    problem = str(getattr(error, "problem", None) or error)
    mark = getattr(error, "problem_mark", None)
    context = getattr(error, "context_mark", None)
    if context is not None and any(words in problem for words in _OPENED):
        mark = context
    if mark is None:
        return BrokenText(line=None, found=quoted(problem), expected="YAML", advice="correct the syntax")
    lines = re.split("\r\n|\r|\n", text)
    number = min(mark.line, len(lines) - 1)
    line, column = lines[number], mark.column
    if number > 0 and not line.strip():
        # The parser noticed at the end of the file; what it misses belongs to the last line with anything in it.
        number = max((n for n in range(number) if lines[n].strip()), default=number)
        line = lines[number]
        column = len(line)
    found, expected, advice = _told(problem, line, column)
    return BrokenText(line=number + 1, found=found, expected=expected, advice=advice + _caret(line, number, column))


def _told(problem: str, line: str, column: int) -> tuple[str, str, str]:
    indentation = line[: len(line) - len(line.lstrip())]
    if "\t" in indentation or "tab character" in problem:
        return "a tab in the indentation", "spaces", "replace each tab by spaces"
    for words, found, expected, advice in _PLAIN:
        if words in problem:
            return found, expected, advice
    here = line[column : column + 1]
    if "cannot start any token" in problem or "node content" in problem:
        if here and here not in " \t":
            return f"a value that begins with {quoted(here)}", "a quoted text", "put quotes around it"
        return "a list or block in brackets that breaks off", "a value or the closing bracket", "complete it"
    return f"a slip of syntax ({problem})", "YAML", "correct it at the mark"


def _caret(line: str, number: int, column: int) -> str:
    start = max(0, column - _EXCERPT // 2)
    shown = line[start : start + _EXCERPT].replace("\t", " ")
    gutter = f"{number + 1:>6} | "
    return f"\n{gutter}{shown}\n{' ' * (len(gutter) - 2)}| {' ' * (column - start)}^"
