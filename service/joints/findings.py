"""What a check says: findings with their rule, figures, what could not be judged, and the verdict they add up to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from service.catalogue.values import Citation
from service.joints.formulas.stack import Outcome, Span
from service.mating.clauses import Effect
from service.mating.rules import Finding, RuleBook

Severity = Literal["fault", "caution", "note"]
Verdict = Literal["compatible", "compatible_with_conditions", "incompatible", "unknown"]

SEVERITY: Final[Mapping[Effect, Severity]] = {
    "excludes": "fault",
    "conditions": "caution",
    "notes": "note",
    "fits": "note",
}
_ORDER: Final[Mapping[Severity, int]] = {"fault": 0, "caution": 1, "note": 2}


@dataclass(frozen=True, slots=True)
class JointFinding:
    """A rule that speaks about a set, with the parts concerned. ``citation`` is None for what is plain from the question:
    a number that cannot be read, a part that stands in another's place."""

    severity: Severity
    effect: Effect
    rule: str
    topic: str
    text: str
    parts: tuple[str, ...]
    citation: Citation | None = None
    unstated: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NotJudged:
    """Something a check would look at and could not. ``vital`` when no verdict can be given without it."""

    what: str
    why: str
    vital: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A computed dimension at worst case, with its unit and how it came about."""

    name: str
    value: Span
    unit: str
    meaning: str


@dataclass(frozen=True, slots=True)
class PracticeResult:
    """What one document's limit says of the joint: the limit, the margin that must not be negative, the outcome."""

    topic: str
    practice: str
    applies_to: str
    outcome: Outcome
    limit: Fraction
    margin: Span
    unit: str
    rule: str
    citation: Citation


def from_rule(found: Finding, parts: Iterable[str]) -> JointFinding:
    """A rule's finding as a joint finding about ``parts``."""
    return JointFinding(
        SEVERITY[found.effect],
        found.effect,
        found.rule,
        found.topic,
        found.text,
        tuple(dict.fromkeys(parts)),
        found.citation,
        found.unstated,
        found.unknown,
    )


def from_rule_row(
    rules: RuleBook,
    rule: str,
    effect: Effect,
    words: str,
    parts: Iterable[str],
    citation: Citation | None = None,
    unknown: Iterable[str] = (),
) -> JointFinding:
    """A finding that names the rule row ``rule``, whose text is followed by ``words`` with the figures.

    ``citation`` replaces the rule's own where a practice row says the same for one document. KeyError when there is no
    such rule.
    """
    row = rules.by_id[rule]
    text = f"{row.text} {words}".strip()
    said = citation or Citation.of(row)
    return JointFinding(
        SEVERITY[effect], effect, rule, row.topic, text, tuple(dict.fromkeys(parts)), said, (), tuple(unknown)
    )


def ordered(findings: Iterable[JointFinding]) -> tuple[JointFinding, ...]:
    """Findings with the gravest first; within a severity what speaks for the set comes last."""
    return tuple(sorted(findings, key=lambda f: (_ORDER[f.severity], f.effect == "fits")))


def verdict_of(findings: Iterable[JointFinding], not_judged: Iterable[NotJudged]) -> Verdict:
    """A fault makes a set incompatible; without one, something vital that was not judged leaves it unknown; a caution
    makes it conditional."""
    severities = {finding.severity for finding in findings}
    if "fault" in severities:
        return "incompatible"
    if any(entry.vital for entry in not_judged):
        return "unknown"
    return "compatible_with_conditions" if "caution" in severities else "compatible"
