"""Rivets of a splice by their own logic; the circular's cells are in tests/published/test_ac4313_splice_tables.py."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.joints.formulas import splice as s
from service.joints.formulas.areas import PI
from tests.joints.inches import inches, positive

sheets = inches("0.016", "0.128")
holes = inches("0.096", "0.257")
ratios = inches("0.3", "0.9")
bearings = inches("1.2", "2")
parts = inches("0.01", "1")


def test_bearing_and_shear_are_worked_apart_and_the_larger_governs() -> None:
    found = s.rivets_per_inch(PI, Fraction(2), Fraction(1, 2), Fraction(1, 4))
    assert (found.bearing, found.shear) == (2, 2)
    assert (found.needed, found.mode) == (2, "bearing")
    thick = s.rivets_per_inch(PI * 2, Fraction(2), Fraction(1, 2), Fraction(1, 4))
    assert (thick.needed, thick.mode) == (4, "shear")
    thin = s.rivets_per_inch(PI / 2, Fraction(2), Fraction(1, 2), Fraction(1, 4))
    assert (thin.needed, thin.mode) == (2, "bearing")


@given(sheets, holes, ratios, bearings)
def test_a_thicker_sheet_never_needs_fewer_and_a_stronger_rivet_never_more(
    sheet: Fraction, hole: Fraction, shear: Fraction, bearing: Fraction
) -> None:
    held = s.rivets_per_inch(sheet, hole, shear, bearing)
    assert s.rivets_per_inch(sheet + Fraction(1, 100), hole, shear, bearing).needed >= held.needed
    assert s.rivets_per_inch(sheet, hole, shear + Fraction(1, 100), bearing).needed <= held.needed
    assert s.rivets_per_inch(sheet, hole + Fraction(1, 100), shear, bearing).needed < held.needed


@given(sheets, holes)
def test_bolts_are_the_rivets_with_their_own_load(sheet: Fraction, hole: Fraction) -> None:
    """A bolt whose shear load is ratio x sheet strength x hole area needs exactly what such a rivet needs."""
    tensile, ratio, bearing = Fraction(60000), Fraction("0.4"), Fraction("1.6")
    load = ratio * tensile * PI / 4 * hole**2
    assert s.bolts_per_inch(sheet, hole, tensile, load, bearing) == s.rivets_per_inch(sheet, hole, ratio, bearing)


@given(inches("0.5", "20"), inches("0.1", "40"), parts)
def test_counts_never_fall_below_the_need_and_rounding_twice_never_gives_fewer(
    per_inch: Fraction, width: Fraction, factor: Fraction
) -> None:
    once = s.splice_count(per_inch, width, factor, "factor-first")
    twice = s.splice_count(per_inch, width, factor, "width-first")
    assert per_inch * width * factor <= once < per_inch * width * factor + 1
    assert once <= twice <= once + 1


@given(inches("0.5", "20"), inches("0.1", "40"), parts, st.sampled_from(["factor-first", "width-first"]))
def test_a_wider_joint_never_needs_fewer(
    per_inch: Fraction, width: Fraction, factor: Fraction, order: s.CountOrder
) -> None:
    assert s.splice_count(per_inch, width + Fraction(1, 10), factor, order) >= s.splice_count(
        per_inch, width, factor, order
    )


def test_a_factor_of_one_leaves_the_count() -> None:
    assert s.splice_count(Fraction("4.9"), Fraction(10), Fraction(1), "factor-first") == 49
    with pytest.raises(ValueError, match="above 1"):
        s.splice_count(Fraction("4.9"), Fraction(10), Fraction("1.01"), "factor-first")


@given(positive(10), sheets, positive(500), positive(500))
def test_the_weaker_of_shear_and_bearing_counts(
    width: Fraction, sheet: Fraction, shear: Fraction, bearing: Fraction
) -> None:
    tensile = Fraction(75000)
    found = s.count_by_load(width, sheet, tensile, shear, bearing)
    assert found == s.count_by_load(width, sheet, tensile, bearing, shear)
    assert (found - 1) * min(shear, bearing) < width * sheet * tensile <= found * min(shear, bearing)


def test_nothing_is_worked_from_zero() -> None:
    one, zero = Fraction(1), Fraction(0)
    for place in range(4):
        arguments = [one] * 4
        arguments[place] = zero
        with pytest.raises(ValueError, match="above zero"):
            s.rivets_per_inch(*arguments)
    for place in range(5):
        arguments = [one] * 5
        arguments[place] = zero
        with pytest.raises(ValueError, match="above zero"):
            s.bolts_per_inch(*arguments)
        with pytest.raises(ValueError, match="above zero"):
            s.count_by_load(*arguments)
    for place in range(3):
        arguments = [one] * 3
        arguments[place] = zero
        with pytest.raises(ValueError, match="above zero"):
            s.splice_count(*arguments, "width-first")
