"""Decoding run backwards: which numbers of a family have the attributes wanted. No second copy of any grammar."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from itertools import product

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.values import Value

Exact = Fraction | str
#: what an attribute's value must satisfy; it is never asked about an absent value
Wanted = Callable[[Value], bool]
#: codes for some of the slots, by slot index
Partial = dict[int, str]


def one_of(*values: Exact) -> Wanted:
    """The value is one of ``values``."""
    allowed = frozenset(values)
    return lambda value: value.exact in allowed


class Encoder:
    """Finds numbers by attribute. Each attribute's codes are tabulated once, on first use, over the pieces it hangs on."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self._tables: dict[tuple[str, str], list[tuple[Value, tuple[str, ...]]]] = {}

    def table(self, family: FamilySpec, attribute: str) -> list[tuple[Value, tuple[str, ...]]]:
        """Every (value, codes of the slots the attribute hangs on) of a family; absent values are left out."""
        key = (family.id, attribute)
        known = self._tables.get(key)
        if known is None:
            facet = family.facets.by_attribute[attribute]
            codes = [next(iter(spec.codes)) for spec in family.slots]
            known = []
            for chosen in product(*(family.slots[i].codes for i in facet.slots)):
                for index, code in zip(facet.slots, chosen, strict=True):
                    codes[index] = code
                value = family.facets.values(facet, codes).get(attribute)
                if value is not None and value.exact is not None:
                    known.append((value, chosen))
            self._tables[key] = known
        return known

    def partials(
        self, family: FamilySpec, wanted: Mapping[str, Wanted], fixed: Mapping[int, frozenset[str]] | None = None
    ) -> list[Partial]:
        """Assignments of just the slots that decide the wanted attributes; empty when the family cannot meet them."""
        found: list[Partial] = [{}]
        for index, codes in (fixed or {}).items():
            found = [
                {**partial, index: code} for partial in found for code in family.slots[index].codes if code in codes
            ]
        # the attribute with the fewest matching codes first keeps the join small
        matching = []
        for attribute, test in wanted.items():
            if attribute not in family.facets.by_attribute:
                return []
            slots = family.facets.by_attribute[attribute].slots
            matching.append((slots, [codes for value, codes in self.table(family, attribute) if test(value)]))
        for slots, rows in sorted(matching, key=lambda m: len(m[1])):
            joined: list[Partial] = []
            for partial in found:
                for row in rows:
                    assignment = dict(zip(slots, row, strict=True))
                    if all(partial.get(i, code) == code for i, code in assignment.items()):
                        joined.append({**partial, **assignment})
            found = joined
            if not found:
                return []
        return found

    def numbers(
        self, family: FamilySpec, wanted: Mapping[str, Wanted], fixed: Mapping[int, frozenset[str]] | None = None
    ) -> Iterator[tuple[str, ...]]:
        """The codes of every number of the family that meets the wanted attributes, in table order."""
        seen: set[tuple[str, ...]] = set()
        for partial in self.partials(family, wanted, fixed):
            choices = [[partial[i]] if i in partial else list(spec.codes) for i, spec in enumerate(family.slots)]
            for codes in product(*choices):
                if codes not in seen and family.not_made(codes) is None:
                    seen.add(codes)
                    yield codes
