"""Rules, mates and equivalences are written in a language of their own: every row compiles, and names what exists."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from service.catalogue.catalogue import Catalogue
from service.equivalence.relating import compiled_road
from service.mating.clauses import JOINT, Clause, compile_clauses
from service.mating.mates import compiled_mate
from service.tables.joint_rows import Practice
from service.tables.reading import Fault
from service.tables.rows import Cited, Equivalence, Mate, Rule

Said = TypeVar("Said", bound=Cited)

#: what a clause may ask about a part beside its attributes
_OF_A_NUMBER = {"", "family", "basic"}


def rules(catalogue: Catalogue) -> Iterator[Fault]:
    """Every rule compiles, and asks only about attributes and joint conditions that exist."""
    return _conditions(catalogue, Rule, lambda row: row.when)


def practices(catalogue: Catalogue) -> Iterator[Fault]:
    """What a practice excepts compiles, and asks only about attributes and joint conditions that exist."""
    return _conditions(catalogue, Practice, lambda row: row.excepted)


def _conditions(catalogue: Catalogue, rows: type[Said], text: Callable[[Said], str]) -> Iterator[Fault]:
    for row, file, line in catalogue.package.located(rows):
        try:
            clauses = compile_clauses(text(row))
        except ValueError as error:
            yield Fault(file, line, f"{row.row}: {error}")
            continue
        for reason in _unknown(clauses, catalogue):
            yield Fault(file, line, f"{row.row}: {reason}")


def mates(catalogue: Catalogue) -> Iterator[Fault]:
    """Every mate row compiles, and matches on attributes that exist."""
    for row, file, line in catalogue.package.located(Mate):
        try:
            mate = compiled_mate(row)
        except ValueError as error:
            yield Fault(file, line, f"{row.row}: {error}")
            continue
        named = {name for pair in mate.match for name in pair} | set(mate.wanted)
        for name in sorted(named - set(catalogue.attributes)):
            yield Fault(file, line, f"{row.row}: {name!r} is no attribute")
        for reason in _unknown(mate.conditions, catalogue):
            yield Fault(file, line, f"{row.row}: {reason}")


def equivalences(catalogue: Catalogue) -> Iterator[Fault]:
    """Every equivalence compiles against the slots of its two families."""
    for row, file, line in catalogue.package.located(Equivalence):
        if row.from_family in catalogue.families and row.to_family in catalogue.families:
            try:
                compiled_road(row, catalogue)
            except ValueError as error:
                yield Fault(file, line, f"{row.row}: {error}")


def _unknown(clauses: tuple[Clause, ...], catalogue: Catalogue) -> Iterator[str]:
    for clause in clauses:
        for subject, name in filter(None, ((clause.subject, clause.attribute), clause.other)):
            if subject == JOINT:
                if name not in catalogue.conditions:
                    yield f"{name!r} is no joint condition"
            elif name not in catalogue.attributes and name not in _OF_A_NUMBER:
                yield f"{name!r} is no attribute"


CHECKS = (rules, mates, practices, equivalences)
