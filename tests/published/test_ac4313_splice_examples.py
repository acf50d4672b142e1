"""FAA AC 43.13-1B: the worked sheet splice (4-58 g(2), page 4-27) and intermediate frame splice (figure 4-20, page 4-41).

The counts per inch are those the examples take from table 4-10: 4.9 (.032 sheet, 1/8 rivet) and 6.2 (.040 frame, 1/8 rivet).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.rivets import SpacingPractice, check_spacing, next_diameter, rivets_in_row, target_diameter
from service.joints.formulas.splice import splice_count

EIGHTH = Fraction(1, 8)
MADE = [Fraction(n, 32) for n in (2, 3, 4, 5, 6, 8)]


def test_three_times_032_sheet_asks_for_a_1_8_rivet() -> None:
    """.096; 3/32 is .094 and just short."""
    assert target_diameter(Fraction("0.032")) == Fraction("0.096")
    assert next_diameter(target_diameter(Fraction("0.032")), MADE) == EIGHTH


def test_ten_inches_of_single_lap_sheet_take_37_rivets() -> None:
    """4.9 per inch x 0.75 = 3.675, printed 3.7, x 10."""
    assert splice_count(Fraction("4.9"), Fraction(10), Fraction("0.75"), "factor-first") == 37
    assert splice_count(Fraction("3.7"), Fraction(10), Fraction(1), "factor-first") == 37


def test_with_table_4_9_the_same_sheet_would_take_47() -> None:
    """Clad 2024-T3 is named in both tables; the circular's example uses 4-10."""
    assert splice_count(Fraction("6.2"), Fraction(10), Fraction("0.75"), "factor-first") == 47


def test_two_rows_of_19_carry_them_and_two_of_20_would_just_fit() -> None:
    """Double row at 4 D: 20 to a row over 10 in with 2 D left at both ends."""
    double = SpacingPractice("double row", edge_min=Fraction(2), pitch_min=Fraction(4))
    assert rivets_in_row(Fraction(10), 2 * EIGHTH, 4 * EIGHTH) == 20
    assert splice_count(Fraction("4.9"), Fraction(10), Fraction("0.75"), "factor-first") <= 2 * 19
    pitch_of_19 = (10 - 2 * 2 * EIGHTH) / 18
    assert check_spacing(EIGHTH, double, edge=2 * EIGHTH, pitch=pitch_of_19) == ()


@pytest.mark.parametrize(("width", "printed"), [("0.6", 3), ("2.0", 8)], ids=["flange leg", "web"])
def test_an_intermediate_frame_rounds_up_before_and_after_its_60_percent(width: str, printed: int) -> None:
    """.6 x 6.2 = 3.72, 4, 2.4, 3 and 2.0 x 6.2 = 12.4, 13, 7.8, 8."""
    assert splice_count(Fraction("6.2"), Fraction(width), Fraction("0.60"), "width-first") == printed
