"""A part: a designation and everything the tables say about it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from service.catalogue.family import FamilySpec, Remark
from service.catalogue.slots import NONE
from service.catalogue.values import Citation, Value
from service.designation.reading import Designation


@dataclass(frozen=True, slots=True)
class Segment:
    """One piece of the number, as a teacher would chalk it up. ``text`` is empty where a piece is absent."""

    text: str
    slot: str
    caption: str
    meaning: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class Part:
    """A part that a number names. ``basis`` is the weakest basis the caller accepts."""

    designation: Designation
    basis: str = "from-memory"

    @property
    def number(self) -> str:
        """The canonical number."""
        return self.designation.number

    @property
    def family(self) -> FamilySpec:
        """The family the number belongs to."""
        return self.designation.family

    def value(self, attribute: str) -> Value | None:
        """One attribute as the caller's basis allows, or None where the tables are silent."""
        found = self.family.value(attribute, self.designation.codes)
        return found.at_least(self.basis) if found is not None and self.basis != "from-memory" else found

    @property
    def attributes(self) -> Mapping[str, Value]:
        """Every attribute the tables know of, absent ones with their reason included."""
        facets, codes = self.family.facets, self.designation.codes
        found = (value for facet in facets.all for value in facets.values(facet, codes).values())
        return {v.attribute: v.at_least(self.basis) if self.basis != "from-memory" else v for v in found}

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The pieces of the number in order, absent ones included where absence means something."""
        return tuple(
            Segment(
                "" if code == NONE else code,
                spec.name,
                spec.caption,
                spec.codes[code].meaning,
                spec.codes[code].citation,
            )
            for spec, code in zip(self.family.slots, self.designation.codes, strict=True)
        )

    @property
    def description(self) -> str:
        """The part in words: the family's clauses whose attributes are known, or its title when none is."""
        return "; ".join(self._clauses()) or self.family.title

    def _clauses(self) -> Iterator[str]:
        for literals, names in clauses(self.family.description):
            words = [literals[0]]
            for name, literal in zip(names, literals[1:], strict=True):
                value = self.value(name)
                if value is None or not value.display:
                    break
                words += [value.display, literal]
            else:
                yield "".join(words)

    @property
    def misreadings(self) -> tuple[Remark, ...]:
        """Popular misreadings that would mislead here."""
        return tuple(m for m in self.family.misreadings if m.when.holds(self.designation.codes))

    @property
    def cautions(self) -> tuple[Remark, ...]:
        """Cautions that go out with the part."""
        return tuple(c for c in self.family.cautions if c.when.holds(self.designation.codes))


@lru_cache(maxsize=1024)
def clauses(template: str) -> tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]:
    """A description taken apart: for each clause its literal texts and the attributes between them."""
    found = []
    for clause in template.split(";"):
        literals, names, rest = [], [], clause.strip()
        while "{" in rest:
            before, _, rest = rest.partition("{")
            name, _, rest = rest.partition("}")
            literals.append(before)
            names.append(name)
        found.append(((*literals, rest), tuple(names)))
    return tuple(found)
