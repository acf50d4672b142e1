"""The OpenAPI 3.1 document: what FastAPI derives from the operations, plus bodies, media types, problems and executed examples."""

from __future__ import annotations

import asyncio
import inspect
from collections.abc import Callable, Iterable, Mapping
from functools import wraps
from typing import Any

import orjson
from fastapi import FastAPI
from pydantic import BaseModel

from service.api.problems import PROBLEMS, Problem
from service.api.ready import JSON, PROBLEM_JSON, Answer, Operation, QueryModel, parse_query
from service.api.schemas import NOTICE, NumberProblem, ProblemShape
from service.api.v1.tables import RowsQuery

DESCRIPTION = (
    "Decodes aircraft standard hardware numbers, lists what mates with a part and what may stand for it, from curated tables "
    "with a cited source for each row. Answers are pure functions of (release, request): the release digest is in every answer and in its ETag.\n\n"
    f"**{NOTICE}**"
)
TAGS = [
    {"name": "parts", "description": "Part numbers: what they say."},
    {"name": "compatibility", "description": "What goes with what, and what may stand for what."},
    {"name": "joints", "description": "Joints: stacks, torque, rivets, threads, holes, metals."},
    {"name": "tables", "description": "The rows that answers are made of."},
    {"name": "service", "description": "The release and the process."},
]
#: problems that any operation may answer with
EVERYWHERE = ("unknown-parameter", "bad-parameter", "not-acceptable", "internal-error")
#: parameters of an operation that are not the caller's
_INNER = {"media", "body", "pairs"}


def described(run: Callable[..., Any]) -> Callable[..., Any]:
    """``run`` as FastAPI should describe it: without what the route hands in itself. It is never called through FastAPI."""

    @wraps(run)
    def shown(*_args: Any, **_kwargs: Any) -> None:
        raise AssertionError("the ready route answers")

    signature = inspect.signature(run, eval_str=True)
    kept = [p for name, p in signature.parameters.items() if name not in _INNER]
    shown.__signature__ = signature.replace(parameters=kept, return_annotation=None)  # type: ignore[attr-defined]
    shown.__annotations__ = {p.name: p.annotation for p in kept}
    del shown.__wrapped__
    return shown


def responses(operation: Operation) -> dict[int | str, dict[str, Any]]:
    """The problem responses of an operation, one a status."""
    by_status: dict[int, list[str]] = {}
    number_problems = {"not-made", "not-covered", "ambiguous", "unreadable"}
    bodies = ("bad-body", "too-many", "unsupported-media-type") if operation.consumes else ()
    for name in dict.fromkeys((*operation.problems, *bodies, *EVERYWHERE)):
        by_status.setdefault(PROBLEMS[name].status, []).append(name)
    return {
        status: {
            "model": NumberProblem if set(names) <= number_problems else ProblemShape,
            "description": "; ".join(f"[{n}](/problems/{n}): {PROBLEMS[n].title}" for n in names),
        }
        for status, names in sorted(by_status.items())
    }


def finish(app: FastAPI, operations: Iterable[Operation]) -> dict[str, Any]:
    """The document of ``app``, finished with what FastAPI cannot know. Examples are not executed here."""
    document = FastAPI.openapi(app)
    schemas = document["components"]["schemas"]
    for operation in operations:
        entry = document["paths"][operation.template][operation.method.lower()]
        entry["responses"].pop("422", None) if "422" in entry["responses"] and not _has_422(operation) else None
        ok = entry["responses"]["200"]
        ok["description"] = "The answer."
        schema = ok.get("content", {}).get(JSON, {}).get("schema", {})
        ok["content"] = {m: {"schema": schema if m == JSON else {"type": "string"}} for m in operation.produces}
        if operation.of_release:
            ok["headers"] = {"ETag": {"description": "Release and representation.", "schema": {"type": "string"}}}
            if operation.method == "GET":
                entry["responses"]["304"] = {"description": "Unchanged in this release."}
        for status, response in entry["responses"].items():
            if status.startswith(("4", "5")) and "content" in response:
                response["content"] = {PROBLEM_JSON: response["content"].popitem()[1]}
        if operation.consumes:
            entry["requestBody"] = _request_body(operation, schemas)
        if "pairs" in inspect.signature(operation.run).parameters:
            entry.setdefault("parameters", []).extend(_row_parameters())
    return document


def _has_422(operation: Operation) -> bool:
    return any(
        PROBLEMS[name].status == 422 for name in (*operation.problems, *(("bad-body",) if operation.consumes else ()))
    )


def _request_body(operation: Operation, schemas: dict[str, Any]) -> dict[str, Any]:
    content: dict[str, Any] = {}
    for media in operation.consumes:
        if media == JSON and operation.body is not None:
            _add_schema(operation.body, schemas)
            content[media] = {"schema": {"$ref": f"#/components/schemas/{operation.body.__name__}"}}
        else:
            content[media] = {"schema": {"type": "string"}}
    return {"required": True, "content": content}


def _add_schema(model: type[BaseModel], schemas: dict[str, Any]) -> None:
    schema = model.model_json_schema(ref_template="#/components/schemas/{model}")
    for name, part in schema.pop("$defs", {}).items():
        schemas.setdefault(name, part)
    schemas[model.__name__] = schema


def _row_parameters() -> list[dict[str, Any]]:
    properties = RowsQuery.model_json_schema(ref_template="#/components/schemas/{model}")["properties"]
    plain = [
        {"name": name, "in": "query", "required": False, "description": schema.get("description", ""), "schema": schema}
        for name, schema in properties.items()
    ]
    cells = {
        "name": "cells", "in": "query", "required": False, "style": "deepObject", "explode": True,
        "description": "Keep the rows whose cell in a column is exactly this.",
        "schema": {"type": "object", "additionalProperties": {"type": "string"}},
    }  # fmt: skip
    return [*plain, cells]


def executed(
    document: dict[str, Any], operations: Iterable[Operation], problem_of: Callable[[Problem], Mapping[str, Any]]
) -> dict[str, Any]:
    """``document`` with every operation's examples run and recorded: what stands in it has happened."""
    for operation in operations:
        entry = document["paths"][operation.template][operation.method.lower()]
        for example in operation.examples:
            status, media, value = _run(operation, example, problem_of)
            response = entry["responses"][str(status)]["content"][media]
            response.setdefault("examples", {})[_example_name(example)] = {
                "summary": _example_call(operation, example),
                "value": value,
            }
            if "body" in example:
                body = example["body"]
                shown = orjson.loads(body.data) if body.media == JSON else body.data.decode()
                entry["requestBody"]["content"][body.media]["example"] = shown
    return document


def _run(
    operation: Operation, example: Mapping[str, Any], problem_of: Callable[[Problem], Mapping[str, Any]]
) -> tuple[int, str, Any]:
    arguments = dict(example)
    hints = inspect.signature(operation.run, eval_str=True).parameters
    if "query" in hints:
        model = getattr(hints["query"].annotation, "__origin__", hints["query"].annotation)
        assert issubclass(model, QueryModel)
        raw = "&".join(f"{k}={v}" for k, v in arguments.get("query", {}).items()).encode()
        arguments["query"] = parse_query(model, raw)
    if "media" in hints:
        arguments.setdefault("media", operation.produces[0])
    try:
        result = operation.run(**arguments)
        answer: Answer = asyncio.run(_awaited(result)) if inspect.isawaitable(result) else result
    except Problem as problem:
        return problem.type.status, PROBLEM_JSON, dict(problem_of(problem))
    value = orjson.loads(answer.body) if answer.media == JSON else answer.body.decode()
    return answer.status, answer.media, value


async def _awaited(result: Any) -> Answer:
    answer: Answer = await result
    return answer


def _example_name(example: Mapping[str, Any]) -> str:
    named = [str(v) for k, v in example.items() if k not in {"query", "body", "pairs"}]
    return "-".join(named).lower().replace("/", "-") or "example"


def _example_call(operation: Operation, example: Mapping[str, Any]) -> str:
    path = operation.template
    for name, value in example.items():
        path = path.replace("{" + name + "}", str(value))
    pairs = [*example.get("query", {}).items(), *example.get("pairs", [])]
    return f"{operation.method} {path}" + ("?" + "&".join(f"{k}={v}" for k, v in pairs) if pairs else "")
