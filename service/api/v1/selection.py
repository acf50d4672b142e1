"""From a stack to complete sets of hardware."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any

from fastapi import Query

from service.api.desk import Desk
from service.api.ready import JSON, Answer, Body, Operation, parse_json
from service.api.schemas.selection import LoadAsked, PreferAsked, SelectAnswer, SelectAskedBase
from service.api.v1.joint_reading import conditions_model, joint_members, layers, measured, select_model, stated
from service.api.v1.joints import finding_members, not_judged_members, torque_members
from service.api.v1.parts import BasisQuery
from service.api.v1.torques import bad_body, canonical_thread
from service.api.wire import cited
from service.joints.assembly import Layer
from service.joints.checking import Checker
from service.joints.closing import Choice, Miss, Selection, Wish
from service.joints.findings import from_rule
from service.joints.formulas.stack import exactly
from service.joints.formulas.threads import parse_thread
from service.joints.loads import Carrying, Load
from service.joints.masses import Masses, Weighed
from service.joints.selecting import Selector
from service.joints.tightening import TorqueTables
from service.mating.clauses import Exact
from service.mating.mates import Candidate
from service.quantity import decimal_text

RANKED_BY = [
    "thinner bolt, where only a load was asked",
    "order of the families in the tables",
    "shorter bolt",
    "fewer washers",
    "fewer cautions",
    "order of the nut's mate row",
]
NOT_CONSIDERED = [
    "loads, unless asked; and then neither bearing in the plates nor the nut's strength",
    "screws, and families whose grip or length no row gives",
    "masses of parts whose shape no row gives; the others are estimates",
    "the cotter hole's place in the slots, where neither a row nor a measured size gives it",
]
#: grams in a pound, exact by the international pound of 1959
_GRAMS = Fraction("453.59237")
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

    @lru_cache(maxsize=8)
    def masses(basis: str) -> Masses:
        return Masses(desk.catalogue, basis)

    def select_joint(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: Any = parse_json(asked_model, body.data)
        wish = _wish(asked, desk)
        found = selector(query.basis).select(wish)
        return Answer(desk.writer.noticed(selection_members(found, wish, tables(query.basis), masses(query.basis))))

    def warm() -> Iterator[Selection]:
        engine = selector(BasisQuery().basis)
        stack = (Layer(exactly(Fraction(1, 2)), "aluminium"),)
        return (engine.select(Wish(stack, diameter=diameter)) for diameter in engine.sizes())

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
            warm=warm,
            description="Bolts of every family whose grip and length are in the tables, with washers and their places, nut "
            "(or plate nut) and, for a drilled bolt, cotter pin. Every set passes `check` as it is answered. Closing means: at worst-case "
            "tolerance no thread in the plates (or what practices allow), the nut clear of the shank, enough bolt for "
            "the nut. When nothing closes, the nearest bolts say which constraint fails and by how much.",
        )
    ]


def _wish(asked: SelectAskedBase, desk: Desk) -> Wish:
    prefer = asked.prefer or PreferAsked()
    if asked.thread is None and asked.diameter is None and asked.load is None:
        raise bad_body("thread", "a thread, a diameter or a load is needed")
    if prefer.least_under_nut > prefer.most_under_nut:
        raise bad_body("prefer/least_under_nut", "not above most_under_nut")
    for name in ("bolt_families", "nut_families"):
        strange = [family for family in getattr(prefer, name) if family not in desk.catalogue.families]
        if strange:
            raise bad_body(f"prefer/{name}", f"no family {', '.join(strange)}; see /v1/families")
    thread = canonical_thread(asked.thread) if asked.thread is not None else ""
    if thread and asked.diameter not in {None, _diameter(thread)}:
        raise bad_body("diameter", f"the thread {thread} is not of this diameter")
    unknown = sorted(set(prefer.materials) - _materials(desk))
    if unknown:
        raise bad_body(
            "prefer/materials", f"no bolt is of {', '.join(unknown)}; one of {', '.join(sorted(_materials(desk)))}"
        )
    joint = stated(getattr(asked, "conditions", None), desk.catalogue)
    load = _load(asked.load, joint)
    return Wish(
        layers(asked.stack, desk.catalogue),
        thread,
        asked.diameter,
        joint if load is None else {**joint, "load": load.word},
        measured(asked),
        frozenset(prefer.bolt_families),
        frozenset(prefer.nut_families),
        frozenset(prefer.avoid),
        frozenset(prefer.materials),
        prefer.holding,
        load,
        prefer.drilled,
        prefer.most_under_head,
        prefer.most_under_nut,
        prefer.least_under_nut,
        prefer.thread_in_hole,
        asked.limit,
    )


def _diameter(thread: str) -> Fraction:
    try:
        return parse_thread(thread).diameter
    except ValueError as error:
        raise bad_body("thread", str(error)) from None


def _materials(desk: Desk) -> set[str]:
    """The material groups of the bolts in the tables."""
    bolts = (
        f for f in desk.catalogue.families.values() if f.kind == "bolt" and "material_group" in f.facets.by_attribute
    )
    return {str(value.exact) for family in bolts for value, _ in desk.encoder.table(family, "material_group")}


def _load(asked: LoadAsked | None, joint: Mapping[str, Exact]) -> Load | None:
    """The load of a request. Raises Problem for one of nothing, a limit load without factor, or one that the conditions
    contradict."""
    if asked is None:
        return None
    if not asked.shear and not asked.tension:
        raise bad_body("load", "shear or tension above 0")
    if asked.basis == "limit" and asked.factor is None:
        raise bad_body("load/factor", "a limit load needs the factor to the ultimate load")
    load = Load(asked.basis, asked.shear, asked.tension, asked.shear_planes, asked.factor or Fraction(1))
    if joint.get("load", load.word) != load.word:
        raise bad_body("conditions/load", f"the load asked is {load.word}")
    return load


def selection_members(found: Selection, wish: Wish, tables: TorqueTables, masses: Masses) -> dict[str, Any]:
    """A selection as it leaves the service."""
    return {
        "sets": [set_members(rank, choice, tables, masses) for rank, choice in enumerate(found.choices, 1)],
        "ranked_by": RANKED_BY,
        "bolts_tried": found.bolts,
        "bolts_closing": found.closing,
        "nothing_closes": found.nothing,
        "ruled_out": [_ruled_out(candidate) for candidate in found.ruled_out],
        "near_misses": [_miss(miss) for miss in found.misses],
        "too_weak": [{"number": w.number, "carrying": _carrying_members(w.carrying)} for w in found.too_weak],
        "joint": joint_members(wish.joint),
        "not_considered": NOT_CONSIDERED,
    }


def set_members(rank: int, choice: Choice, tables: TorqueTables, masses: Masses) -> dict[str, Any]:
    """A set as it leaves the service."""
    assembly = choice.assembly
    assert assembly.fastener is not None
    held, pin = assembly.holding, assembly.cotter_pin
    assert held is not None
    return {
        "rank": rank,
        "fastener": assembly.fastener.number,
        "description": assembly.fastener.description,
        "under_head": [washer.number for washer in assembly.under_head],
        "under_nut": [washer.number for washer in assembly.under_nut],
        "nut": held.number if held is assembly.nut else None,
        "plate_nut": held.number if held is assembly.plate_nut else None,
        "other_nuts": list(choice.other_nuts),
        "cotter_pin": pin.number if pin is not None else None,
        "verdict": choice.check.verdict,
        "cautions": [finding_members(f) for f in choice.check.findings if f.severity == "caution"],
        "not_judged": not_judged_members(choice.check),
        "margins": {
            "grip": decimal_text(choice.margins.grip, 6),
            "nut": decimal_text(choice.margins.nut, 6),
            "past_pack": decimal_text(choice.margins.past_pack, 6),
        },
        "carrying": None if choice.carrying is None else _carrying_members(choice.carrying),
        "mass": _mass_members(masses.weigh(assembly.every())),
        "torque": torque_members(assembly, tables),
        "behind_because": choice.lost,
    }


def _carrying_members(carrying: Carrying) -> dict[str, Any]:
    return {
        "by_kind": [
            {
                "kind": entry.kind,
                "needed": decimal_text(entry.needed, 1),
                "allowed": decimal_text(entry.allowed, 1),
                "margin": decimal_text(entry.margin, 3),
                **cited(entry.value.citation),
            }
            for entry in carrying.by_kind
        ],
        "unknown": list(carrying.unknown),
        "together": None if carrying.together is None else decimal_text(carrying.together, 3),
    }


def _mass_members(weighed: list[Weighed]) -> dict[str, Any]:
    pounds = sum((entry.mass for entry in weighed if entry.mass is not None), Fraction(0))
    left_out = [entry.number for entry in weighed if entry.mass is None]
    display = f"about {decimal_text(pounds, 4)} lb ({decimal_text(pounds * _GRAMS, 1)} g)"
    return {
        "pounds": decimal_text(pounds, 5),
        "display": display + (f" without {', '.join(left_out)}" if left_out else ""),
        "complete": not left_out,
        "parts": [
            {
                "number": entry.number,
                "mass": None if entry.mass is None else decimal_text(entry.mass, 5),
                "why_not": entry.why_not,
            }
            for entry in weighed
        ],
    }


def _ruled_out(candidate: Candidate) -> dict[str, Any]:
    rules = [from_rule(finding, [candidate.number]) for finding in candidate.findings if finding.effect == "excludes"]
    return {"number": candidate.number, "rules": [finding_members(rule) for rule in rules]}


def _miss(miss: Miss) -> dict[str, str]:
    return {"number": miss.number, "constraint": miss.constraint, "by": decimal_text(miss.by, 6)}
