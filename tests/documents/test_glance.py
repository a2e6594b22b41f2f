"""What a list shows of a document, from its first lines."""

import pytest

from loomwright.documents.demo import demo_files
from loomwright.documents.glance import Glance, glance


def test_documents_of_the_demo_are_called_by_their_names() -> None:
    files = demo_files()
    assert glance(files["vehicles/kestrin-fallow.yaml"]) == Glance(name="Kestrin Fallow")
    assert glance(files["kits/rookery-4.yaml"]) == Glance(name="Rookery 4", revision="C")
    assert glance(files["shop.yaml"]).name == "Pennywick Harness Bench"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("", ""),
        ("name: A", "A"),
        ("names: [{maker: A, model: B}, {maker: C, model: D}]", "A B"),
        ("names:\n- model: B\n  maker: A\nname: later", "A B"),
        ("path: {name: inside}\nname: outside", "outside"),
        ("name: [a, b]\nid: x", ""),
        ("name: 'A\n", ""),
        ("\x00", ""),
        ("- a\n- b", ""),
        ("a: 1\n" * 300 + "name: too far down", ""),
    ],
)  # fmt: skip
def test_other_texts(text: str, name: str) -> None:
    assert glance(text).name == name
