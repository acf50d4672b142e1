"""Is this rivet right for these sheets: rule rows, then length, diameter, spacing, shop head and hole by practice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from service.catalogue.values import Citation
from service.joints.assembly import quantity, why_absent, word
from service.joints.findings import (
    JointFinding,
    NotJudged,
    Verdict,
    from_rule,
    from_rule_row,
    ordered,
    verdict_of,
)
from service.joints.formulas.rivets import Breach, check_shop_head, check_spacing, computed_length, standard_length
from service.joints.practices import shop_head_practice, spacing_practice
from service.joints.riveting import RivetTables
from service.mating.clauses import Effect, Exact, Setting
from service.mating.rules import RuleBook
from service.parts.part import Part
from service.quantity import decimal_text, parse_number
from service.tables.joint_rows import Practice


@dataclass(frozen=True, slots=True)
class Riveted:
    """A rivet in its sheets, and what was measured; inches."""

    rivet: Part
    sheets: tuple[Fraction, ...]
    edge: Fraction | None = None
    pitch: Fraction | None = None
    row: Fraction | None = None
    head_width: Fraction | None = None
    head_height: Fraction | None = None
    hole: Fraction | None = None
    joint: Mapping[str, Exact] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RivetCheck:
    """What was found."""

    verdict: Verdict
    findings: tuple[JointFinding, ...]
    not_judged: tuple[NotJudged, ...]


def check_rivet(riveted: Riveted, tables: RivetTables, rules: RuleBook) -> RivetCheck:
    """Judge a rivet in its sheets. ValueError without sheets."""
    if not riveted.sheets:
        raise ValueError("a rivet needs sheets to hold")
    rivet, missed = riveted.rivet, []
    joint = {**riveted.joint, "sheet_thickness": max(riveted.sheets)}
    setting = Setting({rivet.family.kind: rivet}, joint)
    findings = [from_rule(found, [rivet.number]) for found in rules.judge(setting, rivet.basis)]
    diameter = quantity(rivet, "nominal_diameter")
    if diameter is None:
        missed.append(NotJudged("diameter and spacing", why_absent(rivet, "nominal_diameter"), vital=True))
        return RivetCheck(verdict_of(findings, missed), ordered(findings), tuple(missed))
    findings += _length(riveted, diameter.number, tables, rules, missed)
    findings += _diameter(riveted, diameter.number, rules)
    findings += _spacing(riveted, diameter.number, tables, rules, missed)
    findings += _shop_head(riveted, diameter.number, tables, rules)
    findings += _hole(riveted, diameter.number, tables, missed)
    return RivetCheck(verdict_of(findings, missed), ordered(findings), tuple(missed))


def _inches(value: Fraction) -> str:
    return f"{decimal_text(value, 4)} in"


def _length(
    riveted: Riveted, diameter: Fraction, tables: RivetTables, rules: RuleBook, missed: list[NotJudged]
) -> Iterator[JointFinding]:
    length = quantity(riveted.rivet, "length")
    if length is None or riveted.rivet.family.kind != "rivet":
        missed.append(NotJudged("length", why_absent(riveted.rivet, "length")))
        return
    wanted = computed_length(sum(riveted.sheets, Fraction(0)), diameter)
    by_practice = {
        row.practice: standard_length(
            wanted, "nearest" if row.practice == "nearest" else "next-above", parse_number(row.value)
        )
        for row in tables.practices.rows("rivet_rounding")
    }
    rounded = ", ".join(f"{_inches(value)} {name}" for name, value in by_practice.items())
    words = f"Stack {_inches(sum(riveted.sheets, Fraction(0)))} and 1.5 D make {_inches(wanted)} ({rounded}); this one is {_inches(length.number)} long."
    effect: Effect = "fits" if length.number in by_practice.values() else "conditions"
    # no longer than the stack there is nothing to drive: no practice read makes a head of it
    if length.number <= sum(riveted.sheets, Fraction(0)):
        effect = "excludes"
    yield from_rule_row(rules, "rivet.length", effect, words, [riveted.rivet.number])


def _diameter(riveted: Riveted, diameter: Fraction, rules: RuleBook) -> Iterator[JointFinding]:
    thickest = max(riveted.sheets)
    words = f"Here {decimal_text(diameter / thickest, 2)} times the thickest sheet."
    if diameter > 3 * thickest:
        yield from_rule_row(rules, "rivet.diameter.most", "notes", words, [riveted.rivet.number])


def _spacing(
    riveted: Riveted, diameter: Fraction, tables: RivetTables, rules: RuleBook, missed: list[NotJudged]
) -> Iterator[JointFinding]:
    given = {"edge": riveted.edge, "pitch": riveted.pitch, "row": riveted.row}
    for name, value in given.items():
        if value is None:
            missed.append(NotJudged({"edge": "edge distance", "row": "row spacing"}.get(name, name), "not given"))
    flush = quantity(riveted.rivet, "head_angle") is not None
    rule = {
        "edge distance": "rivet.edge.flush" if flush else "rivet.edge",
        "pitch": "rivet.edge",
        "row spacing": "rivet.rows",
    }
    for name, (limits, rows) in tables.practices.spacing.items():
        if ("flush" in name and not flush) or ("double" in name and riveted.row is None):
            continue
        for breach in check_spacing(diameter, spacing_practice(name, limits), **given):
            yield _breach(breach, rows, rules, rule[breach.dimension], riveted.rivet.number)


def _shop_head(riveted: Riveted, diameter: Fraction, tables: RivetTables, rules: RuleBook) -> Iterator[JointFinding]:
    for name, (limits, rows) in tables.practices.shop_heads.items():
        if "7050" in name and not word(riveted.rivet, "alloy").startswith("7050"):
            continue
        practice = shop_head_practice(name, limits)
        for breach in check_shop_head(diameter, practice, width=riveted.head_width, height=riveted.head_height):
            yield _breach(breach, rows, rules, "rivet.shop-head", riveted.rivet.number)


def _breach(breach: Breach, rows: list[Practice], rules: RuleBook, rule: str, number: str) -> JointFinding:
    """A broken limit: too little is a fault by the circular, a caution by another document; too much is a caution."""
    short = breach.measured < breach.limit
    effect: Effect = "excludes" if short and breach.practice == "circular" else "conditions"
    side = "at least" if short else "at most"
    words = f"{breach.practice} practice: {breach.dimension} {side} {_inches(breach.limit)}, here {_inches(breach.measured)}."
    measure = breach.dimension.split()[-1] if breach.dimension.startswith("shop") else breach.dimension.split()[0]
    row = next((r for r in rows if r.quantity.startswith(measure) and r.limit == ("min" if short else "max")), rows[0])
    return from_rule_row(rules, rule, effect, words, [number], Citation.of(row))


def _hole(riveted: Riveted, diameter: Fraction, tables: RivetTables, missed: list[NotJudged]) -> Iterator[JointFinding]:
    if riveted.hole is None:
        return
    rows = [r for r in tables.holes(diameter, False) if r.rivet_type == "solid" and r.quantity == "hole_nominal"]
    if not rows:
        missed.append(NotJudged("hole", "no row gives a hole for this diameter"))
        return
    row = rows[0]
    nominal = parse_number(row.value)
    if riveted.hole < diameter:
        effect: Effect = "excludes"
    else:
        effect = "fits" if riveted.hole <= nominal else "conditions"
    text = f"Hole {_inches(riveted.hole)}; the listed hole for this rivet is {_inches(nominal)}, its shank {_inches(diameter)}."
    severity = {"excludes": "fault", "conditions": "caution"}.get(effect, "note")
    yield JointFinding(severity, effect, row.row, "hole", text, (riveted.rivet.number,), Citation.of(row))  # type: ignore[arg-type]
