"""The catalogue: one frozen object that holds a release of the tables, indexed for reading."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from service.catalogue.compiling import Compiler
from service.catalogue.family import FamilySpec
from service.tables.reading import Fault, Package, read_package
from service.tables.rows import Attribute, Condition, Equivalence, Mate, Pair, Rule, Source


class TablesUnfit(Exception):
    """The tables have faults; a service that would answer from them must not start. ``faults`` lists all of them."""

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = faults
        super().__init__(f"{len(faults)} faults in the tables; the first: {faults[0]}")


@dataclass(frozen=True)
class Catalogue:
    """A release, indexed. ``digest`` names it: every reference answer is a function of (digest, request)."""

    digest: str
    package: Package
    families: Mapping[str, FamilySpec]
    by_basic: Mapping[str, FamilySpec]
    attributes: Mapping[str, Attribute]
    sources: Mapping[str, Source]
    conditions: Mapping[str, Condition]
    rules: tuple[Rule, ...]
    mates: tuple[Mate, ...]
    equivalences: tuple[Equivalence, ...]
    pairs_from: Mapping[str, tuple[Pair, ...]]
    pairs_to: Mapping[str, tuple[Pair, ...]]

    @property
    def short(self) -> str:
        """The first twelve digits of the digest, for people."""
        return self.digest[:12]


def build(package: Package, grammar: bytes = b"") -> tuple[Catalogue, list[Fault]]:
    """The catalogue of ``package`` and every fault found on the way; ``grammar`` is hashed into the digest."""
    compiler = Compiler(package)
    families = compiler.families()
    by_basic: dict[str, FamilySpec] = {}
    faults = [*package.faults, *compiler.faults]
    for family in families:
        for basic in family.basics:
            if basic in by_basic:
                faults.append(Fault("", 0, f"basic number {basic} belongs to {by_basic[basic].id} and to {family.id}"))
            by_basic[basic] = family
    pairs_from: dict[str, list[Pair]] = defaultdict(list)
    pairs_to: dict[str, list[Pair]] = defaultdict(list)
    for pair in package.of(Pair):
        pairs_from[pair.from_number].append(pair)
        pairs_to[pair.to_number].append(pair)
    catalogue = Catalogue(
        digest=package.digest(grammar),
        package=package,
        families={family.id: family for family in families},
        by_basic=by_basic,
        attributes=compiler.attributes,
        sources={row.source_id: row for row in package.of(Source)},
        conditions={row.condition: row for row in package.of(Condition)},
        rules=tuple(package.of(Rule)),
        mates=tuple(package.of(Mate)),
        equivalences=tuple(package.of(Equivalence)),
        pairs_from={number: tuple(rows) for number, rows in pairs_from.items()},
        pairs_to={number: tuple(rows) for number, rows in pairs_to.items()},
    )
    return catalogue, faults


def load(folder: Path, grammar: bytes = b"") -> Catalogue:
    """The catalogue of the tables in ``folder``. TablesUnfit when they have a fault."""
    catalogue, faults = build(read_package(folder), grammar)
    if faults:
        raise TablesUnfit(faults)
    return catalogue
