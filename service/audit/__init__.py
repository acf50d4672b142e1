"""The check of the tables: every fault in one list, each with its file, its line and the reason."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from service.audit import joints, language, numbers, references, trade
from service.catalogue.catalogue import Catalogue, build
from service.tables.reading import Fault, read_package

#: every check: a catalogue in, faults out
CHECKS: tuple[Callable[[Catalogue], Iterator[Fault]], ...] = (
    *references.CHECKS,
    *numbers.CHECKS,
    *language.CHECKS,
    *trade.CHECKS,
    *joints.CHECKS,
)


def audit(folder: Path) -> list[Fault]:
    """All faults of the tables in ``folder``: schema first, then what only shows once the rows are read together."""
    catalogue, faults = build(read_package(folder))
    for check in CHECKS:
        faults.extend(check(catalogue))
    return sorted(set(faults), key=lambda fault: (fault.file, fault.line, fault.reason))
