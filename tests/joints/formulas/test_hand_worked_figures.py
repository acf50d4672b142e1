"""Figures of the joint formulas worked by hand: friction, adapters at odd angles, a row of rivets, a splice of half an inch."""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.preload import implied_nut_factor, nut_factor_from_friction
from service.joints.formulas.rivets import rivets_in_row
from service.joints.formulas.splice import splice_count
from service.joints.formulas.threads import parse_thread
from service.joints.formulas.torque import applied_torque, wrench_setting


def test_k_of_a_quarter_inch_fine_thread_at_friction_0_15_is_0_19594() -> None:
    """NASA TM-106943 eq. 2 by hand: pitch diameter .226803, tan psi .050124, sec 30 deg 1.154701:
    (.050124 + .173205) / (1 - .008682) = .225285, times .453605 is .102191, and .625 x .15 is .093750."""
    found = nut_factor_from_friction(parse_thread("1/4-28"), Fraction("0.15"), Fraction("0.15"))
    assert float(found) == pytest.approx(0.195940, abs=2e-6)


def test_the_factor_that_a_stress_implies_is_torque_over_stress_area_and_diameter() -> None:
    """60 in-lb at 40000 psi on .0364 sq in of a 1/4 in bolt: the pull is 1456 lbf, so K is 60 / (1456 x .25)."""
    found = implied_nut_factor(Fraction(60), Fraction(40_000), Fraction("0.0364"), Fraction(1, 4))
    assert found == Fraction(60) / 364


@pytest.mark.parametrize(
    ("degrees", "reading"),
    [
        (Fraction(120, 7), 10.074598),  # 12 x 10 / (10 + 2 cos 17.142857) = 120 / 11.911146
        (Fraction(400), 10.405747),  # once round and 40 more: 120 / (10 + 2 x .766044)
        (Fraction(-60), 10.909091),  # either side is the same: 120 / 11
        (Fraction(300), 10.909091),
    ],
)
def test_an_adapter_shortens_the_reading_by_the_cosine_of_its_angle(degrees: Fraction, reading: float) -> None:
    """T L / (L + E cos a) with T = 12, L = 10, E = 2 (AC 43.13-1B 7-40 h)."""
    found = wrench_setting(Fraction(12), Fraction(10), Fraction(2), degrees)
    assert float(found.reading) == pytest.approx(reading, abs=2e-6)


def test_an_adapter_is_straight_on_unless_its_angle_is_said() -> None:
    """10 read on a wrench of 10 with 2 straight on is 12 at the nut, and 12 at the nut reads 10."""
    assert applied_torque(Fraction(10), Fraction(10), Fraction(2)) == 12
    assert wrench_setting(Fraction(12), Fraction(10), Fraction(2)).reading == 10


@pytest.mark.parametrize(
    ("width", "rivets"), [("0.4", 0), ("0.49", 0), ("0.5", 1), ("0.874", 1), ("0.875", 2), ("1.25", 3)]
)
def test_a_row_holds_what_is_left_between_two_edges_at_one_pitch(width: str, rivets: int) -> None:
    """1/8 in rivets: edges of .25 (2 D) and a pitch of .375 (3 D); where two edges just meet, one rivet stands."""
    assert rivets_in_row(Fraction(width), Fraction("0.25"), Fraction("0.375")) == rivets
    assert rivets_in_row(Fraction("0.1"), Fraction(2), Fraction("0.375")) == 0


def test_half_an_inch_of_frame_takes_three_rivets_by_width_first_and_two_at_one_go() -> None:
    """AC 43.13-1B figure 4-20 rounds the count and then its 60 percent: 6.2 x .5 = 3.1, so 4; 2.4, so 3. At one go 1.86."""
    needed, width, share = Fraction("6.2"), Fraction("0.5"), Fraction("0.6")
    assert splice_count(needed, width, share, "width-first") == 3
    assert splice_count(needed, width, share, "factor-first") == 2
