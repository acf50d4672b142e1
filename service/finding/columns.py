"""The encoder's tables arranged for asking: rows by value, quantities in order, and what is made as one more table to join.

A test of every row of every table would cost more than the answer; here a question costs a bisection a family and a join of what it finds.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from operator import itemgetter

from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.designation.encode import Encoder, Exact
from service.finding.wanting import Want

Row = tuple[str, ...]
#: a quantity's place in an order is its number of these parts: whole numbers sort faster than fractions
_FINE = 10**12


@dataclass(frozen=True, slots=True)
class Relation:
    """Assignments of codes to the same few slots, one a row."""

    slots: tuple[int, ...]
    rows: Sequence[Row]

    def join(self, other: Relation) -> Relation:
        """The assignments of both that agree where they share a slot, in this one's order."""
        shared = [slot for slot in other.slots if slot in self.slots]
        extra = [place for place, slot in enumerate(other.slots) if slot not in self.slots]
        pick = picker([other.slots.index(slot) for slot in shared])
        near: dict[Row, list[Row]] = defaultdict(list)
        take = picker(extra)
        for row in other.rows:
            near[pick(row)].append(take(row))
        mine = picker([self.slots.index(slot) for slot in shared])
        rows = [row + rest for row in self.rows for rest in near.get(mine(row), ())]
        return Relation((*self.slots, *(other.slots[place] for place in extra)), rows)


EVERYTHING = Relation((), [()])


def picker(places: list[int]) -> Callable[[Row], Row]:
    """Takes the codes at ``places`` out of a row."""
    if len(places) > 1:
        return itemgetter(*places)
    if not places:
        return lambda _row: ()
    place = places[0]
    return lambda row: (row[place],)


class Column:
    """One attribute of one family as a basis hears it: the rows that know it, by value."""

    def __init__(self, family: FamilySpec, slots: tuple[int, ...], known: Iterable[tuple[Value, Row]]) -> None:
        self.slots = slots
        self.rows: list[tuple[Value, Row]] = list(known)
        #: every assignment of the slots, those included for which the attribute is unknown
        self.everything = Relation(slots, list(every(family, slots)))
        self.partly = len(self.rows) < len(self.everything.rows)
        self._by_exact: dict[Exact, list[int]] = defaultdict(list)
        for place, (value, _) in enumerate(self.rows):
            if value.exact is not None:
                self._by_exact[value.exact].append(place)
        self._sizes = sorted(exact for exact in self._by_exact if isinstance(exact, Fraction))
        self.places = {codes: scaled(value.number) for value, codes in self.rows if isinstance(value.exact, Fraction)}

    def _values(self, want: Want) -> Iterable[Exact]:
        if want.words:
            return [exact for exact in self._by_exact if isinstance(exact, str) and exact.casefold() in want.words]
        low = 0 if want.low is None else bisect_left(self._sizes, want.low)
        high = len(self._sizes) if want.high is None else bisect_right(self._sizes, want.high)
        return self._sizes[low:high]

    def meeting(self, want: Want) -> Relation:
        """The rows that meet ``want``, in table order."""
        places = sorted(place for exact in self._values(want) for place in self._by_exact[exact])
        return Relation(self.slots, [self.rows[place][1] for place in places])

    def failing(self, want: Want) -> Iterator[tuple[Exact, list[tuple[Value, Row]]]]:
        """The values that do not meet ``want`` with their rows, the nearest quantity first, on both sides of what is wanted."""
        met = set(self._values(want))
        missed = [exact for exact in self._by_exact if exact not in met]
        if self._sizes and not want.words:
            missed.sort(key=want.distance)
        for exact in missed:
            yield exact, [self.rows[place] for place in self._by_exact[exact]]


class Columns:
    """Every column asked so far, and every family's table of what is made."""

    def __init__(self, encoder: Encoder) -> None:
        self.encoder = encoder
        self._known: dict[tuple[str, str, str], Column | None] = {}
        self._made: dict[str, Relation] = {}

    def column(self, family: FamilySpec, attribute: str, basis: str) -> Column | None:
        """The column of an attribute; None where no row that is good enough gives it for any number of the family."""
        key = (family.id, attribute, basis)
        if key not in self._known:
            self._known[key] = self._column(family, attribute, basis)
        return self._known[key]

    def build(self, family: FamilySpec, basis: str) -> int:
        """Every column of a family, and its table of what is made, before anybody asks; how many columns there are."""
        self.made(family)
        columns = [self.column(family, attribute, basis) for attribute in family.facets.by_attribute]
        return sum(column is not None for column in columns)

    def _column(self, family: FamilySpec, attribute: str, basis: str) -> Column | None:
        facet = family.facets.by_attribute.get(attribute)
        if facet is None:
            return None
        heard = ((value.at_least(basis), codes) for value, codes in self.encoder.table(family, attribute))
        column = Column(family, facet.slots, [(value, codes) for value, codes in heard if value.exact is not None])
        return column if column.rows else None

    def made(self, family: FamilySpec) -> Relation:
        """The assignments that are made of the slots whose combinations some row speaks about."""
        known = self._made.get(family.id)
        if known is None:
            slots = tuple(sorted({i for combination in family.combinations for i in combination.when.slots}))
            codes = [next(iter(spec.codes)) for spec in family.slots]
            rows: list[Row] = []
            for chosen in every(family, slots):
                for index, code in zip(slots, chosen, strict=True):
                    codes[index] = code
                if family.not_made(codes) is None:
                    rows.append(chosen)
            known = self._made[family.id] = Relation(slots, rows)
        return known


def every(family: FamilySpec, slots: Sequence[int]) -> Iterator[Row]:
    """Every assignment of these slots, in table order."""
    return product(*(family.slots[i].codes for i in slots))


def scaled(size: Fraction) -> int:
    """A whole number that orders quantities."""
    return size.numerator * _FINE // size.denominator
