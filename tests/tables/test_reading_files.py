"""Reading table files: all faults at once, good rows kept, lines counted as an editor counts them."""

from __future__ import annotations

from pathlib import Path

from service.tables.reading import read_package
from service.tables.rows import Fact
from tests.small_tables import cut


def test_good_rows_are_kept_beside_bad_ones(tmp_path: Path) -> None:
    folder = cut(tmp_path, "AN960")
    path = folder / "washers/facts.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    before = len(read_package(folder).of(Fact))
    path.write_text("\n".join([lines[0], "short,row", *lines[1:]]) + "\n", encoding="utf-8")
    package = read_package(folder)
    assert len(package.of(Fact)) == before
    assert [(f.file, f.line) for f in package.faults] == [("washers/facts.csv", 2)]


def test_a_cell_with_a_line_break_does_not_shift_the_lines_behind_it(tmp_path: Path) -> None:
    folder = cut(tmp_path, "AN960")
    path = folder / "washers/facts.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    broken = lines[1].rsplit(",", 1)[0] + ',"first line\nsecond line"'
    path.write_text("\n".join([lines[0], broken, "short,row", *lines[2:]]) + "\n", encoding="utf-8")
    assert [f.line for f in read_package(folder).faults] == [4]


def test_the_digest_is_of_the_bytes_and_their_place(tmp_path: Path) -> None:
    folder = cut(tmp_path, "AN960")
    before = read_package(folder).digest()
    (folder / "washers/gaps.csv").rename(folder / "gaps.csv") if (folder / "washers/gaps.csv").exists() else (
        folder / "washers/facts.csv"
    ).rename(folder / "facts.csv")
    assert read_package(folder).digest() != before
