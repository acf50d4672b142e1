"""The OpenAPI document: every operation described, named, exemplified by a call that has happened."""

from __future__ import annotations

import json
import re
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service import exporting
from service.api.problems import PROBLEMS
from service.api.ready import Operation
from service.catalogue.catalogue import Catalogue


@pytest.fixture(scope="module")
def document(catalogue: Catalogue) -> dict[str, Any]:
    """The document as it would be exported now; that the exported file is this one is held in tests/test_exports.py."""
    found: dict[str, Any] = json.loads(exporting.document(catalogue))
    return found


def described(document: dict[str, Any], operation: Operation) -> dict[str, Any]:
    path = re.sub(r":\w+}", "}", operation.path)  # a converter is no part of a path template
    found: dict[str, Any] = document["paths"][path][operation.method.lower()]
    return found


def test_every_operation_is_described_and_has_an_executed_example(document: dict[str, Any], served: FastAPI) -> None:
    for operation in served.state.operations:
        entry = described(document, operation)
        assert entry["operationId"] == operation.name
        assert re.fullmatch(r"[a-z]+(-[a-z]+)+", operation.name), "a verb and a noun"
        assert entry["summary"]
        assert entry["tags"]
        assert operation.examples, f"{operation.name} has no example"
        shown = [
            e
            for r in entry["responses"].values()
            for m in r.get("content", {}).values()
            for e in m.get("examples", {}).values()
        ]
        assert len(shown) >= len({str(e) for e in operation.examples}), operation.name
        assert operation.shape is not None or set(operation.produces) != {"application/json"}


def test_every_json_example_is_of_the_shape_of_its_operation(document: dict[str, Any], served: FastAPI) -> None:
    for operation in served.state.operations:
        answered = described(document, operation)["responses"]["200"]["content"].get("application/json", {})
        for example in answered.get("examples", {}).values():
            operation.shape.model_validate_json(json.dumps(example["value"]))


def test_every_problem_an_operation_may_answer_with_exists(document: dict[str, Any], served: FastAPI) -> None:
    for operation in served.state.operations:
        assert set(operation.problems) <= set(PROBLEMS)
        for status, response in described(document, operation)["responses"].items():
            if status[0] in "45":
                assert set(response["content"]) == {"application/problem+json"}, f"{operation.name} {status}"


def test_every_route_under_v1_is_an_operation(served: FastAPI) -> None:
    paths = {route.path for route in served.router.routes if getattr(route, "path", "").startswith("/v1/")}
    assert paths == {o.path for o in served.state.operations if o.path.startswith("/v1/")}


async def test_the_served_document_has_the_operations_of_the_exported_one(
    app: httpx.AsyncClient, document: dict[str, Any]
) -> None:
    served = (await app.get("/openapi.json")).json()
    assert served["paths"].keys() == document["paths"].keys()
