"""FAA AC 43.13-1B, figure 7-2 (page 7-7) and paragraph 7-40: the two adapter examples and the drag rule.

The figure's page was not seen as text: that the circular prints these two answers is from memory. A rotorcraft maintenance manual
(chapter 20, figures 20-1 and 20-2) prints the same two, and was seen: 117.39 then 117, and 158.82 then 159.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.torque import (
    TorqueRange,
    add_drag,
    applied_torque,
    castellated_window,
    round_setting,
    wrench_setting,
)

TORQUE, WRENCH, ADAPTER = Fraction(135), Fraction(10), Fraction("1.5")


@pytest.mark.parametrize(
    ("degrees", "two_places", "printed", "effect"), [(0, "117.39", 117, "lengthens"), (180, "158.82", 159, "shortens")]
)
def test_135_in_lb_with_a_10_in_wrench_and_an_adapter_of_1_5_in(
    degrees: int, two_places: str, printed: int, effect: str
) -> None:
    found = wrench_setting(TORQUE, WRENCH, ADAPTER, Fraction(degrees))
    assert round_setting(found.reading, 2) == Fraction(two_places)
    assert round_setting(found.reading, 0) == printed
    assert found.effect == effect
    assert applied_torque(found.reading, WRENCH, ADAPTER, Fraction(degrees)) == TORQUE


def test_the_printed_readings_are_within_half_a_pound_inch_of_the_torque_wanted() -> None:
    """Backwards: setting the wrench to the printed whole number applies the wanted torque to a third of a percent."""
    for reading, degrees in ((117, 0), (159, 180)):
        assert float(applied_torque(Fraction(reading), WRENCH, ADAPTER, Fraction(degrees))) == pytest.approx(
            135, rel=0.0035
        )


def test_paragraph_7_40_d_final_torque_is_the_wanted_torque_plus_the_drag() -> None:
    """1/4-28 with a tension nut, 50 to 70 in-lb (table 7-1), dragging 10."""
    assert add_drag(TorqueRange(Fraction(50), Fraction(70)), Fraction(10)) == TorqueRange(Fraction(60), Fraction(80))


def test_paragraph_7_40_f_alignment_starts_at_the_minimum_and_ends_at_the_maximum_with_drag() -> None:
    """1/4-28 with a castellated tension nut: 50 to 70, maximum 100 (table 7-1)."""
    window = castellated_window(TorqueRange(Fraction(50), Fraction(70)), Fraction(100), Fraction(10))
    assert (window.start, window.limit) == (60, 110)
