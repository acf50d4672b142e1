"""FAA AC 65-15A chapter 5, number of rivets (from memory): a 2 1/4 in break in .040 sheet takes 21 rivets of 1/8 on each side."""

from __future__ import annotations

from fractions import Fraction

from service.joints.formulas.splice import count_by_load


def test_21_rivets_carry_a_break_of_two_and_a_quarter_inches() -> None:
    """2.25 x .040 x 75000 = 6750 lbf; shear 331 is less than bearing 410: 20.39, rounded up."""
    found = count_by_load(Fraction("2.25"), Fraction("0.040"), Fraction(75000), Fraction(331), Fraction(410))
    assert found == 21
