"""What the rivet rows say, document by document: splice counts and holes by hand, and nothing from a weaker row than asked."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import ceil, pi

import pytest

from service.api.desk import Desk
from service.joints.riveting import RivetTables, Splice

CLAD = "clad 2024-T3 sheet"
EIGHTH = Fraction(1, 8)


@pytest.fixture(scope="module")
def at(desk: Desk) -> Callable[[str], RivetTables]:
    return lambda basis: RivetTables(desk.catalogue, desk.encoder, basis)


@pytest.fixture(scope="module")
def tables(at: Callable[[str], RivetTables]) -> RivetTables:
    return at("from-memory")


def splice(tables: RivetTables, joint: str, width: Fraction | None = Fraction(10), table: str = "4-9") -> Splice:
    cells = tables.splices(CLAD, Fraction("0.032"), EIGHTH, width, joint)
    return next(found for found in cells if found.cell.table == table)


@pytest.mark.parametrize(
    ("joint", "factor_first", "width_first"),
    [("full", 62, 62), ("stringer", 50, 50), ("frame", 38, 38), ("single-lap", 47, 47)],
)  # table 4-9 .032 and 1/8: 6.2 per inch; notes a to c: 80, 60 and 75 percent: 49.6, 37.2, 46.5
def test_one_factor_is_taken_for_the_joint_it_names(
    tables: RivetTables, joint: str, factor_first: int, width_first: int
) -> None:
    counts = {count.practice.practice: count.printed for count in splice(tables, joint).counts}
    assert counts == {"factor-first": factor_first, "width-first": width_first}


def test_the_frame_example_rounds_up_twice_and_the_other_order_does_not(tables: RivetTables) -> None:
    """AC 43.13-1B figure 4-20: .6 in at 6.2 per inch is 3.72, so 4; 60 percent of 4 is 2.4, so 3."""
    counts = splice(tables, "frame", Fraction("0.6")).counts
    assert {count.practice.practice: count.printed for count in counts}["width-first"] == 3
    # half an inch: 3.1 is 4, of which 60 percent is 2.4, so 3; at one go 1.86, so 2: here the two orders part
    counts = splice(tables, "frame", Fraction("0.5")).counts
    assert {count.practice.practice: count.printed for count in counts} == {"width-first": 3, "factor-first": 2}
    assert {count.practice.practice: count.worked for count in counts} == {"width-first": 3, "factor-first": 2}  # 6.17


def test_the_worked_count_stands_on_shear_and_bearing_over_the_hole(tables: RivetTables) -> None:
    """Table 4-9 notes: shear .40 of tensile on the hole's area, bearing 1.60 on its diameter; the hole is .1285."""
    shear = 0.032 / (0.40 * pi / 4 * 0.1285**2)
    bearing = 1 / (1.60 * 0.1285)
    found = splice(tables, "full", Fraction(10))
    assert found.worked is not None
    assert float(found.worked.needed) == pytest.approx(max(shear, bearing), rel=1e-6)
    assert {count.worked for count in found.counts} == {ceil(10 * max(shear, bearing))}
    assert [note.subject for note in found.assumptions] == ["bearing_ratio", "shear_ratio"]


def test_a_ratio_that_the_cells_fit_stands_before_the_printed_one(tables: RivetTables) -> None:
    """Table 4-11, bearing: 1.65 by its cells, not the printed 1.60; shear as printed, .70. Table 4-10: its shear percentage
    is missing in print."""
    (thin,) = tables.splices("5052, all hardnesses, sheet", Fraction("0.016"), EIGHTH, None, "full")
    assert [note.subject for note in thin.assumptions] == ["bearing_ratio_believed", "shear_ratio"]
    other = splice(tables, "full", table="4-10")
    assert [note.subject for note in other.assumptions] == ["bearing_ratio", "shear_ratio_believed"]


def test_a_bolt_column_is_worked_from_tensile_strength_and_one_bolts_shear(tables: RivetTables) -> None:
    """Table 4-9, AN3: 70000 psi x .128 in / 2126 lbf = 4.21 per inch; in .040 sheet bearing governs, 1 / (1.6 x 3/16)."""
    cells = {(c.sheet_thickness, c.table): c for c in tables._cells if c.rivet_diameter_or_bolt == "AN3"}
    worked, notes = tables.worked(cells["0.128", "4-9"])
    assert worked is not None
    assert float(worked.needed) == pytest.approx(70_000 * 0.128 / 2126, rel=1e-9)
    assert [note.subject for note in notes] == ["bearing_ratio", "sheet_tensile", "bolt_single_shear"]
    worked, _ = tables.worked(cells["0.040", "4-9"])
    assert worked is not None
    assert worked.needed == 1 / (Fraction("1.6") * Fraction(3, 16))


def test_without_a_width_there_is_a_cell_but_no_count(tables: RivetTables) -> None:
    found = splice(tables, "full", None)
    assert found.counts == ()
    assert found.worked is not None


def test_no_cell_of_another_thickness_size_or_material_is_given(tables: RivetTables) -> None:
    assert not tables.splices(CLAD, Fraction("0.033"), EIGHTH, None, "full")
    assert not tables.splices("no such sheet", Fraction("0.032"), EIGHTH, None, "full")
    assert {s.cell.rivet_diameter_or_bolt for s in tables.splices(CLAD, Fraction("0.064"), Fraction(3, 16), None, "full")} == {"3/16"}  # fmt: skip


def test_a_joint_that_no_factor_is_for_is_refused(tables: RivetTables) -> None:
    with pytest.raises(ValueError, match="full, stringer, frame, single-lap"):
        tables.splices(CLAD, Fraction("0.032"), EIGHTH, None, "spar")


def test_what_cannot_be_worked_from_rows_good_enough_is_not_worked(at: Callable[[str], RivetTables]) -> None:
    """The believed shear ratio of table 4-10 is derived: a published answer has the printed cell and no worked one."""
    found = splice(at("published"), "full", table="4-10")
    assert found.worked is None
    assert found.assumptions == ()
    assert all(count.worked is None and count.printed == 49 for count in found.counts)  # 4.9 per inch over 10 in
    assert found.factor is None
    assert splice(at("derived"), "full", table="4-10").worked is not None


@pytest.mark.parametrize("basis", ["published", "secondary", "derived"])
def test_no_row_weaker_than_asked_is_used(at: Callable[[str], RivetTables], basis: str) -> None:
    strength = ["published", "secondary", "derived", "common-practice", "from-memory"]
    held = at(basis)
    said = {row.basis for size in held.diameters for row in [*held.holes(size, True), *held.strengths(size, "AD")]}
    said |= {
        row.basis for topic in ("rivet_spacing", "shop_head", "splice_order") for row in held.practices.rows(topic)
    }
    assert said
    assert all(strength.index(word) <= strength.index(basis) for word in said)
    assert basis in said


def test_only_diameters_of_solid_rivets_are_chosen_and_the_thickest_sheet_chooses(tables: RivetTables) -> None:
    """AC 43.13-1B 4-58 g(2)(a): three times the thickest sheet, and then the next size made: .032 takes 1/8, .040 too."""
    assert tables.diameters == tuple(Fraction(n, 32) for n in (2, 3, 4, 5, 6, 8, 10, 12))
    assert tables.diameter([Fraction("0.016"), Fraction("0.032")]) == EIGHTH
    assert tables.diameter([Fraction("0.040"), Fraction("0.016")]) == EIGHTH
    assert tables.diameter([Fraction("0.042")]) == Fraction(5, 32)
    assert tables.diameter([Fraction("0.2")]) is None


def test_holes_are_of_that_diameter_and_no_blind_rivets(tables: RivetTables) -> None:
    plain, flush = tables.holes(EIGHTH, False), tables.holes(EIGHTH, True)
    assert {row.diameter for row in flush} == {"1/8"}
    assert not [row for row in flush if row.rivet_type in {"blind", "blind flush"}]
    assert {row.value for row in plain if row.quantity == "hole_nominal"} == {"0.1285"}
    countersinks = [row for row in flush if row not in plain]
    assert countersinks
    assert all("countersink" in row.quantity or "dimple" in row.quantity for row in countersinks)
    assert "blind and solid flush" in {row.rivet_type for row in countersinks}
    assert not [row for row in plain if "countersink" in row.quantity or "dimple" in row.quantity]
    assert len(flush) == len({row.row for row in flush})


def test_the_preferred_hole_of_a_quantity_comes_first(tables: RivetTables) -> None:
    """5/32: MIL-HDBK-5J .159 before the wartime .157; the drills stand before the holes."""
    sizes = [row for row in tables.holes(Fraction(5, 32), False) if row.rivet_type == "solid"]
    assert next(row.value for row in sizes if row.quantity == "hole_nominal") == "0.159"
    ranks = [(row.quantity, row.rank) for row in sizes]
    assert ranks == sorted(ranks)


def test_strengths_are_of_the_alloy_and_diameter_and_bearing_only_for_a_sheet_in_the_pack(tables: RivetTables) -> None:
    found = tables.strengths(EIGHTH, "AD")
    assert {row.diameter for row in found} == {"", "1/8"}
    assert {row.material_code for row in found} == {"", "AD"}
    assert not [row for row in found if row.sheet_thickness]
    assert "388" in {row.value for row in found}  # MIL-HDBK-5J table 8.1.2(b): 2117-T3, 1/8, single shear
    with_sheet = tables.strengths(EIGHTH, "AD", (Fraction("0.04"),))
    assert {row.sheet_thickness for row in with_sheet} == {"", "0.040"}
    assert not [row for row in tables.strengths(EIGHTH, "AD", (Fraction("0.05"),)) if row.sheet_thickness]


def test_numbers_carry_the_alloy_asked_in_every_family_asked(tables: RivetTables) -> None:
    assert set(tables.numbers(EIGHTH, Fraction(1, 4), ["MS20470", "MS20426"], "AD")) == {"MS20470AD4-4", "MS20426AD4-4"}
    assert set(tables.numbers(EIGHTH, Fraction(1, 4), ["MS20470"], "DD")) == {"MS20470DD4-4"}


def test_sheet_materials_are_named_once_and_all(desk: Desk, tables: RivetTables) -> None:
    named = tables.sheet_materials
    assert len(named) == len(set(named))
    assert {CLAD, "5052, all hardnesses, sheet", "2017 bar"} <= set(named)
