"""The HTTP interface asked whatever its own description allows, and much that it does not."""

import re
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis.core.failures import FailureGroup
from schemathesis.specs.openapi.checks import positive_data_acceptance

from loomwright.store.store import open_store
from loomwright.web.api.errors import ErrorBody
from loomwright.web.api.openapi import openapi
from loomwright.web.app import create_app
from loomwright.web.settings import LOCAL_HOSTS, Settings
from tests.web.conftest import clock, fill


class _Later:
    """An application that is made when the tests begin; the description is read before that."""

    made: Any = None

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        await self.made(scope, receive, send)


_APP = _Later()


@pytest.fixture(scope="module", autouse=True)
def _served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with open_store(tmp_path_factory.mktemp("api") / "own.store", clock=clock) as store:
        fill(store)
        _APP.made = create_app(store, clock, Settings(hosts=LOCAL_HOSTS | {"testserver"}))
        yield


_SCHEMA = schemathesis.openapi.from_dict(openapi())
_SCHEMA.app = _APP


# A request that is as described may still name what is not there, or hold a document with faults of its own.
_OF_ITS_OWN = {"no-such-choice"}
_OF_THE_REQUEST = {"body", "query", "path"}
_SLUG = re.compile(r"[a-z0-9]+([-.][a-z0-9]+)*")
_REAL = {"vehicle": "kestrin-fallow", "kit": "rookery-4", "evidence": "kestrin-fallow-evidence"}


def _really(values: Any, named: dict[str, str]) -> Any:
    """Name what is there in half of the requests, so that the other fields are reached."""
    if not isinstance(values, dict):
        return values
    return {
        key: named[key] if key in named and isinstance(v, str) and _SLUG.fullmatch(v) and len(v) % 2 else v
        for key, v in values.items()
    }


@_SCHEMA.hook
def map_body(context: Any, body: Any) -> Any:
    return _really(body, _REAL)


@_SCHEMA.hook
def map_path_parameters(context: Any, path_parameters: Any) -> Any:
    kind = str((path_parameters or {}).get("kind"))
    return _really(path_parameters, {"id": _REAL.get(kind, "pennywick")})


def _check(case: Any) -> None:
    answer = case.call()
    case.validate_response(answer, excluded_checks=[positive_data_acceptance])
    if answer.status_code in {400, 422} and case.meta.generation.mode.is_positive:
        told = answer.json()
        assert told["code"] in _OF_ITS_OWN or not {f["file"] for f in told["faults"]} & _OF_THE_REQUEST, told
    if answer.status_code >= 400:
        ErrorBody.model_validate(answer.json())


_QUICK = _SCHEMA.exclude(operation_id="issue-guide")
_SLOW = _SCHEMA.include(operation_id="issue-guide")  # it sets a guide in three forms


@_QUICK.parametrize()
@settings(max_examples=25, suppress_health_check=list(HealthCheck), derandomize=True)
def test_every_answer_is_as_described(case: Any) -> None:
    _check(case)


@_SLOW.parametrize()
@settings(max_examples=3, suppress_health_check=list(HealthCheck), derandomize=True)
def test_an_issued_guide_is_as_described(case: Any) -> None:
    _check(case)


def test_an_answer_that_is_not_as_described_is_found() -> None:
    wrong = deepcopy(openapi())
    wrong["components"]["schemas"]["HealthAnswer"]["properties"]["jobs"]["type"] = "string"
    told = schemathesis.openapi.from_dict(wrong)
    told.app = _APP
    case = told["/api/health"]["GET"].Case()
    with pytest.raises(FailureGroup, match="1 distinct failure"):
        case.validate_response(case.call())
