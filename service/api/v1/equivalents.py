"""What may stand for a part, and two parts side by side."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import Path, Query

from service.api.desk import Desk
from service.api.ready import Answer, Operation
from service.api.schemas import RelationAnswer, RelativesAnswer
from service.api.v1.mates import trusted_cautions
from service.api.v1.parts import BasisQuery, Number
from service.api.wire import cited, remark_members
from service.equivalence.comparing import Comparison, side_by_side
from service.equivalence.relating import RELATIONS, Relative
from service.parts.part import Part
from service.quantity import decimal_text

Other = Annotated[str, Path(description="The number to compare with.", max_length=200, examples=["MS21044N3"])]

#: what a relation does and does not say, in words that go out with it
STATEMENTS = {
    "same standard renumbered": "The same standard under another number.",
    "superseded by": "Superseded by; that is not the same as interchangeable. Compare the attributes and the conditions.",
    "dimensional alternate": "The dimensions agree; material, strength or use may not. Not an approved substitution by itself.",
    "stronger alternate": "Stronger or of a later series; fit, hole and use must be checked. Not an approved substitution by itself.",
    "not equivalent": "Not equivalent. Do not fit one for the other on the strength of the number.",
}
NO_ROW = "No row relates these two numbers in this direction. That says nothing for a substitution."


def operations(desk: Desk) -> list[Operation]:
    """The operations on equivalents."""
    order = list(desk.catalogue.attributes)

    def list_equivalents(number: Number, query: Annotated[BasisQuery, Query()]) -> Answer:
        part = desk.part(number, query.basis)
        members = {
            "number": part.number,
            "description": part.description,
            "order_of_trust": list(RELATIONS),
            "relatives": [relative_members(r, side_by_side(part, r.part, order)) for r in desk.relations.of(part)],
            "cautions": remark_members(trusted_cautions(part), "cautions"),
        }
        return Answer(desk.writer.noticed(members))

    def compare_parts(number: Number, other: Other, query: Annotated[BasisQuery, Query()]) -> Answer:
        first, second = desk.part(number, query.basis), desk.part(other, query.basis)
        chains = desk.relations.between(first, second)
        rows = side_by_side(first, second, order)
        same = first.number == second.number
        members = {
            "first": first.number,
            "second": second.number,
            "order_of_trust": list(RELATIONS),
            "relation": chains[0].relation if chains else None,
            "statement": "The same number." if same else STATEMENTS[chains[0].relation] if chains else NO_ROW,
            "chains": [relative_members(chain, rows) for chain in chains],
            "comparison": [comparison_members(row) for row in rows],
            "cautions": remark_members(
                dict.fromkeys((*trusted_cautions(first), *trusted_cautions(second))), "cautions"
            ),
        }
        return Answer(desk.writer.noticed(members))

    problems = ("not-made", "not-covered", "ambiguous", "unreadable")
    return [
        Operation(
            "GET", "/v1/parts/{number}/equivalents", "list-equivalents", "What may stand for a part", list_equivalents, RelativesAnswer,
            problems=problems, examples=({"number": "AN365-1032A"},), tag="compatibility",
            description="Numbers that rows relate to this one, over several hops where each hop is a row, with every attribute side by side. "
            "A chain is worth its weakest hop. Superseded is not interchangeable.",
        ),
        Operation(
            "GET", "/v1/parts/{number}/equivalents/{other}", "compare-parts", "Two parts side by side", compare_parts, RelationAnswer,
            problems=problems, examples=({"number": "AN365-1032A", "other": "MS21044N3"},), tag="compatibility",
            description="How rows relate the two in this direction, if they do, and every attribute of either with the difference.",
        ),
    ]  # fmt: skip


def comparison_members(row: Comparison) -> dict[str, Any]:
    """A line of a side-by-side as it leaves the service."""
    unit = next((v.unit for v in (row.first, row.second) if v is not None), "")
    return {
        "attribute": row.attribute,
        "first": row.first.text if row.first else None,
        "second": row.second.text if row.second else None,
        "first_display": row.first.display if row.first else "",
        "second_display": row.second.display if row.second else "",
        "unit": unit,
        "sameness": row.sameness,
        "difference": None if row.difference is None else decimal_text(row.difference),
    }


def relative_members(relative: Relative, rows: list[Comparison]) -> dict[str, Any]:
    """A related number as it leaves the service."""
    part: Part = relative.part
    return {
        "number": part.number,
        "family": part.family.id,
        "description": part.description,
        "relation": relative.relation,
        "basis": relative.basis,
        "statement": STATEMENTS[relative.relation],
        "hops": [
            {
                "from_number": hop.from_number, "to_number": hop.to_number, "relation": hop.relation, "direction": hop.direction,
                "conditions": hop.conditions, **cited(hop.citation),
            }
            for hop in relative.hops
        ],
        "comparison": [comparison_members(row) for row in rows],
    }  # fmt: skip
