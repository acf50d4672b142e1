"""Near misses: numbers that fail on exactly one attribute of a requirement, with that attribute and its value."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice, zip_longest

from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.designation.reading import Designation
from service.finding.columns import Relation, Row
from service.finding.searching import Block, Question, Searcher, named
from service.finding.wanting import Want

#: values of one attribute that are named for one family
_VALUES = 3
#: values that are tried for one family: the nearest ones are made together with the rest, or the family is far off
_TRIED = 24


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A number that has all that is wanted but one attribute. ``by`` is a quantity's distance, None for a word."""

    designation: Designation
    want: Want
    value: Value
    by: Fraction | None

    @property
    def rank(self) -> tuple[bool, Fraction]:
        """Quantities by their distance against the size wanted, words behind them."""
        if self.by is None:
            return True, Fraction(0)
        size = self.want.low or self.want.high or Fraction(1)
        return False, self.by / abs(size)


def near_misses(searcher: Searcher, question: Question) -> list[NearMiss]:
    """Every near miss, the nearest of each attribute in turn: for a family one number for each of the nearest values that rule it out."""
    families = searcher.scope(question.kind, question.family)
    ranked = [
        sorted((m for f in families for m in _misses(searcher, f, want, question)), key=lambda miss: miss.rank)
        for want in question.wants
    ]
    # in turn, because a size is always near in some family and would crowd out the words
    return [miss for turn in zip_longest(*ranked) for miss in turn if miss is not None]


def _misses(searcher: Searcher, family: FamilySpec, want: Want, question: Question) -> Iterator[NearMiss]:
    column = searcher.columns.column(family, want.attribute, question.basis)
    if column is None:
        return
    others = searcher.matching(family, question, besides=want)
    if others is None or not others.rows:
        return
    shared = [slot for slot in others.slots if slot in column.slots]
    near: dict[Row, Row] = {}
    places = [others.slots.index(slot) for slot in shared]
    for row in others.rows:
        near.setdefault(tuple([row[i] for i in places]), row)
    named_values = 0
    for exact, rows in islice(column.failing(want), _TRIED):
        for value, codes in rows:
            held = dict(zip(column.slots, codes, strict=True))
            met = near.get(tuple([held[slot] for slot in shared]))
            if met is not None:
                yield NearMiss(_first(family, others, met, held), want, value, _by(want, exact))
                named_values += 1
                break
        if named_values == _VALUES:
            return


def _by(want: Want, exact: Fraction | str) -> Fraction | None:
    return want.distance(exact) if isinstance(exact, Fraction) else None


def _first(family: FamilySpec, others: Relation, row: Row, held: dict[int, str]) -> Designation:
    """The first number that has both assignments; they agree where they overlap, and ``row`` has what decides whether it is made."""
    codes = {**held, **dict(zip(others.slots, row, strict=True))}
    return named(family, next(Block(family, tuple(codes), tuple(codes.values()), 1).numbers()))
