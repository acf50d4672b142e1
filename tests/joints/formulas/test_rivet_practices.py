"""Rivet length, diameter, spacing and shop head against a practice, by their own logic."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.joints.formulas import rivets as r
from tests.joints.inches import inches, positive

SPACING = r.SpacingPractice("a document", Fraction(2), Fraction(4), Fraction(3), Fraction(8), Fraction(5, 2))
HEAD = r.ShopHeadPractice("a document", Fraction("1.3"), Fraction("1.7"), Fraction("0.3"), Fraction("0.7"))


def test_length_is_grip_plus_one_and_a_half_diameters() -> None:
    assert r.computed_length(Fraction("0.08"), Fraction(1, 8)) == Fraction("0.2675")
    assert r.computed_length(Fraction(1), Fraction(1, 4), Fraction(1, 2)) == Fraction(9, 8)


@pytest.mark.parametrize(("grip", "diameter"), [("0", "1"), ("1", "0"), ("-1", "1")])
def test_a_rivet_needs_grip_and_diameter(grip: str, diameter: str) -> None:
    with pytest.raises(ValueError, match="above zero"):
        r.computed_length(Fraction(grip), Fraction(diameter))


@given(positive(3), st.sampled_from([Fraction(1, 16), Fraction(1, 32)]))
def test_one_rounding_never_goes_short_and_the_other_is_never_more_than_half_a_step_off(
    computed: Fraction, step: Fraction
) -> None:
    above, nearest = (r.standard_length(computed, way, step) for way in ("next-above", "nearest"))  # type: ignore[arg-type]
    assert computed <= above < computed + step
    assert abs(nearest - computed) <= step / 2
    assert above - nearest in {0, step}
    assert (above / step).denominator == (nearest / step).denominator == 1


@given(st.integers(1, 64), st.sampled_from(["next-above", "nearest"]))
def test_a_length_that_is_made_stays(steps: int, way: r.LengthRounding) -> None:
    assert r.standard_length(Fraction(steps, 16), way) == Fraction(steps, 16)


def test_a_tie_goes_up() -> None:
    assert r.standard_length(Fraction(9, 32), "nearest") == Fraction(5, 16)


def test_the_diameter_chosen_is_the_first_not_below_three_sheets() -> None:
    made = [Fraction(n, 32) for n in (3, 4, 5, 6, 8)]
    assert r.next_diameter(r.target_diameter(Fraction("0.032")), made) == Fraction(1, 8)
    assert r.next_diameter(Fraction(3, 32), made) == Fraction(3, 32)
    assert r.next_diameter(Fraction(1, 3), made) is None


def test_the_thickest_sheet_decides_the_diameter() -> None:
    check = r.check_diameter(Fraction(1, 8), [Fraction("0.032"), Fraction("0.05")])
    assert (check.ratio, check.at_least_sheet, check.at_most_three_sheets) == (Fraction(5, 2), True, True)
    assert not r.check_diameter(Fraction(1, 8), [Fraction("0.04")]).at_most_three_sheets
    assert r.check_diameter(Fraction(3, 25), [Fraction("0.04")]).at_most_three_sheets
    assert not r.check_diameter(Fraction(1, 8), [Fraction("0.13")]).at_least_sheet
    assert r.check_diameter(Fraction(1, 8), [Fraction(1, 8)]).at_least_sheet
    with pytest.raises(ValueError, match="sheets"):
        r.check_diameter(Fraction(1, 8), [])


@pytest.mark.parametrize(
    ("given_distance", "dimension", "limit"),
    [
        ({"edge": "0.24"}, "edge distance", "0.25"),
        ({"edge": "0.51"}, "edge distance", "0.5"),
        ({"pitch": "0.37"}, "pitch", "0.375"),
        ({"pitch": "1.01"}, "pitch", "1"),
        ({"row": "0.31"}, "row spacing", "0.3125"),
    ],
)
def test_a_distance_outside_the_practice_is_a_breach_with_its_limit(
    given_distance: dict[str, str], dimension: str, limit: str
) -> None:
    measured = {name: Fraction(value) for name, value in given_distance.items()}
    (breach,) = r.check_spacing(Fraction(1, 8), SPACING, **measured)
    assert (breach.practice, breach.dimension, breach.limit) == ("a document", dimension, Fraction(limit))
    assert breach.measured == next(iter(measured.values()))
    assert breach.by == abs(breach.measured - breach.limit) > 0


def test_distances_at_the_limits_are_good() -> None:
    for edge, pitch in (("0.25", "0.375"), ("0.5", "1")):
        found = r.check_spacing(
            Fraction(1, 8), SPACING, edge=Fraction(edge), pitch=Fraction(pitch), row=Fraction("0.3125")
        )
        assert found == ()


def test_what_is_not_measured_or_not_limited_is_not_judged() -> None:
    assert r.check_spacing(Fraction(1, 8), SPACING) == ()
    assert r.check_spacing(Fraction(1, 8), r.SpacingPractice("silent"), edge=Fraction(0), pitch=Fraction(9)) == ()
    assert r.check_shop_head(Fraction(1, 8), r.ShopHeadPractice("silent"), width=Fraction(0)) == ()


def test_several_breaches_are_all_told() -> None:
    found = r.check_spacing(Fraction(1, 8), SPACING, edge=Fraction(0), pitch=Fraction(0), row=Fraction(0))
    assert [b.dimension for b in found] == ["edge distance", "pitch", "row spacing"]


def test_shop_heads_are_limited_both_ways() -> None:
    diameter = Fraction(1, 10)
    assert r.check_shop_head(diameter, HEAD, width=Fraction("0.13"), height=Fraction("0.07")) == ()
    low = r.check_shop_head(diameter, HEAD, width=Fraction("0.12"), height=Fraction("0.02"))
    high = r.check_shop_head(diameter, HEAD, width=Fraction("0.18"), height=Fraction("0.08"))
    assert [(b.dimension, b.limit) for b in low] == [
        ("shop head diameter", Fraction("0.13")),
        ("shop head height", Fraction("0.03")),
    ]
    assert [b.limit for b in high] == [Fraction("0.17"), Fraction("0.07")]


@given(inches("0.5", "20"), inches("0", "1"), inches("0.05", "2"))
def test_a_row_fits_and_one_more_would_not(width: Fraction, edge: Fraction, pitch: Fraction) -> None:
    count = r.rivets_in_row(width, edge, pitch)
    if count == 0:
        assert 2 * edge > width
    else:
        assert 2 * edge + (count - 1) * pitch <= width < 2 * edge + count * pitch


def test_rivets_cannot_stand_on_one_another() -> None:
    with pytest.raises(ValueError, match="pitch"):
        r.rivets_in_row(Fraction(1), Fraction(0), Fraction(0))
