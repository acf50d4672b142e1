"""Drills and fits, by their own logic."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from service.joints.formulas.holes import Drill, first_above, fit
from service.joints.formulas.stack import Span
from tests.joints.inches import inches, spans

DRILLS = [Drill(name, Fraction(size)) for name, size in (("B", "0.238"), ("A", "0.234"), ("C", "0.242"))]


def test_a_drill_of_the_same_size_is_not_above_it() -> None:
    assert first_above(Fraction("0.234"), DRILLS) == DRILLS[0]
    assert first_above(Fraction("0.2339"), DRILLS) == DRILLS[1]
    assert first_above(Fraction("0.242"), DRILLS) is None
    assert first_above(Fraction("0.1"), []) is None


@given(inches("0", "1"), st.lists(inches("0", "1"), max_size=10))
def test_no_drill_lies_between(diameter: Fraction, sizes: list[Fraction]) -> None:
    found = first_above(diameter, [Drill(str(size), size) for size in sizes])
    above = [size for size in sizes if size > diameter]
    assert (found.diameter if found else None) == min(above, default=None)


@given(spans(), spans())
def test_the_tightest_fit_is_the_least_hole_on_the_greatest_shank(hole: Span, shank: Span) -> None:
    assert fit(hole, shank) == Span(hole.low - shank.high, hole.high - shank.low)
