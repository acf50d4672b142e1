"""Thread dimensions by formula beside print, and the holes that rows suggest: limits of 1/4-28 as ASME B1.1 prints them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from service.api.desk import Desk
from service.catalogue.catalogue import Catalogue
from service.joints.formulas.threads import parse_thread
from service.joints.sizes import FORMULAS, Holes, published, read_thread, series_of, thread_figures
from service.parts.part import Part

#: ASME B1.1: 1/4-28 UNF, inches to four places, areas in square inches
PRINTED = {
    ("major_diameter", "", ""): "0.2500",
    ("pitch_diameter", "", ""): "0.2268",
    ("minor_diameter_internal", "", ""): "0.2113",
    ("stress_area", "", ""): "0.0364",
    ("minor_area", "", ""): "0.0326",
    ("allowance", "2A", ""): "0.0010",
    ("major_diameter", "2A", "max"): "0.2490",
    ("major_diameter", "2A", "min"): "0.2425",
    ("pitch_diameter", "2A", "max"): "0.2258",
    ("pitch_diameter", "2A", "min"): "0.2225",
    ("pitch_diameter", "3A", "max"): "0.2268",
    ("pitch_diameter", "3A", "min"): "0.2243",
    ("pitch_diameter", "2B", "min"): "0.2268",
    ("pitch_diameter", "2B", "max"): "0.2311",
    ("minor_diameter_internal", "2B", "min"): "0.2110",
    ("minor_diameter_internal", "2B", "max"): "0.2200",
}


def test_every_limit_of_a_fine_quarter_inch_thread_is_the_printed_one(catalogue: Catalogue) -> None:
    rows = published(catalogue, "1/4-28", "from-memory")
    figures = {(f.quantity, f.thread_class, f.limit): f for f in thread_figures(read_thread("1/4-28", rows), rows)}
    for key, printed in PRINTED.items():
        by_formula = figures[key].by_formula
        assert by_formula is not None, key
        assert abs(by_formula - Fraction(printed)) <= Fraction("0.00006"), key
        assert figures[key].unit == ("[in_i]2" if key[0].endswith("_area") else "[in_i]")
    assert set(figures) == set(FORMULAS) == {*PRINTED, ("minor_diameter_external", "", "")}


def test_a_figure_stands_beside_the_rows_of_its_own_dimension_class_and_end(catalogue: Catalogue) -> None:
    rows = published(catalogue, "1/4-28", "from-memory")
    seen = 0
    for figure in thread_figures(parse_thread("1/4-28", "UNF"), rows):
        for row in figure.published:
            seen += 1
            assert (row.quantity, row.thread_class, row.limit) == (figure.quantity, figure.thread_class, figure.limit)
            assert row.thread == "1/4-28"
    assert seen >= 6


def test_a_limit_that_needs_the_series_is_left_out_with_its_reason_and_what_does_not_is_given() -> None:
    figures = {(f.quantity, f.thread_class, f.limit): f for f in thread_figures(parse_thread("1/4-28"), [])}
    tolerance, basic = figures["pitch_diameter", "2A", "min"], figures["pitch_diameter", "", ""]
    assert tolerance.by_formula is None
    assert "series" in tolerance.why_not
    assert basic.by_formula is not None
    assert basic.why_not == ""


def test_only_rows_of_the_thread_and_good_enough_are_published(catalogue: Catalogue) -> None:
    """The copies of the standard's tables are secondary."""
    assert {row.thread for row in published(catalogue, "1/4-28", "secondary")} == {"1/4-28"}
    assert not published(catalogue, "1/4-28", "published")
    assert not published(catalogue, "1/4-29", "from-memory")


def test_the_series_asked_stands_before_that_of_the_rows_and_disagreeing_rows_give_none(catalogue: Catalogue) -> None:
    fine, coarse = (published(catalogue, name, "from-memory") for name in ("1/4-28", "1/4-20"))
    assert (series_of(fine), series_of(coarse)) == ("UNF", "UNC")
    assert series_of([*fine, *coarse]) == ""
    assert series_of([]) == ""
    assert series_of([*fine, fine[0].model_copy(update={"series": ""})]) == "UNF"
    assert read_thread("1/4-28", fine).series == "UNF"
    assert read_thread("1/4-28", fine, "UNJF").form == "UNJ"


@pytest.fixture(scope="module")
def holes(desk: Desk) -> Holes:
    return Holes(desk.catalogue, "from-memory")


def test_a_bolt_is_suggested_the_holes_of_its_own_number_with_the_room_they_leave(
    holes: Holes, part: Callable[..., Part]
) -> None:
    """AC 43.13-1B 7-39: F, .257, for a 1/4 in bolt; TM 1-1520-240-BD 2-5: .250 to .257 in place of a rivet."""
    bolt = part("AN4-12A")
    shank = bolt.value("shank_diameter")
    assert shank is not None
    found = holes.suggested(bolt)
    assert {(entry.row.fit, entry.row.diameter) for entry in found} == {
        ("general", ".257"), ("bolt in place of a rivet", ".25"), ("bolt in place of a rivet", ".257"),
    }  # fmt: skip
    for entry in found:
        assert entry.room is not None
        assert entry.room.low == Fraction(entry.row.diameter) - shank.greatest
        assert entry.room.high == Fraction(entry.row.diameter) - shank.least


def test_the_room_is_left_open_where_no_row_good_enough_gives_the_shank(
    holes: Holes, part: Callable[..., Part]
) -> None:
    strict = part("AN4-12A", basis="published")
    assert holes.suggested(strict)
    assert all(entry.room is None for entry in holes.suggested(strict))


@pytest.mark.parametrize(("bolt", "letter"), [("AN4-12A", "F"), ("AN5-12A", "O"), ("AN6-12A", "V"), ("AN3-12A", None)])
def test_the_letter_rule_answers_for_three_sizes(
    holes: Holes, part: Callable[..., Part], bolt: str, letter: str | None
) -> None:
    """AC 43.13-1B 7-39: .257 over 1/4, .316 over 5/16, .377 over 3/8; below them it leaps to A, .234, so no row holds it."""
    found = holes.letter(part(bolt))
    assert (found.designation if found else None) == letter


def test_drills_near_a_size_are_those_from_it_to_a_fiftieth_over_smallest_first(holes: Holes) -> None:
    """Over 1/4 in up to .270: E .250, F .257, G .261, 17/64 .2656, H .266; I, .272, is beyond."""
    found = holes.near(Fraction(1, 4))
    over = [near.over for near in found]
    assert over == sorted(over)
    named = {near.row.designation: near.over for near in found}
    assert {"E", "F", "G", "H"} <= set(named)
    assert not {"D", "I"} & set(named)
    assert (named["E"], named["F"]) == (0, Fraction("0.007"))
    assert {"F", "G"} <= {near.row.designation for near in holes.near(Fraction("0.257"), Fraction("0.004"))}
    # No. 2 (.221), one fiftieth over .201, is in; No. 1 (.228) is over .2079 by more
    assert "No. 2" in {near.row.designation for near in holes.near(Fraction("0.201"))}
    assert "No. 2" not in {near.row.designation for near in holes.near(Fraction("0.2009"))}


@pytest.mark.parametrize("basis", ["published", "secondary"])
def test_no_hole_drill_or_note_weaker_than_asked_is_used(desk: Desk, part: Callable[..., Part], basis: str) -> None:
    """The letter rule's own three rows are derived, the drill sizes secondary or derived, the notes of the circular published."""
    held = Holes(desk.catalogue, basis)
    assert {entry.row.fit for entry in held.suggested(part("AN4-12A"))} == {"bolt in place of a rivet"}
    assert held.letter(part("AN4-12A")) is None
    assert {row.basis for row in held.notes} == {"published"}
    assert bool(held.near(Fraction(1, 4))) is (basis == "secondary")
