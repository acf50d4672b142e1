"""US Navy training manuals: the adapter example of NAVEDTRA 14315 (figures 3-44 and 3-45) and the rule of NAVEDTRA 14008 (figure 2-12).

The inputs of NAVEDTRA 14315 are printed; its answer stands inside a figure that was not seen, so only its bounds are checked here.
"""

from __future__ import annotations

from fractions import Fraction

from service.joints.formulas.torque import wrench_setting


def test_navedtra_14315_100_in_lb_with_12_in_and_6_in_is_two_thirds() -> None:
    found = wrench_setting(Fraction(100), Fraction(12), Fraction(6))
    assert found.reading == Fraction(200, 3)
    assert found.effective_length == 18


def test_navedtra_14008_square_to_the_wrench_needs_no_correction_and_toward_the_handle_raises_the_reading() -> None:
    square = wrench_setting(Fraction(100), Fraction(12), Fraction(6), Fraction(90))
    toward = wrench_setting(Fraction(100), Fraction(12), Fraction(6), Fraction(180))
    assert (square.reading, square.effect) == (100, "none")
    assert (toward.reading, toward.effect) == (200, "shortens")
