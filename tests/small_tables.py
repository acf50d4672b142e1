"""Small table folders cut from the real ones, to be broken on purpose: a few families with everything that hangs on them."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

from service.settings import Settings

REAL = Settings().tables


def rows_of(path: Path) -> tuple[list[str], list[dict[str, str]]]:
    """The header and the rows of a CSV file."""
    with path.open(encoding="utf-8", newline="") as stream:
        reader = csv.DictReader(stream)
        return list(reader.fieldnames or []), list(reader)


def write_rows(path: Path, names: list[str], rows: list[dict[str, str]]) -> None:
    """Write a CSV file the way the tables are written."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, names, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def cut(target: Path, *families: str) -> Path:
    """A folder with the rows of ``families`` only; it is sound where the real tables are."""
    held = set(families)
    sets = {
        row["code_set"] for path in REAL.glob("*/slots.csv") for row in rows_of(path)[1] if row["family"] in held
    } - {""}
    kinds = {row["kind"] for path in REAL.glob("*/families.csv") for row in rows_of(path)[1] if row["family"] in held}
    by_family: Callable[[dict[str, str]], bool] = lambda row: row["family"] in held  # noqa: E731
    by_scope: Callable[[dict[str, str]], bool] = lambda row: row["scope"] in held | sets  # noqa: E731
    told: Callable[[dict[str, str]], bool] = lambda row: row["scope"] in held | sets | kinds | {"all"}  # noqa: E731
    keep: dict[str, Callable[[dict[str, str]], bool]] = {
        "sources": lambda _: True, "attributes": lambda _: True, "conditions": lambda _: True, "rules": lambda _: True, "practices": lambda _: True,
        "families": by_family, "basic_numbers": by_family, "slots": by_family, "made": by_family,
        "codes": lambda row: row["code_set"] in sets,
        "facts": by_scope, "laws": by_scope, "gaps": by_scope, "misreadings": told, "cautions": told,
        "mates": lambda row: {row["from_family"], row["to_family"]} <= held | {""},
        "equivalences": lambda row: {row["from_family"], row["to_family"]} <= held,
    }  # fmt: skip
    for path in sorted(REAL.rglob("*.csv")):
        if path.stem in keep:
            names, rows = rows_of(path)
            kept = [row for row in rows if keep[path.stem](row)]
            if kept:
                write_rows(target / path.relative_to(REAL), names, kept)
    return target


def change(folder: Path, file: str, key: str, /, **cells: str) -> int:
    """Change cells of the row whose first cell is ``key``; the line it stands on."""
    names, rows = rows_of(folder / file)
    for place, found in enumerate(rows):
        if found[names[0]] == key:
            unknown = set(cells) - set(names)
            assert not unknown, f"{file} has no column {unknown}"
            found.update(cells)
            write_rows(folder / file, names, rows)
            return place + 2
    raise AssertionError(f"{file} has no row {key}")


def add(folder: Path, file: str, like: str | None = None, **cells: str) -> int:
    """Add a row, a copy of ``like`` where one is named, with these cells; the line it stands on."""
    names, rows = rows_of(folder / file)
    row = dict.fromkeys(names, "")
    if like is not None:
        row.update(next(found for found in rows if found[names[0]] == like))
    assert set(cells) <= set(names), f"{file} has no column {set(cells) - set(names)}"
    row.update(cells)
    write_rows(folder / file, names, [*rows, row])
    return len(rows) + 2


def take(folder: Path, file: str, row: str) -> None:
    """Take a row out."""
    names, rows = rows_of(folder / file)
    kept = [found for found in rows if found[names[0]] != row]
    assert len(kept) < len(rows), f"{file} has no row {row}"
    write_rows(folder / file, names, kept)
