"""seed_tables/datapackage.json, derived from the row classes: a Table Schema for each file, with keys, enumerations and foreign keys.

The row classes are the truth; the file exists so that any tool that reads data packages can check the tables without this code.
"""

from __future__ import annotations

import json
from enum import StrEnum
from typing import Any, get_args, get_origin

from annotated_types import MinLen
from pydantic import StringConstraints
from pydantic.fields import FieldInfo

from service.tables.reading import Package
from service.tables.registry import TABLES, columns
from service.tables.rows import Cited, Row

LICENCE = {"name": "CC0-1.0", "title": "The rows are facts, stated in our own words with their source"}


def datapackage(package: Package) -> str:
    """The descriptor of every file of the package, as JSON text."""
    resources = [_resource(sheet.table, sheet.file) for sheet in package.sheets]
    document = {
        "name": "gripledger-tables",
        "title": "Aircraft standard hardware: numbers, dimensions, rules and relations, each row with its source",
        "profile": "tabular-data-package",
        "licenses": [LICENCE],
        "resources": sorted(resources, key=lambda r: str(r["path"])),
    }
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


def _resource(table: str, file: str) -> dict[str, Any]:
    model = TABLES[table]
    schema: dict[str, Any] = {
        "fields": [_field(column, model) for column in columns(model)],
        "missingValues": [],
        "primaryKey": [model.key],
    }
    keys = []
    if issubclass(model, Cited):
        keys.append({"fields": ["source_id"], "reference": {"resource": "sources", "fields": ["source_id"]}})
    if table in {"facts", "laws", "gaps"}:
        keys.append({"fields": ["attribute"], "reference": {"resource": "attributes", "fields": ["attribute"]}})
    if table in {"basic_numbers", "slots", "made"} and "/" in file:
        family = file.rpartition("/")[0].replace("/", "-").replace("_", "-") + "-families"
        keys.append({"fields": ["family"], "reference": {"resource": family, "fields": ["family"]}})
    if keys:
        schema["foreignKeys"] = keys
    return {
        "name": file.removesuffix(".csv").replace("/", "-").replace("_", "-"),
        "path": file,
        "profile": "tabular-data-resource",
        "description": model.about,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "dialect": {"delimiter": ",", "header": True},
        "schema": schema,
    }


def _field(column: str, model: type[Row]) -> dict[str, Any]:
    info: FieldInfo = model.model_fields.get(column) or model.model_fields[f"{column}_"]
    constraints: dict[str, Any] = {}
    if column == model.key:
        constraints.update(required=True, unique=True)
    annotation = info.annotation
    if get_origin(annotation) is not None and all(isinstance(word, str) for word in get_args(annotation)):
        constraints["enum"] = list(get_args(annotation))
    elif isinstance(annotation, type) and issubclass(annotation, StrEnum):
        constraints["enum"] = [word.value for word in annotation]
    for rule in info.metadata:
        pattern = rule.pattern if isinstance(rule, StringConstraints) else getattr(rule, "pattern", None)
        if pattern:
            constraints["pattern"] = str(pattern).removeprefix("^").removesuffix("$")
        least = rule.min_length if isinstance(rule, MinLen | StringConstraints) else None
        if least:
            constraints["minLength"] = least
    field: dict[str, Any] = {"name": column, "type": "string"}
    return {**field, "constraints": constraints} if constraints else field
