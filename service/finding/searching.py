"""Search by attribute: decoding run backwards over every family, block by block; numbers are made only for the page asked.

A *block* is a family with codes for just the pieces that decide the question and its order; every choice of the other pieces answers it.
So a question about diameter and grip touches a few hundred table rows, not the hundreds of thousands of numbers behind them.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, islice, product
from math import prod

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.designation.encode import Encoder, Partial
from service.designation.reading import Designation
from service.finding.columns import EVERYTHING, Columns, Relation, Row, every
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


class Plan:
    """A question worked out: its blocks in order, the families that lack an attribute, those that know one only in part."""

    def __init__(
        self, blocks: list[Block], left_out: dict[str, tuple[str, ...]], partly: dict[str, tuple[str, ...]]
    ) -> None:
        self.blocks, self.left_out, self.partly = blocks, left_out, partly
        self._ends = list(accumulate(block.count for block in blocks))

    @property
    def total(self) -> int:
        """How many numbers answer."""
        return self._ends[-1] if self._ends else 0

    def page(self, begin: int, most: int) -> list[Designation]:
        """At most ``most`` answers from place ``begin`` on; blocks before it are skipped unopened."""
        found: list[Designation] = []
        for place in range(bisect_right(self._ends, begin), len(self.blocks)):
            block = self.blocks[place]
            start = max(begin - (self._ends[place] - block.count), 0)
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
        keyed: list[tuple[tuple[bool, int], int, Block]] = []
        families = self.scope(question.kind, question.family)
        for family in families:
            columns = [(w, self.columns.column(family, w.attribute, question.basis)) for w in question.wants]
            if any(column is None for _, column in columns):
                continue
            for want, column in columns:
                if column is not None and column.partly:
                    partly.setdefault(want.attribute, []).append(family.id)
            keyed += self._blocks(family, question)
        keyed.sort(key=lambda entry: entry[:2])
        return Plan(
            [block for _, _, block in keyed],
            self._lacking(families, question),
            {name: tuple(ids) for name, ids in partly.items()},
        )

    def _lacking(self, families: list[FamilySpec], question: Question) -> dict[str, tuple[str, ...]]:
        """For each attribute the families that do not know it, among the kinds where some family does."""
        lacking: dict[str, tuple[str, ...]] = {}
        for want in question.wants:
            unknown = [f for f in families if self.columns.column(f, want.attribute, question.basis) is None]
            kinds = {f.kind for f in families} - {f.kind for f in unknown}
            kinds |= {
                f.kind for f in families
                if (question.kind or question.family) or any(f.kind == k.kind and k not in unknown for k in families)
            }  # fmt: skip
            if unknown:
                lacking[want.attribute] = tuple(f.id for f in unknown if f.kind in kinds)
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

    def _blocks(self, family: FamilySpec, question: Question) -> Iterator[tuple[tuple[bool, int], int, Block]]:
        found = self.matching(family, question)
        if found is None or not found.rows:
            return
        column = self.columns.column(family, question.sort, question.basis) if question.sort else None
        if column is not None:
            found = found.join(Relation(column.slots, list(every(family, column.slots))))
        slots = found.slots
        count = prod(len(spec.codes) for i, spec in enumerate(family.slots) if i not in slots)
        basic = slots.index(0)
        where = [slots.index(slot) for slot in column.slots] if column is not None else []
        sign = -1 if question.descending else 1
        for row in found.rows:
            size = column.places.get(tuple([row[i] for i in where])) if column is not None else None
            # numbers whose size is unknown come last either way
            key = (True, 0) if size is None else (False, sign * size)
            yield key, sign * self._basic_place[row[basic]], Block(family, slots, row, count)


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
    return prod(1 if i in partial else len(spec.codes) for i, spec in enumerate(family.slots))
