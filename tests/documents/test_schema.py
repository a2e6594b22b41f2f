"""The JSON Schema of a kind of document."""

import pytest

from loomwright.documents.schema import schema
from tests.documents.sample import MODELS


def test_a_schema_names_keys_as_a_file_has_them_with_their_descriptions() -> None:
    made = schema("garden", MODELS)
    # Source: JSON Schema 2020-12, Core, section 8.1.1: "$schema" names the dialect by this URI.
    assert made["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert made["title"] == "Garden document"
    assert list(made["properties"])[:3] == ["format", "kind", "name"]
    assert made["properties"]["format"]["const"] == 1
    assert made["properties"]["kind"]["const"] == "garden"
    assert made["required"] == ["format", "kind", "beds"]
    assert made["additionalProperties"] is False
    assert "except" in made["$defs"]["Bed"]["properties"]
    assert made["$defs"]["Hose"]["properties"]["length_m"]["description"] == "Length of the hose."


def test_format_and_kind_are_in_the_schema_of_a_model_without_them() -> None:
    made = schema("shed", MODELS)
    assert list(made["properties"]) == ["format", "kind", "tools"]
    assert made["required"] == ["format", "kind"]


def test_a_kind_that_does_not_exist_is_refused_with_the_nearest_one() -> None:
    with pytest.raises(
        ValueError, match=r"^found the kind 'gardn', expected one of 'garden', 'shed'; did you mean 'garden'\?$"
    ):
        schema("gardn", MODELS)
    with pytest.raises(ValueError, match=r"^found the kind 'x', expected one of 'garden', 'shed'; choose one$"):
        schema("x", MODELS)
