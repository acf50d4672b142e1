"""A light airplane's maintenance manual (1989, para 2-90, figure 2-14): an adapter with its lengths in feet."""

from __future__ import annotations

from fractions import Fraction

from service.joints.formulas.torque import wrench_setting


def test_30_lb_ft_with_1_ft_and_a_quarter_foot_reads_24() -> None:
    """The unit of the lengths falls out, feet or inches."""
    in_feet = wrench_setting(Fraction(30), Fraction(1), Fraction(1, 4))
    in_inches = wrench_setting(Fraction(30), Fraction(12), Fraction(3))
    assert in_feet.reading == in_inches.reading == 24
