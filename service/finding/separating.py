"""The next measurement: which one, least trouble first, would tell the leading candidates apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, islice
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Value
from service.designation.reading import Designation
from service.finding.identifying import Candidate
from service.finding.searching import expand, named
from service.tables.rows import Attribute

#: trouble of finding an attribute out, least first; an attribute of no class cannot be found out at a counter
LOOK, GAUGE, CALIPER = 1, 2, 3
HOW: Final = {LOOK: "look at the part", GAUGE: "thread gauge", CALIPER: "caliper"}
_SEEN: Final = frozenset(
    {"head_style", "drive", "head_mark", "colour", "tooth_form", "fitting_form", "rivet_holes", "plate_style"}
)
#: lengths that are sizes of other things, or that only paper knows
_NOT_MEASURED: Final = frozenset(
    {"hole_diameter", "minimum_cotter_diameter", "nominal_length", "grip_length_min", "grip_length_max", "nominal_diameter", "fillet_radius"}
)  # fmt: skip
#: numbers looked at, of each leading candidate and in all
_MEMBERS: Final = 12
_LEADING: Final = 6


@dataclass(frozen=True, slots=True)
class Next:
    """A measurement worth making: what it would show, number by number."""

    attribute: str
    how: str
    cost: int
    separated: int
    pairs: int
    shows: tuple[tuple[str, tuple[str, ...]], ...]


def next_measurement(
    catalogue: Catalogue, candidates: Sequence[Candidate], asked: Iterable[str], basis: str, uncertainty: Fraction
) -> Next | None:
    """The cheapest measurement that separates the leading candidates, or the open pieces of the only one. None when nothing does."""
    best = candidates[0].score if candidates else 0
    leading = [c for c in candidates if best - c.score <= 2 and not c.against][:_LEADING]
    items = [members for c in leading if (members := _members(c))]
    if len(items) == 1:
        items = [[one] for one in items[0]]
    done, options = set(asked), []
    for row in catalogue.attributes.values():
        cost = cost_of(row)
        if cost is not None and row.attribute not in done:
            option = _option(row.attribute, cost, items, basis, uncertainty)
            if option is not None:
                options.append(option)
    # what parts at least half of the pairs counts as separating; among those the least trouble, then the most parted
    return min(options, key=lambda o: (2 * o.separated < o.pairs, o.cost, -o.separated), default=None)


def cost_of(row: Attribute) -> int | None:
    """How much trouble an attribute is to find out; None where it cannot be seen or measured."""
    if row.form == "flag" or row.attribute in _SEEN:
        return LOOK
    if row.attribute == "thread":
        return GAUGE
    return CALIPER if row.unit == "[in_i]" and row.attribute not in _NOT_MEASURED else None


def _members(candidate: Candidate) -> list[Designation]:
    found: list[Designation] = []
    for partial in candidate.partials:
        found += [named(candidate.family, c) for c in islice(expand(candidate.family, partial), _MEMBERS - len(found))]
        if len(found) >= _MEMBERS:
            break
    return found


def _option(
    attribute: str, cost: int, items: list[list[Designation]], basis: str, uncertainty: Fraction
) -> Next | None:
    values = [[_value(d, attribute, basis) for d in group] for group in items]
    pairs = list(combinations(values, 2))
    separated = sum(_apart(a, b, uncertainty) for a, b in pairs)
    if not separated:
        return None
    shows: dict[str, list[str]] = {}
    for group, group_values in zip(items, values, strict=True):
        for designation, value in zip(group, group_values, strict=True):
            told = shows.setdefault(value.display if value is not None else "not in the tables", [])
            if len(told) < _MEMBERS and designation.number not in told:
                told.append(designation.number)
    return Next(attribute, HOW[cost], cost, separated, len(pairs), tuple((k, tuple(v)) for k, v in shows.items()))


def _value(designation: Designation, attribute: str, basis: str) -> Value | None:
    value = designation.family.value(attribute, designation.codes)
    value = value.at_least(basis) if value is not None else None
    return value if value is not None and value.exact is not None else None


def _apart(first: list[Value | None], second: list[Value | None], uncertainty: Fraction) -> bool:
    """Whether every value of one group differs from every value of the other by more than could be mistaken."""
    return all(a is not None and b is not None and _differ(a, b, uncertainty) for a in first for b in second)


def _differ(a: Value, b: Value, uncertainty: Fraction) -> bool:
    if isinstance(a.exact, Fraction) and isinstance(b.exact, Fraction):
        if a.limit or b.limit:
            return False
        gap = max(a.least, b.least) - min(a.greatest, b.greatest)
        return gap > 2 * uncertainty
    return a.exact != b.exact
