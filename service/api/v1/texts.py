"""Part numbers in free text."""

from __future__ import annotations

from collections import Counter
from typing import Annotated, Any

from fastapi import Query

from service.api.desk import Desk
from service.api.problems import Problem, refusal_members
from service.api.ready import JSON, TEXT, Answer, Body, Operation, parse_json
from service.api.schemas.texts import LONGEST_TEXT, TextAnswer, TextAsked
from service.api.v1.parts import BasisQuery
from service.designation.reading import Designation, Refusal
from service.finding.barcodes import Payload
from service.finding.texts import Mention, TextReader, TooMany
from service.parts.part import Part

_EXAMPLE = b'{"text": "Fit 4 ea AN3-5A, AN960-10 and -10L (8), MS24665-132/-134; torque per the manual. MS99999-1 not found. 1PAN4-12A 1TB1234 Q25"}'


def operations(desk: Desk) -> list[Operation]:
    """The operation that reads a text."""
    reader = TextReader(desk.catalogue, desk.reader)

    def read_text(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        limit = desk.settings.batch_limit
        try:
            found = reader.read(text_of(body), limit)
        except TooMany:
            raise Problem("too-many", f"The text holds more than {limit} part numbers.", {"limit": limit}) from None
        members = {
            "parts": [mention_members(mention, query.basis, desk.catalogue.digest) for mention in found.mentions],
            "unread": [
                {"start": u.start, "end": u.end, "as_written": u.as_written, "reason": u.reason} for u in found.unread
            ],
            "payloads": [payload_members(payload) for payload in found.payloads],
            "counts": dict(Counter(outcome_word(mention) for mention in found.mentions)),
        }
        return Answer(desk.writer.noticed(members))

    return [
        Operation(
            "POST", "/v1/text/parts", "read-text", "Part numbers in free text", read_text, TextAnswer,
            consumes=(JSON, TEXT), body=TextAsked, problems=("bad-body", "too-many"),
            examples=({"body": Body(JSON, _EXAMPLE)},),
            description="Finds every part number with its place and the quantity stated beside it. Shorthand is written out from the number it follows. "
            "A bar-code payload (data identifiers in an ISO/IEC 15434 envelope, or bare) is taken apart into part, lot and quantity. A quantity in front "
            "of a whole shorthand list belongs to no member. What does not resolve stays unresolved; what has several readings lists them. "
            "`unread` holds what looks like a part number of a family that is not held, or written as none is.",
        ),
    ]  # fmt: skip


def text_of(body: Body) -> str:
    """The text of a request. Raises Problem."""
    if body.media == JSON:
        asked: TextAsked = parse_json(TextAsked, body.data)
        return asked.text
    try:
        text = body.data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Problem("bad-body", f"The body is not UTF-8: byte {error.start}.", {"faults": []}) from None
    if len(text) > LONGEST_TEXT:
        raise Problem("too-many", f"A text may have {LONGEST_TEXT} characters.", {"limit": LONGEST_TEXT})
    return text


def outcome_word(mention: Mention) -> str:
    """What became of a number: decoded, or the word of its refusal."""
    return "decoded" if isinstance(mention.outcome, Designation) else mention.outcome.outcome


def mention_members(mention: Mention, basis: str, release: str) -> dict[str, Any]:
    """A part number found, as it leaves the service."""
    outcome = mention.outcome
    named = outcome if isinstance(outcome, Designation) else None
    refused = outcome if isinstance(outcome, Refusal) else None
    problem = Problem(refused.outcome, refused.detail, refusal_members(refused)) if refused else None
    return {
        "start": mention.start,
        "end": mention.end,
        "as_written": mention.as_written,
        "origin": mention.origin,
        "read_as": mention.read_as,
        "outcome": outcome_word(mention),
        "number": named.number if named else None,
        "spelling": named.spelling if named else None,
        "family": named.family.id if named else refused.family if refused else None,
        "kind": named.family.kind if named else None,
        "description": Part(named, basis).description if named else None,
        "quantity": mention.quantity,
        "lot": mention.lot,
        "candidates": list(refused.candidates) if refused else [],
        "problem": problem.body(release) if problem else None,
    }


def payload_members(payload: Payload) -> dict[str, Any]:
    """A bar-code payload as it leaves the service."""
    part, lot = payload.first("part"), payload.first("lot")
    return {
        "start": payload.start,
        "end": payload.end,
        "enveloped": payload.enveloped,
        "elements": [
            {"start": e.start, "end": e.end, "as_written": e.value, "identifier": e.name, "means": e.means}
            for e in payload.elements
        ],
        "part": part.value if part else None,
        "lot": lot.value if lot else None,
        "quantity": payload.quantity,
    }
