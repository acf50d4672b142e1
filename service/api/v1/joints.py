"""Does a set of hardware go together, and which sets close a stack."""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Any

from fastapi import Query

from service.api.desk import Desk
from service.api.ready import JSON, Answer, Body, Operation, parse_json
from service.api.schemas.joints import CheckAnswer
from service.api.v1.joint_reading import SetReader, conditions_model, joint_members, joint_model, layers, stated
from service.api.v1.mates import trusted_cautions
from service.api.v1.parts import BasisQuery
from service.api.v1.torques import row_members
from service.api.wire import cited, remark_members
from service.joints.assembly import Assembly
from service.joints.checking import Check, Checker
from service.joints.findings import Figure, JointFinding
from service.joints.formulas.clocking import turn_to_next_slot
from service.joints.tightening import GENERAL, TorqueTables, column_for
from service.parts.part import Part
from service.quantity import decimal_text, with_unit

_SET = (
    b'{"fastener": "AN4-12A", "under_nut": ["AN960-416"], "nut": "AN365-428A", '
    b'"stack": [{"thickness": 0.125, "material": "aluminium"}, {"thickness": 0.65, "plus": 0.005, "minus": 0.005}], '
    b'"conditions": {"temperature": 180, "load": "shear", "rotates": false}}'
)


def operations(desk: Desk) -> list[Operation]:
    """The operations on sets."""
    conditions = conditions_model(desk.catalogue)
    asked_model = joint_model(conditions)

    @lru_cache(maxsize=8)
    def checker(basis: str) -> Checker:
        return Checker(desk.catalogue, desk.rules, basis)

    @lru_cache(maxsize=8)
    def tables(basis: str) -> TorqueTables:
        return TorqueTables(desk.catalogue, basis)

    def check_joint(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: Any = parse_json(asked_model, body.data)
        joint = stated(asked.conditions, desk.catalogue)
        reader = SetReader(desk, query.basis)
        assembly = reader.assembly(asked, layers(asked.stack, desk.catalogue), joint)
        check = checker(query.basis).check(assembly, tuple(reader.findings), tuple(reader.missed))
        cautions = dict.fromkeys(caution for part in assembly.every() for caution in trusted_cautions(part))
        members = {
            **check_members(check, assembly, tables(query.basis)),
            "joint": joint_members(joint),
            "parts": places(assembly),
            "cautions": remark_members(cautions, "cautions"),
        }
        return Answer(desk.writer.noticed(members))

    return [
        Operation(
            "POST",
            "/v1/joints/check",
            "check-joint",
            "Whether a set of hardware goes together",
            check_joint,
            CheckAnswer,
            consumes=(JSON,),
            body=asked_model,
            problems=("bad-body",),
            examples=({"body": Body(JSON, _SET)},),
            tag="joints",
            description="Without a stack the set is judged: threads, sizes, locking, temperature, load, metals. With one, "
            "the geometry too, at worst-case tolerance. Every finding names its rule; a number that cannot be read is a "
            "finding with the decoder's explanation, and leaves the verdict `unknown`. What could not be judged is said. "
            "`compatible_with_conditions` means: only where the cautions are met.",
        )
    ]


def check_members(check: Check, assembly: Assembly, tables: TorqueTables) -> dict[str, Any]:
    """What was found about a set, as it leaves the service."""
    return {
        "verdict": check.verdict,
        "findings": [finding_members(finding) for finding in check.findings],
        "figures": [figure_members(figure) for figure in check.figures],
        "practices": [
            {
                "topic": result.topic,
                "practice": result.practice,
                "applies_to": result.applies_to,
                "outcome": result.outcome,
                "limit": decimal_text(result.limit, 6),
                "margin_low": decimal_text(result.margin.low, 6),
                "margin_high": decimal_text(result.margin.high, 6),
                "unit": result.unit,
                "rule": result.rule,
                **cited(result.citation),
            }
            for result in check.practices
        ],
        "clocking": [
            {
                "pack": entry.pack,
                "of_a_slot": decimal_text(entry.remaining, 3),
                "degrees": decimal_text(turn_to_next_slot(entry.remaining), 1),
            }
            for entry in check.clocking
        ],
        "not_judged": not_judged_members(check),
        "torque": torque_members(assembly, tables),
    }


def not_judged_members(check: Check) -> list[dict[str, Any]]:
    """What a check could not judge, as it leaves the service."""
    return [{"what": entry.what, "why": entry.why, "vital": entry.vital} for entry in check.not_judged]


def finding_members(finding: JointFinding) -> dict[str, Any]:
    """A finding as it leaves the service."""
    return {
        "severity": finding.severity,
        "effect": finding.effect,
        "rule": finding.rule,
        "topic": finding.topic,
        "text": finding.text,
        "parts": list(finding.parts),
        "unstated": list(finding.unstated),
        "unknown": list(finding.unknown),
        **cited(finding.citation),
    }


def figure_members(figure: Figure) -> dict[str, Any]:
    """A figure as it leaves the service; the display is rounded to a ten-thousandth."""
    low, high = figure.value.low, figure.value.high
    short = decimal_text(low, 4) if low == high else f"{decimal_text(low, 4)} to {decimal_text(high, 4)}"
    return {
        "name": figure.name,
        "low": decimal_text(low),
        "high": decimal_text(high),
        "unit": figure.unit,
        "display": with_unit(short, figure.unit),
        "meaning": figure.meaning,
    }


def torque_members(assembly: Assembly, tables: TorqueTables) -> dict[str, Any]:
    """The general table's row for the set's thread and nut, or why it has none."""
    nut, bolt = assembly.holding, assembly.fastener
    if nut is None or bolt is None:
        return {"recommended": None, "maximum": None, "why_not": "a fastener and a nut are needed"}
    thread, load_class = bolt.value("thread"), nut.value("load_class")
    column = column_for(str(load_class.exact)) if load_class is not None else ""
    if not column or thread is None or not isinstance(thread.exact, str):
        return {"recommended": None, "maximum": None, "why_not": f"the table has no column for {nut.number}"}
    found = tables.recommended(thread.exact, column)
    if found is None:
        return {"recommended": None, "maximum": None, "why_not": f"{GENERAL} has no row for {thread.exact}"}
    finish = bolt.value("finish_group")
    dry = (
        ""
        if finish is None or finish.exact == "cadmium"
        else f"the table is for cadmium-plated threads, {bolt.number} is not"
    )
    maximum = None if found.maximum is None else row_members(found.maximum, tables)
    return {"recommended": row_members(found.row, tables), "maximum": maximum, "why_not": dry}


def places(assembly: Assembly) -> dict[str, list[str]]:
    """Canonical numbers by place; a place with nothing that can be read is an empty list."""
    single: dict[str, Part | None] = {
        "fastener": assembly.fastener,
        "nut": assembly.nut,
        "plate_nut": assembly.plate_nut,
        "cotter_pin": assembly.cotter_pin,
        "lockwire": assembly.lockwire,
    }
    return {
        **{place: [] if part is None else [part.number] for place, part in single.items()},
        "under_head": [part.number for part in assembly.under_head],
        "under_nut": [part.number for part in assembly.under_nut],
    }
