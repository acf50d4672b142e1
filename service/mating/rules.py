"""Rule rows, judged over a set of parts. No verdict without a rule; what could not be judged is said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Citation
from service.mating.clauses import JOINT, Clause, Effect, Exact, Setting, compile_clauses
from service.parts.part import Part
from service.tables.rows import TRUST, Rule

#: parts for which it is kept which rules are open
_MOST_OPEN: Final = 4096


@dataclass(frozen=True, slots=True)
class Finding:
    """A rule that speaks about a set: for it, against it, or only if something unstated or unknown holds."""

    rule: str
    topic: str
    effect: Effect
    text: str
    citation: Citation
    #: joint conditions the caller did not state, on which the rule depends
    unstated: tuple[str, ...] = ()
    #: attributes no row gives, on which the rule depends
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CompiledRule:
    """A rule row and its clauses."""

    row: Rule
    clauses: tuple[Clause, ...]
    subjects: frozenset[str]

    def fails_on(self, setting: Setting, given: frozenset[str]) -> bool:
        """Whether the rule says nothing whatever else is in the set, by the clauses that ``given`` alone decide."""
        return any(c.about_only(given) and c.judge(setting).holds is False for c in self.clauses)

    def judge(self, setting: Setting) -> Finding | None:
        """What the rule says about ``setting``, or None when it says nothing."""
        unstated: list[str] = []
        unknown: list[str] = []
        for clause in self.clauses:
            truth = clause.judge(setting)
            if truth.holds is False:
                return None
            unstated += truth.unstated
            unknown += truth.unknown
        effect = self._effect(bool(unstated), bool(unknown))
        if effect is None:
            return None
        row = self.row
        return Finding(row.row, row.topic, effect, row.text, Citation.of(row), tuple(unstated), tuple(unknown))

    def _effect(self, unstated: bool, unknown: bool) -> Effect | None:
        if not unstated and not unknown:
            return self.row.effect
        if self.row.effect == "fits" or (unstated and self.row.unstated == "silent"):
            return None
        if unstated:
            told: Effect = "conditions" if self.row.unstated == "conditions" else "notes"
            return told if self.row.effect in {"excludes", "conditions"} else "notes"
        # everything was stated, the tables are silent: what might exclude is a condition, never nothing
        return "conditions" if self.row.effect == "excludes" else "notes"


class RuleBook:
    """All rules of a catalogue, compiled; ``about`` gives those that a set of kinds could concern."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.rules = tuple(compiled(row) for row in catalogue.rules)
        self.by_id = {rule.row.row: rule.row for rule in self.rules}
        self._about: dict[frozenset[str], tuple[CompiledRule, ...]] = {}
        self._open: dict[tuple[str, tuple[str, ...]], frozenset[str]] = {}

    def about(self, kinds: Iterable[str]) -> tuple[CompiledRule, ...]:
        """Rules with a condition whose parts are all among ``kinds``."""
        key = frozenset(kinds)
        known = self._about.get(key)
        if known is None:
            known = tuple(r for r in self.rules if r.clauses and r.subjects <= key)
            self._about[key] = known
        return known

    def left_by(self, part: Part, joint: Mapping[str, Exact], kind: str) -> dict[str, CompiledRule]:
        """Rules about ``part`` with a part of ``kind`` in this joint, by id, without those that fail on part and joint
        alone."""
        alone, given = Setting({part.family.kind: part}, joint), frozenset({part.family.kind, JOINT})
        rules = self.about((part.family.kind, kind))
        return {rule.row.row: rule for rule in rules if not rule.fails_on(alone, given)}

    def open_for(self, part: Part) -> frozenset[str]:
        """Ids of the rules that do not fail on ``part`` alone, in whatever joint and company."""
        key = (part.family.id, part.designation.codes)
        known = self._open.get(key)
        if known is None:
            if len(self._open) >= _MOST_OPEN:
                self._open.clear()
            alone, given = Setting({part.family.kind: part}, {}), frozenset({part.family.kind})
            known = self._open[key] = frozenset(r.row.row for r in self.rules if not r.fails_on(alone, given))
        return known

    def judge(
        self,
        setting: Setting,
        basis: str = "from-memory",
        among: frozenset[str] = frozenset(),
        rules: Iterable[CompiledRule] | None = None,
    ) -> Iterator[Finding]:
        """Findings about a set; with ``among``, what rules say that concern at least one of those kinds. ``rules`` are those that
        can still speak (see :meth:`left_by`), all where it is None.

        What speaks against the set is never left out: not because its rule has a weaker basis than asked, nor because it concerns another part of
        the set. A stricter question must not get a laxer answer.
        """
        for rule in self.about(setting.parts) if rules is None else rules:
            found = rule.judge(setting)
            if found is None:
                continue
            wanted = (not among or rule.subjects & among) and TRUST[rule.row.basis] <= TRUST[basis]
            if wanted or found.effect in {"excludes", "conditions"}:
                yield found


def compiled(row: Rule) -> CompiledRule:
    """Compile one rule row. ValueError when its condition is not in the language."""
    clauses = compile_clauses(row.when)
    subjects = frozenset().union(*(clause.subjects for clause in clauses)) if clauses else frozenset()
    return CompiledRule(row, clauses, subjects)
