"""Where the rules of threads turn: numbered and inch sizes, series, rounding of small nuts, and areas worked by hand.

ASME B1.1: No. 5-40 UNC-2B minor diameter .0979 to .1062, No. 6-32 UNC-2B .104 to .114; tolerances of one diameter of engagement
for the coarse and fine series, nine pitches otherwise. FED-STD-H28: stress areas. MIL-S-8879: UNJ minor diameter.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.threads import (
    Thread,
    engagement_length,
    internal_limits,
    internal_minor_diameter,
    parse_thread,
    pitch_diameter_tolerance,
    stress_area,
    stress_area_above_100_ksi,
)


@pytest.mark.parametrize(
    ("text", "diameter"),
    [("0-80", "0.060"), ("1-64", "0.073"), ("1-72", "0.073"), ("2-56", "0.086"), ("12-24", "0.216"), ("14-24", "0.242"),
     ("1-32", "1"), ("1-14", "1"), ("2-12", "2"), ("4-4", "4")],
)  # fmt: skip
def test_a_whole_number_is_a_screw_number_at_a_screws_pitch_and_inches_at_an_inch_sizes(
    text: str, diameter: str
) -> None:
    assert parse_thread(text).diameter == Fraction(diameter)


@pytest.mark.parametrize("text", ["0-64", "0-24"])
def test_number_0_has_one_pitch(text: str) -> None:
    """.060 with 80 threads; no other thread is cut on so thin a wire, and no inch size is nought."""
    with pytest.raises(ValueError, match="no core"):
        parse_thread(text)


def test_a_thread_of_one_turn_an_inch_is_a_thread() -> None:
    assert Thread(Fraction(4), 1).pitch == 1


@pytest.mark.parametrize("series", ["UNC", "UNF", "8UN", "UNJC", "UNJF"])
def test_the_named_series_engage_one_diameter(series: str) -> None:
    assert engagement_length(Thread(Fraction(1, 4), 28, series)) == Fraction(1, 4)


@pytest.mark.parametrize("series", ["UNS", "UNEF", "UN", "UNJ"])
def test_every_other_series_engages_nine_pitches(series: str) -> None:
    assert engagement_length(Thread(Fraction(1, 4), 28, series)) == Fraction(9, 28)


@pytest.mark.parametrize(
    ("thread", "least", "most"),
    [("5-40", "0.0979", "0.1062"), ("6-32", "0.104", "0.114"), ("1/4-20", "0.196", "0.207")],
)
def test_a_nut_is_given_to_four_places_below_number_6_and_to_three_from_it_on(
    thread: str, least: str, most: str
) -> None:
    limits = internal_limits(parse_thread(thread, "UNC"))
    assert (limits.minor_min, limits.minor_max) == (Fraction(least), Fraction(most))


def test_a_unj_nut_keeps_more_metal() -> None:
    """D - 0.97428 p: 1/4-28 is .25 - .034796 = .215204."""
    found = internal_minor_diameter(parse_thread("1/4-28", "UNJF"))
    assert float(found) == pytest.approx(0.215204, abs=1e-6)


def test_the_tolerance_of_class_2a_is_rounded_to_six_places_before_it_is_shared_out() -> None:
    for text, series in (("1/4-28", "UNF"), ("1/4-20", "UNC"), ("10-32", "UNF")):
        whole = pitch_diameter_tolerance(parse_thread(text, series), "2A")
        assert (whole * 10**6).denominator == 1
        assert pitch_diameter_tolerance(parse_thread(text, series), "2B") == whole * Fraction("1.3")


def test_stress_areas_by_hand() -> None:
    """One inch of 8: pi/4 (1 - .9743/8)^2 = .605744. 1/4-28, 3A, above 100 ksi: pi (.2243/2 - .16238/28)^2 = .035533."""
    assert float(stress_area(parse_thread("1-8"))) == pytest.approx(0.6057440, abs=5e-7)
    assert float(stress_area_above_100_ksi(parse_thread("1/4-28", "UNF"))) == pytest.approx(0.0355329, abs=5e-7)
