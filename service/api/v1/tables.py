"""The tables themselves: every row that answers are made of, filtered and paged in SQL."""

from __future__ import annotations

import csv
import io
from typing import Annotated, Any
from urllib.parse import urlencode

import anyio
from fastapi import Path
from pydantic import Field

from service.api.desk import Desk
from service.api.paging import PageQuery, cursor_of, link_header, place_of
from service.api.problems import Problem
from service.api.ready import CSV, JSON, Answer, Operation, parse_query
from service.api.schemas import BasisWord, PageAnswer, TablesAnswer
from service.tables.registry import TABLES, columns
from service.tables.rows import TRUST
from service.tables.store import RowRecord, described

TableName = Annotated[str, Path(description="A table of /v1/tables.", max_length=60, examples=["laws"])]


class RowsQuery(PageQuery):
    """Which rows. ``cells[COLUMN]=VALUE`` keeps the rows whose cell is exactly VALUE, for any column of the table."""

    basis: BasisWord = Field("from-memory", description="Weakest basis of a row.")
    file: str | None = Field(None, description="Only rows of this file of seed_tables.", max_length=100)


def operations(desk: Desk) -> list[Operation]:
    """The operations on tables."""
    release = desk.catalogue.digest
    counts: dict[str, int] = {}
    for sheet in desk.catalogue.package.sheets:
        counts[sheet.table] = counts.get(sheet.table, 0) + len(sheet.rows)

    def list_tables() -> Answer:
        items = [
            {"name": name, "about": about, "columns": names, "rows": counts.get(name, 0), "key": key}
            for name, about, names, key in described()
        ]
        return Answer(desk.writer.plain({"items": items, "next": None}))

    async def rows_of(
        table: str, pairs: list[tuple[str, str]], path: str
    ) -> tuple[list[RowRecord], str | None, tuple[tuple[bytes, bytes], ...]]:
        if table not in TABLES:
            raise Problem("not-found", f"No table {table!r}; see /v1/tables.")
        if desk.tables is None:
            raise Problem("not-ready", "The SQL copy of the tables is not loaded.")
        cells, rest = _split(pairs, columns(TABLES[table]))
        query = parse_query(RowsQuery, rest)
        assert isinstance(query, RowsQuery)
        bases = [b for b, place in TRUST.items() if place <= TRUST[query.basis]] if query.basis != "from-memory" else []
        after = place_of(query.cursor, release)
        page = desk.tables.page
        found, more = await anyio.to_thread.run_sync(lambda: page(table, cells, bases, after, query.limit, query.file))
        cursor = cursor_of(release, found[-1].place) if more else None
        asked = {**{f"cells[{k}]": v for k, v in cells.items()}, **query.model_dump(exclude_defaults=True)}
        return found, cursor, link_header(path, asked, cursor)

    async def list_rows(table: TableName, pairs: list[tuple[str, str]], media: str) -> Answer:
        found, cursor, link = await rows_of(table, pairs, f"/v1/tables/{table}")
        if media == CSV:
            return Answer(_csv(columns(TABLES[table]), found), CSV, headers=link)
        items = [{"file": record.file, **record.cells} for record in found]
        return Answer(desk.writer.plain({"items": items, "next": cursor}), headers=link)

    def alias(table: str) -> Any:
        async def list_alias(pairs: list[tuple[str, str]], media: str) -> Answer:
            found, cursor, link = await rows_of(table, pairs, f"/v1/{table}")
            if media == CSV:
                return Answer(_csv(columns(TABLES[table]), found), CSV, headers=link)
            return Answer(desk.writer.plain({"items": [dict(r.cells) for r in found], "next": cursor}), headers=link)

        return list_alias

    shared: dict[str, Any] = {
        "produces": (JSON, CSV), "tag": "tables", "problems": ("not-found", "not-ready", "stale-cursor", "unknown-parameter"),
    }  # fmt: skip
    filtered = (
        "`cells[COLUMN]=VALUE` keeps the rows whose cell is exactly VALUE. A weaker `basis` than asked is left out."
    )
    return [
        Operation("GET", "/v1/tables", "list-tables", "The tables of the release", list_tables, TablesAnswer, tag="tables", examples=({},)),
        Operation(
            "GET", "/v1/tables/{table}", "list-rows", "The rows of a table", list_rows, PageAnswer, description=filtered,
            examples=({"table": "laws", "pairs": [("cells[scope]", "AN3-AN20"), ("limit", "2")]},), **shared,
        ),
        *(
            Operation(
                "GET", f"/v1/{name}", f"list-{name}", TABLES[name].about.capitalize(), alias(name), PageAnswer, description=filtered,
                examples=({"pairs": [("limit", "2")]},), **shared,
            )
            for name in ("sources", "rules", "misreadings")
        ),
    ]  # fmt: skip


def _split(pairs: list[tuple[str, str]], known: list[str]) -> tuple[dict[str, str], bytes]:
    """The cell filters of a query, and the rest of it as a query string again. Raises Problem for a column the table lacks."""
    cells: dict[str, str] = {}
    rest: list[tuple[str, str]] = []
    for name, value in pairs:
        if name.startswith("cells[") and name.endswith("]"):
            column = name[6:-1]
            if column not in known:
                raise Problem(
                    "unknown-parameter", f"The table has no column {column!r}.", {"parameters": [name], "known": known}
                )
            if column in cells:
                raise Problem(
                    "bad-parameter",
                    f"{name} is given twice.",
                    {"parameters": [{"name": name, "reason": "given twice"}]},
                )
            cells[column] = value
        else:
            rest.append((name, value))
    return cells, urlencode(rest).encode()


def _csv(names: list[str], found: list[RowRecord]) -> bytes:
    sheet = io.StringIO(newline="")
    writer = csv.writer(sheet, lineterminator="\r\n")
    writer.writerow(["file", *names])
    writer.writerows([record.file, *(record.cells[name] for name in names)] for record in found)
    return sheet.getvalue().encode()
