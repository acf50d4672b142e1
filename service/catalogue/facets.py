"""Facets: the attributes of a family, grouped by the pieces of the number they hang on.

``grip_length`` of a hex bolt hangs on the basic number and the dash; ``material`` on one letter. An answer for a new number is
then a handful of dictionary look-ups, because each facet has usually been worked out for some other number before.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from operator import itemgetter

from service.catalogue.values import Citation, Value, display_of
from service.catalogue.when import When
from service.quantity import decimal_text, inch_fraction, parse_number, rounded
from service.tables.rows import Attribute, Fact, Gap, Law


@dataclass(frozen=True, slots=True)
class Statement:
    """A row that gives an attribute, compiled: when it holds, how strongly it is preferred, and how to work it out."""

    when: When
    order: tuple[int, int, int, int]
    value: Value | None = None
    law: Law | None = None
    of_slot: int | None = None
    of_attribute: str | None = None


def fact_statement(row: Fact, when: When, attribute: Attribute) -> Statement:
    """A statement that gives a printed value. ValueError where the value is not of the attribute's form."""
    exact: Fraction | str = row.value
    if attribute.form == "quantity":
        if row.unit != attribute.unit:
            raise ValueError(f"{row.attribute} is in {attribute.unit}, the row says {row.unit or 'nothing'}")
        exact = parse_number(row.value)
    elif attribute.form == "flag" and row.value not in {"yes", "no"}:
        raise ValueError(f"{row.attribute} is yes or no, the row says {row.value!r}")
    citation = Citation.of(row)
    value = Value(
        attribute=row.attribute,
        exact=exact,
        unit=attribute.unit,
        printed=row.display or row.value,
        display=display_of(attribute, exact, row.display or row.value, row.limit),
        limit=row.limit,
        plus=parse_number(row.plus) if row.plus else None,
        minus=parse_number(row.minus) if row.minus else None,
        citation=citation,
    )
    # the rank a curator gave, then facts before laws, then the more specific row, then the better source
    return Statement(when, (int(row.rank or 1), 0, -when.specificity, citation.trust), value=value)


def law_statement(row: Law, when: When, slots: Mapping[str, int], _attribute: Attribute) -> Statement:
    """A statement worked out from a number slot or from another attribute."""
    slot = slots.get(row.of)
    order = (1, 1, -when.specificity, Citation.of(row).trust)
    return Statement(when, order, law=row, of_slot=slot, of_attribute=None if slot is not None else row.of)


def gap_statement(row: Gap, when: When, attribute: Attribute) -> Statement:
    """A statement that no source gives the attribute; any fact or law that holds goes before it."""
    value = Value(row.attribute, None, attribute.unit, "", "", reason=row.reason)
    return Statement(when, (9, 9, -when.specificity, 9), value=value)


class Statements:
    """All statements about one attribute in one family, indexed so that their number does not matter."""

    def __init__(self, attribute: Attribute, statements: Iterable[Statement]) -> None:
        self.attribute = attribute
        self.statements = sorted(statements, key=lambda s: s.order)
        spread: dict[int, set[str]] = defaultdict(set)
        for statement in self.statements:
            for index, codes in statement.when.tests:
                spread[index].update(codes)
        self._index = max(spread, key=lambda i: len(spread[i]), default=None)
        self._by_code: dict[str, list[Statement]] = defaultdict(list)
        self._anywhere: list[Statement] = []
        for statement in self.statements:
            near = dict(statement.when.tests).get(self._index) if self._index is not None else None
            if near is None:
                self._anywhere.append(statement)
            else:
                for code in near:
                    self._by_code[code].append(statement)

    def holding(self, codes: Sequence[str]) -> list[Statement]:
        """The statements that hold for a number, the preferred one first."""
        near = self._by_code.get(codes[self._index], []) if self._index is not None else []
        found = [s for s in (*near, *self._anywhere) if s.when.holds(codes)]
        found.sort(key=lambda s: s.order)
        return found


@dataclass
class Facet:
    """The attributes that hang on the same pieces of the number, and the answers worked out so far."""

    slots: tuple[int, ...]
    rules: tuple[Statements, ...]
    names: tuple[str, ...] = field(init=False)
    _known: dict[str | tuple[str, ...], Mapping[str, Value]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.names = tuple(rule.attribute.attribute for rule in self.rules)
        # itemgetter gives the bare code for one slot and a tuple for several: both are keys
        self.pick = itemgetter(*self.slots) if self.slots else (lambda _codes: "")


class Facets:
    """All facets of one family."""

    def __init__(self, rules: Mapping[str, Statements], codes_of: Sequence[Mapping[str, Fraction | None]]) -> None:
        self._rules = rules
        self._numbers = codes_of
        grouped: dict[tuple[int, ...], list[Statements]] = defaultdict(list)
        for name, rule in rules.items():
            grouped[tuple(sorted(self._reach(name, frozenset())))].append(rule)
        self.all = tuple(Facet(slots, tuple(members)) for slots, members in sorted(grouped.items()))
        self.by_attribute = {name: facet for facet in self.all for name in facet.names}

    def _reach(self, attribute: str, seen: frozenset[str]) -> frozenset[int]:
        """The slots that an attribute hangs on, through the attributes its laws start from."""
        if attribute in seen:
            raise ValueError(f"the laws of {attribute} go in a circle")
        slots: set[int] = set()
        for statement in self._rules[attribute].statements:
            slots |= statement.when.slots
            if statement.of_slot is not None:
                slots.add(statement.of_slot)
            elif statement.of_attribute is not None:
                if statement.of_attribute not in self._rules:
                    raise ValueError(f"{attribute} starts from {statement.of_attribute}, which nothing gives")
                slots |= self._reach(statement.of_attribute, seen | {attribute})
        return frozenset(slots)

    def values(self, facet: Facet, codes: Sequence[str]) -> Mapping[str, Value]:
        """The facet's attributes for a number, worked out once for each combination of its pieces."""
        key = facet.pick(codes)
        known = facet._known.get(key)
        if known is None:
            known = {v.attribute: v for rule in facet.rules if (v := self._resolve(rule, codes)) is not None}
            facet._known[key] = known
        return known

    def value(self, attribute: str, codes: Sequence[str]) -> Value | None:
        """One attribute of a number, or None where the tables are silent about it."""
        facet = self.by_attribute.get(attribute)
        return self.values(facet, codes).get(attribute) if facet is not None else None

    def _resolve(self, rule: Statements, codes: Sequence[str]) -> Value | None:
        found = [v for s in rule.holding(codes) if (v := self._work_out(s, rule.attribute, codes)) is not None]
        if not found:
            return None
        first, rest = found[0], [v for v in found[1:] if v.citation is not None]
        different = tuple(v for v in rest if (v.exact, v.plus, v.minus) != (first.exact, first.plus, first.minus))
        return replace(first, others=different) if different else first

    def _work_out(self, statement: Statement, attribute: Attribute, codes: Sequence[str]) -> Value | None:
        law = statement.law
        if law is None:
            return statement.value
        if statement.of_slot is not None:
            start = self._numbers[statement.of_slot][codes[statement.of_slot]]
        else:
            # not through the facet: the base may belong to the very facet that is being worked out
            base = self._resolve(self._rules[statement.of_attribute or ""], codes)
            start = base.number if base is not None and isinstance(base.exact, Fraction) else None
        if start is None:
            return None
        exact = start * parse_number(law.factor) + parse_number(law.offset)
        if law.places:
            exact = rounded(exact, int(law.places), law.rounding or "half-even")
        fraction = inch_fraction(exact) if attribute.unit == "[in_i]" and not law.places else None
        printed = fraction or decimal_text(exact)
        return Value(
            attribute=law.attribute,
            exact=exact,
            unit=attribute.unit,
            printed=printed,
            display=display_of(attribute, exact, printed, ""),
            plus=parse_number(law.plus) if law.plus else None,
            minus=parse_number(law.minus) if law.minus else None,
            citation=Citation.of(law),
        )
