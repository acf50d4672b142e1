"""Does this set go together, and does it close this stack: every rule row, every practice, the metals, the used nut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Citation
from service.joints.assembly import MEASURABLE, Assembly, quantity, span_of, why_absent, word
from service.joints.castellation import judge_castellation
from service.joints.findings import (
    Figure,
    JointFinding,
    NotJudged,
    PracticeResult,
    Verdict,
    from_rule_row,
    ordered,
    verdict_of,
)
from service.joints.formulas.clocking import Clocking
from service.joints.formulas.stack import Span
from service.joints.geometry import judge_stack
from service.joints.hole_checking import judge_hole
from service.joints.judging import judge_set
from service.joints.metals import Metals, judge_metals
from service.joints.practices import Practices
from service.joints.sizes import Holes
from service.mating.clauses import Effect, Setting
from service.mating.rules import RuleBook
from service.parts.part import Part
from service.quantity import decimal_text, parse_number
from service.tables.joint_rows import PrevailingTorque
from service.tables.rows import TRUST

#: the document whose reuse limit is a fault when a nut falls below it
_REUSE_TABLE = "ac43.13-1b-table-7-2"
_REUSE_RULE = {"nut": "nut.self-locking.reuse", "plate_nut": "plate-nut.self-locking.reuse"}


@dataclass(frozen=True, slots=True)
class Check:
    """What was found about a set."""

    verdict: Verdict
    findings: tuple[JointFinding, ...]
    figures: tuple[Figure, ...]
    practices: tuple[PracticeResult, ...]
    clocking: tuple[Clocking, ...]
    not_judged: tuple[NotJudged, ...]


class Checker:
    """Checks sets against one catalogue at one basis."""

    def __init__(self, catalogue: Catalogue, rules: RuleBook, basis: str = "from-memory") -> None:
        self.rules, self.basis = rules, basis
        self.practices = Practices(catalogue, basis)
        self.metals = Metals.of(catalogue, basis)
        self._holes = Holes(catalogue, basis)
        rows = catalogue.package.of(PrevailingTorque)
        self._lowest_limit = _lowest_limit(rules)
        self._prevailing = [row for row in rows if TRUST[row.basis] <= TRUST[basis]]

    def check(
        self,
        assembly: Assembly,
        said: tuple[JointFinding, ...] = (),
        missed: tuple[NotJudged, ...] = (),
    ) -> Check:
        """Judge a set. ``said`` and ``missed`` are what reading the numbers gave already."""
        geometry = judge_stack(assembly, self.rules, self.practices)
        findings = [*said, *judge_set(assembly, self.rules, self.basis), *geometry.findings]
        findings += judge_metals(assembly, self.metals)
        not_judged = [*missed, *geometry.not_judged]
        castellation, hole = judge_castellation(assembly, self.rules), judge_hole(assembly, self.rules, self._holes)
        findings += [*castellation.findings, *hole.findings]
        not_judged += [*castellation.not_judged, *hole.not_judged]
        findings += self._reused(assembly, not_judged)
        findings += _measured(assembly, self.rules)
        not_judged += _unjudged_pairs(assembly)
        not_judged += self._unjudged_temperatures(assembly)
        return Check(
            verdict_of(findings, not_judged),
            ordered(findings),
            (*geometry.figures, *castellation.figures, *hole.figures),
            tuple(geometry.practices),
            tuple(castellation.clocking),
            tuple(dict.fromkeys(not_judged)),
        )

    def _unjudged_temperatures(self, assembly: Assembly) -> Iterator[NotJudged]:
        """Parts whose limit no row gives although a temperature was stated. Silence is no permission: above the lowest
        limit that rows give for any hardware the verdict is left open."""
        temperature = assembly.joint.get("temperature")
        if not isinstance(temperature, Fraction):
            return
        for part in assembly.every():
            if not self._limit_known(part, assembly):
                why = f"no row limits the temperature of {part.number}; nothing here says that it stands this one"
                yield NotJudged(f"temperature of {part.number}", why, vital=temperature > self._lowest_limit)

    def _limit_known(self, part: Part, assembly: Assembly) -> bool:
        """Whether some rule that excludes by temperature is about this part, whatever it then says."""
        setting = Setting({part.family.kind: part}, assembly.joint)
        for rule in self.rules.about(setting.parts):
            if (
                rule.row.topic != "temperature"
                or rule.row.effect != "excludes"
                or TRUST[rule.row.basis] > TRUST[self.basis]
            ):
                continue
            hot = [c for c in rule.clauses if (c.subject, c.attribute, c.operator) == ("joint", "temperature", ">")]
            others = [c for c in rule.clauses if c not in hot]
            about_the_part = all(c.subject != "joint" and c.judge(setting).holds for c in others)
            if hot and about_the_part and hot[0].judge(setting).holds is not None:
                return True
        return False

    def _reused(self, assembly: Assembly, not_judged: list[NotJudged]) -> Iterator[JointFinding]:
        nut, drag = assembly.holding, assembly.reused_nut_drag
        if nut is None or drag is None:
            return
        thread, locking = word(nut, "thread"), word(nut, "locking")
        rows = [
            row for row in self._prevailing
            if row.thread == thread and (row.nut in {"either", locking} or locking == "either")
        ]  # fmt: skip
        if not any(row.document == _REUSE_TABLE for row in rows):
            why = f"table 7-2 gives no minimum for {thread}; the other documents named stand for themselves"
            not_judged.append(NotJudged("minimum prevailing torque by the circular", why))
        for row in rows:
            least = parse_number(row.minimum)
            governs = row.document == _REUSE_TABLE
            low = drag < least
            effect: Effect = "fits" if not low else "excludes" if governs else "conditions"
            words = f"Measured {decimal_text(drag)} in-lb, {row.document} asks {decimal_text(least)}."
            rule = _REUSE_RULE[nut.family.kind]
            yield from_rule_row(self.rules, rule, effect, words, [nut.number], Citation.of(row))


def _measured(assembly: Assembly, rules: RuleBook) -> Iterator[JointFinding]:
    """Measured sizes that lie outside the tables' tolerance, where the tables give one."""
    for name, size in assembly.measured.items():
        part = assembly.fastener if MEASURABLE[name] == "fastener" else assembly.holding
        value = quantity(part, name)
        if part is None or value is None or value.limit or (value.plus is None and value.minus is None):
            continue
        if size.high < value.least or size.low > value.greatest:
            kind = name.replace("_", " ")
            words = f"{kind} of {part.number}: {_inches(size)} measured, {_inches(span_of(value))} by the rows."
            yield from_rule_row(rules, "measured.differs", "conditions", words, [part.number], value.citation)


def _inches(span: Span) -> str:
    low, high = decimal_text(span.low, 4), decimal_text(span.high, 4)
    return f"{low} in" if low == high else f"{low} to {high} in"


def _lowest_limit(rules: RuleBook) -> Fraction:
    """The lowest temperature above which some rule row excludes some hardware."""
    limits = [
        literal
        for rule in rules.rules
        if rule.row.effect == "excludes"
        for clause in rule.clauses
        if (clause.subject, clause.attribute, clause.operator) == ("joint", "temperature", ">")
        for literal in clause.literals
        if isinstance(literal, Fraction)
    ]
    return min(limits, default=Fraction(0))


def _unjudged_pairs(assembly: Assembly) -> Iterator[NotJudged]:
    """Whether thread or size of a pair could not be compared because a row is missing."""
    bolt, nut = assembly.fastener, assembly.holding
    if bolt is not None and nut is not None:
        for part in (bolt, nut):
            if not word(part, "thread"):
                yield NotJudged("thread of the pair", why_absent(part, "thread"), vital=True)
    for washer in (*assembly.under_head, *assembly.under_nut):
        if quantity(washer, "nominal_diameter") is None:
            yield NotJudged("size of a washer", why_absent(washer, "nominal_diameter"), vital=True)
    if bolt is not None and quantity(bolt, "nominal_diameter") is None:
        yield NotJudged("size of the fastener", why_absent(bolt, "nominal_diameter"), vital=True)
    if bolt is not None and nut is None and bolt.family.kind in {"bolt", "screw"}:
        yield NotJudged("nut", "no nut was given")
