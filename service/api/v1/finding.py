"""Parts without their number: by attribute, and by the beginning of a number."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Annotated, Any

from fastapi import Query
from pydantic import Field

from service.api.desk import Desk
from service.api.paging import cursor_of, link_header, place_of
from service.api.problems import Problem
from service.api.ready import JSON, Answer, Body, Operation, parse_json
from service.api.schemas.finding import CompleteAnswer, EncodeAnswer, EncodeAsked, SearchAnswer
from service.api.v1.asking import SearchQuery, Wants, bad_body, bad_parameter, plain, takes_attributes
from service.api.v1.parts import BasisQuery
from service.api.wire import cited, value_members
from service.designation.reading import Designation
from service.finding.completing import Completer, Completion
from service.finding.missing import NearMiss, near_misses
from service.finding.searching import Plan, Question, Searcher
from service.parts.part import Part
from service.quantity import decimal_text
from service.tables.rows import TRUST

#: near misses in one answer
_NEAR = 20


class CompleteQuery(BasisQuery):
    """What was typed so far."""

    prefix: str = Field(
        min_length=1, max_length=60, description="The beginning of a number; case, spaces and missing dashes do not matter.", examples=["an4-1"]
    )  # fmt: skip
    limit: int = Field(50, ge=1, le=1000, description="Completions in the answer.")


def operations(desk: Desk) -> list[Operation]:
    """The operations that find numbers."""
    searcher, completer = Searcher(desk.catalogue, desk.encoder), Completer(desk.catalogue)
    wants = Wants(desk.catalogue, desk.encoder)
    release = desk.catalogue.digest

    def search_parts(query: Annotated[SearchQuery, Query()]) -> Answer:
        order: str = getattr(query, "sort", "number")
        sort = order.removeprefix("-")
        question = Question(
            wants.of_query(query), query.kind, query.family, query.basis,
            None if sort == "number" else sort, order.startswith("-"),
        )  # fmt: skip
        if not question.wants and query.family is None:
            raise bad_parameter("family", "a search needs a family or at least one attribute")
        _scoped(searcher, question, bad_parameter)
        begin = place_of(query.cursor, release) + 1
        plan = searcher.plan(question)
        end = begin + query.limit
        cursor = cursor_of(release, end - 1) if end < plan.total else None
        members = {**_found(plan, question, begin, query.limit), "next": cursor}
        return Answer(desk.writer.noticed(members), headers=link_header("/v1/parts", plain(query), cursor))

    def encode_part(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: EncodeAsked = parse_json(EncodeAsked, body.data)
        question = Question(wants.of_body(asked), asked.kind, asked.family, query.basis)
        _scoped(searcher, question, bad_body)
        plan = searcher.plan(question)
        near = near_misses(searcher, question)[:_NEAR]
        members = {
            **_found(plan, question, 0, asked.limit),
            "more": plan.total > asked.limit,
            "near_misses": [_near_members(miss, query.basis) for miss in near],
        }
        return Answer(desk.writer.noticed(members))

    def complete_number(query: Annotated[CompleteQuery, Query()]) -> Answer:
        found = completer.complete(query.prefix)
        members = {
            "prefix": query.prefix,
            "items": [_completion_members(item, query.basis) for item in found[: query.limit]],
            "more": len(found) > query.limit,
        }
        return Answer(desk.writer.noticed(members))

    takes_attributes(search_parts, desk.catalogue)
    asked = b'{"kind": "bolt", "attributes": {"thread": "1/4-28", "grip_length": {"min": "7/16", "max": "0.5"}, "head_drilled": true}, "limit": 5}'
    return [
        Operation(
            "GET", "/v1/parts", "search-parts", "The numbers that have these attributes", search_parts, SearchAnswer,
            problems=("bad-parameter", "stale-cursor"),
            examples=({"query": {"kind": "bolt", "thread": "1/4-28", "grip_length_min": "7/16", "grip_length_max": "1/2", "limit": "2"}},),
            description="Runs the grammar backwards: every number it can make is searched, whether or not a list ever held it. Each attribute is a "
            "parameter; a quantity also has `_min` and `_max`, both included (`grip_length_min` bounds the grip; the attribute of that name is reached by "
            "`grip_length_min_min` and `grip_length_min_max`). A value that no row gives meets nothing; `left_out` names the families that are "
            "silent, because they may still have the part. That a number can be made says nothing about its being in stock or approved for the place.",
            warm=lambda: (searcher.columns.build(family, BasisQuery().basis) for family in desk.catalogue.families.values()),
        ),
        Operation(
            "POST", "/v1/parts/encode", "encode-part", "Attributes in, every number that meets them out", encode_part, EncodeAnswer,
            consumes=(JSON,), body=EncodeAsked, problems=("bad-body", "too-many"), examples=({"body": Body(JSON, asked)},),
            description="Besides the numbers that meet every attribute, names numbers that fail on exactly one, with the attribute that rules them out.",
        ),
        Operation(
            "GET", "/v1/parts/complete", "complete-number", "Completions of a half-typed number", complete_number, CompleteAnswer,
            examples=({"query": {"prefix": "an4-1", "limit": "3"}},),
            description="Basic numbers that begin like the text, then the pieces that may come next, with their meaning.",
        ),
    ]  # fmt: skip


def _scoped(searcher: Searcher, question: Question, problem: Callable[[str, str], Problem]) -> None:
    """Raises Problem where no family can be meant: an empty answer would read as if no such part existed."""
    if question.family is None:
        return
    if not searcher.scope(None, question.family):
        raise problem("family", f"no family {question.family!r} is held; see /v1/families")
    if not searcher.scope(question.kind, question.family):
        raise problem("family", f"{question.family} is of another kind than {question.kind}")


def _found(plan: Plan, question: Question, begin: int, most: int) -> dict[str, Any]:
    names = [want.attribute for want in question.wants]
    if question.sort is not None and question.sort not in names:
        names.append(question.sort)
    return {
        "items": [_item_members(found, names, question.basis) for found in plan.page(begin, most)],
        "total": plan.total,
        "left_out": _lacking(
            plan.left_out, "no row that is good enough gives it, so none of their numbers was searched"
        ),
        "partly_known": _lacking(
            plan.partly, "no row gives it for some of their pieces; those numbers were not searched"
        ),
    }


def _lacking(lacking: Mapping[str, tuple[str, ...]], reason: str) -> list[dict[str, Any]]:
    return [{"attribute": name, "families": list(ids), "reason": reason} for name, ids in lacking.items()]


def _head(part: Part) -> dict[str, Any]:
    return {
        "number": part.number,
        "family": part.family.id,
        "kind": part.family.kind,
        "description": part.description,
    }


def _item_members(found: Designation, names: list[str], basis: str) -> dict[str, Any]:
    part = Part(found, basis)
    values = ((name, part.value(name)) for name in names)
    return {**_head(part), "attributes": {name: value_members(value) for name, value in values if value is not None}}


def _near_members(miss: NearMiss, basis: str) -> dict[str, Any]:
    return {
        **_head(Part(miss.designation, basis)),
        "attribute": miss.want.attribute,
        "value": value_members(miss.value),
        "wanted": miss.want.text,
        "by": None if miss.by is None else decimal_text(miss.by),
    }


def _completion_members(item: Completion, basis: str) -> dict[str, Any]:
    trusted = item.citation.trust <= TRUST[basis]
    return {
        "text": item.text,
        "number": item.text if item.complete else None,
        "complete": item.complete,
        "open": item.open,
        "family": item.family.id,
        "title": item.family.title,
        "piece": {
            "slot": item.slot,
            "text": item.code,
            "caption": item.caption,
            "meaning": item.meaning if trusted else None,
            **cited(item.citation if trusted else None),
        },
    }
