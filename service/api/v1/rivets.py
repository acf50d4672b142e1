"""Rivets: one for a pack of sheets, and whether this one is right."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any

from fastapi import Query

from service.api.desk import Desk
from service.api.ready import JSON, Answer, Body, Operation, parse_json
from service.api.schemas.joints import ZERO
from service.api.schemas.rivets import RivetCheckAnswer, RivetSelectAnswer, RivetSelectAsked
from service.api.v1.joint_reading import conditions_model, joint_members, rivet_model, stated
from service.api.v1.joints import finding_members
from service.api.v1.mates import trusted_cautions
from service.api.v1.parts import BasisQuery
from service.api.v1.torques import bad_body, cited_row
from service.api.wire import remark_members
from service.joints.formulas.rivets import computed_length, target_diameter
from service.joints.rivet_checking import Riveted, check_rivet
from service.joints.riveting import RivetTables, Splice
from service.quantity import decimal_text, parse_number
from service.tables.joint_rows import Practice, RivetHole, RivetStrength, SpliceTableNote

_SELECT = b'{"sheets": [0.032, 0.032], "diameter": 0.125, "material": "clad 2024-T3 sheet", "width": 10, "joint": "single-lap"}'
_CHECK = b'{"rivet": "MS20470AD4-4", "sheets": [0.032, 0.032], "edge": 0.2, "pitch": 0.5, "conditions": {"primary_structure": true}}'
_KINDS = frozenset({"rivet", "blind_rivet", "pin_rivet"})


def operations(desk: Desk) -> list[Operation]:
    """The operations on rivets."""
    check_model = rivet_model(conditions_model(desk.catalogue))

    @lru_cache(maxsize=8)
    def tables(basis: str) -> RivetTables:
        return RivetTables(desk.catalogue, desk.encoder, basis)

    def families(asked: RivetSelectAsked) -> list[str]:
        known = desk.catalogue.families
        if asked.families:
            unknown = [name for name in asked.families if name not in known or known[name].kind != "rivet"]
            if unknown:
                raise bad_body("families", f"no solid rivet family {', '.join(unknown)}; see /v1/families")
            return list(asked.families)
        flush = asked.head == "flush"
        solid = [f for f in known.values() if f.kind == "rivet" and f.status == "active"]
        return [f.id for f in solid if ("head_angle" in f.facets.by_attribute) == flush]

    def select_rivet(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: RivetSelectAsked = parse_json(RivetSelectAsked, body.data)
        known = tables(query.basis)
        grip, thickest = sum(asked.sheets, ZERO), max(asked.sheets)
        diameter = asked.diameter or known.diameter(asked.sheets)
        splices, why_no_splice = [], "give the sheet material to look a splice up"
        if diameter is not None and asked.material is not None:
            if asked.material not in known.sheet_materials:
                raise bad_body("material", f"no splice table names it; known: {', '.join(known.sheet_materials)}")
            splices = known.splices(asked.material, thickest, diameter, asked.width, asked.joint)
            blank = f"no cell for {decimal_text(thickest)} sheet and this rivet: a blank is no value, not zero"
            why_no_splice = "" if splices else blank
        ranges = known.practices.rows("rivet_diameter")
        hang_on = {
            "diameter_over_sheet": thickest,
            "diameter_over_leg_thickness": asked.leg_thickness,
            "diameter_over_leg_width": asked.leg_width,
        }
        spacing = known.practices.rows("rivet_spacing")
        members = {
            "grip": decimal_text(grip),
            "thickest": decimal_text(thickest),
            "target_diameter": decimal_text(target_diameter(thickest)),
            "diameter": None if diameter is None else decimal_text(diameter),
            "why_no_diameter": ""
            if diameter is not None
            else "no diameter in the rows is as large as three times the sheet",
            "computed_length": None if diameter is None else decimal_text(computed_length(grip, diameter)),
            "lengths": []
            if diameter is None
            else [
                {
                    "practice": entry.practice.practice,
                    "length": decimal_text(entry.length),
                    "numbers": list(entry.numbers),
                    **cited_row(entry.practice),
                }
                for entry in known.lengths(grip, diameter, families(asked), asked.alloy_code)
            ],
            "diameters": [limit_members(row, hang_on.get(row.quantity)) for row in ranges],
            "spacing": [] if diameter is None else [limit_members(row, diameter) for row in spacing],
            "shop_head": []
            if diameter is None
            else [limit_members(row, diameter) for row in known.practices.rows("shop_head")],
            "holes": [] if diameter is None else [row_members(r) for r in known.holes(diameter, asked.head == "flush")],
            "strengths": []
            if diameter is None
            else [row_members(r) for r in known.strengths(diameter, asked.alloy_code, asked.sheets)],
            "splices": [splice_members(splice) for splice in splices],
            "why_no_splice": why_no_splice,
        }
        return Answer(desk.writer.noticed(members))

    def check_riveted(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: Any = parse_json(check_model, body.data)
        part = desk.part(asked.rivet, query.basis)
        if part.family.kind not in _KINDS:
            raise bad_body("rivet", f"{part.number} is a {part.family.kind.replace('_', ' ')}")
        joint = stated(asked.conditions, desk.catalogue)
        riveted = Riveted(
            part, tuple(asked.sheets), asked.edge, asked.pitch, asked.row, asked.head_width, asked.head_height, asked.hole,
            joint,
        )  # fmt: skip
        check = check_rivet(riveted, tables(query.basis), desk.rules)
        members = {
            "rivet": part.number,
            "description": part.description,
            "verdict": check.verdict,
            "findings": [finding_members(finding) for finding in check.findings],
            "not_judged": [{"what": e.what, "why": e.why, "vital": e.vital} for e in check.not_judged],
            "joint": joint_members(joint),
            "cautions": remark_members(trusted_cautions(part), "cautions"),
        }
        return Answer(desk.writer.noticed(members))

    numbers = ("not-made", "not-covered", "ambiguous", "unreadable")
    return [
        Operation(
            "POST",
            "/v1/rivets/select",
            "select-rivet",
            "A rivet for a pack of sheets",
            select_rivet,
            RivetSelectAnswer,
            consumes=(JSON,),
            body=RivetSelectAsked,
            problems=("bad-body",),
            examples=({"body": Body(JSON, _SELECT)},),
            tag="joints",
            description="Diameter, length by both published roundings, hole and drill, shop head, spacing, strengths with "
            "their area basis, and the count by the splice tables: the table used, its printed cell, the same cell worked from "
            "the table's notes, the factor, and both orders of rounding. Documents stand side by side, never blended.",
        ),
        Operation(
            "POST",
            "/v1/rivets/check",
            "check-rivet",
            "Whether a rivet is right for its sheets",
            check_riveted,
            RivetCheckAnswer,
            consumes=(JSON,),
            body=check_model,
            problems=(*numbers, "bad-body"),
            examples=({"body": Body(JSON, _CHECK)},),
            tag="joints",
            description="Rule rows on alloy, size and use, then length, edge distance, pitch, rows, shop head and hole "
            "against each document's practice, each named.",
        ),
    ]


def limit_members(row: Practice, unit_length: Fraction | None) -> dict[str, Any]:
    """A practice row, worked for the length that its value multiplies; a row in inches stands as it is, and one whose
    length was not given stays unworked."""
    value: Fraction | None = parse_number(row.value)
    if row.unit == "1":
        value = None if unit_length is None or value is None else value * unit_length
    return {
        "practice": row.practice,
        "applies_to": row.applies_to,
        "quantity": row.quantity,
        "limit": row.limit,
        "in_diameters": row.value if row.unit == "1" else "",
        "inches": None if value is None else decimal_text(value, 6),
        **cited_row(row),
    }


def row_members(row: RivetHole | RivetStrength | SpliceTableNote) -> dict[str, Any]:
    """A rivet row as it leaves the service."""
    if isinstance(row, RivetHole):
        quantity, applies_to, area = row.quantity, row.rivet_type, ""
    elif isinstance(row, RivetStrength):
        quantity, applies_to, area = row.quantity, row.alloy, row.area_basis
    else:
        quantity, applies_to, area = row.subject, f"table {row.table}", ""
    return {
        "quantity": quantity,
        "applies_to": applies_to,
        "value": row.value,
        "unit": row.unit,
        "area_basis": area,
        "sheet_thickness": row.sheet_thickness if isinstance(row, RivetStrength) else "",
        **cited_row(row),
    }


def splice_members(splice: Splice) -> dict[str, Any]:
    """A splice cell as it leaves the service."""
    cell, worked = splice.cell, splice.worked
    return {
        "table": cell.table,
        "material": splice.material.material,
        "printed_per_inch": cell.count_per_inch,
        "printed_slip": cell.printed_slip == "yes",
        "believed_per_inch": cell.believed or None,
        "worked_bearing": None if worked is None else decimal_text(worked.bearing, 3),
        "worked_shear": None if worked is None else decimal_text(worked.shear, 3),
        "governing": None if worked is None else worked.mode,
        "assumptions": [row_members(note) for note in splice.assumptions],
        "factor": "1" if splice.factor is None else splice.factor.value,
        "factor_row": None if splice.factor is None else splice.factor.row,
        "counts": [
            {
                "practice": count.practice.practice,
                "by_printed_cell": count.printed,
                "by_worked_cell": count.worked,
                **cited_row(count.practice),
            }
            for count in splice.counts
        ],
        **cited_row(cell),
    }
