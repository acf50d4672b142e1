"""Rivets for a pack, by document."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from service.api.desk import Desk
from service.joints.rivet_checking import Riveted, check_rivet
from service.joints.riveting import RivetTables
from service.parts.part import Part
from service.quantity import parse_number
from service.tables.joint_rows import SpliceCell


@pytest.fixture(scope="session")
def tables(desk: Desk) -> RivetTables:
    return RivetTables(desk.catalogue, desk.encoder, "from-memory")


def test_the_circulars_splice_example(tables: RivetTables) -> None:
    """AC 43.13-1B 4-58 g(2)(b): .032 clad 2024-T3, 1/8 AD, single lap, 10 in by table 4-10 takes 37 rivets."""
    cells = tables.splices("clad 2024-T3 sheet", Fraction("0.032"), Fraction(1, 8), Fraction(10), "single-lap")
    by_table = {splice.cell.table: splice for splice in cells}
    assert set(by_table) == {"4-9", "4-10"}
    counts = {count.practice.practice: count.printed for count in by_table["4-10"].counts}
    assert counts["factor-first"] == 37


def test_printed_cells_that_are_no_slip_are_what_their_notes_work_out_to(desk: Desk, tables: RivetTables) -> None:
    """AC 43.13-1B tables 4-9 to 4-11, AN3 columns too: one decimal is printed, and the largest gap of all cells is .069."""
    checked = 0
    for cell in desk.catalogue.package.of(SpliceCell):
        worked, _ = tables.worked(cell)
        if worked is None or cell.printed_slip == "yes":
            continue
        checked += 1
        assert abs(worked.needed - parse_number(cell.count_per_inch)) <= Fraction("0.07"), cell.row
    assert checked > 100


def test_both_roundings_of_length_are_named(tables: RivetTables) -> None:
    """Two .040 sheets and a 1/8 rivet: .2675 is 5/16 by the next above and 1/4 by the nearest."""
    lengths = tables.lengths(Fraction("0.080"), Fraction(1, 8), ["MS20470"], "AD")
    assert {entry.practice.practice: entry.length for entry in lengths} == {
        "next-above": Fraction(5, 16),
        "nearest": Fraction(1, 4),
    }
    assert [entry.numbers for entry in lengths] == [("MS20470AD4-5",), ("MS20470AD4-4",)]


def test_an_edge_under_two_diameters_is_a_fault_by_the_circular(
    desk: Desk, tables: RivetTables, part: Callable[..., Part]
) -> None:
    rivet, sheets = part("MS20470AD4-4"), (Fraction("0.032"), Fraction("0.032"))
    near = check_rivet(Riveted(rivet, sheets, edge=Fraction("0.249")), tables, desk.rules)
    far = check_rivet(Riveted(rivet, sheets, edge=Fraction("0.25")), tables, desk.rules)
    assert near.verdict == "incompatible"
    assert far.verdict != "incompatible"


def test_a_rivet_thinner_than_its_sheet_is_incompatible(
    desk: Desk, tables: RivetTables, part: Callable[..., Part]
) -> None:
    """NAVEDTRA 14018 ch. 13, rivet selection item 6."""
    check = check_rivet(Riveted(part("MS20470AD3-5"), (Fraction("0.1"),)), tables, desk.rules)
    assert "rivet.thinner-than-sheet" in {finding.rule for finding in check.findings if finding.severity == "fault"}


def test_soft_rivets_stay_out_of_primary_structure(desk: Desk, tables: RivetTables, part: Callable[..., Part]) -> None:
    """AC 43.13-1B 7-2 c."""
    riveted = Riveted(part("MS20470A4-4"), (Fraction("0.064"),), joint={"primary_structure": "yes"})
    assert check_rivet(riveted, tables, desk.rules).verdict == "incompatible"
