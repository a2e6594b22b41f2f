"""The text of a file: its values and lines, and every way in which it is no document at all."""

import pytest

from loomwright.documents.reading import Source, read_tree
from loomwright.errors import DocumentError
from tests.documents.sample import faults_of, read

HEAD = "format: 1\nkind: shed\n"

BROKEN: list[tuple[str, list[str]]] = [
    (
        "",
        [
            ": found an empty file, expected a document that begins with 'format: 1' and its 'kind'; write the "
            "document, or leave the file out",
        ],
    ),
    (
        "# nothing\n",
        [
            ": found an empty file, expected a document that begins with 'format: 1' and its 'kind'; write the "
            "document, or leave the file out",
        ],
    ),
    (
        "---\n",
        [
            ": found an empty file, expected a document that begins with 'format: 1' and its 'kind'; write the "
            "document, or leave the file out",
        ],
    ),
    (
        "- a\n",
        [
            ":1: found a list at the top of the file, expected the keys of one document, 'format' and 'kind' "
            "first; write each document into a file of its own",
        ],
    ),
    (
        "just words\n",
        [
            ":1: found 'just words', expected the keys of a document, 'format' and 'kind' first; write the "
            "document as lines of 'key: value'",
        ],
    ),
    (
        "12\n",
        [
            ":1: found the number 12, expected the keys of a document, 'format' and 'kind' first; write the "
            "document as lines of 'key: value'",
        ],
    ),
    (
        "format: 1\n",
        [
            ":1: kind: found nothing, expected one of 'garden', 'shed'; add the line 'kind: ...' at the top",
        ],
    ),
    (
        "kind: shed\n",
        [
            ":1: format: found nothing, expected the number 1; begin with the line 'format: 1'",
        ],
    ),
    (
        "format: 2\nkind: shed\nnew: x\n",
        [
            ":1: format: found a document of format 2, expected format 1, the newest that this program reads; "
            "update the program",
        ],
    ),
    (
        "format: 0\nkind: shed",
        [
            ":1: format: found the number 0, expected the number 1; write 'format: 1'",
        ],
    ),
    (
        "format: '1'\nkind: shed",
        [
            ":1: format: found '1', expected the number 1; write 'format: 1'",
        ],
    ),
    (
        "format: 1\nkind: shet",
        [
            ":2: kind: found 'shet', expected one of 'garden', 'shed'; did you mean 'shed'?",
        ],
    ),
    (
        "format: 1\nkind: 3",
        [
            ":2: kind: found the number 3, expected one of 'garden', 'shed'; choose one",
        ],
    ),
    (
        "format: true\nkind: shed",
        [
            ":1: format: found true, expected the number 1; write 'format: 1'",
        ],
    ),
    (
        HEAD + "tools: [a",
        [
            ":3: found a '[' that is not closed, expected a ',' or a ']'; close the list that is opened at the "
            "mark with ']'\n     3 | tools: [a\n       |        ^",
        ],
    ),
    (
        HEAD + "tools: {a: b",
        [
            ":3: found a '{' that is not closed, expected a ',' or a '}'; close the block that is opened at the "
            "mark with '}'\n     3 | tools: {a: b\n       |        ^",
        ],
    ),
    (
        HEAD + "tools: ['a]\n\n\n",
        [
            ":3: found the end of the file inside a quoted text, expected a closing quote; close the quote that is "
            "opened at the mark\n     3 | tools: ['a]\n       |         ^",
        ],
    ),
    (
        HEAD + "tools: [a, b\nmore: c\n",
        [
            ":3: found a '[' that is not closed, expected a ',' or a ']'; close the list that is opened at the "
            "mark with ']'\n     3 | tools: [a, b\n       |        ^",
        ],
    ),
    (
        HEAD + "note: see: page 3",
        [
            ":3: found a second ': ' in one value, or a key indented under a value, expected one 'key: value' in a "
            "line; put quotes around a text that contains ': ', or correct the indentation\n     3 | note: see: "
            "page 3\n       |          ^",
        ],
    ),
    (
        HEAD + "tools:\n\t- a",
        [
            ":4: found a tab in the indentation, expected spaces; replace each tab by spaces\n     4 |  - a\n      "
            " | ^",
        ],
    ),
    (
        HEAD + "tools: @a",
        [
            ":3: found a value that begins with '@', expected a quoted text; put quotes around it\n     3 | tools: "
            "@a\n       |        ^",
        ],
    ),
    (
        HEAD + "tools: a\n  b: c",
        [
            ":4: found a second ': ' in one value, or a key indented under a value, expected one 'key: value' in a "
            "line; put quotes around a text that contains ': ', or correct the indentation\n     4 |   b: c\n      "
            " |    ^",
        ],
    ),
    (
        HEAD + "tools:\n- a\nb",
        [
            ":5: found a line that is neither 'key: value' nor part of the text above, expected a ':' and a space "
            "after the key; add ': ' after the key, or correct the indentation\n     5 | b\n       | ^",
        ],
    ),
    (
        HEAD + "tools:\n  - a\n b: c",
        [
            ":5: found something that is no key, expected the next 'key: value', indented as the ones before it; "
            "correct the indentation, or put quotes around the whole text\n     5 |  b: c\n       |  ^",
        ],
    ),
    (
        HEAD + 'tools: ["\\q"]',
        [
            ":3: found a '\\' in double quotes that begins no known escape, expected a text in single quotes, "
            "where '\\' means itself; use single quotes, or write '\\\\'\n     3 | tools: [\"\\q\"]\n       |      "
            "    ^",
        ],
    ),
    (
        HEAD + "tools: {a:, b}",
        [
            ":3: found a ':' without a space behind it, inside brackets, expected 'key: value', or a quoted text; put "
            "a space behind the ':', or quotes around the text\n     3 | tools: {a:, b}\n       |         ^",
        ],
    ),
    (
        HEAD + "tools: [![a]]",
        [
            ":3: found a text that begins with '!', expected a quoted text; put quotes around it\n     3 | tools: "
            "[![a]]\n       |          ^",
        ],
    ),
    (
        HEAD + "tools: | a\n  b",
        [
            ":3: found a text behind '|' or '>', expected the text on the lines below, indented; move the text to the "
            "next line, or put quotes around it\n     3 | tools: | a\n       |          ^",
        ],
    ),
    (
        HEAD + "tools: a\n--- \nb: c\n",
        [
            ":4: found a second document after '---', expected one document in a file; move it to a file of its own",
        ],
    ),
    (
        "%YAML 1.2\n---\nformat: 1\nkind: shed\n",
        [
            ":1: found a line that begins with '%', expected the document only; delete that line",
        ],
    ),
    (
        HEAD + "tools: [&x a]",
        [
            ":3: tools[0]: found the anchor '&x', expected the value alone; delete the anchor, or put quotes "
            "around a text that begins with '&'",
        ],
    ),
    (
        HEAD + "tools: *x",
        [
            ":3: tools: found the reference '*x', expected the value itself; repeat the value, or put quotes "
            "around a text that begins with '*'",
        ],
    ),
    (
        HEAD + "*x : 3",
        [
            ":3: found the reference '*x' as a key, expected a short word as a key; write a plain key",
        ],
    ),
    (
        HEAD + "? [a]\n: b",
        [
            ":3: found a list or block as a key, expected a short word as a key; write a plain key",
        ],
    ),
    (
        HEAD + "tools: [!!str 1, !own b]",
        [
            ":3: tools[0]: found the tag '!!str', expected the value alone; delete the tag, or put quotes around a "
            "text that begins with '!'",
            ":3: tools[1]: found the tag '!own', expected the value alone; delete the tag, or put quotes around a "
            "text that begins with '!'",
        ],
    ),
    (
        HEAD + "tools: [a]\ntools: [b]\ntools: {c: [&x d]}",
        [
            ":4: tools: found the key 'tools' twice (first on line 3), expected each key once; delete one or rename it",
            ":5: tools: found the key 'tools' twice (first on line 3), expected each key once; delete one or rename it",
            ":5: found the anchor '&x', expected the value alone; delete the anchor, or put quotes around a text "
            "that begins with '&'",
        ],
    ),
    (
        HEAD + "<<: {tools: [a]}",
        [
            ":3: ['<<']: found the merge key '<<', expected the keys themselves; repeat the keys, or put quotes "
            "around '<<'",
        ],
    ),
    (
        HEAD + "tools: .inf",
        [
            ":3: tools: found '.inf', expected a finite number; write the number itself, or leave it out",
        ],
    ),
    (
        HEAD + "tools: " + "[" * 70 + "]" * 70,
        [
            ":3: found values nested more than 60 deep, expected at most 60 levels; check the brackets and the "
            "indentation",
        ],
    ),
    (
        HEAD + "tools: [b'\u0007']",
        [
            ":3: found the invisible character U+0007, expected printable text; delete that character",
        ],
    ),
    (
        HEAD + "\ntools: [a b]",
        [
            ":4: found the invisible character U+2028, expected printable text; delete that character",
        ],
    ),
    (
        "format: 1\r\nkind: shed\r\ntools: [1]",
        [
            ":3: tools[0]: found the number 1, expected text; put quotes around it",
        ],
    ),
    (
        HEAD + "k" * 300 + ": 1",
        [
            ":3: found a key of 300 characters, expected a short word as a key; write a plain key",
        ],
    ),
    (
        HEAD + "tools: a\n    'b",
        [
            ":3: tools: found \"a 'b\", expected a list; write each item on a line of its own, with '- ' before it",
        ],
    ),
    (
        HEAD + "tools: &",
        [
            ":3: found a text that begins with '*' or '&', expected a quoted text; put quotes around it\n     3 | "
            "tools: &\n       |         ^",
        ],
    ),
    (
        HEAD + "tools: - a",
        [
            ":3: found a list item '- ' behind something else in one line, expected each '- ' at the start of a "
            "line of its own; begin a new line before the '- '\n     3 | tools: - a\n       |        ^",
        ],
    ),
    (
        HEAD + 'tools: "a',
        [
            ":3: found the end of the file inside a quoted text, expected a closing quote; close the quote that is "
            'opened at the mark\n     3 | tools: "a\n       |        ^',
        ],
    ),
    (
        "}",
        [
            ":1: found a value that begins with '}', expected a quoted text; put quotes around it\n     1 | }\n    "
            "   | ^",
        ],
    ),
    (
        HEAD + "tools: a\nb\nc: d",
        [
            ":4: found a line that is neither 'key: value' nor part of the text above, expected a ':' and a space "
            "after the key; add ': ' after the key, or correct the indentation\n     4 | b\n       | ^",
        ],
    ),
    (
        HEAD + "'a': |0\n b",
        [
            ":3: found '|' or '>' with a number, expected '|' or '>' alone; delete the number\n "
            "    3 | 'a': |0\n       |       ^",
        ],
    ),
    (
        HEAD + "tools: '\ud800'",
        [
            ":3: found the byte 0xED, which is not UTF-8, expected UTF-8 text; save the file as UTF-8",
        ],
    ),
]


@pytest.mark.parametrize(("text", "told"), BROKEN)
def test_a_fault_of_the_text_is_told_in_plain_words(text: str, told: list[str]) -> None:
    assert [message.removeprefix("g.yaml") for message in faults_of(text)] == told


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (
            HEAD.encode() + b"tools: [\xe9]",
            "g.yaml:3: found the byte 0xE9, which is not UTF-8, expected UTF-8 text; save the file as UTF-8",
        ),
        (
            b"format: 1\r\nkind: sh\0ed",
            "g.yaml:2: found binary data, expected a text file; check that this is the right file and save it as UTF-8 "
            "text",
        ),
        (
            HEAD.encode("utf-16"),
            "g.yaml:1: found the byte 0xFF, which is not UTF-8, expected UTF-8 text; save the file as UTF-8",
        ),
        (
            b"# " + b"x" * 2_100_000,
            "g.yaml: found 2.1 MB, expected at most 2 MB; check that this is the right file, or split the document",
        ),
    ],
)
def test_what_is_no_text_is_refused_before_it_is_parsed(content: bytes, told: str) -> None:
    if content.startswith(b"\xff\xfe"):
        content = content.replace(b"\0", b"")
    assert faults_of(content) == [told]


def test_a_number_too_large_for_a_float_is_refused() -> None:
    (told,) = faults_of(HEAD + "tools: [" + "9" * 350 + ".5]")
    assert told == (
        f"g.yaml:3: tools[0]: found '{'9' * 45}...', expected a finite number; write the number itself, or leave it out"
    )


def test_brackets_without_end_do_not_exhaust_the_stack() -> None:
    assert faults_of(HEAD + "tools: " + "[" * 900)[0].startswith("g.yaml:3: found values nested more than 60 deep")
    # Newer parsers stop at a thousand brackets by themselves, older ones leave that to the depth told here.
    assert faults_of(HEAD + "tools: " + "[" * 100_000)[0].startswith(
        ("g.yaml:3: found brackets nested a thousand deep", "g.yaml:3: found values nested more than 60 deep")
    )
    indented = "".join(f"{' ' * depth}a:\n" for depth in range(900))
    assert faults_of(HEAD + indented)[0].startswith("g.yaml:63: found values nested more than 60 deep")


def test_faults_before_the_one_that_ends_the_reading_are_told_too() -> None:
    assert [message.split(",")[0] for message in faults_of(HEAD + "tools: &t [a]\ntools: [b]\nnote: 'open")] == [
        "g.yaml:3: tools: found the anchor '&t'",
        "g.yaml:4: tools: found the key 'tools' twice (first on line 3)",
        "g.yaml:5: found the end of the file inside a quoted text",
    ]


def test_a_byte_order_mark_and_other_line_ends_change_nothing() -> None:
    plain = read(HEAD + "tools: [a, b]\n")
    for text in ("\ufeff" + HEAD + "tools: [a, b]\n", HEAD.replace("\n", "\r\n") + "tools: [a, b]\r\n"):
        other = read(text.encode())
        assert (other.document, other.lines) == (plain.document, plain.lines)


# Source: YAML 1.1 (2005), "Language-Independent Types" (bool, float, int, merge, timestamp): NO and on are booleans
# there, 12:30 is the number 750 in base 60, 0123 the number 83 in base 8, 2026-05-31 a time. Here each stays text.
@pytest.mark.parametrize(
    "text",
    ["NO", "no", "on", "Yes", "y", "True", "FALSE", "Null", "12:30", "1E3", "1e3", "1.5e3", "0123", "-012", "00",
     "0x1F", "0o17", "1_000", "+5", "5.", ".5", "-.5", "1.2.3", "2026-05-31", "inf", "nan", "-inf", "NaN", "-a",
     "1,5", "=", "1234567890123456789", "١٢"],
)  # fmt: skip
def test_what_only_resembles_a_number_or_a_boolean_stays_text(text: str) -> None:
    assert read_tree(Source(file="f", text=f"a: {text}")).value == {"a": text}


@pytest.mark.parametrize(
    ("text", "value"),
    [("true", True), ("false", False), ("null", None), ("~", None), ("", None), ("0", 0), ("-7", -7), ("2019", 2019),
     ("0.5", 0.5), ("-12.50", -12.5), ("123456789012345678", 123456789012345678)],
)  # fmt: skip
def test_plain_numbers_booleans_and_nothing_are_values(text: str, value: object) -> None:
    read_value = read_tree(Source(file="f", text=f"a: {text}")).value["a"]
    assert (read_value, type(read_value)) == (value, type(value))
    if text:
        assert read_tree(Source(file="f", text=f"a: '{text}'")).value == {"a": text}


def test_keys_are_text_whatever_they_look_like() -> None:
    assert read_tree(Source(file="f", text="{12: a, true: b, NO: c, 1.50: d, null: e}")).value == {
        "12": "a",
        "true": "b",
        "NO": "c",
        "1.50": "d",
        "null": "e",
    }


def test_every_value_has_the_line_of_its_key_or_of_its_dash() -> None:
    tree = read_tree(
        Source(
            file="f",
            text="# note\na: 1\nb:\n  c: |\n    x\n    y\n  d:\n    - e\n    -\n      f: 2\n    - [3,\n      4]\n",
        )
    )
    assert tree.lines == {
        (): 2,
        ("a",): 2,
        ("b",): 3,
        ("b", "c"): 4,
        ("b", "d"): 7,
        ("b", "d", 0): 8,
        ("b", "d", 1): 10,
        ("b", "d", 1, "f"): 10,
        ("b", "d", 2): 11,
        ("b", "d", 2, 0): 11,
        ("b", "d", 2, 1): 12,
    }
    assert tree.value == {"a": 1, "b": {"c": "x\ny\n", "d": ["e", {"f": 2}, [3, 4]]}}


def test_an_item_is_named_by_its_id_where_it_has_one_that_can_be_read() -> None:
    tree = read_tree(
        Source(file="f", text="beds: [{id: north, x: 1}, {id: 3}, {id: 'a[b'}, 5]\n'odd key': {a.b: [1]}\n")
    )
    assert [
        tree.named(path)
        for path in [
            ("beds", 0, "x"),
            ("beds", 1, "id"),
            ("beds", 2, "id"),
            ("beds", 3),
            ("odd key", "a.b", 0),
            ("beds", 9, "gone"),
            (),
        ]
    ] == ["beds[north].x", "beds[1].id", "beds[2].id", "beds[3]", "['odd key']['a.b'][0]", "beds[9].gone", ""]
    assert tree.origin(("beds", 0, "gone")).line == 1


def test_read_tree_raises_all_faults_of_the_text_together() -> None:
    with pytest.raises(DocumentError, match=r"(?s)&a.*twice") as caught:
        read_tree(Source(file="f", text="a: &a 1\na: 2\n"))
    assert [message.line for message in caught.value.messages] == [1, 2]
