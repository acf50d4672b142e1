"""Derived files are fresh, and the OpenAPI document is one that others' tools accept."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from frictionless import Package
from openapi_spec_validator import validate

from service.exporting import HOME, derived
from service.settings import Settings

FILES = dict(derived(Settings().tables))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_derived_file_is_fresh(path: Path) -> None:
    assert path.read_text(encoding="utf-8") == FILES[path], f"{path.name} is stale: python -m service export"


def test_openapi_document_is_valid() -> None:
    validate(json.loads((HOME / "openapi" / "v1.json").read_text()))


def test_every_operation_has_an_executed_example() -> None:
    document = json.loads((HOME / "openapi" / "v1.json").read_text())
    for path, operations in document["paths"].items():
        for method, operation in operations.items():
            shown = [c for r in operation["responses"].values() for c in r.get("content", {}).values() if c.get("examples")]
            assert shown, f"{method} {path} shows no example"


def test_data_package_validates_with_frictionless() -> None:
    report = Package(str(Settings().tables / "datapackage.json")).validate()
    assert report.valid, [error.message for task in report.tasks for error in task.errors[:3]]
