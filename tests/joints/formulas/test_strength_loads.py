"""Loads as stress times area, by their own logic."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given

from service.joints.formulas import strength as s
from service.joints.formulas.areas import PI, circle_area, ring_area
from tests.joints.inches import positive


def test_a_circle_of_two_has_the_area_pi() -> None:
    assert circle_area(Fraction(2)) == PI
    assert circle_area(Fraction(0)) == 0
    with pytest.raises(ValueError, match="not negative"):
        circle_area(Fraction(-1))


def test_a_ring_is_the_rim_less_the_hole() -> None:
    assert ring_area(Fraction(4), Fraction(2)) == 3 * PI
    assert ring_area(Fraction(2), Fraction(2)) == 0
    with pytest.raises(ValueError, match="larger than the rim"):
        ring_area(Fraction(1), Fraction(2))


@given(positive(2), positive(2), positive(200))
def test_loads_grow_with_the_square_of_the_shank_and_the_line_of_the_hole(
    diameter: Fraction, thickness: Fraction, stress: Fraction
) -> None:
    assert s.single_shear(2 * diameter, stress) == 4 * s.single_shear(diameter, stress)
    assert s.bearing(2 * diameter, thickness, stress) == 2 * s.bearing(diameter, thickness, stress)
    assert s.bearing(diameter, 2 * thickness, stress) == 2 * s.bearing(diameter, thickness, stress)


def test_single_shear_is_the_circle_times_the_stress() -> None:
    assert s.single_shear(Fraction(2), Fraction(10)) == 10 * PI
    assert s.tension(Fraction(3), Fraction(10)) == 30


def test_nut_and_screw_strip_on_their_own_share() -> None:
    assert s.internal_thread_pull_out(Fraction(1), Fraction(1), Fraction(4)) == 3 * PI
    assert s.internal_thread_pull_out(Fraction(1), Fraction(1), Fraction(8), Fraction(7, 8)) == 7 * PI
    assert s.external_thread_pull_out(Fraction(1), Fraction(1), Fraction(8)) == 5 * PI
    assert s.thread_shear_area(Fraction(3), Fraction(1, 2), Fraction(2, 3)) == PI


def test_tear_out_has_two_planes_from_the_holes_edge() -> None:
    assert s.tear_out(Fraction(2), Fraction(1), Fraction(3), Fraction(10)) == 10 * 2 * 3 * Fraction(3, 2)
    assert s.tear_out(Fraction("0.6"), Fraction(1), Fraction(3), Fraction(10)) == 6
    with pytest.raises(ValueError, match="reaches an edge"):
        s.tear_out(Fraction(1, 2), Fraction(1), Fraction(1), Fraction(1))


def test_margin_is_zero_at_the_allowable() -> None:
    assert s.margin(Fraction(10), Fraction(10)) == 0
    assert s.margin(Fraction(15), Fraction(10)) == Fraction(1, 2)
    assert s.margin(Fraction(5), Fraction(10)) == Fraction(-1, 2)
    assert s.margin(Fraction(1), Fraction(1, 2)) == 1
    with pytest.raises(ValueError, match="above zero"):
        s.margin(Fraction(1), Fraction(0))


def test_tension_counts_squared_and_shear_cubed() -> None:
    assert s.interaction(Fraction(1, 2), Fraction(1, 2)) == Fraction(1, 4) + Fraction(1, 8)
    assert s.interaction(Fraction(1), Fraction(0)) == s.interaction(Fraction(0), Fraction(1)) == 1


def test_thickness_ratio_is_sheet_over_hole() -> None:
    assert s.thickness_ratio(Fraction("0.032"), Fraction("0.16")) == Fraction(1, 5)
