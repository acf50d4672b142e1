"""Numbers in the tables: examples, pairs and whole families must read, and be written, the same way."""

from __future__ import annotations

from collections.abc import Iterator

from service.catalogue.catalogue import Catalogue
from service.designation.reader import Reader
from service.designation.reading import Designation
from service.tables.reading import Fault
from service.tables.rows import Family, Pair


def examples(catalogue: Catalogue) -> Iterator[Fault]:
    """The examples of a family are canonical numbers of that family."""
    reader = Reader(catalogue)
    for family, file, line in catalogue.package.located(Family):
        for number in family.examples.split():
            yield from _canonical(reader, number, family.family, file, line, f"example {number}")


def pairs(catalogue: Catalogue) -> Iterator[Fault]:
    """Both numbers of a pair are canonical."""
    reader = Reader(catalogue)
    for pair, file, line in catalogue.package.located(Pair):
        for number in (pair.from_number, pair.to_number):
            yield from _canonical(reader, number, None, file, line, f"{pair.row}: {number}")


def attributes_exist_for_templates(catalogue: Catalogue) -> Iterator[Fault]:
    """A description asks only for attributes of the vocabulary."""
    for family, file, line in catalogue.package.located(Family):
        for clause in family.description.split("{")[1:]:
            name = clause.partition("}")[0]
            if name not in catalogue.attributes:
                yield Fault(file, line, f"{family.row}: the description asks for {name!r}, which is no attribute")


def _canonical(reader: Reader, number: str, family: str | None, file: str, line: int, what: str) -> Iterator[Fault]:
    found = reader.read(number)
    if not isinstance(found, Designation):
        yield Fault(file, line, f"{what} does not read: {found.detail}")
    elif found.number != number:
        yield Fault(file, line, f"{what} is written {found.number}")
    elif family is not None and found.family.id != family:
        yield Fault(file, line, f"{what} reads as {found.family.id}")


CHECKS = (examples, pairs, attributes_exist_for_templates)
