"""The templates of behaviours by name, as the union of behaviours lists them."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import get_args

from pydantic import BaseModel

from loomwright.documents.behaviour import Behaviour

__all__ = ["TEMPLATES"]

TEMPLATES: Mapping[str, type[BaseModel]] = MappingProxyType({
    str(get_args(model.model_fields["template"].annotation)[0]): model
    for model in get_args(get_args(Behaviour)[0])
})  # fmt: skip
