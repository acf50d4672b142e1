"""US Army technical manuals: worked examples of adapted torque wrenches and of running drag.

TM 1-1500-204-23-9 para 8-5 and figures 8-15 to 8-17; TM 9-2350-261-20-1 page 2-29; TM 5-3805-274-13&P WP 0051; TM 9-254 figure 46;
TM 5-2330-325-13&P WP 0095 item 3. All read as the manuals' own text.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from service.joints.formulas.torque import TorqueRange, add_drag, effective_length, round_setting, wrench_setting


def reading(torque: int, wrench: int, adapter: int, degrees: int = 0) -> Fraction:
    return wrench_setting(Fraction(torque), Fraction(wrench), Fraction(adapter), Fraction(degrees)).reading


def test_tm_1_1500_204_23_9_300_in_lb_with_10_in_and_4_in_is_printed_cut_off_at_214() -> None:
    """214.29 by the formula; the manual drops the fraction."""
    found = reading(300, 10, 4)
    assert math.floor(found) == 214
    assert round_setting(found, 2) == Fraction("214.29")


def test_tm_1_1500_204_23_9_an_adapter_folded_back_makes_the_reading_exceed_the_torque() -> None:
    assert reading(300, 10, 4, 180) == 500 > 300


def test_tm_1_1500_204_23_9_a_concentric_attachment_changes_nothing() -> None:
    assert reading(300, 10, 0) == 300


def test_tm_9_2350_261_20_1_40_lb_ft_with_12_in_and_4_in_reads_30() -> None:
    assert reading(40, 12, 4) == 30


def test_tm_5_3805_274_13p_19_lb_ft_with_22_in_and_3_in_reads_17() -> None:
    """The manual rounds 25/22 to 1.14 on the way (16.67); unrounded it is 16.72. Both are printed as 17."""
    found = reading(19, 22, 3)
    assert round_setting(found, 2) == Fraction("16.72")
    assert round_setting(found, 0) == round_setting(19 / Fraction("1.14"), 0) == 17


@pytest.mark.parametrize(("degrees", "correction"), [(0, 4), (60, 2), (90, 0), (180, -4)])
def test_tm_9_254_the_lever_is_wrench_plus_adapter_times_the_cosine(degrees: int, correction: int) -> None:
    """The copy reads a product between the two; the sum is meant, as its own cases at 90 and 180 degrees show."""
    assert effective_length(Fraction(12), Fraction(4), Fraction(degrees)) == 12 + correction


def test_tm_5_2330_325_13p_a_drag_of_30_on_50_to_70_gives_80_to_100() -> None:
    held = TorqueRange(Fraction(50), Fraction(70))
    assert add_drag(held, Fraction(30), "from-a-third") == TorqueRange(Fraction(80), Fraction(100))


def test_tm_5_2330_325_13p_leaves_a_small_drag_out_where_the_circular_adds_it() -> None:
    """The two documents disagree below a third; both practices are offered, each by name."""
    held = TorqueRange(Fraction(50), Fraction(70))
    assert add_drag(held, Fraction(10), "from-a-third") == held
    assert add_drag(held, Fraction(10)) == TorqueRange(Fraction(60), Fraction(80))
