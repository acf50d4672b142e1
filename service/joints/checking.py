"""Does this set go together, and does it close this stack: every rule row, every practice, the metals, the used nut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Citation
from service.joints.assembly import Assembly, quantity, shank_of, span_of, why_absent
from service.joints.clocking import SLOTS, Clocking, choose_pack
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
from service.joints.geometry import judge_stack
from service.joints.holes import fit
from service.joints.judging import judge_set
from service.joints.metals import Metals, judge_metals
from service.joints.practices import Practices
from service.joints.stack import total
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
        findings += self._castellation(assembly, not_judged)
        findings += self._reused(assembly, not_judged)
        findings += self._hole(assembly, geometry.figures, not_judged)
        not_judged += _unjudged_pairs(assembly)
        not_judged += self._unjudged_temperatures(assembly)
        return Check(
            verdict_of(findings, not_judged),
            ordered(findings),
            tuple(geometry.figures),
            tuple(geometry.practices),
            tuple(_clocking(assembly)),
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

    def _castellation(self, assembly: Assembly, not_judged: list[NotJudged]) -> Iterator[JointFinding]:
        """The cotter hole against the slots: no sheet read gives both the hole's place and the slots' depth."""
        nut, bolt = assembly.nut, assembly.fastener
        if nut is None or bolt is None or not assembly.stack or _word(nut, "castellated") != "yes":
            return
        if _word(bolt, "shank_drilled") != "yes":
            return
        missing = [
            (part, name)
            for part, name in ((bolt, "shank_hole_from_point"), (nut, "slot_bottom_height"), (nut, "height"))
            if quantity(part, name) is None
        ]
        for part, name in missing:
            not_judged.append(NotJudged("cotter hole in the slots", why_absent(part, name)))
        if missing:
            unknown = [f"{name} of {part.number}" for part, name in missing]
            words = "Not judged on paper: see that the hole stands in the slots inside the torque range."
            yield from_rule_row(
                self.rules, "cotter-pin.castellation", "conditions", words, [bolt.number, nut.number], None, unknown
            )

    def _reused(self, assembly: Assembly, not_judged: list[NotJudged]) -> Iterator[JointFinding]:
        nut, drag = assembly.holding, assembly.reused_nut_drag
        if nut is None or drag is None:
            return
        thread, locking = _word(nut, "thread"), _word(nut, "locking")
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

    def _hole(self, assembly: Assembly, figures: list[Figure], not_judged: list[NotJudged]) -> Iterator[JointFinding]:
        if assembly.hole is None or assembly.fastener is None:
            return
        bolt = assembly.fastener
        shank = quantity(bolt, "shank_diameter")
        if shank is None:
            not_judged.append(NotJudged("fit in the hole", why_absent(bolt, "shank_diameter")))
            return
        room = fit(assembly.hole, span_of(shank))
        figures.append(Figure("hole_clearance", room, "[in_i]", "hole less shank; below zero is interference"))
        if room.low < 0:
            words = f"The shank is up to {decimal_text(-room.low, 4)} in larger than the hole: only for a drawn fit."
            yield from_rule_row(self.rules, "hole.light-drive", "conditions", words, [bolt.number])


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


def _word(part: Part, attribute: str) -> str:
    value = part.value(attribute)
    return value.exact if value is not None and isinstance(value.exact, str) else ""


def _unjudged_pairs(assembly: Assembly) -> Iterator[NotJudged]:
    """Whether thread or size of a pair could not be compared because a row is missing."""
    bolt, nut = assembly.fastener, assembly.holding
    if bolt is not None and nut is not None:
        for part in (bolt, nut):
            if not _word(part, "thread"):
                yield NotJudged("thread of the pair", why_absent(part, "thread"), vital=True)
    for washer in (*assembly.under_head, *assembly.under_nut):
        if quantity(washer, "nominal_diameter") is None:
            yield NotJudged("size of a washer", why_absent(washer, "nominal_diameter"), vital=True)
    if bolt is not None and quantity(bolt, "nominal_diameter") is None:
        yield NotJudged("size of the fastener", why_absent(bolt, "nominal_diameter"), vital=True)
    if bolt is not None and nut is None and bolt.family.kind in {"bolt", "screw"}:
        yield NotJudged("nut", "no nut was given")


def _clocking(assembly: Assembly) -> Iterator[Clocking]:
    """How changing the washers under a castellated nut turns its slots, from where they stand now."""
    nut, bolt = assembly.nut, assembly.fastener
    shank = shank_of(bolt) if bolt is not None else None
    if nut is None or shank is None or _word(nut, "castellated") != "yes" or not assembly.under_nut:
        return
    heights: dict[str, Fraction] = {}
    for washer in assembly.under_nut:
        family, codes = washer.family, washer.designation.codes
        for other in _same_size(washer):
            value = family.value("thickness", other)
            if value is not None and isinstance(value.exact, Fraction) and other != codes:
                heights[family.format(other)] = value.exact
        value = quantity(washer, "thickness")
        if value is None:
            return
        heights[washer.number] = value.number
    present = total(span_of(v) for w in assembly.under_nut if (v := quantity(w, "thickness")) is not None).low
    different = {height: name for name, height in sorted(heights.items(), reverse=True)}
    packs = [(name, height) for height, name in different.items()]
    packs += [(f"{a} and {b}", x + y) for i, (a, x) in enumerate(packs) for b, y in packs[i:]]
    yield from choose_pack(Fraction(0), present, packs, shank.pitch, SLOTS)


def _same_size(washer: Part) -> Iterator[tuple[str, ...]]:
    """Numbers of the washer's family that differ in the one piece that its thickness form hangs on."""
    family, codes = washer.family, washer.designation.codes
    facet = family.facets.by_attribute.get("thickness_form")
    for index in facet.slots if facet is not None else ():
        for code in family.slots[index].codes:
            other = (*codes[:index], code, *codes[index + 1 :])
            same = family.value("nominal_diameter", other)
            mine = washer.value("nominal_diameter")
            if same is not None and mine is not None and same.exact == mine.exact and family.not_made(other) is None:
                yield other
