"""A part in the hand: from readings and looks to candidates."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, Any

from fastapi import Query

from service.api.desk import Desk
from service.api.ready import JSON, Answer, Body, Operation, parse_json
from service.api.schemas.identify import IdentifyAnswer, IdentifyAsked, ReadingAsked
from service.api.v1.parts import BasisQuery
from service.api.v1.torques import bad_body, canonical_thread
from service.api.wire import cited
from service.catalogue.catalogue import Catalogue
from service.catalogue.slots import NONE
from service.finding.identifying import Candidate, Evidence, Identifier, Separation, Sighting
from service.finding.measuring import Reading
from service.tables.rows import Attribute

#: inches of a millimetre, exact by the definition of the international inch
_MILLIMETRE = Fraction(10, 254)
_EXAMPLE = (
    b'{"kind": "bolt", "readings": [{"quantity": "nominal_diameter", "value": "0.2475", "unit": "[in_i]", "uncertainty": "0.002"}, '
    b'{"quantity": "grip_length", "value": "20.6", "unit": "mm", "uncertainty": "0.2"}], "threads_per_inch": 28, '
    b'"head_mark": "raised asterisk", "magnetic": true, "limit": 3}'
)


def operations(desk: Desk) -> list[Operation]:
    """The operation that identifies a part."""
    identifier = Identifier(desk.catalogue, desk.encoder)

    def identify_part(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: IdentifyAsked = parse_json(IdentifyAsked, body.data)
        found = identifier.identify(sighting_of(asked, desk.catalogue, query.basis), asked.limit)
        members = {
            "candidates": [candidate_members(candidate) for candidate in found.candidates],
            "more": found.more,
            "next_measurement": next_members(found.next_measurement, desk.catalogue.attributes),
            "warnings": list(found.warnings),
        }
        return Answer(desk.writer.noticed(members))

    return [
        Operation(
            "POST", "/v1/parts/identify", "identify-part", "What a part in the hand may be", identify_part, IdentifyAnswer,
            consumes=(JSON,), body=IdentifyAsked, problems=("bad-body",),
            examples=({"body": Body(JSON, _EXAMPLE)},),
            description="A reading agrees with a row where its value, give or take the uncertainty, meets the row's size with its tolerance or limit. "
            "Candidates with nothing against them come first; one reading may speak against a candidate, and it is named. Rows that are silent are "
            "neither. Head mark, colour and magnetism order the candidates and never decide. A part must not be installed on the strength of this "
            "answer: its marks, its papers and the aircraft's own parts catalogue decide.",
        ),
    ]  # fmt: skip


def sighting_of(asked: IdentifyAsked, catalogue: Catalogue, basis: str) -> Sighting:
    """What was seen, in inches. Raises Problem."""
    readings = tuple(_reading(reading, index, catalogue) for index, reading in enumerate(asked.readings))
    for index, reading in enumerate(readings):
        if any(reading.quantity == other.quantity for other in readings[:index]):
            raise bad_body(f"readings/{index}/quantity", f"{reading.quantity} is given twice")
    seen = (asked.threads_per_inch, asked.thread, asked.head_mark, asked.colour, asked.magnetic)
    if not readings and all(one is None for one in seen):
        raise bad_body("", "a reading, a thread, a head mark, a colour or magnetism is needed")
    return Sighting(
        readings, asked.kind, asked.threads_per_inch, canonical_thread(asked.thread) if asked.thread is not None else None,
        asked.head_mark, asked.colour, asked.magnetic, basis,
    )  # fmt: skip


def _reading(asked: ReadingAsked, index: int, catalogue: Catalogue) -> Reading:
    row = catalogue.attributes.get(asked.quantity)
    if row is None or row.unit != "[in_i]":
        lengths = ", ".join(name for name, one in catalogue.attributes.items() if one.unit == "[in_i]")
        raise bad_body(f"readings/{index}/quantity", f"no length is called {asked.quantity!r}; there are {lengths}")
    if 2 * asked.uncertainty > asked.value:
        raise bad_body(f"readings/{index}/uncertainty", "more than half of the reading: nothing was measured")
    factor = _MILLIMETRE if asked.unit == "mm" else Fraction(1)
    return Reading(asked.quantity, asked.value * factor, asked.uncertainty * factor)


def candidate_members(candidate: Candidate) -> dict[str, Any]:
    """A candidate as it leaves the service."""
    family = candidate.family
    settled = [(family.slots[index], code) for index, code in sorted(candidate.partial.items())]
    return {
        "number": candidate.number,
        "example": candidate.example,
        "family": family.id,
        "kind": family.kind,
        "title": family.title,
        "status": family.status,
        "pieces": [
            {"slot": spec.name, "code": "" if code == NONE else code, "meaning": spec.codes[code].meaning}
            for spec, code in settled
        ],
        "open": list(candidate.open_slots),
        "standing": candidate.standing,
        "evidence": [evidence_members(evidence) for evidence in candidate.evidence],
    }


def evidence_members(evidence: Evidence) -> dict[str, Any]:
    """A piece of evidence as it leaves the service."""
    test, value = evidence.test, evidence.value
    return {
        "about": test.name,
        "seen": test.seen,
        "verdict": evidence.verdict,
        "attribute": value.attribute if value is not None else None,
        "value": value.text if value is not None else None,
        "unit": value.unit if value is not None else "",
        "display": value.display if value is not None else "",
        "decides": not test.appearance,
        "remark": test.note if value is not None else "no row speaks about it",
        **cited(value.citation if value is not None else None),
    }


def next_members(found: Separation | None, attributes: Mapping[str, Attribute]) -> dict[str, Any] | None:
    """The next measurement as it leaves the service."""
    if found is None:
        return None
    return {
        "quantity": found.quantity,
        "meaning": attributes[found.quantity].meaning,
        "separates": [
            {"value": value.text, "display": value.display, "numbers": list(numbers)} for value, numbers in found.leaves
        ],
    }
