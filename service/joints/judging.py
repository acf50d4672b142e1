"""The rule rows over a whole set: every combination of washers, every clamped material, each finding once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product
from typing import Final

from service.joints.assembly import PLACES, Assembly
from service.joints.findings import JointFinding, from_rule
from service.mating.clauses import Clause, Exact, Setting
from service.mating.rules import CompiledRule, Finding, RuleBook
from service.parts.part import Part
from service.tables.rows import TRUST

#: a rule that asks for one of these is about the washer that touches the head of the bolt, unless it also asks for the nut:
#: the countersunk side is there to clear the fillet under the head
_HEAD_SIDE: Final = frozenset({"countersunk_side"})
_AGAINST: Final = frozenset({"excludes", "conditions"})
_WASHER_KINDS: Final = ("washer", "lock_washer")


def judge_set(assembly: Assembly, rules: RuleBook, basis: str) -> Iterator[JointFinding]:
    """Every rule row over the set: washers of a kind one at a time, since a rule speaks of one washer.

    A rule found for several washers is one finding that names them all. A rule that needs a part be missing is judged
    on the whole set, so it is silent as soon as one is there.
    """
    merged: dict[tuple[str, str, tuple[str, ...], tuple[str, ...]], tuple[Finding, list[str]]] = {}
    for side, setting in _settings(assembly):
        whole = _whole(setting)
        for rule in rules.about(setting.parts):
            if not _on_side(rule, side):
                continue
            found = _judged(rule, setting, whole, basis)
            if found is None:
                continue
            concerned = [setting.parts[kind].number for kind in setting.parts if kind in rule.subjects]
            key = (found.rule, found.effect, found.unstated, found.unknown)
            known = merged.setdefault(key, (found, []))
            known[1].extend(concerned)
    for found, parts in merged.values():
        yield from_rule(found, parts)


def _judged(rule: CompiledRule, setting: Setting, whole: Setting, basis: str) -> Finding | None:
    """What a rule says at a basis, ``whole`` being all that is known of the set. What speaks against the set by weaker
    rows or a weaker rule is never left out: a stricter question must not get a laxer answer."""
    weaker = TRUST[rule.row.basis] > TRUST[basis]
    heard = None if weaker else rule.judge(setting)
    if not weaker and (whole is setting or (heard is not None and heard.effect == "excludes")):
        return heard
    against = rule.judge(whole)
    return against if against is not None and against.effect in _AGAINST else heard


def _whole(setting: Setting) -> Setting:
    """The setting with everything the tables know of its parts, whatever its basis; itself where that is the same."""
    known = {kind: Part(part.designation) for kind, part in setting.parts.items()}
    return setting if known == setting.parts else Setting(known, setting.joint)


def _settings(assembly: Assembly) -> Iterator[tuple[str, Setting]]:
    single = assembly.single()
    sides = [side for side in (("head", assembly.under_head), ("nut", assembly.under_nut)) if side[1]]
    everywhere = (*assembly.under_head, *assembly.under_nut)
    for side, washers in sides or [("none", ())]:
        for joint in _joints(assembly, side):
            for combination in _combinations(washers, everywhere):
                yield side, Setting({**single, **combination}, joint)


def _combinations(washers: tuple[Part, ...], everywhere: tuple[Part, ...]) -> Iterator[Mapping[str, Part]]:
    """One washer of each kind at a time; a kind that is only on the other side still counts as present there."""
    choices: list[list[tuple[str, Part] | None]] = []
    for kind in _WASHER_KINDS:
        here = [washer for washer in washers if washer.family.kind == kind]
        there = [washer for washer in everywhere if washer.family.kind == kind]
        different = {washer.number: washer for washer in here or there}
        choices.append([(kind, washer) for washer in different.values()] if different else [None])
    for chosen in product(*choices):
        yield dict(pair for pair in chosen if pair is not None)


def _joints(assembly: Assembly, side: str) -> Iterator[Mapping[str, Exact]]:
    """What was said of the joint, with the material that this side bears on; once for each where no side is meant.

    What head or nut bears on without a washer is seen in the set, where the other side has one: a set without any
    washer is the subject of rules of its own.
    """
    stated = assembly.joint.get("material")
    bears_on = {
        "head": stated or (assembly.stack[0].material if assembly.stack else ""),
        "nut": stated or (assembly.stack[-1].material if assembly.stack else ""),
    }
    bare: dict[str, Exact] = {}
    if bears_on["head"] and not assembly.under_head and assembly.under_nut:
        bare["bare_head_on"] = bears_on["head"]
    if bears_on["nut"] and not assembly.under_nut and assembly.under_head and assembly.nut is not None:
        bare["bare_nut_on"] = bears_on["nut"]
    sides = (side,) if side in bears_on else tuple(bears_on)
    for material in dict.fromkeys(bears_on[name] for name in sides):
        yield {**assembly.joint, **bare, **({"material": material} if material else {})}


def _on_side(rule: CompiledRule, side: str) -> bool:
    """Whether a rule is about the washers on this side.

    One about a washer's countersunk side is about the head; one about washer and nut without the fastener is about the
    washers under the nut; every other one is about both.
    """
    asks: tuple[Clause, ...] = rule.clauses
    if side == "none" or "washer" not in rule.subjects:
        return True
    if "nut" in rule.subjects and not rule.subjects & PLACES["fastener"]:
        return side == "nut"
    if any(clause.subject == "washer" and clause.attribute in _HEAD_SIDE for clause in asks):
        return side == "head"
    return True
