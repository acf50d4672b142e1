"""From a stack to complete sets of hardware."""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Any

from fastapi import Query

from service.api.desk import Desk
from service.api.problems import Problem
from service.api.ready import JSON, Answer, Body, Operation, parse_json
from service.api.schemas.selection import PreferAsked, SelectAnswer, SelectAskedBase
from service.api.v1.joint_reading import conditions_model, joint_members, layers, measured, select_model, stated
from service.api.v1.joints import finding_members, torque_members
from service.api.v1.parts import BasisQuery
from service.api.v1.torques import bad_body, canonical_thread
from service.joints.checking import Checker
from service.joints.closing import Choice, Miss, Selection, Wish
from service.joints.findings import from_rule
from service.joints.selecting import Selector
from service.joints.tightening import TorqueTables
from service.mating.mates import Candidate
from service.quantity import decimal_text

RANKED_BY = [
    "order of the families in the tables",
    "shorter bolt",
    "fewer washers",
    "fewer cautions",
    "order of the nut's mate row",
]
NOT_CONSIDERED = [
    "loads: choose the diameter from the structure's own data",
    "screws, plate nuts and families whose grip or length no row gives",
    "mass: the tables hold no part masses",
    "the cotter hole's place in the slots, where no row gives it",
]
_EXAMPLE = (
    b'{"thread": "1/4-28", "stack": [{"thickness": 0.7, "material": "aluminium"}], "limit": 2, '
    b'"conditions": {"temperature": 180, "rotates": false, "load": "shear"}}'
)


def operations(desk: Desk) -> list[Operation]:
    """The operation that selects sets."""
    asked_model = select_model(conditions_model(desk.catalogue))

    @lru_cache(maxsize=8)
    def selector(basis: str) -> Selector:
        return Selector(desk.catalogue, desk.encoder, desk.mates, Checker(desk.catalogue, desk.rules, basis))

    @lru_cache(maxsize=8)
    def tables(basis: str) -> TorqueTables:
        return TorqueTables(desk.catalogue, basis)

    def select_joint(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: Any = parse_json(asked_model, body.data)
        wish = _wish(asked, desk)
        found = selector(query.basis).select(wish)
        return Answer(desk.writer.noticed(selection_members(found, wish, tables(query.basis))))

    return [
        Operation(
            "POST",
            "/v1/joints/select",
            "select-joint",
            "Sets of hardware that close a stack",
            select_joint,
            SelectAnswer,
            consumes=(JSON,),
            body=asked_model,
            problems=("bad-body",),
            examples=({"body": Body(JSON, _EXAMPLE)},),
            tag="joints",
            description="Bolts of every family whose grip and length are in the tables, with washers and their places, nut "
            "and, for a drilled bolt, cotter pin. Every set passes `check` as it is answered. Closing means: at worst-case "
            "tolerance no thread in the plates (or what practices allow), the nut clear of the shank, enough bolt for "
            "the nut. When nothing closes, the nearest bolts say which constraint fails and by how much.",
        )
    ]


def _wish(asked: SelectAskedBase, desk: Desk) -> Wish:
    prefer = asked.prefer or PreferAsked()
    if asked.thread is None and asked.diameter is None:
        raise bad_body("thread", "a thread or a diameter is needed")
    if prefer.least_under_nut > prefer.most_under_nut:
        raise bad_body("prefer/least_under_nut", "not above most_under_nut")
    for name in ("bolt_families", "nut_families"):
        unknown = [family for family in getattr(prefer, name) if family not in desk.catalogue.families]
        if unknown:
            fault = {"at": f"prefer/{name}", "reason": f"no family {', '.join(unknown)}; see /v1/families"}
            raise Problem("bad-body", fault["reason"], {"faults": [fault]})
    return Wish(
        layers(asked.stack, desk.catalogue),
        canonical_thread(asked.thread) if asked.thread is not None else "",
        asked.diameter,
        stated(getattr(asked, "conditions", None), desk.catalogue),
        measured(asked),
        frozenset(prefer.bolt_families),
        frozenset(prefer.nut_families),
        frozenset(prefer.avoid),
        frozenset(prefer.materials),
        prefer.drilled,
        prefer.most_under_head,
        prefer.most_under_nut,
        prefer.least_under_nut,
        prefer.thread_in_hole,
        asked.limit,
    )


def selection_members(found: Selection, wish: Wish, tables: TorqueTables) -> dict[str, Any]:
    """A selection as it leaves the service."""
    return {
        "sets": [set_members(rank, choice, tables) for rank, choice in enumerate(found.choices, 1)],
        "ranked_by": RANKED_BY,
        "bolts_tried": found.bolts,
        "bolts_closing": found.closing,
        "nothing_closes": found.nothing,
        "ruled_out": [_ruled_out(candidate) for candidate in found.ruled_out],
        "near_misses": [_miss(miss) for miss in found.misses],
        "joint": joint_members(wish.joint),
        "not_considered": NOT_CONSIDERED,
    }


def set_members(rank: int, choice: Choice, tables: TorqueTables) -> dict[str, Any]:
    """A set as it leaves the service."""
    assembly = choice.assembly
    assert assembly.fastener is not None
    assert assembly.nut is not None
    return {
        "rank": rank,
        "fastener": assembly.fastener.number,
        "description": assembly.fastener.description,
        "under_head": [washer.number for washer in assembly.under_head],
        "under_nut": [washer.number for washer in assembly.under_nut],
        "nut": assembly.nut.number,
        "other_nuts": list(choice.other_nuts),
        "cotter_pin": assembly.cotter_pin.number if assembly.cotter_pin is not None else None,
        "verdict": choice.check.verdict,
        "cautions": [finding_members(f) for f in choice.check.findings if f.severity == "caution"],
        "margins": {
            "grip": decimal_text(choice.margins.grip, 6),
            "nut": decimal_text(choice.margins.nut, 6),
            "past_pack": decimal_text(choice.margins.past_pack, 6),
        },
        "torque": torque_members(assembly, tables),
        "behind_because": choice.lost,
    }


def _ruled_out(candidate: Candidate) -> dict[str, Any]:
    rules = [from_rule(finding, [candidate.number]) for finding in candidate.findings if finding.effect == "excludes"]
    return {"number": candidate.number, "rules": [finding_members(rule) for rule in rules]}


def _miss(miss: Miss) -> dict[str, str]:
    return {"number": miss.number, "constraint": miss.constraint, "by": decimal_text(miss.by, 6)}
