"""What was found, as it leaves the service."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from service.api.problems import Problem, refusal_members
from service.api.wire import cited, value_members
from service.catalogue.catalogue import Catalogue
from service.designation.reading import Designation, Refusal
from service.finding.barcodes import Payload
from service.finding.clues import Clue
from service.finding.completing import Completion
from service.finding.identifying import Candidate, Identified
from service.finding.missing import NearMiss
from service.finding.searching import Plan
from service.finding.separating import Next
from service.finding.texts import Found, Reading
from service.parts.part import Part
from service.quantity import decimal_text

#: codes listed of a piece that stays open
_CODES = 40
_MARKS = "Head marks, colours and magnets alone never decide: different parts carry the same mark, and a mark may be missing."


def found_members(designation: Designation, attributes: Iterable[str], basis: str) -> dict[str, Any]:
    """A number with the attributes asked about."""
    part = Part(designation, basis)
    values = {name: part.value(name) for name in attributes}
    return {
        "number": part.number,
        "family": part.family.id,
        "kind": part.family.kind,
        "description": part.description,
        "attributes": {name: value_members(value) for name, value in values.items() if value is not None},
    }


def left_out_members(plan: Plan) -> dict[str, Any]:
    """What a search could not look through."""
    return {
        "left_out": _unknown(plan.left_out, "no row of these families gives it, so none of their numbers was searched"),
        "partly_known": _unknown(plan.partly, "no row gives it for some of the pieces; those numbers were left out"),
    }


def _unknown(families: Mapping[str, Sequence[str]], reason: str) -> list[dict[str, Any]]:
    return [{"attribute": name, "families": list(ids), "reason": reason} for name, ids in families.items()]


def miss_members(miss: NearMiss, basis: str) -> dict[str, Any]:
    """A near miss."""
    part = Part(miss.designation, basis)
    said = f"{miss.value.display}" if miss.value is not None else "no row of the family gives it"
    return {
        "number": part.number,
        "family": part.family.id,
        "kind": part.family.kind,
        "description": part.description,
        "attribute": miss.want.attribute,
        "wanted": miss.want.text,
        "value": None if miss.value is None else value_members(miss.value),
        "by": None if miss.by is None else decimal_text(miss.by),
        "reason": f"{miss.want.attribute} is wanted as {miss.want.text}: {said}",
    }


def completion_members(completion: Completion) -> dict[str, Any]:
    """A completion."""
    family = completion.family
    return {
        "text": completion.text, "family": family.id, "kind": family.kind, "title": family.title, "slot": completion.slot,
        "code": completion.code, "caption": completion.caption, "meaning": completion.meaning, "complete": completion.complete,
        "open": completion.open, **cited(completion.citation),
    }  # fmt: skip


def identified_members(found: Identified, clues: Sequence[Clue], limit: int) -> dict[str, Any]:
    """Candidates, ranked, and what may be concluded."""
    shown = [_candidate(c, rank, clues) for rank, c in enumerate(found.candidates[:limit], 1)]
    agreeing = [c for c in found.candidates if not c.against]
    basics = {c.partials[0][0] for c in agreeing}
    strong = [i for i, clue in enumerate(clues) if not clue.weak]
    sure = len(basics) == 1 and sum(agreeing[0].said[i].verdict == "for" for i in strong) > 1
    return {
        "candidates": shown,
        "total": len(found.candidates),
        "decided": sure,
        "statement": f"{_conclusion(found, agreeing, basics, sure)} {_MARKS}",
        "not_asked": len(found.silent),
    }


def _conclusion(found: Identified, agreeing: list[Candidate], basics: set[str], sure: bool) -> str:
    if not found.candidates:
        return "No number of the tables agrees with what was observed; the part may be of a family that is not held, or sizes may be missing."
    if found.weak_only:
        return "Nothing was measured, so nothing is decided."
    if not agreeing:
        return "Every candidate has a clue against it; measure again, or the part is none the tables hold."
    if sure:
        return f"Of the numbers in the tables only those of {next(iter(basics))} agree with every clue; parts the tables do not hold may agree too."
    return f"{len(basics)} basic numbers agree with what was observed; nothing is decided."


def _candidate(candidate: Candidate, rank: int, clues: Sequence[Clue]) -> dict[str, Any]:
    family, example = candidate.family, candidate.example
    pieces = [(spec, candidate.codes_of(index)) for index, spec in enumerate(family.slots)]
    return {
        "rank": rank,
        "basic": candidate.partials[0][0],
        "family": family.id,
        "kind": family.kind,
        "title": family.title,
        "example": example.number if example is not None else "",
        "numbers": candidate.count,
        "score": candidate.score,
        "fixed": [
            {"slot": spec.name, "code": codes[0], "meaning": spec.codes[codes[0]].meaning}
            for spec, codes in pieces if len(codes) == 1
        ],
        "open": [
            {"slot": spec.name, "caption": spec.caption, "codes": list(codes[:_CODES]), "possible": len(codes)}
            for spec, codes in pieces if len(codes) > 1
        ],
        "evidence": [
            {
                "clue": clue.attribute, "observed": clue.observed, "verdict": said.verdict,
                "value": said.value.display if said.value is not None else None, "text": said.text, **cited(said.citation),
            }
            for clue, said in zip(clues, candidate.said, strict=True)
        ],
    }  # fmt: skip


def next_members(found: Next | None, catalogue: Catalogue) -> dict[str, Any] | None:
    """The next measurement."""
    if found is None:
        return None
    return {
        "attribute": found.attribute,
        "meaning": catalogue.attributes[found.attribute].meaning,
        "how": found.how,
        "separates": found.separated,
        "pairs": found.pairs,
        "shows": [{"value": value, "numbers": list(numbers)} for value, numbers in found.shows],
    }


def text_members(text: str, read: Reading, release: str) -> dict[str, Any]:
    """A text read."""
    return {
        "characters": len(text),
        "parts": [_text_part(found, release) for found in read.found],
        "barcodes": [_payload(payload, text) for payload in read.payloads],
        "unread": [_stretch(text, span) for span in read.unread],
        "counts": dict(
            Counter("decoded" if isinstance(f.outcome, Designation) else f.outcome.outcome for f in read.found)
        ),
    }


def _text_part(found: Found, release: str) -> dict[str, Any]:
    outcome = found.outcome
    refused = outcome if isinstance(outcome, Refusal) else None
    named = outcome if isinstance(outcome, Designation) else None
    return {
        "start": found.start,
        "end": found.end,
        "written": found.written,
        "read_as": found.read_as,
        "where": found.where,
        "number": named.number if named else None,
        "outcome": refused.outcome if refused else "decoded",
        "spelling": named.spelling if named else None,
        "family": named.family.id if named else refused.family if refused else None,
        "description": Part(named).description if named else None,
        "quantity": found.quantity,
        "quantity_span": list(found.quantity_span) if found.quantity_span else None,
        "lot": found.lot,
        "candidates": list(refused.candidates) if refused else [],
        "problem": Problem(refused.outcome, refused.detail, refusal_members(refused)).body(release)
        if refused
        else None,
    }


def _payload(payload: Payload, text: str) -> dict[str, Any]:
    part, lot = payload.first("part"), payload.first("lot")
    return {
        "start": payload.start,
        "end": payload.end,
        "enveloped": payload.enveloped,
        "elements": [
            {"identifier": e.name, "means": e.means, "value": e.value, "start": e.start, "end": e.end}
            for e in payload.elements
        ],
        "part": part.value if part else None,
        "lot": lot.value if lot else None,
        "quantity": payload.quantity,
        "unread": [_stretch(text, span) for span in payload.unread],
    }


def _stretch(text: str, span: tuple[int, int]) -> dict[str, Any]:
    return {"start": span[0], "end": span[1], "text": text[span[0] : span[1]]}
