"""Search by attribute: decoding run backwards over every family, block by block; numbers are made only for the page asked.

A *block* is a family with codes for just the pieces that decide the question and its order; every choice of the other pieces answers it.
So a question about diameter and grip touches a few hundred table rows, not the hundreds of thousands of numbers behind them.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, islice, product
from math import prod

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.designation.encode import Encoder, Partial
from service.designation.reading import Designation
from service.finding.columns import EVERYTHING, Column, Columns, Relation, Row, picker
from service.finding.wanting import Want

#: how many questions keep their blocks, for the next page of each
_KEPT = 32


@dataclass(frozen=True, slots=True)
class Question:
    """What is searched: parts of a kind or a family, what is wanted of them, the weakest basis heard, and the order.

    ``family`` is a family's id or one of its basic numbers. ``sort`` is a quantity; None is the order of the basic numbers.
    """

    wants: tuple[Want, ...] = ()
    kind: str | None = None
    family: str | None = None
    basis: str = "from-memory"
    sort: str | None = None
    descending: bool = False

    def basics(self, family: FamilySpec) -> Relation:
        """The basic numbers asked about: one, where a basic number was asked instead of the whole family."""
        one = self.family is not None and self.family != family.id and self.family in family.basics
        return Relation((0,), [(self.family or "",)] if one else [(basic,) for basic in family.basics])


@dataclass(frozen=True, slots=True)
class Block:
    """Numbers of one family that all answer the question alike: codes for the pieces that decide, and how many numbers there are."""

    family: FamilySpec
    slots: tuple[int, ...]
    row: Row
    count: int

    def numbers(self) -> Iterator[Row]:
        """The codes of each number, in table order."""
        held = dict(zip(self.slots, self.row, strict=True))
        return product(*([held[i]] if i in held else list(spec.codes) for i, spec in enumerate(self.family.slots)))


#: a block before it is opened: its place by size, by basic number, and where its row stands (family, row)
Place = tuple[int, int, int, int]
#: behind every size: where the size is unknown
_UNKNOWN = 1 << 120


class Plan:
    """A question worked out: its blocks in order, the families that lack an attribute, those that know one only in part."""

    def __init__(
        self,
        found: list[tuple[FamilySpec, Relation]],
        places: list[Place],
        left_out: dict[str, tuple[str, ...]],
        partly: dict[str, tuple[str, ...]],
    ) -> None:
        self.left_out, self.partly = left_out, partly
        self._found, self._places = found, places
        self._counts = [free_count(family, relation.slots) for family, relation in found]
        counts = self._counts
        self._ends = list(accumulate([counts[place[2]] for place in places]))

    @property
    def total(self) -> int:
        """How many numbers answer."""
        return self._ends[-1] if self._ends else 0

    def block(self, index: int) -> Block:
        """The block at a place of the order."""
        _, _, source, row = self._places[index]
        family, relation = self._found[source]
        return Block(family, relation.slots, relation.rows[row], self._counts[source])

    def page(self, begin: int, most: int) -> list[Designation]:
        """At most ``most`` answers from place ``begin`` on; blocks before it are skipped unopened."""
        found: list[Designation] = []
        for index in range(bisect_right(self._ends, begin), len(self._ends)):
            block = self.block(index)
            start = max(begin - (self._ends[index] - block.count), 0)
            stop = start + most - len(found)
            found += [named(block.family, codes) for codes in islice(block.numbers(), start, stop)]
            if len(found) >= most:
                break
        return found


class Searcher:
    """Answers questions by attribute over one catalogue."""

    def __init__(self, catalogue: Catalogue, encoder: Encoder) -> None:
        self.catalogue = catalogue
        self.columns = Columns(encoder)
        self.plan = lru_cache(maxsize=_KEPT)(self._plan)
        self._basic_place = {basic: place for place, basic in enumerate(sorted(catalogue.by_basic, key=natural))}

    def scope(self, kind: str | None, family: str | None) -> list[FamilySpec]:
        """The families asked about: of a kind, by id, or by one of their basic numbers."""
        families: Iterable[FamilySpec] = self.catalogue.families.values()
        if family is not None:
            one = self.catalogue.families.get(family) or self.catalogue.by_basic.get(family)
            families = [one] if one is not None else []
        return [f for f in families if kind in {None, f.kind}]

    def _plan(self, question: Question) -> Plan:
        partly: dict[str, list[str]] = {}
        found: list[tuple[FamilySpec, Relation]] = []
        places: list[Place] = []
        families = self.scope(question.kind, question.family)
        for family in families:
            columns = [(w, self.columns.column(family, w.attribute, question.basis)) for w in question.wants]
            if any(column is None for _, column in columns):
                continue
            for want, column in columns:
                if column is not None and column.partly:
                    partly.setdefault(want.attribute, []).append(family.id)
            relation = self.matching(family, question)
            if relation is not None and relation.rows:
                column = self.columns.column(family, question.sort, question.basis) if question.sort else None
                if column is not None:
                    relation = relation.join(column.everything)
                places += self._ordered(relation, column, len(found), question.descending)
                found.append((family, relation))
        places.sort()
        left_out = self._lacking(families, question)
        return Plan(found, places, left_out, {name: tuple(ids) for name, ids in partly.items()})

    def _ordered(self, relation: Relation, column: Column | None, source: int, descending: bool) -> list[Place]:
        """The places of a family's rows; a row whose size is unknown comes last either way."""
        sign = -1 if descending else 1
        rank, basic = self._basic_place, relation.slots.index(0)
        if column is None:
            return [(_UNKNOWN, sign * rank[row[basic]], source, at) for at, row in enumerate(relation.rows)]
        sizes, pick = column.places, picker([relation.slots.index(slot) for slot in column.slots])
        return [
            (_UNKNOWN if (size := sizes.get(pick(row))) is None else sign * size, sign * rank[row[basic]], source, at)
            for at, row in enumerate(relation.rows)
        ]

    def _lacking(self, families: list[FamilySpec], question: Question) -> dict[str, tuple[str, ...]]:
        """For each attribute the families that do not know it, among the kinds where some family does."""
        lacking: dict[str, tuple[str, ...]] = {}
        for want in question.wants:
            unknown = {f.id: f.kind for f in families if self.columns.column(f, want.attribute, question.basis) is None}
            asked = {f.kind for f in families if question.kind or question.family or f.id not in unknown}
            lacking[want.attribute] = tuple(id_ for id_, kind in unknown.items() if kind in asked)
        return {name: ids for name, ids in lacking.items() if ids}

    def matching(self, family: FamilySpec, question: Question, besides: Want | None = None) -> Relation | None:
        """The assignments of the deciding slots that meet the question, ``besides`` left aside; None when it asks what the family does not know."""
        parts = []
        for want in question.wants:
            if want is besides:
                continue
            column = self.columns.column(family, want.attribute, question.basis)
            if column is None:
                return None
            parts.append(column.meeting(want))
        found = EVERYTHING
        # the fewest rows first keep the joins small
        for part in sorted((*parts, question.basics(family)), key=lambda relation: len(relation.rows)):
            found = found.join(part)
            if not found.rows:
                return found
        return found.join(self.columns.made(family)) if family.combinations else found


def natural(basic: str) -> tuple[str, int]:
    """The place of a basic number among others: letters, then the number behind them."""
    letters = re.match(r"\D*", basic)
    head = letters[0] if letters else ""
    digits = re.match(r"\d*", basic[len(head) :])
    return head, int(digits[0]) if digits and digits[0] else 0


def named(family: FamilySpec, codes: tuple[str, ...]) -> Designation:
    """The designation of codes, as if its canonical number had been asked."""
    number = family.format(codes)
    return Designation(number, family, codes, number)


def expand(family: FamilySpec, partial: Partial) -> Iterator[tuple[str, ...]]:
    """The codes of every number that has these pieces and is made, in table order."""
    choices = [[partial[i]] if i in partial else list(spec.codes) for i, spec in enumerate(family.slots)]
    for codes in product(*choices):
        if not family.combinations or family.not_made(codes) is None:
            yield codes


def made_count(family: FamilySpec, partial: Partial) -> int:
    """How many numbers have these pieces and are made."""
    if family.combinations:
        return sum(1 for _ in expand(family, partial))
    return free_count(family, partial)


def free_count(family: FamilySpec, decided: Collection[int]) -> int:
    """How many choices the slots leave that are not ``decided``."""
    return prod(len(spec.codes) for i, spec in enumerate(family.slots) if i not in decided)
