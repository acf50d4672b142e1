"""Relations between numbers, over several hops where each hop is a row.

A chain says no more than its weakest hop: a renumbering followed by a supersession is a supersession, and 'superseded by' is never
turned into 'interchangeable'. A hop that says 'not equivalent' ends its chain: it is an answer, not a road.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.slots import NONE
from service.catalogue.values import Citation
from service.catalogue.when import When, compile_when
from service.designation.encode import Encoder, Wanted, one_of
from service.designation.reader import Reader
from service.designation.reading import Designation
from service.parts.part import Part
from service.tables.rows import TRUST, Equivalence, Pair

#: order of trust of a relation, the strongest first; a chain is worth its last in this order
RELATIONS: Final = (
    "same standard renumbered", "superseded by", "dimensional alternate", "stronger alternate", "not equivalent",
)  # fmt: skip
NOT_EQUIVALENT: Final = "not equivalent"
MOST_HOPS: Final = 4
#: hops of a chain between two given numbers, and chains shown: every way there is, within reason
MOST_CHAINED: Final = 3
MOST_CHAINS: Final = 8
#: numbers one hop may lead to before the row counts as too loose to be followed further
MOST_TARGETS: Final = 24


@dataclass(frozen=True, slots=True)
class Hop:
    """One row that leads from a number to another."""

    from_number: str
    to_number: str
    relation: str
    direction: str
    conditions: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class Relative:
    """A number related to the one asked about, by the chain of rows that leads to it."""

    part: Part
    relation: str
    basis: str
    hops: tuple[Hop, ...]


@dataclass(frozen=True, slots=True)
class _Road:
    row: Equivalence
    when: When
    source: FamilySpec
    target: FamilySpec
    fixed: Mapping[int, frozenset[str]]
    carry: tuple[str, ...]


class Relations:
    """Answers what is related to a part, and how."""

    def __init__(self, catalogue: Catalogue, reader: Reader, encoder: Encoder) -> None:
        self._catalogue = catalogue
        self._reader = reader
        self._encoder = encoder
        self._roads: dict[str, list[_Road]] = defaultdict(list)
        self._back: dict[str, list[_Road]] = defaultdict(list)
        for row in catalogue.equivalences:
            road = compiled_road(row, catalogue)
            self._roads[row.from_family].append(road)
            if row.direction == "both":
                self._back[row.to_family].append(road)

    def of(self, part: Part, hops: int = MOST_HOPS) -> list[Relative]:
        """Every number the rows lead to, the strongest relation and the shortest chain first; each number once."""
        found: dict[str, Relative] = {}
        edge: list[Relative] = [Relative(part, RELATIONS[0], "published", ())]
        for _ in range(hops):
            reached: list[Relative] = []
            for here in edge:
                for relative in self._onward(here):
                    there = relative.part
                    known = found.get(there.number)
                    if there.number != part.number and (known is None or _worth(relative) < _worth(known)):
                        found[there.number] = relative
                        reached.append(relative)
            edge = [r for r in reached if r.relation != NOT_EQUIVALENT]
        return sorted(found.values(), key=lambda r: (*_worth(r), r.part.number))

    def between(self, first: Part, second: Part, hops: int = MOST_CHAINED) -> list[Relative]:
        """Every chain that leads from ``first`` to ``second``, the strongest first; empty when no row relates them in that direction."""
        found: list[Relative] = []
        edge = [Relative(first, RELATIONS[0], "published", ())]
        for _ in range(hops):
            reached = [r for here in edge for r in self._onward(here) if not _passed(here, first, r.part)]
            found += [r for r in reached if r.part.number == second.number]
            edge = [r for r in reached if r.relation != NOT_EQUIVALENT and r.part.number != second.number]
        return sorted(found, key=_worth)[:MOST_CHAINS]

    def _onward(self, here: Relative) -> Iterator[Relative]:
        """One hop further. 'Not equivalent' is said of the number asked about, so it follows nothing but a renumbering."""
        renumbered = all(hop.relation == RELATIONS[0] for hop in here.hops)
        for there, hop in self._steps(here.part):
            if hop.relation != NOT_EQUIVALENT or renumbered:
                yield _extended(here, there, hop)

    def _steps(self, part: Part) -> Iterator[tuple[Part, Hop]]:
        for pair in self._catalogue.pairs_from.get(part.number, ()):
            yield from self._pair(part, pair.to_number, pair, pair.relation)
        for pair in self._catalogue.pairs_to.get(part.number, ()):
            if pair.direction == "both":
                yield from self._pair(part, pair.from_number, pair, pair.relation)
        codes = part.designation.codes
        for road in self._roads.get(part.family.id, ()):
            if road.when.holds(codes) and _trusted(road.row, part):
                for number in self._along(road, part):
                    yield self._step(part, road.target, number, road.row, road.row.relation)
        for road in self._back.get(part.family.id, ()):
            if _trusted(road.row, part) and all(codes[i] in allowed for i, allowed in road.fixed.items()):
                for number in self._against(road, part):
                    yield self._step(part, road.source, number, road.row, road.row.relation)

    def _pair(self, part: Part, number: str, pair: Pair, relation: str) -> Iterator[tuple[Part, Hop]]:
        found = self._reader.read(number)
        if isinstance(found, Designation) and _trusted(pair, part):
            hop = Hop(part.number, number, relation, pair.direction, pair.conditions, Citation.of(pair))
            yield Part(found, part.basis), hop

    def _step(
        self, part: Part, family: FamilySpec, codes: tuple[str, ...], row: Equivalence, relation: str
    ) -> tuple[Part, Hop]:
        number = family.format(codes)
        hop = Hop(part.number, number, relation, row.direction, row.conditions, Citation.of(row))
        return Part(Designation(number, family, codes, number), part.basis), hop

    def _along(self, road: _Road, part: Part) -> Iterator[tuple[str, ...]]:
        if road.carry == ("slots",):
            codes = _same_slots(part, road.target, road.fixed)
            if codes is not None:
                yield codes
        elif road.carry != ("pairs",):
            yield from self._carried(road.target, part, road.carry, road.fixed)

    def _against(self, road: _Road, part: Part) -> Iterator[tuple[str, ...]]:
        if road.carry == ("slots",):
            codes = _same_slots(part, road.source, {})
            if codes is not None and road.when.holds(codes):
                yield codes
        elif road.carry != ("pairs",):
            for codes in self._carried(road.source, part, road.carry, {}):
                if road.when.holds(codes):
                    yield codes

    def _carried(
        self, family: FamilySpec, part: Part, carry: tuple[str, ...], fixed: Mapping[int, frozenset[str]]
    ) -> Iterator[tuple[str, ...]]:
        wanted: dict[str, Wanted] = {}
        for attribute in carry:
            value = part.value(attribute)
            if value is None or value.exact is None:
                return
            wanted[attribute] = one_of(value.exact)
        for count, codes in enumerate(self._encoder.numbers(family, wanted, fixed)):
            if count == MOST_TARGETS:
                return
            yield codes


def compiled_road(row: Equivalence, catalogue: Catalogue) -> _Road:
    """Compile an equivalence row. KeyError or ValueError when it names what is not there."""
    source, target = catalogue.families[row.from_family], catalogue.families[row.to_family]
    slots = {spec.name: (index, spec) for index, spec in enumerate(source.slots)}
    goals = {spec.name: (index, spec) for index, spec in enumerate(target.slots)}
    fixed = dict(compile_when(row.set_, goals).tests)
    carry = tuple(row.carry.split())
    if not carry:
        raise ValueError("an equivalence must say what is carried")
    if carry not in {("slots",), ("pairs",)}:
        unknown = [name for name in carry if name not in catalogue.attributes]
        if unknown:
            raise ValueError(f"carries {', '.join(unknown)}, which is no attribute")
    return _Road(row, compile_when(row.from_when, slots), source, target, fixed, carry)


def _same_slots(part: Part, family: FamilySpec, fixed: Mapping[int, frozenset[str]]) -> tuple[str, ...] | None:
    """The number of ``family`` with the same code in every slot of the same name, or None when one does not carry over."""
    ours = {spec.name: code for spec, code in zip(part.family.slots, part.designation.codes, strict=True)}
    codes = []
    for index, spec in enumerate(family.slots):
        if index in fixed:
            code = next(iter(fixed[index]))
        elif spec.name == "basic":
            code = _same_basic(ours["basic"], part.family, family)
        else:
            code = ours.get(spec.name, NONE)
        if code not in spec.codes:
            return None
        codes.append(code)
    carried = {spec.name for spec in family.slots}
    if any(code != NONE and name not in carried for name, code in ours.items()):
        return None
    return tuple(codes) if family.not_made(codes) is None else None


def _same_basic(basic: str, source: FamilySpec, target: FamilySpec) -> str:
    """The basic number in the same place of the other family's list: a renumbering keeps the order."""
    ours, theirs = list(source.slots[0].codes), list(target.slots[0].codes)
    if len(theirs) == 1:
        return theirs[0]
    return theirs[ours.index(basic)] if len(ours) == len(theirs) else ""


def _trusted(row: Equivalence | Pair, part: Part) -> bool:
    return TRUST[row.basis] <= TRUST[part.basis]


def _passed(here: Relative, first: Part, there: Part) -> bool:
    return there.number == first.number or any(hop.to_number == there.number for hop in here.hops)


def _extended(here: Relative, part: Part, hop: Hop) -> Relative:
    weakest = max(here.relation, hop.relation, key=RELATIONS.index) if here.hops else hop.relation
    basis = max(here.basis, hop.citation.basis, key=TRUST.__getitem__)
    return Relative(part, weakest, basis, (*here.hops, hop))


def _worth(relative: Relative) -> tuple[int, int, int]:
    return RELATIONS.index(relative.relation), TRUST[relative.basis], len(relative.hops)
