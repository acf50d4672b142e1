"""The tables' copy in SQL, for filtering and paging over whole tables. Loaded once per release, whoever starts first.

A release's rows are never changed. They lie in one table, a row a record, with the cells as JSON: a release with other columns needs no
migration, and two releases can be served from one database while an installation moves from one to the next.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any, cast

from sqlalchemy import JSON, Column, Engine, Index, event, func, text
from sqlalchemy.dialects.postgresql import JSONB
from sqlalchemy.pool import StaticPool
from sqlmodel import Field, Session, SQLModel, col, create_engine, select

from service.tables.reading import Package
from service.tables.registry import TABLES, columns, header

#: any number: the key of the lock that processes starting together take on PostgreSQL
_LOCK = 7_305_901


class ReleaseRecord(SQLModel, table=True):
    """A release whose rows are all loaded."""

    __tablename__ = "gripledger_release"
    digest: str = Field(primary_key=True)
    loaded_at: datetime = Field(default_factory=lambda: datetime.now(UTC))
    rows: int


class RowRecord(SQLModel, table=True):
    """One row of one table of one release."""

    __tablename__ = "gripledger_row"
    __table_args__ = (Index("ix_gripledger_row_key", "release", "table_name", "key"),)
    release: str = Field(primary_key=True)
    table_name: str = Field(primary_key=True)
    place: int = Field(primary_key=True, description="Order in the table, over all rooms.")
    key: str
    file: str
    basis: str | None = Field(default=None, index=True)
    source_id: str | None = None
    cells: dict[str, str] = Field(sa_column=Column(JSON().with_variant(JSONB(), "postgresql"), nullable=False))


def open_engine(url: str) -> Engine:
    """An engine for ``url``. SQLite waits for other writers instead of failing, and takes its write lock at the start."""
    if url == "sqlite://":  # in memory: every thread must see the one connection that holds the rows
        engine = create_engine(url, poolclass=StaticPool, connect_args=_connect_args(url))
    else:
        engine = create_engine(url, pool_pre_ping=not url.startswith("sqlite"), connect_args=_connect_args(url))
    if url.startswith("sqlite"):

        @event.listens_for(engine, "connect")
        def _pragmas(connection: Any, _record: object) -> None:
            connection.isolation_level = None  # we say BEGIN ourselves
            connection.execute("PRAGMA journal_mode=WAL")
            connection.execute("PRAGMA synchronous=NORMAL")

        @event.listens_for(engine, "begin")
        def _begin(connection: Any) -> None:
            writing = connection.get_execution_options().get("writing", False)
            connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

    return engine


def _connect_args(url: str) -> dict[str, object]:
    return {"timeout": 30, "check_same_thread": False} if url.startswith("sqlite") else {}


def load(engine: Engine, package: Package, digest: str) -> bool:
    """Load the rows of a release unless they are there; True when this call loaded them. Safe when several processes call at once."""
    # one writer at a time: SQLite by its write lock, PostgreSQL by an advisory lock that ends with the transaction
    with engine.execution_options(writing=True).begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _LOCK})
        SQLModel.metadata.create_all(connection, tables=_tables())
        if connection.execute(select(ReleaseRecord.digest).where(ReleaseRecord.digest == digest)).first():
            return False
        records = list(_records(package, digest))
        if records:
            connection.execute(cast(Any, RowRecord).__table__.insert(), records)
        loaded = {"digest": digest, "loaded_at": datetime.now(UTC), "rows": len(records)}
        connection.execute(cast(Any, ReleaseRecord).__table__.insert(), [loaded])
        return True


def _tables() -> list[Any]:
    return [cast(Any, model).__table__ for model in (ReleaseRecord, RowRecord)]


def _records(package: Package, digest: str) -> Iterator[dict[str, Any]]:
    places: dict[str, int] = {}
    for sheet in package.sheets:
        model = TABLES[sheet.table]
        names = [(field, header(field)) for field in model.model_fields]
        for row in sheet.rows:
            place = places[sheet.table] = places.get(sheet.table, -1) + 1
            values = row.__dict__
            yield {
                "release": digest,
                "table_name": sheet.table,
                "place": place,
                "key": values[model.key],
                "file": sheet.file,
                "basis": str(values["basis"]) if "basis" in values else None,
                "source_id": values.get("source_id"),
                "cells": {name: str(values[field]) for field, name in names},
            }


class Tables:
    """Reads the SQL copy of one release."""

    def __init__(self, engine: Engine, digest: str) -> None:
        self.engine = engine
        self.digest = digest

    def page(
        self,
        table: str,
        cells: Mapping[str, str],
        bases: Sequence[str],
        after: int,
        limit: int,
        file: str | None = None,
    ) -> tuple[list[RowRecord], bool]:
        """Rows of ``table`` whose cells equal ``cells``, behind place ``after``: at most ``limit``, and whether more follow."""
        query = select(RowRecord).where(
            RowRecord.release == self.digest, RowRecord.table_name == table, RowRecord.place > after
        )
        for name, value in cells.items():
            query = query.where(col(RowRecord.cells)[name].as_string() == value)
        if file is not None:
            query = query.where(RowRecord.file == file)
        if bases:
            query = query.where(col(RowRecord.basis).in_(bases))
        with Session(self.engine) as session:
            found = list(session.exec(query.order_by(col(RowRecord.place)).limit(limit + 1)))
            session.expunge_all()
        return found[:limit], len(found) > limit

    def counts(self) -> dict[str, int]:
        """Rows by table."""
        query = (
            select(RowRecord.table_name, func.count())
            .where(RowRecord.release == self.digest)
            .group_by(RowRecord.table_name)
        )
        with Session(self.engine) as session:
            return dict(session.exec(query).all())


def described() -> Iterator[tuple[str, str, list[str], str]]:
    """Every table: its name, what it is for, its columns, its key."""
    for name, model in TABLES.items():
        yield name, model.about, columns(model), model.key
