"""Formed heads: a wartime repair manual (section II para 14), MIL-R-47196A's upset head table, MIL-HDBK-5H page 8-9.

The first gives sizes of 1.5 D by 0.5 D, the second at least 1.3 D by 0.4 D with an upper limit on the height (two sizes seen, in a
reproduction), the third at least 1.3 D by 0.3 D.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.rivets import ShopHeadPractice, check_shop_head

HANDBOOK_5 = ShopHeadPractice("MIL-HDBK-5H", diameter_min=Fraction("1.3"), height_min=Fraction("0.3"))
#: rivet: diameter and height as the wartime manual prints them
FORMED = {"1/8": ("0.188", "0.063"), "5/32": ("0.234", "0.078"), "3/16": ("0.281", "0.093")}
#: rivet: least diameter, least and greatest height of MIL-R-47196A
UPSET = {"3/32": ("0.122", "0.038", "0.050"), "1/8": ("0.163", "0.050", "0.070")}


@pytest.mark.parametrize("rivet", list(FORMED))
def test_the_wartime_sizes_are_one_and_a_half_by_a_half_diameter(rivet: str) -> None:
    width, height = map(Fraction, FORMED[rivet])
    assert abs(width - Fraction("1.5") * Fraction(rivet)) <= Fraction("0.001")
    assert abs(height - Fraction("0.5") * Fraction(rivet)) <= Fraction("0.001")
    assert check_shop_head(Fraction(rivet), HANDBOOK_5, width=width, height=height) == ()


@pytest.mark.parametrize("rivet", list(UPSET))
def test_a_head_at_the_least_of_mil_r_47196a_is_good_by_mil_hdbk_5(rivet: str) -> None:
    """Its least diameter is 1.3 D to the thousandth, so the two documents meet there; its least height is the stricter."""
    width, least, most = map(Fraction, UPSET[rivet])
    assert check_shop_head(Fraction(rivet), HANDBOOK_5, width=width, height=least) == ()
    own = ShopHeadPractice(
        "MIL-R-47196A", width / Fraction(rivet), None, least / Fraction(rivet), most / Fraction(rivet)
    )
    flat = check_shop_head(Fraction(rivet), own, width=width, height=Fraction("0.35") * Fraction(rivet))
    assert [b.dimension for b in flat] == ["shop head height"]
    assert check_shop_head(Fraction(rivet), HANDBOOK_5, height=Fraction("0.35") * Fraction(rivet)) == ()
