"""The check of the tables finds each kind of fault, put into a small sound copy one at a time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from service.audit import audit
from service.tables.reading import Fault
from tests.small_tables import REAL, add, change, cut, rows_of, take, write_rows

FAMILIES = ("AN3-AN20", "NAS6203-NAS6210", "AN365", "MS20365", "AN960", "MS35333")
AN4 = "bolts.an3-an20.an4"
BOLTS, WASHERS, NUTS = "bolts/facts.csv", "washers/facts.csv", "nuts/facts.csv"
Break = Callable[[Path], int | None]


@pytest.fixture
def tables(tmp_path: Path) -> Path:
    return cut(tmp_path / "tables", *FAMILIES)


def test_the_real_tables_are_sound() -> None:
    assert audit(REAL) == []


def test_the_small_copy_is_sound(tables: Path) -> None:
    assert audit(tables) == []


def rename_column(folder: Path) -> None:
    path = folder / WASHERS
    path.write_text(path.read_text(encoding="utf-8").replace("attribute,value", "attribute,worth", 1), encoding="utf-8")


def cut_a_line_short(folder: Path) -> int:
    lines = (folder / WASHERS).read_text(encoding="utf-8").splitlines()
    lines[4] = lines[4].rsplit(",", 2)[0]
    (folder / WASHERS).write_text("\n".join(lines) + "\n", encoding="utf-8")
    return 5


def write_latin_1(folder: Path) -> None:
    path = folder / WASHERS
    path.write_bytes(
        path.read_bytes() + "washers.x,AN960,,material,caf\u00e9,,,,,,1,an960,x,secondary,\n".encode("latin-1")
    )


def file_of_no_table(folder: Path) -> None:
    (folder / "washers" / "odds.csv").write_text("a,b\n1,2\n", encoding="utf-8")


def circle_of_laws(folder: Path) -> None:
    add(
        folder,
        "bolts/laws.csv",
        like=f"{AN4}.law.length",
        row="bolts.test.a",
        attribute="shank_hole_from_point",
        of="grip_length",
        when="",
    )
    add(
        folder,
        "bolts/laws.csv",
        like=f"{AN4}.law.length",
        row="bolts.test.b",
        attribute="grip_length",
        of="shank_hole_from_point",
        when="",
    )


SCHEMA: list[tuple[str, Break, str, str]] = [
    ("a column of another name", rename_column, WASHERS, "columns are"),
    ("a line with too few cells", cut_a_line_short, WASHERS, "cells where the header has"),
    ("another encoding", write_latin_1, WASHERS, "not UTF-8"),
    ("a file no table is called after", file_of_no_table, "washers/odds.csv", "no table is called 'odds'"),
    ("an unknown basis", lambda d: change(d, BOLTS, f"{AN4}.thread", basis="certain"), BOLTS, "basis"),
    ("an empty value", lambda d: change(d, BOLTS, f"{AN4}.thread", value=""), BOLTS, "value"),
    ("a tolerance that is no number", lambda d: change(d, BOLTS, f"{AN4}.shank_diameter", minus="small"), BOLTS, "minus"),
    ("a limit that is neither max nor min", lambda d: change(d, BOLTS, f"{AN4}.shank_diameter", limit="about"), BOLTS, "limit"),
    ("an unknown kind", lambda d: change(d, "bolts/families.csv", "bolts.an3-an20", kind="gadget"), "bolts/families.csv", "kind"),
    ("a key in capitals", lambda d: change(d, BOLTS, f"{AN4}.thread", row="Bolts.AN4"), BOLTS, "row"),
    ("an unknown relation", lambda d: change(d, "compatibility/equivalences.csv", "compatibility.equivalence.an365.ms20365", relation="interchangeable"),
     "compatibility/equivalences.csv", "relation"),
]  # fmt: skip

MEANING: list[tuple[str, Break, str, str]] = [
    ("a duplicate key", lambda d: add(d, BOLTS, like=f"{AN4}.thread", when="basic=AN5"), BOLTS, "is already used in"),
    ("the same thing said twice", lambda d: add(d, BOLTS, like=f"{AN4}.thread", row="bolts.test.twice"), BOLTS, "already gives thread"),
    ("a code given twice",
     lambda d: add(d, "bolts/codes.csv", like="bolts.code.an-bolt-material.c", row="bolts.test.code"), "bolts/codes.csv", "already gives C"),
    ("an unknown source", lambda d: change(d, BOLTS, f"{AN4}.thread", source_id="hearsay"), BOLTS, "no source 'hearsay'"),
    ("memory that claims to be published", lambda d: change(d, BOLTS, f"{AN4}.shank_diameter", basis="published", locator="x"), BOLTS, "is no document"),
    ("a published row without a place", lambda d: change(d, BOLTS, f"{AN4}.thread", basis="published", locator=""), BOLTS, "where in the source"),
    ("an unknown attribute", lambda d: change(d, BOLTS, f"{AN4}.thread", attribute="colour_of_box"), BOLTS, "is not in attributes.csv"),
    ("an unknown attribute in a gap", lambda d: change(d, "bolts/gaps.csv", "bolts.gap.an3-an20.an14.shank_hole_diameter", attribute="colour_of_box"),
     "bolts/gaps.csv", "is not in attributes.csv"),
    ("another unit than the attribute's", lambda d: change(d, BOLTS, f"{AN4}.shank_diameter", unit="mm"), BOLTS, "is in [in_i]"),
    ("a flag that is neither yes nor no", lambda d: change(d, BOLTS, "bolts.an-bolt-head.h.head_drilled", value="perhaps"), BOLTS, "is yes or no"),
    ("a quantity that is no number", lambda d: change(d, BOLTS, f"{AN4}.shank_diameter", value="thick"), BOLTS, "not a number"),
    ("a condition on a slot that is not there", lambda d: change(d, BOLTS, f"{AN4}.thread", when="colour=red"), BOLTS, "no slot 'colour'"),
    ("a condition on a code that is not there", lambda d: change(d, BOLTS, f"{AN4}.thread", when="basic=AN99"), BOLTS, "has no code 'AN99'"),
    ("a dash that ends in 8", lambda d: change(d, BOLTS, f"{AN4}.dash12.length", when="basic=AN4 length=18"), BOLTS, "has no code '18'"),
    ("a scope that is nothing", lambda d: change(d, BOLTS, f"{AN4}.thread", scope="AN3-AN21"), BOLTS, "is no family and no code set"),
    ("a caution for nobody", lambda d: change(d, "bolts/cautions.csv", "bolts.caution.bolt.approved-data", scope="gadget"), "bolts/cautions.csv", "no kind"),
    ("a combination of no family", lambda d: change(d, "bolts/made.csv", "bolts.made.an5.short", family="AN3-AN21"), "bolts/made.csv", "no family"),
    ("a basic number of no family", lambda d: add(d, "bolts/basic_numbers.csv", like="bolts.basic.an4", row="bolts.basic.x", basic="AN9999", family="AN9999"),
     "bolts/basic_numbers.csv", "no family 'AN9999'"),
    ("a basic number of two families", lambda d: add(d, "nuts/basic_numbers.csv", like="nuts.basic.an365", row="nuts.basic.x", basic="AN4"),
     "", "belongs to"),
    ("a slot without codes", lambda d: change(d, "bolts/slots.csv", "bolts.an3-an20.slot.material", code_set="nothing"), "bolts/slots.csv", "has no codes"),
    ("a number slot without a domain", lambda d: change(d, "bolts/slots.csv", "bolts.an3-an20.slot.length", domain=""), "bolts/slots.csv", "needs a domain"),
    ("a code set no slot uses", lambda d: add(d, "bolts/codes.csv", like="bolts.code.an-bolt-material.c", row="bolts.test.set", code_set="nowhere"),
     "bolts/codes.csv", "no slot uses"),
    ("an alias of nothing", lambda d: change(d, "bolts/codes.csv", "bolts.code.an-bolt-material.c", alias_of="ZZ"), "bolts/codes.csv", "alias of 'ZZ'"),
    ("a law that starts from nothing",
     lambda d: change(d, "bolts/laws.csv", f"{AN4}.law.length", of="colour_of_box") and None, "bolts/families.csv", "which nothing gives"),
    ("laws that go in a circle", circle_of_laws, "bolts/families.csv", "go in a circle"),
    ("an example that is not canonical",
     lambda d: change(d, "bolts/families.csv", "bolts.an3-an20", examples="AN4-12-A"), "bolts/families.csv", "is written AN4-12A"),
    ("an example that is not made", lambda d: change(d, "bolts/families.csv", "bolts.an3-an20", examples="AN4-18A"), "bolts/families.csv", "does not read"),
    ("an example of another family", lambda d: change(d, "bolts/families.csv", "bolts.an3-an20", examples="AN960-416"), "bolts/families.csv", "reads as AN960"),
    ("a description that asks for what is no attribute", lambda d: change(d, "bolts/families.csv", "bolts.an3-an20", description="bolt; {colour_of_box}"),
     "bolts/families.csv", "'colour_of_box', which is no attribute"),
    ("an unknown family in mates", lambda d: change(d, "compatibility/mates.csv", "compatibility.mate.an3-an20.nut.an365", to_family="AN9999"),
     "compatibility/mates.csv", "family 'AN9999' is not held"),
    ("an unknown family in equivalences", lambda d: change(d, "compatibility/equivalences.csv", "compatibility.equivalence.an365.ms20365", to_family="AN9999"),
     "compatibility/equivalences.csv", "family 'AN9999' is not held"),
]  # fmt: skip

TRADE: list[tuple[str, Break, str, str]] = [
    ("a grip longer than the bolt", lambda d: change(d, BOLTS, f"{AN4}.dash12.grip_length", value="1 3/8"), BOLTS, "grip 1 3/8 in against length"),
    ("grip and thread that miss the length", lambda d: change(d, BOLTS, f"{AN4}.dash12.grip_length", value="3/4"), BOLTS, "misses the length"),
    ("a length out of step", lambda d: change(d, BOLTS, f"{AN4}.dash12.length", value="1 11/32"), BOLTS, "length steps by"),
    ("a printed row that contradicts its law", lambda d: change(d, BOLTS, f"{AN4}.dash12.length", value="1 11/32"), BOLTS, "no note calls it an exception"),
    ("a washer hole under its bolt", lambda d: change(d, WASHERS, "washers.an960.416.inside-diameter", value=".240"), WASHERS, "on a .25 in"),
    ("a washer hole far over its bolt", lambda d: change(d, WASHERS, "washers.an960.416.inside-diameter", value=".365"), WASHERS, "on a .25 in"),
    ("a washer rim inside its hole", lambda d: change(d, WASHERS, "washers.an960.416.outside-diameter", value=".250"), WASHERS, "is not over the hole"),
    ("a column that shrinks", lambda d: change(d, BOLTS, f"{AN4}.width_across_flats", value="5/16"), BOLTS, "width_across_flats"),
    ("a length in thousandths", lambda d: change(d, BOLTS, f"{AN4}.shank_diameter", value="249"), BOLTS, "is no size of hardware"),
    ("a strength in ksi", lambda d: change(d, BOLTS, "bolts.an-bolt-material.none.tensile_strength", value="125"), BOLTS, "is no size of hardware"),
    ("a tolerance as large as the part", lambda d: change(d, BOLTS, f"{AN4}.shank_diameter", minus="0.2"), BOLTS, "a tolerance of 0.2"),
    ("a thread of another size", lambda d: change(d, BOLTS, f"{AN4}.thread", value="5/16-24"), BOLTS, "thread 5/16-24 on"),
    ("places without a rounding rule", lambda d: change(d, "bolts/laws.csv", f"{AN4}.law.length", places="3"), "bolts/laws.csv", "without a rounding rule"),
]  # fmt: skip

LANGUAGE: list[tuple[str, Break, str]] = [
    ("a condition outside the language",
     lambda d: change(d, "compatibility/rules.csv", "nut.insert.temperature", when="nut is hot"), "compatibility/rules.csv"),
    ("a kind that is none",
     lambda d: change(d, "compatibility/rules.csv", "nut.insert.temperature", when="gadget.locking = insert"), "compatibility/rules.csv"),
    ("an attribute that is none",
     lambda d: change(d, "compatibility/rules.csv", "nut.insert.temperature", when="nut.lokcing = insert and joint.temperature > 250"),
     "compatibility/rules.csv"),
    ("a joint condition that is none",
     lambda d: change(d, "compatibility/rules.csv", "nut.insert.temperature", when="nut.locking = insert and joint.temprature > 250"),
     "compatibility/rules.csv"),
    ("a mate that matches nothing", lambda d: change(d, "compatibility/mates.csv", "compatibility.mate.an3-an20.nut.an365", match="", **{"with": ""}),
     "compatibility/mates.csv"),
    ("a mate that matches what is no attribute", lambda d: change(d, "compatibility/mates.csv", "compatibility.mate.an3-an20.nut.an365", match="tread"),
     "compatibility/mates.csv"),
    ("an equivalence that carries what is no attribute",
     lambda d: change(d, "compatibility/equivalences.csv", "compatibility.equivalence.an365.ms20365", carry="tread"),
     "compatibility/equivalences.csv"),
    ("an equivalence that sets a slot that is not there", lambda d: change(d, "compatibility/equivalences.csv", "compatibility.equivalence.an365.ms20365",
     set="colour=red"), "compatibility/equivalences.csv"),
    ("a practice that excepts what is no attribute", lambda d: change(d, "joints/practices.csv", "joints.practices.protrusion.circular",
     excepted="nut.casteled = yes"), "joints/practices.csv"),
    ("a practice with an exception outside the language", lambda d: change(d, "joints/practices.csv", "joints.practices.protrusion.circular",
     excepted="castle nuts"), "joints/practices.csv"),
]  # fmt: skip


def found(faults: list[Fault], file: str, line: int | None, reason: str) -> bool:
    return any(f.file == file and reason in f.reason and (line is None or not file or f.line == line) for f in faults)


@pytest.mark.parametrize(("do", "file", "reason"), [c[1:] for c in SCHEMA], ids=[c[0] for c in SCHEMA])
def test_a_cell_that_is_not_what_its_table_says_is_found(tables: Path, do: Break, file: str, reason: str) -> None:
    line = do(tables)
    assert found(audit(tables), file, line, reason)


@pytest.mark.parametrize(("do", "file", "reason"), [c[1:] for c in MEANING], ids=[c[0] for c in MEANING])
def test_a_row_that_means_nothing_or_too_much_is_found(tables: Path, do: Break, file: str, reason: str) -> None:
    line = do(tables)
    faults = audit(tables)
    assert found(faults, file, line, reason), faults


@pytest.mark.parametrize(("do", "file", "reason"), [c[1:] for c in TRADE], ids=[c[0] for c in TRADE])
def test_arithmetic_of_the_trade_finds(tables: Path, do: Break, file: str, reason: str) -> None:
    do(tables)
    faults = audit(tables)
    assert found(faults, file, None, reason), faults


@pytest.mark.parametrize(("do", "file"), [c[1:] for c in LANGUAGE], ids=[c[0] for c in LANGUAGE])
def test_rule_mate_and_equivalence_rows_are_checked_for_their_language(tables: Path, do: Break, file: str) -> None:
    """The service compiles these rows when it starts: a slip in one must be found before that, with its line."""
    line = do(tables)
    assert any(f.file == file and f.line == line for f in audit(tables))


@pytest.mark.parametrize(
    ("file", "row", "cells"),
    [
        ("joints/threads.csv", "joints.threads.4-48.pitch_diameter", {"value": "0.1085"}),
        ("joints/torques.csv", "joints.torques.ac43.13-1b-7-1.1/4-28.shear.recommended", {"low": "45", "high": "65"}),
    ],
    ids=["pitch diameter off the 60 degree profile", "shear torque far from 0.60 of the tension torque"],
)
def test_arithmetic_of_threads_and_torques_finds(tables: Path, file: str, row: str, cells: dict[str, str]) -> None:
    names, rows = rows_of(REAL / file)
    write_rows(tables / file, names, rows)
    assert audit(tables) == []
    line = change(tables, file, row, **cells)
    assert any(f.file == file and f.line == line for f in audit(tables))


def test_a_family_without_a_basic_number_is_found(tables: Path) -> None:
    take(tables, "washers/basic_numbers.csv", "washers.basic.an960")
    assert any("has no basic number" in f.reason for f in audit(tables))


def test_a_pair_of_numbers_that_do_not_read_is_found(tables: Path) -> None:
    names, rows = rows_of(REAL / "nuts/pairs.csv")
    write_rows(
        tables / "nuts/pairs.csv", names, [{**rows[0], "from_number": "AN365-9999A", "to_number": "AN365-1032-A"}]
    )
    reasons = [f.reason for f in audit(tables) if f.file == "nuts/pairs.csv"]
    assert any("does not read" in r for r in reasons)
    assert any("is written AN365-1032A" in r for r in reasons)


def test_an_exception_that_its_note_declares_is_no_fault(tables: Path) -> None:
    change(tables, BOLTS, f"{AN4}.dash12.length", value="1 11/32", note="printed slip, kept: exception to the law")
    assert not [f for f in audit(tables) if "dash12" in f.reason]


def test_an_empty_folder_is_a_fault(tmp_path: Path) -> None:
    assert any("no tables here" in f.reason for f in audit(tmp_path))


def test_every_fault_says_file_line_and_reason(tables: Path) -> None:
    line = change(tables, BOLTS, f"{AN4}.thread", source_id="hearsay")
    assert f"{BOLTS}:{line}: {AN4}.thread: no source 'hearsay'" in [str(f) for f in audit(tables)]


def test_the_command_prints_each_fault_and_fails(tables: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from service.__main__ import check

    assert check(tables) == 0
    assert "sound" in capsys.readouterr().out
    change(tables, BOLTS, f"{AN4}.thread", source_id="hearsay")
    assert check(tables) == 1
    assert "hearsay" in capsys.readouterr().out
