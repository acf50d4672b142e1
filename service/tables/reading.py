"""Reading seed_tables/ into rows, with a fault for every cell that is not what its table says.

The reader raises nothing: it returns what it could read and a list of faults, because a person who mends tables wants to
see all of them at once.
"""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, cast

from pydantic import TypeAdapter, ValidationError

from service.tables.registry import TABLES, columns
from service.tables.rows import Row

R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong in a table: where, and why."""

    file: str
    line: int
    reason: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.reason}"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One CSV file as read: its rows, in order, and the line each began on."""

    table: str
    file: str
    rows: tuple[Row, ...]
    lines: tuple[int, ...]

    @property
    def room(self) -> str:
        """The folder the file lies in; empty for the files beside datapackage.json."""
        return self.file.rpartition("/")[0]


@dataclass
class Package:
    """All sheets of seed_tables/ and what was wrong with them."""

    folder: Path
    sheets: list[Sheet] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)

    def of(self, model: type[R]) -> list[R]:
        """The rows of one table over all rooms, in file order."""
        return [cast(R, row) for sheet in self.sheets if TABLES[sheet.table] is model for row in sheet.rows]

    def located(self, model: type[R]) -> Iterator[tuple[R, str, int]]:
        """The rows of one table with their file and line."""
        for sheet in self.sheets:
            if TABLES[sheet.table] is model:
                for row, line in zip(sheet.rows, sheet.lines, strict=True):
                    yield cast(R, row), sheet.file, line

    def digest(self, *extra: bytes) -> str:
        """SHA-256 over every table file and ``extra``, in a fixed order: the name of the release."""
        total = hashlib.sha256()
        for path in sorted(self.folder.rglob("*.csv")):
            total.update(path.relative_to(self.folder).as_posix().encode() + b"\0")
            total.update(hashlib.sha256(path.read_bytes()).digest())
        for part in extra:
            total.update(hashlib.sha256(part).digest())
        return total.hexdigest()


def read_package(folder: Path) -> Package:
    """Read every ``*.csv`` below ``folder`` whose name is a table's; a file of any other name is a fault."""
    package = Package(folder)
    order = {table: place for place, table in enumerate(TABLES)}
    paths = sorted(folder.rglob("*.csv"), key=lambda p: (order.get(p.stem, 99), p.relative_to(folder).as_posix()))
    if not paths:
        package.faults.append(Fault(str(folder), 0, "no tables here"))
    for path in paths:
        name = path.relative_to(folder).as_posix()
        model = TABLES.get(path.stem)
        if model is None:
            package.faults.append(Fault(name, 0, f"no table is called {path.stem!r}; known: {', '.join(TABLES)}"))
        else:
            package.sheets.append(_read_sheet(path, path.stem, name, model, package.faults))
    return package


def _read_sheet(path: Path, table: str, name: str, model: type[Row], faults: list[Fault]) -> Sheet:
    wanted = columns(model)
    fields = {header_of(model, column): column for column in wanted}
    raw: list[dict[str, Any]] = []
    lines: list[int] = []
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        faults.append(Fault(name, 0, f"not UTF-8: {error.reason} at byte {error.start}"))
        return Sheet(table, name, (), ())
    reader = csv.reader(text.splitlines(keepends=True))
    header = next(reader, [])
    if header != wanted:
        faults.append(Fault(name, 1, f"columns are {','.join(header)}; {table} has {','.join(wanted)}"))
        return Sheet(table, name, (), ())
    names = list(fields)
    line = reader.line_num
    for cells in reader:
        start, line = line + 1, reader.line_num
        if len(cells) != len(wanted):
            faults.append(Fault(name, start, f"{len(cells)} cells where the header has {len(wanted)}"))
            continue
        raw.append(dict(zip(names, cells, strict=True)))
        lines.append(start)
    return _validated(model, raw, lines, table, name, faults)


def _validated(
    model: type[Row], raw: list[dict[str, Any]], lines: list[int], table: str, name: str, faults: list[Fault]
) -> Sheet:
    adapter = _adapter(model)
    try:
        return Sheet(table, name, tuple(adapter.validate_python(raw)), tuple(lines))
    except ValidationError as error:
        bad: set[int] = set()
        for problem in error.errors():
            place, cell = int(problem["loc"][0]), problem["loc"][1:]
            bad.add(place)
            faults.append(
                Fault(name, lines[place], f"{'.'.join(map(str, cell))}: {problem['msg']} (found {problem['input']!r})")
            )
        good = [place for place in range(len(raw)) if place not in bad]
        rows = adapter.validate_python([raw[place] for place in good])
        return Sheet(table, name, tuple(rows), tuple(lines[place] for place in good))


@cache
def _adapter(model: type[Row]) -> TypeAdapter[list[Row]]:
    return TypeAdapter(list[model])  # type: ignore[valid-type]


def header_of(model: type[Row], column: str) -> str:
    """The field of ``model`` that a column fills."""
    return column if column in model.model_fields else f"{column}_"
