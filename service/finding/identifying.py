"""Identifying a part in the hand: every family's size tables asked which of its numbers the clues agree with.

Candidates are groups of numbers of one basic number about which the clues say the same; the pieces that no clue decides stay open. Nothing is decided by
marks alone, and a candidate with one clue against it is still shown, below the others, with that clue named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.designation.encode import Encoder, Partial
from service.designation.reading import Designation
from service.finding.clues import Clue, Magnets, Said
from service.finding.searching import expand, made_count, named

_WEIGHT = {"for": 4, "allowed": 1, "doubtful": -2, "silent": 0, "against": -12}
#: assignments followed in one family; more than this means that the clues decide next to nothing there
_MOST = 4000


@dataclass
class Candidate:
    """Numbers of one basic number about which every clue says the same."""

    family: FamilySpec
    said: tuple[Said, ...]
    partials: list[Partial] = field(default_factory=list)
    score: int = 0

    @property
    def against(self) -> int:
        """How many clues speak against."""
        return sum(said.verdict == "against" for said in self.said)

    @property
    def example(self) -> Designation | None:
        """The first number of the group that is made."""
        return next((named(self.family, codes) for p in self.partials for codes in expand(self.family, p)), None)

    @property
    def count(self) -> int:
        """How many numbers the group holds."""
        return sum(made_count(self.family, partial) for partial in self.partials)

    def codes_of(self, index: int) -> tuple[str, ...]:
        """The codes that stay possible in a slot."""
        if any(index not in partial for partial in self.partials):
            return tuple(self.family.slots[index].codes)
        return tuple(dict.fromkeys(partial[index] for partial in self.partials))


@dataclass(frozen=True, slots=True)
class Identified:
    """The candidates, ranked; families that no clue could be asked of."""

    candidates: tuple[Candidate, ...]
    silent: tuple[str, ...]
    weak_only: bool


class Identifier:
    """Identifies parts over one catalogue."""

    def __init__(self, encoder: Encoder) -> None:
        self.encoder = encoder
        self.magnets = Magnets(encoder.catalogue)
        self._tables: dict[tuple[str, str], list[tuple[Value | None, tuple[str, ...]]]] = {}

    def identify(self, clues: Sequence[Clue], kind: str | None = None, basis: str = "from-memory") -> Identified:
        """Ranked candidates for what was observed. A family counts only when a clue that is not weak speaks for it, if there is such a clue."""
        strong = [clue for clue in clues if not clue.weak]
        found: list[Candidate] = []
        silent: list[str] = []
        for family in self.encoder.catalogue.families.values():
            if kind not in {None, family.kind}:
                continue
            if not any(clue.attribute in family.facets.by_attribute for clue in strong or clues):
                silent.append(family.id)
                continue
            found += self._candidates(family, clues, basis)
        found.sort(key=lambda c: (-c.score, c.family.status == "superseded"))
        return Identified(tuple(found), tuple(silent), weak_only=not strong)

    def _candidates(self, family: FamilySpec, clues: Sequence[Clue], basis: str) -> Iterator[Candidate]:
        rows = [self._rows(family, clue, basis) for clue in clues]
        groups: dict[tuple[object, ...], Candidate] = {}
        for partial, said in _joined(rows):
            strong = [s for s, clue in zip(said, clues, strict=True) if not clue.weak] or said
            if not any(s.verdict in {"for", "allowed", "doubtful"} for s in strong):
                continue
            for narrowed in [partial] if 0 in partial else [{**partial, 0: basic} for basic in family.basics]:
                if next(expand(family, narrowed), None) is None:
                    continue
                key = (narrowed[0], tuple(s.verdict for s in said))
                group = groups.setdefault(key, Candidate(family, tuple(said)))
                group.partials.append(narrowed)
                group.score = sum(
                    _WEIGHT[s.verdict] // (4 if clue.weak else 1) for s, clue in zip(said, clues, strict=True)
                )
                group.said = tuple(map(_nearer, group.said, said))
        yield from groups.values()

    def _rows(self, family: FamilySpec, clue: Clue, basis: str) -> list[tuple[Said, Partial]]:
        facet = family.facets.by_attribute.get(clue.attribute)
        if facet is None:
            return [(Said("silent", None, f"no row of this family gives {clue.attribute}"), {})]
        rows = []
        for value, codes in self._table(family, clue.attribute):
            heard = value.at_least(basis) if value is not None else None
            rows.append((clue.of(heard, family.kind, self.magnets), dict(zip(facet.slots, codes, strict=True))))
        return rows

    def _table(self, family: FamilySpec, attribute: str) -> list[tuple[Value | None, tuple[str, ...]]]:
        """Every value of an attribute with the codes it hangs on, the absent ones included: silence is not evidence."""
        key = (family.id, attribute)
        if key not in self._tables:
            facet = family.facets.by_attribute[attribute]
            known = {codes: value for value, codes in self.encoder.table(family, attribute)}
            every = product(*(family.slots[i].codes for i in facet.slots))
            self._tables[key] = [(known.get(codes), codes) for codes in every]
        return self._tables[key]


def _nearer(first: Said, second: Said) -> Said:
    """Of two equal verdicts the one whose value lies nearer the reading."""
    if first.by is None or second.by is None:
        return first
    return second if second.by < first.by else first


def _joined(rows: list[list[tuple[Said, Partial]]]) -> Iterator[tuple[Partial, list[Said]]]:
    """Assignments on which at most one clue speaks against; none against, where the family has such."""
    order = sorted(range(len(rows)), key=lambda i: sum(s.verdict != "against" for s, _ in rows[i]))
    for most in (0, 1):
        found = _join(rows, order, most)
        if found:
            for partial, said, _ in found:
                yield partial, [said[i] for i in range(len(rows))]
            return


def _join(
    rows: list[list[tuple[Said, Partial]]], order: list[int], most: int
) -> list[tuple[Partial, dict[int, Said], int]]:
    found: list[tuple[Partial, dict[int, Said], int]] = [({}, {}, 0)]
    for index in order:
        joined: list[tuple[Partial, dict[int, Said], int]] = []
        usable = [(s, p) for s, p in rows[index] if most or s.verdict != "against"]
        nearest = _nearest_against(usable)
        for partial, said, against in found:
            for one, assignment in usable:
                bad = one.verdict == "against"
                if bad and (against >= most or (nearest is not None and one.by != nearest)):
                    continue
                if all(partial.get(i, code) == code for i, code in assignment.items()):
                    joined.append(({**partial, **assignment}, {**said, index: one}, against + bad))
                    if len(joined) >= _MOST:
                        break
        found = joined[:_MOST]
    return found


def _nearest_against(rows: list[tuple[Said, Partial]]) -> Fraction | None:
    """Among sizes that disagree only the nearest is worth showing."""
    return min((s.by for s, _ in rows if s.verdict == "against" and s.by is not None), default=None)
