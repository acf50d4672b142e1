"""From rows to a catalogue. Every row that makes no sense becomes a fault with its file and line; nothing is guessed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import partial
from typing import TypeVar

from service.catalogue.facets import Facets, Statement, Statements, fact_statement, gap_statement, law_statement
from service.catalogue.family import Combination, FamilySpec, Remark
from service.catalogue.slots import SlotSpec, basic_slot, slot_spec
from service.catalogue.values import Citation
from service.catalogue.when import When, compile_when
from service.tables.reading import Fault, Package
from service.tables.rows import (
    Attribute,
    BasicNumber,
    Caution,
    Code,
    Fact,
    Family,
    Gap,
    Keyed,
    Law,
    Made,
    Misreading,
    Slot,
)  # fmt: skip

K = TypeVar("K", bound=Keyed)
T = TypeVar("T")
SlotMap = Mapping[str, tuple[int, SlotSpec]]
C = TypeVar("C", Fact, Law, Made, Gap, Misreading, Caution)


class Compiler:
    """Compiles the families of a package. ``faults`` collects what could not be compiled."""

    def __init__(self, package: Package) -> None:
        self.package = package
        self.faults: list[Fault] = []
        self.attributes = {row.attribute: row for row in package.of(Attribute)}
        self._place = {
            row.row: (file, line)
            for model in (Family, BasicNumber, Slot, Code, Fact, Law, Made, Gap, Misreading, Caution)
            for row, file, line in package.located(model)
        }

    def families(self) -> list[FamilySpec]:
        """Every family that compiles, in file order."""
        basics = _grouped(self.package.of(BasicNumber), lambda r: r.family)
        slots = _grouped(self.package.of(Slot), lambda r: r.family)
        self._codes = _grouped(self.package.of(Code), lambda r: r.code_set)
        self._facts = _grouped(self.package.of(Fact), lambda r: r.scope)
        self._laws = _grouped(self.package.of(Law), lambda r: r.scope)
        self._gaps = _grouped(self.package.of(Gap), lambda r: r.scope)
        self._made = _grouped(self.package.of(Made), lambda r: r.family)
        self._misreadings = _grouped(self.package.of(Misreading), lambda r: r.scope)
        self._cautions = _grouped(self.package.of(Caution), lambda r: r.scope)
        done = []
        for row in self.package.of(Family):
            family = self._family(row, basics.get(row.family, []), slots.get(row.family, []))
            if family is not None:
                done.append(family)
        self._orphans({f.family for f in self.package.of(Family)})
        return done

    def _family(self, row: Family, basics: list[BasicNumber], slot_rows: list[Slot]) -> FamilySpec | None:
        if not basics:
            self._fault(row, "the family has no basic number")
            return None
        specs = [basic_slot(basics, row.title, Citation.of(row))]
        scopes: dict[str, None] = {row.family: None}
        for slot in sorted(slot_rows, key=lambda s: int(s.position)):
            spec = self._try(slot, partial(slot_spec, slot, self._codes.get(slot.code_set, [])))
            if spec is None:
                return None
            if not spec.codes:
                self._fault(slot, f"code set {slot.code_set!r} has no codes")
                return None
            specs.append(spec)
            if slot.code_set:
                scopes[slot.code_set] = None
        named: SlotMap = {spec.name: (index, spec) for index, spec in enumerate(specs)}
        if len(named) != len(specs):
            self._fault(row, "two slots share a name")
            return None
        facets = self._facets(row, list(scopes), specs, named)
        if facets is None:
            return None
        return FamilySpec(
            id=row.family,
            kind=row.kind,
            title=row.title,
            description=row.description,
            status=row.status,
            superseded_by=row.superseded_by,
            examples=tuple(row.examples.split()),
            citation=Citation.of(row),
            slots=tuple(specs),
            facets=facets,
            combinations=tuple(
                Combination(when, made.made == "yes", made.reason, Citation.of(made))
                for made, when in self._compiled(self._made, [row.family], named)
            ),
            misreadings=tuple(
                Remark(when, m.right, m.wrong, Citation.of(m))
                for m, when in self._compiled(
                    self._misreadings, [row.family, *list(scopes)[1:], row.kind, "all"], named
                )
            ),
            cautions=tuple(
                Remark(when, c.text, "", Citation.of(c))
                for c, when in self._compiled(self._cautions, [row.family, *list(scopes)[1:], row.kind, "all"], named)
            ),
        )

    def _facets(self, row: Family, scopes: list[str], specs: list[SlotSpec], named: SlotMap) -> Facets | None:
        found: dict[str, list[Statement]] = defaultdict(list)
        for fact, when in self._compiled(self._facts, scopes, named):
            self._add(found, fact, fact.attribute, partial(fact_statement, fact, when))
        indices = {name: index for name, (index, spec) in named.items() if spec.numeric}
        for law, when in self._compiled(self._laws, scopes, named):
            self._add(found, law, law.attribute, partial(law_statement, law, when, indices))
        for gap, when in self._compiled(self._gaps, scopes, named):
            self._add(found, gap, gap.attribute, partial(gap_statement, gap, when))
        order = {name: place for place, name in enumerate(self.attributes)}
        rules = {
            name: Statements(self.attributes[name], found[name]) for name in sorted(found, key=lambda name: order[name])
        }
        numbers: list[Mapping[str, Fraction | None]] = [
            {code: c.number for code, c in spec.codes.items()} for spec in specs
        ]
        return self._try(row, lambda: Facets(rules, numbers))

    def _add(
        self, found: dict[str, list[Statement]], row: Keyed, attribute: str, make: Callable[[Attribute], Statement]
    ) -> None:
        known = self.attributes.get(attribute)
        if known is None:
            self._fault(row, f"attribute {attribute!r} is not in attributes.csv")
            return
        statement = self._try(row, lambda: make(known))
        if statement is not None:
            found[attribute].append(statement)

    def _compiled(self, table: Mapping[str, list[C]], scopes: list[str], named: SlotMap) -> Iterator[tuple[C, When]]:
        for scope in scopes:
            for row in table.get(scope, []):
                when = self._try(row, partial(compile_when, row.when, named))
                if when is not None:
                    yield row, when

    def _orphans(self, families: set[str]) -> None:
        """Rows that hang on a family, code set or kind that does not exist would otherwise be lost without a word."""
        kinds = {f.kind for f in self.package.of(Family)} | {"all"}
        sets = {slot.code_set for slot in self.package.of(Slot) if slot.code_set}
        for row in self.package.of(BasicNumber):
            if row.family not in families:
                self._fault(row, f"no family {row.family!r}")
        for slot in self.package.of(Slot):
            if slot.family not in families:
                self._fault(slot, f"no family {slot.family!r}")
        scoped_rows: list[Fact | Law | Gap] = [*self.package.of(Fact), *self.package.of(Law), *self.package.of(Gap)]
        for scoped in scoped_rows:
            if scoped.scope not in families | sets:
                self._fault(scoped, f"scope {scoped.scope!r} is no family and no code set in use")
        for made in self.package.of(Made):
            if made.family not in families:
                self._fault(made, f"no family {made.family!r}")
        told_rows: list[Misreading | Caution] = [*self.package.of(Misreading), *self.package.of(Caution)]
        for told in told_rows:
            if told.scope not in families | sets | kinds:
                self._fault(told, f"scope {told.scope!r} is no family, no code set in use and no kind")

    def _try(self, row: Keyed, make: Callable[[], T]) -> T | None:
        try:
            return make()
        except (ValueError, ZeroDivisionError, KeyError) as error:
            self._fault(row, str(error))
            return None

    def _fault(self, row: Keyed, reason: str) -> None:
        file, line = self._place.get(row.row, ("", 0))
        fault = Fault(file, line, f"{row.row}: {reason}")
        if fault not in self.faults:
            self.faults.append(fault)


def _grouped(rows: list[K], key: Callable[[K], str]) -> dict[str, list[K]]:
    grouped: dict[str, list[K]] = defaultdict(list)
    for row in rows:
        grouped[key(row)].append(row)
    return dict(grouped)
