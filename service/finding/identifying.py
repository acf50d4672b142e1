"""A part without its number: what readings, a thread and a look say for and against every number the tables can make.

Each basic number is asked by itself. A candidate is a basic number with the pieces that carry a size; other pieces stay open. One reading may
speak against a candidate (a caliper slips); two may not. Marks, colour and magnetism order the candidates and never decide.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import combinations, islice, product
from typing import Final, Literal

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.slots import NONE
from service.catalogue.values import Value
from service.designation.encode import Encoder, Partial
from service.finding.measuring import (
    Gauge,
    Reading,
    Row,
    Test,
    Verdict,
    agree,
    colour_test,
    joined,
    magnet_test,
    mark_test,
    pitch_test,
    size_test,
    thread_test,
)
from service.quantity import parse_number
from service.tables.joint_rows import ThreadValue

#: what can be measured next, the cheapest first
CHEAPEST: Final = (
    "nominal_diameter", "thread", "length", "grip_length", "width_across_flats", "inside_diameter", "outside_diameter", "thickness",
    "wire_diameter",
)  # fmt: skip
#: kinds of part that a caliper takes over the outside of the thread
_OUTSIDE: Final = frozenset({"bolt", "screw"})
#: among so many leading candidates the next measurement is chosen
_LEADING: Final = 12
#: so many groups are looked at closely after the readings have ordered them
_CLOSE: Final = 150
ONLY_LOOKS: Final = (
    "Head mark, colour and magnetism alone never decide: marks wear off, plating and paint change colour, and one mark stands on many parts. "
    "Measure the part."
)

Standing = Literal["agrees", "contradicted", "undecided"]


@dataclass(frozen=True, slots=True)
class Sighting:
    """What is known of the part in the hand."""

    readings: tuple[Reading, ...] = ()
    kind: str | None = None
    threads_per_inch: int | None = None
    thread: str | None = None
    head_mark: str | None = None
    colour: str | None = None
    magnetic: bool | None = None
    basis: str = "from-memory"


@dataclass(frozen=True, slots=True)
class Evidence:
    """What one row says to one thing seen."""

    test: Test
    verdict: Verdict
    value: Value | None


@dataclass(frozen=True, slots=True)
class Candidate:
    """A basic number with its size pieces; ``number`` has an ellipsis for every piece that stays open."""

    family: FamilySpec
    partial: Partial
    number: str
    example: str
    standing: Standing
    evidence: tuple[Evidence, ...]
    open_slots: tuple[str, ...]

    @property
    def weight(self) -> tuple[str, int]:
        """The standing, and how many measured things speak for the candidate."""
        return self.standing, sum(e.verdict == "for" for e in self.evidence if not e.test.appearance)


@dataclass(frozen=True, slots=True)
class Separation:
    """A further quantity, and the candidates that each of its values would leave."""

    quantity: str
    leaves: tuple[tuple[Value, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Identified:
    """Candidates in order, whether there are more, what to measure next, and warnings."""

    candidates: tuple[Candidate, ...]
    more: bool
    next_measurement: Separation | None
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class _Group:
    family: FamilySpec
    partial: Partial
    ways: tuple[Partial, ...]
    against: frozenset[str]
    agreeing: int
    distance: Fraction
    one_sided: int
    looks: tuple[int, int] = (0, 0)

    @property
    def order(self) -> tuple[object, ...]:
        wrong, right = self.looks
        status = self.family.status not in {"active", "unknown"}
        return (len(self.against), -self.agreeing, self.one_sided, wrong, -right, self.distance, status)


class Identifier:
    """Identifies parts over one catalogue."""

    def __init__(self, catalogue: Catalogue, encoder: Encoder) -> None:
        self.catalogue = catalogue
        self.gauge = Gauge(encoder)

    @cached_property
    def least_thread(self) -> dict[Fraction, Fraction]:
        """The smallest major diameter that a row allows an external thread, by nominal diameter."""
        rows = [row for row in self.catalogue.package.of(ThreadValue) if row.quantity == "major_diameter"]
        nominal = {row.thread: parse_number(row.value) for row in rows if not row.limit}
        found: dict[Fraction, Fraction] = {}
        for row in rows:
            if row.limit == "min" and row.thread in nominal:
                size = nominal[row.thread]
                found[size] = min(found.get(size, size), parse_number(row.value))
        return found

    def tests(self, sighting: Sighting, kind: str) -> list[Test]:
        """The evidence, as it is put to families of a kind."""
        found = [size_test(reading, self.least_thread, kind in _OUTSIDE) for reading in sighting.readings]
        if sighting.thread is not None:
            found.append(thread_test(sighting.thread))
        if sighting.threads_per_inch is not None:
            found.append(pitch_test(sighting.threads_per_inch))
        if sighting.head_mark is not None:
            found.append(mark_test(sighting.head_mark))
        if sighting.colour is not None:
            found.append(colour_test(sighting.colour))
        if sighting.magnetic is not None:
            found.append(magnet_test(sighting.magnetic))
        return found

    def identify(self, sighting: Sighting, limit: int = 20) -> Identified:
        """The candidates for what was seen, at most ``limit``."""
        asked = self.tests(sighting, "")
        only_looks = all(test.appearance for test in asked)
        groups: list[_Group] = []
        for family in self.catalogue.families.values():
            if sighting.kind in {None, family.kind}:
                tests = [t for t in self.tests(sighting, family.kind) if only_looks or not t.appearance]
                groups += self._groups(family, tests, sighting.basis)
        groups.sort(key=lambda g: g.order)
        if not only_looks:
            looks = [t for t in asked if t.appearance]
            groups = sorted((self._looked_at(g, looks, sighting.basis) for g in groups[:_CLOSE]), key=lambda g: g.order)
        candidates: list[Candidate] = []
        more = False
        for group in groups:
            example = _example(group)
            if example is None:
                continue
            if len(candidates) == limit:
                more = True
                break
            candidates.append(self._candidate(group, example, sighting, only_looks))
        warnings = [ONLY_LOOKS] if only_looks else []
        if candidates and not only_looks and candidates[0].standing == "contradicted":
            warnings.append("No number meets every reading; each candidate has one reading against it. Measure again.")
        taken = {test.name for test in asked if not test.appearance}
        # a candidate about which rows say less than about the first is no rival of it
        leading = [c for c in candidates[:_LEADING] if c.weight == candidates[0].weight]
        return Identified(tuple(candidates), more, self._next(leading, taken, sighting.basis), tuple(warnings))

    def _groups(self, family: FamilySpec, tests: Sequence[Test], basis: str) -> Iterator[_Group]:
        said = [(test, self.gauge.asked(family, test, basis)) for test in tests]
        if not any(s.hits for _, s in said):
            return
        sized = frozenset(i for i, spec in enumerate(family.slots) if i == 0 or _carries_size(spec.codes))
        for basic in family.basics:
            heard = [(test, s) for test, s in said if s.speaks(basic)]
            agreeing = [(test, s.agreeing(basic)) for test, s in heard]
            wrong = frozenset(test.name for test, rows in agreeing if not rows)
            right = [(test, rows) for test, rows in agreeing if rows]
            if not right or len(wrong) > 1:
                continue
            yield from _grouped(family, basic, right, wrong, sized)

    def _looked_at(self, group: _Group, looks: Sequence[Test], basis: str) -> _Group:
        verdicts = [self._evidence(group, test, basis).verdict for test in looks]
        return _Group(
            group.family, group.partial, group.ways, group.against, group.agreeing, group.distance, group.one_sided,
            (verdicts.count("against"), verdicts.count("for")),
        )  # fmt: skip

    def _evidence(self, group: _Group, test: Test, basis: str) -> Evidence:
        """The row nearest to what was seen, and whether it agrees, among the numbers the group stands for."""
        values = [
            value
            for attribute in test.attributes
            for way in group.ways
            for value in self.gauge.compatible(group.family, attribute, way, basis)
        ]
        judged = [(value, verdict) for value in values if (verdict := test.judge(value)) is not None]
        if not judged:
            return Evidence(test, "says nothing", None)
        near = test.reading
        value, verdict = min(judged, key=lambda p: (not p[1], near.distance(p[0]) if near is not None else 0))
        return Evidence(test, "for" if verdict else "against", value)

    def _candidate(self, group: _Group, example: str, sighting: Sighting, only_looks: bool) -> Candidate:
        family = group.family
        evidence = tuple(self._evidence(group, test, sighting.basis) for test in self.tests(sighting, family.kind))
        wrong = any(e.verdict == "against" for e in evidence if not e.test.appearance)
        standing: Standing = "undecided" if only_looks else "contradicted" if wrong else "agrees"
        opened = tuple(spec.name for i, spec in enumerate(family.slots) if i not in group.partial)
        return Candidate(family, group.partial, _with_ellipsis(group), example, standing, evidence, opened)

    def _next(self, leading: Sequence[Candidate], taken: set[str], basis: str) -> Separation | None:
        """The cheapest quantity among those that tell most pairs of leading candidates apart; None when no row can."""
        if "thread" in taken or "threads_per_inch" in taken:
            taken = taken | {"thread"}
        best: tuple[int, int, Separation] | None = None
        for quantity in CHEAPEST:
            if quantity in taken:
                continue
            values = [self.gauge.compatible(c.family, quantity, c.partial, basis) for c in leading]
            sizes = [frozenset(v.exact for v in found) for found in values]
            pairs = sum(1 for a, b in combinations(sizes, 2) if a and b and not a & b)
            within = sum(len(s) > 1 for s in sizes)
            if (pairs or within) and (best is None or (pairs, within if not pairs else 0) > best[:2]):
                best = (pairs, within if not pairs else 0, _separation(quantity, leading, values))
        return best[2] if best is not None else None


def _separation(quantity: str, leading: Sequence[Candidate], values: Sequence[Sequence[Value]]) -> Separation:
    shown: dict[object, Value] = {}
    leaves: dict[object, list[str]] = {}
    for candidate, found in zip(leading, values, strict=True):
        for value in found:
            shown.setdefault(value.exact, value)
            numbers = leaves.setdefault(value.exact, [])
            if candidate.number not in numbers:
                numbers.append(candidate.number)
    keys = sorted(shown, key=lambda k: (0, k, "") if isinstance(k, Fraction) else (1, Fraction(0), str(k)))
    return Separation(quantity, tuple((shown[key], tuple(leaves[key])) for key in keys))


def _grouped(
    family: FamilySpec,
    basic: str,
    right: Sequence[tuple[Test, list[Row]]],
    wrong: frozenset[str],
    sized: frozenset[int],
) -> Iterator[_Group]:
    """The groups of one basic number; where the readings agree singly but not together, each way to leave one of them out."""
    ways = [(wrong, right, joined(rows for _, rows in right))]
    if not ways[0][2] and not wrong and len(right) > 1:
        kept = [(test.name, [pair for pair in right if pair[0] is not test]) for test, _ in right]
        ways = [(frozenset({name}), pairs, joined(rows for _, rows in pairs)) for name, pairs in kept]
    for against, pairs, partials in ways:
        by_size: dict[tuple[tuple[int, str], ...], list[Partial]] = {}
        for partial in partials:
            whole = {**partial, 0: basic}
            key = tuple(sorted((i, c) for i, c in whole.items() if i in sized))
            by_size.setdefault(key, []).append(whole)
        for key, members in by_size.items():
            distance, one_sided = Fraction(0), 0
            for test, rows in pairs:
                near = [row.value for row in rows if agree(row.partial, members[0])]
                if test.reading is not None and near:
                    distance += min(test.reading.distance(value) for value in near)
                    one_sided += all(value.limit for value in near)
            yield _Group(family, dict(key), tuple(members[:8]), against, len(pairs), distance, one_sided)


def _carries_size(codes: object) -> bool:
    return isinstance(codes, dict) and any(c.isdigit() for code in codes for c in code)


def _example(group: _Group) -> str | None:
    """The first number of the group that is made, or None when none of the first few thousand is."""
    family = group.family
    listed = [dict(c.when.tests) for c in family.combinations if c.made] or [{}]
    for way in group.ways:
        for allowed in listed:
            choices = [
                [c for c in ([way[i]] if i in way else spec.codes) if i not in allowed or c in allowed[i]]
                for i, spec in enumerate(family.slots)
            ]
            for codes in islice(product(*choices), 500):
                if family.not_made(codes) is None:
                    return family.format(codes)
    return None


def _with_ellipsis(group: _Group) -> str:
    """The number with an ellipsis where pieces stay open; neighbouring open pieces share one."""
    family = group.family
    text = group.partial[0]
    for index, spec in enumerate(family.slots[1:], 1):
        code = group.partial.get(index)
        if code is None:
            text += "" if text.endswith("…") else "…"
        elif code != NONE:
            dash = spec.joint == "dash" or (
                spec.joint == "dash-between-digits" and (text[-1].isdigit() or text[-1] == "…") and code[0].isdigit()
            )
            text += ("-" if dash else "") + code
    return text
