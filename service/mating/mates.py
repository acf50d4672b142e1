"""Candidates that mate with a part, ranked and reasoned. What is ruled out is listed too, with the rule that ruled it out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import islice, product
from typing import Literal

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.slots import NONE
from service.catalogue.values import Citation
from service.designation.encode import Encoder, Wanted, one_of
from service.designation.reading import Designation
from service.mating.clauses import Clause, Exact, Setting, compile_clauses
from service.mating.rules import CompiledRule, Finding, RuleBook
from service.parts.part import Part
from service.quantity import parse_number
from service.tables.rows import TRUST, Mate

Verdict = Literal["fits", "conditional", "excluded"]
_ORDER: Mapping[str, int] = {"fits": 0, "conditional": 1, "excluded": 2}

#: numbers worked out per mate row; more than this is a sign that a row lacks a match, and the rest is said to be left out
MOST = 60
#: answers of single mate rows that are kept, for one size each
_MOST_OFFERED = 4096
#: stands for a piece that counts, in a candidate of any length
OPEN = "\N{HORIZONTAL ELLIPSIS}"


@dataclass(frozen=True, slots=True)
class Candidate:
    """A number that may stand in ``role``, the verdict on it, and everything that speaks for or against.

    ``variants`` are numbers of the same family about which exactly the same is said. ``any_of`` marks a candidate that stands for
    every number of its form: a bolt of any length.
    """

    role: str
    number: str
    part: Part
    verdict: Verdict
    findings: tuple[Finding, ...]
    mate: Citation
    order: int
    any_of: bool = False
    variants: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CompiledMate:
    """A mate row: who takes whom, what must agree, what the target must be."""

    row: Mate
    conditions: tuple[Clause, ...]
    match: tuple[tuple[str, str], ...]
    wanted: Mapping[str, tuple[Exact, ...]]


def compiled_mate(row: Mate) -> CompiledMate:
    """Compile a mate row. ValueError when a cell is not in its language."""
    match = tuple((a, b or a) for a, _, b in (pair.partition("=") for pair in row.match.split()))
    wanted: dict[str, tuple[Exact, ...]] = {}
    for clause in filter(None, (part.strip() for part in row.with_.split(";"))):
        name, equals, values = clause.partition("=")
        if not equals:
            raise ValueError(f"{clause!r} is not attribute=value")
        wanted[name.strip()] = tuple(_exact(v.strip()) for v in values.split("|"))
    if not match and not wanted:
        raise ValueError("a mate row must say what agrees")
    return CompiledMate(row, compile_clauses(row.from_when), match, wanted)


def _exact(text: str) -> Exact:
    try:
        return parse_number(text)
    except ValueError:
        return text


class Mates:
    """Answers what mates with a part."""

    def __init__(self, catalogue: Catalogue, rules: RuleBook, encoder: Encoder) -> None:
        self._catalogue = catalogue
        self._rules = rules
        self._encoder = encoder
        self._mates = tuple(compiled_mate(row) for row in catalogue.mates)
        self._offered: dict[tuple[object, ...], tuple[Part, ...]] = {}

    def of(self, part: Part, joint: Mapping[str, Exact]) -> list[Candidate]:
        """Every candidate for ``part`` in this joint, best first within each role."""
        found = [*self._forward(part, joint), *self._backward(part, joint)]
        merged: dict[tuple[object, ...], Candidate] = {}
        for candidate in sorted(found, key=lambda c: (c.role, _ORDER[c.verdict], c.order)):
            said = (candidate.role, candidate.part.family.id, candidate.verdict, candidate.findings, candidate.any_of)
            first = merged.get(said)
            if first is None:
                merged[said] = candidate
            elif candidate.number != first.number and candidate.number not in first.variants:
                merged[said] = _with_variant(first, candidate.number)
        return list(merged.values())

    def in_roles(self, part: Part, joint: Mapping[str, Exact], roles: frozenset[str]) -> list[Candidate]:
        """Candidates for ``part`` in these roles, every number by itself, in table order."""
        return list(self._forward(part, joint, roles))

    def _forward(
        self, part: Part, joint: Mapping[str, Exact], roles: frozenset[str] = frozenset()
    ) -> Iterator[Candidate]:
        """Candidates that the rows offer from ``part`` on; with ``roles``, only those."""
        whole = Part(part.designation)  # see _judged
        rules: dict[str, dict[str, CompiledRule]] = {}
        for mate in self._mates:
            row = mate.row
            if roles and row.role not in roles:
                continue
            if row.from_kind != part.family.kind or (row.from_family and row.from_family != part.family.id):
                continue
            if TRUST[row.basis] > TRUST[part.basis]:
                continue
            setting = Setting({part.family.kind: part}, joint)
            if any(clause.judge(setting).holds is False for clause in mate.conditions):
                continue
            for other in self._others(part, mate):
                kind = other.family.kind
                if kind not in rules:
                    rules[kind] = self._rules.left_by(whole, joint, kind)
                yield self._judged(part, other, joint, mate, rules[kind])

    def _others(self, part: Part, mate: CompiledMate) -> tuple[Part, ...]:
        """The parts that a mate row offers for ``part``; they hang on what must agree, and are worked out once for that."""
        agree = [part.value(mine) for mine, _ in mate.match]
        key = (mate.row.row, part.basis, *(None if value is None else value.exact for value in agree))
        known = self._offered.get(key)
        if known is None:
            if len(self._offered) >= _MOST_OFFERED:
                self._offered.clear()
            known = self._offered[key] = tuple(self._work_out(part, mate))
        return known

    def _work_out(self, part: Part, mate: CompiledMate) -> Iterator[Part]:
        wanted, family = self._wanted(part, mate), self._catalogue.families.get(mate.row.to_family)
        if wanted is None or family is None:
            return
        for codes in islice(self._encoder.numbers(family, wanted), MOST):
            other = Part(Designation(number := family.format(codes), family, codes, number), part.basis)
            if all((v := other.value(name)) is not None and test(v) for name, test in wanted.items()):
                yield other

    def _backward(self, part: Part, joint: Mapping[str, Exact]) -> Iterator[Candidate]:
        """From a nut or a washer to the parts that take it, in the role of their kind; their lengths are open."""
        for mate in self._mates:
            row = mate.row
            if row.to_family != part.family.id or TRUST[row.basis] > TRUST[part.basis]:
                continue
            if any((v := part.value(name)) is None or v.exact not in values for name, values in mate.wanted.items()):
                continue
            for family in self._catalogue.families.values():
                if family.kind == row.from_kind and row.from_family in {"", family.id}:
                    yield from self._takers(part, family, joint, mate)

    def _takers(
        self, part: Part, family: FamilySpec, joint: Mapping[str, Exact], mate: CompiledMate
    ) -> Iterator[Candidate]:
        wanted: dict[str, Wanted] = {}
        for mine, theirs in mate.match:
            value = part.value(theirs)
            if value is None or value.exact is None:
                return
            wanted[mine] = one_of(value.exact)
        for partial in self._encoder.partials(family, wanted):
            for codes in _shapes(family, partial):
                other = Part(Designation(_open_number(family, codes, partial), family, codes, ""), part.basis)
                setting = Setting({family.kind: other}, joint)
                if all(clause.judge(setting).holds is not False for clause in mate.conditions):
                    yield replace(self._judged(part, other, joint, mate), role=family.kind, any_of=True)

    def _wanted(self, part: Part, mate: CompiledMate) -> dict[str, Wanted] | None:
        wanted: dict[str, Wanted] = {name: one_of(*values) for name, values in mate.wanted.items()}
        for mine, theirs in mate.match:
            value = part.value(mine)
            if value is None or value.exact is None:
                return None
            wanted[theirs] = one_of(value.exact)
        return wanted

    def _judged(
        self,
        part: Part,
        other: Part,
        joint: Mapping[str, Exact],
        mate: CompiledMate,
        rules: Mapping[str, CompiledRule] | None = None,
    ) -> Candidate:
        # judged on all that is known, however weak: a stricter basis refuses values, it does not unsay warnings
        setting = Setting({p.family.kind: Part(p.designation) for p in (part, other)}, joint)
        # rules that concern the part taken (the nut, the washer), whichever of the two was asked about: the verdict is the same from both sides
        taken = part if mate.row.to_family == part.family.id else other
        left = None
        if rules is not None:
            open_for_other = self._rules.open_for(Part(other.designation))
            left = [rule for id_, rule in rules.items() if id_ in open_for_other]
        findings = tuple(self._rules.judge(setting, part.basis, frozenset({taken.family.kind}), left))
        return Candidate(
            mate.row.role,
            other.number,
            other,
            verdict_of(findings),
            findings,
            Citation.of(mate.row),
            int(mate.row.order),
        )


def _shapes(family: FamilySpec, partial: Mapping[int, str]) -> Iterator[tuple[str, ...]]:
    """One made number for each choice of the lettered pieces; a piece that counts stands at its first made value."""
    choices = [
        [partial[i]] if i in partial else list(spec.codes) if not spec.numeric else [OPEN]
        for i, spec in enumerate(family.slots)
    ]
    counted = [i for i, choice in enumerate(choices) if choice == [OPEN]]
    for codes in product(*choices):
        for filling in product(*(family.slots[i].codes for i in counted)):
            filled = list(codes)
            for index, code in zip(counted, filling, strict=True):
                filled[index] = code
            if family.not_made(filled) is None:
                yield tuple(filled)
                break


def _open_number(family: FamilySpec, codes: tuple[str, ...], partial: Mapping[int, str]) -> str:
    """The number with an ellipsis for every piece that counts: it stands for any length."""
    text = codes[0]
    for index, (spec, code) in enumerate(zip(family.slots, codes, strict=True)):
        if index and code != NONE:
            is_open = spec.numeric and index not in partial
            dash = spec.joint == "dash" or (
                spec.joint == "dash-between-digits" and text[-1].isdigit() and code[0].isdigit()
            )
            text += ("-" if dash else "") + (OPEN if is_open else code)
    return text


def verdict_of(findings: tuple[Finding, ...]) -> Verdict:
    """The verdict that a set of findings adds up to."""
    effects = {finding.effect for finding in findings}
    return "excluded" if "excludes" in effects else "conditional" if "conditions" in effects else "fits"


def _with_variant(first: Candidate, number: str) -> Candidate:
    return replace(first, variants=(*first.variants, number))
