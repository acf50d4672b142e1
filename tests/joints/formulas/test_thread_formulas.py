"""The formulas of a Unified thread by their own logic; published rows are in tests/published/test_asme_b1_1_threads.py."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.joints.formulas import threads as t
from tests.joints.inches import threads


@pytest.mark.parametrize(
    ("designation", "diameter", "per_inch"),
    [
        ("10-32", "0.190", 32),
        ("8-36", "0.164", 36),
        ("4-40", "0.112", 40),
        ("0-80", "0.060", 80),
        ("1-64", "0.073", 64),
        ("1-72", "0.073", 72),
        ("2-56", "0.086", 56),
        ("12-24", "0.216", 24),
        ("1/4-28", "1/4", 28),
        ("7/32-24", "7/32", 24),
        ("1-14", "1", 14),
        ("1-8", "1", 8),
        ("1-20", "1", 20),
        ("2-12", "2", 12),
        ("1-1/8-12", "9/8", 12),
        ("1-1/4-7", "5/4", 7),
    ],
)
def test_a_designation_gives_size_and_pitch(designation: str, diameter: str, per_inch: int) -> None:
    found = t.parse_thread(designation)
    assert (found.diameter, found.threads_per_inch) == (Fraction(diameter), per_inch)
    assert found.pitch == Fraction(1, per_inch)


@pytest.mark.parametrize(
    "text", ["", "10", "1/4", "1/4-", "-28", "1/0-28", "1/4-0", "M6-1", "1-1-12", "1/4x28", "#10-32"]
)
def test_what_is_no_designation_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a thread designation"):
        t.parse_thread(text)


def test_a_designation_may_stand_between_spaces() -> None:
    assert t.parse_thread(" 10-32 ") == t.parse_thread("10-32")


def test_a_thread_without_core_is_refused() -> None:
    with pytest.raises(ValueError, match="no core"):
        t.Thread(Fraction(1, 10), 9)
    with pytest.raises(ValueError, match="above zero"):
        t.Thread(Fraction(1), 0)
    with pytest.raises(ValueError, match="start at 0"):
        t.screw_diameter(-1)


def test_the_series_word_decides_the_form() -> None:
    assert t.parse_thread("1/4-28", "UNJF").form == "UNJ"
    assert t.parse_thread("1/4-28", "UNF").form == "UN"
    assert t.parse_thread("1/4-28").form == "UN"


@given(threads)
def test_diameters_stand_in_the_order_of_the_form(thread: t.Thread) -> None:
    assert (
        t.external_minor_diameter(thread)
        < t.internal_minor_diameter(thread)
        < t.pitch_diameter(thread)
        < thread.diameter
    )


@given(threads)
def test_half_the_pitch_is_metal_at_the_pitch_diameter(thread: t.Thread) -> None:
    """The 60 degree flanks: from the sharp crest (1/8 H above the basic crest) half of H lies down to the pitch line."""
    crest = thread.diameter + t.thread_height(thread) / 4
    assert crest - t.pitch_diameter(thread) == t.thread_height(thread)


@given(threads)
def test_the_stress_area_lies_between_core_and_shank(thread: t.Thread) -> None:
    assert t.minor_area(thread) < t.stress_area(thread) < t.circle_area(thread.diameter)
    assert t.stress_area_above_100_ksi(thread) < t.stress_area(thread)


@given(threads)
def test_a_finer_thread_leaves_more_metal(thread: t.Thread) -> None:
    finer = replace(thread, threads_per_inch=thread.threads_per_inch + 4)
    assert t.stress_area(finer) > t.stress_area(thread)
    assert t.minor_area(finer) > t.minor_area(thread)
    assert t.internal_minor_diameter(finer) > t.internal_minor_diameter(thread)


@given(threads)
def test_the_unj_form_cuts_less_deep_on_both_sides(thread: t.Thread) -> None:
    unj = replace(thread, form="UNJ")
    assert t.internal_minor_diameter(unj) > t.internal_minor_diameter(thread)
    assert t.external_minor_diameter(unj) > t.external_minor_diameter(thread)
    assert t.external_minor_diameter(unj) < t.internal_minor_diameter(unj)
    assert t.pitch_diameter(unj) == t.pitch_diameter(thread)


def test_the_unj_root_radius_is_a_share_of_the_pitch() -> None:
    least, most = t.root_radius(t.parse_thread("1/4-28", "UNJF"))
    assert (least, most) == (Fraction("0.15011") / 28, Fraction("0.18042") / 28)
    with pytest.raises(ValueError, match="only the UNJ form"):
        t.root_radius(t.parse_thread("1/4-28", "UNF"))


@given(threads, st.sampled_from(["2A", "3A"]))
def test_limits_of_a_screw_are_ordered_and_never_above_basic(thread: t.Thread, thread_class: str) -> None:
    limits = t.external_limits(thread, thread_class)  # type: ignore[arg-type]
    assert limits.major_min < limits.major_max <= thread.diameter + Fraction("0.00005")
    assert limits.pitch_min < limits.pitch_max <= t.pitch_diameter(thread) + Fraction("0.00005")
    assert limits.pitch_max < limits.major_min


@given(threads)
def test_class_3a_has_no_allowance_and_three_quarters_of_the_tolerance(thread: t.Thread) -> None:
    tight, free = t.external_limits(thread, "3A"), t.external_limits(thread, "2A")
    assert tight.allowance == 0 < free.allowance
    assert t.pitch_diameter_tolerance(thread, "3A") == Fraction(3, 4) * t.pitch_diameter_tolerance(thread, "2A")
    assert tight.pitch_max - tight.pitch_min < free.pitch_max - free.pitch_min
    assert tight.major_max - tight.major_min == free.major_max - free.major_min


@given(threads)
def test_a_2a_screw_always_enters_a_2b_nut(thread: t.Thread) -> None:
    screw, nut = t.external_limits(thread, "2A"), t.internal_limits(thread)
    assert screw.pitch_max < nut.pitch_min <= nut.pitch_max
    assert nut.minor_min < nut.minor_max < screw.major_min


def test_class_3b_is_three_quarters_of_2b() -> None:
    thread = t.parse_thread("1/4-28", "UNF")
    assert t.pitch_diameter_tolerance(thread, "3B") == Fraction(3, 4) * t.pitch_diameter_tolerance(thread, "2B")


def test_tolerances_count_a_diameter_of_engagement_in_the_standard_series_and_nine_pitches_elsewhere() -> None:
    assert t.engagement_length(t.parse_thread("1-12", "UNF")) == 1
    assert t.engagement_length(t.parse_thread("1-8", "8UN")) == 1
    assert t.engagement_length(t.parse_thread("1/4-28", "UNJF")) == Fraction(1, 4)
    assert t.engagement_length(t.parse_thread("1-14", "UNS")) == Fraction(9, 14)


def test_without_a_series_no_tolerance_is_made_up() -> None:
    thread = t.parse_thread("1/4-28")
    for refused in (lambda: t.external_limits(thread, "2A"), lambda: t.internal_limits(thread)):
        with pytest.raises(ValueError, match="series"):
            refused()


def test_classes_and_forms_without_formula_are_refused() -> None:
    with pytest.raises(ValueError, match="no tolerance formula"):
        t.pitch_diameter_tolerance(t.parse_thread("1/4-28", "UNF"), "1A")
    with pytest.raises(ValueError, match="UNJ"):
        t.internal_limits(t.parse_thread("1/4-28", "UNJF"))


def test_small_nuts_have_their_own_minor_tolerance_with_a_floor() -> None:
    quarter, ten = t.parse_thread("1/4-20", "UNC"), t.parse_thread("10-24", "UNC")
    assert t.internal_minor_tolerance(quarter) == Fraction(1, 80) - Fraction("0.4") / 400
    assert t.internal_minor_tolerance(ten) > ten.pitch / 4 - Fraction("0.4") * ten.pitch**2
    # the floor governs where the pitch is coarse for the size
    coarse = t.Thread(Fraction("0.24"), 20, "UNS")
    assert t.internal_minor_tolerance(coarse) == coarse.pitch / 4 - Fraction("0.4") * coarse.pitch**2
