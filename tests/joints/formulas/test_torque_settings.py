"""Torque ranges, adapted wrenches, castellated windows and units, by their own logic."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.joints.formulas import torque as q
from tests.joints.inches import positive

UNITS = st.sampled_from(q.TORQUE_UNITS)


@st.composite
def ranges(draw: st.DrawFn) -> q.TorqueRange:
    low = draw(positive())
    return q.TorqueRange(low, low + draw(positive()))


def test_a_range_must_rise_and_not_reach_below_zero() -> None:
    with pytest.raises(ValueError, match="above the high end"):
        q.TorqueRange(Fraction(3), Fraction(2))
    with pytest.raises(ValueError, match="below zero"):
        q.TorqueRange(Fraction(-1), Fraction(2))
    with pytest.raises(ValueError, match="below zero"):
        q.TorqueRange(None, Fraction(-2))
    assert q.TorqueRange(Fraction(0), Fraction(0)).contains(Fraction(0))


def test_a_maximum_contains_everything_below_it() -> None:
    most = q.TorqueRange(None, Fraction(100))
    assert most.contains(Fraction(0))
    assert most.contains(Fraction(100))
    assert not most.contains(Fraction(101))


def test_both_ends_of_a_range_belong_to_it() -> None:
    held = q.TorqueRange(Fraction(50), Fraction(70))
    assert held.contains(Fraction(50))
    assert held.contains(Fraction(70))
    assert not held.contains(Fraction(49))


@given(ranges(), positive())
def test_drag_moves_both_ends_by_itself(torque: q.TorqueRange, drag: Fraction) -> None:
    found = q.add_drag(torque, drag)
    assert torque.low is not None
    assert (found.low, found.high) == (torque.low + drag, torque.high + drag)
    assert q.add_drag(q.TorqueRange(None, torque.high), drag) == q.TorqueRange(None, torque.high + drag)


def test_no_drag_changes_nothing_and_a_negative_one_is_refused() -> None:
    held = q.TorqueRange(Fraction(50), Fraction(70))
    assert q.add_drag(held, Fraction(0)) == held
    with pytest.raises(ValueError, match="drag"):
        q.add_drag(held, Fraction(-1))


@pytest.mark.parametrize(("drag", "low"), [("15", "60"), ("19.9", "60"), ("20", "80"), ("21", "81")])
def test_one_practice_leaves_drag_out_below_a_third_of_the_low_end(drag: str, low: str) -> None:
    held = q.TorqueRange(Fraction(60), Fraction(90))
    assert q.add_drag(held, Fraction(drag), "from-a-third").low == Fraction(low)
    assert q.add_drag(held, Fraction(drag)).low == 60 + Fraction(drag)


def test_for_a_maximum_the_third_is_taken_of_the_high_end() -> None:
    most = q.TorqueRange(None, Fraction(90))
    assert q.add_drag(most, Fraction(29), "from-a-third") == most
    assert q.add_drag(most, Fraction(30), "from-a-third").high == 120


def test_straight_on_lengthens_folded_back_shortens_square_does_neither() -> None:
    straight = q.wrench_setting(Fraction(120), Fraction(10), Fraction(2))
    square = q.wrench_setting(Fraction(120), Fraction(10), Fraction(2), Fraction(90))
    folded = q.wrench_setting(Fraction(120), Fraction(10), Fraction(2), Fraction(180))
    assert (straight.reading, straight.effect, straight.effective_length) == (100, "lengthens", 12)
    assert (square.reading, square.effect, square.effective_length) == (120, "none", 10)
    assert (folded.reading, folded.effect, folded.effective_length) == (150, "shortens", 8)


@pytest.mark.parametrize(
    ("degrees", "length"), [(0, 14), (60, 12), (90, 10), (120, 8), (180, 6), (270, 10), (300, 12), (360, 14), (-60, 12)]
)
def test_the_lever_at_the_common_angles_is_exact(degrees: int, length: int) -> None:
    assert q.effective_length(Fraction(10), Fraction(4), Fraction(degrees)) == length


def test_the_lever_at_45_degrees_is_the_half_root_of_two() -> None:
    found = q.effective_length(Fraction(10), Fraction(4), Fraction(45))
    assert float(found) == pytest.approx(10 + 4 * 2**0.5 / 2, abs=1e-12)


def test_without_an_angle_the_adapter_stands_straight_on() -> None:
    """85 at the wrench with 10 in and 1.5 in is 85 x 11.5 / 10 at the fastener (AC 43.13-1B 7-40 h)."""
    assert q.applied_torque(Fraction(85), Fraction(10), Fraction("1.5")) == Fraction("97.75")
    assert q.wrench_setting(Fraction("97.75"), Fraction(10), Fraction("1.5")).reading == 85


def test_a_concentric_attachment_changes_nothing() -> None:
    assert q.wrench_setting(Fraction(70), Fraction(10), Fraction(0)).reading == 70
    assert q.wrench_setting(Fraction(70), Fraction(10), Fraction(0)).effect == "none"


@given(positive(), positive(30), positive(20), st.integers(0, 180))
def test_the_applied_torque_is_the_inverse_of_the_reading(
    torque: Fraction, wrench: Fraction, adapter: Fraction, angle: int
) -> None:
    assume(adapter < wrench)
    setting = q.wrench_setting(torque, wrench, adapter, Fraction(angle))
    assert q.applied_torque(setting.reading, wrench, adapter, Fraction(angle)) == torque


@given(positive(), positive(30), positive(20), st.integers(0, 179))
def test_the_reading_rises_as_the_adapter_folds_back(
    torque: Fraction, wrench: Fraction, adapter: Fraction, angle: int
) -> None:
    assume(adapter < wrench)
    opened = q.wrench_setting(torque, wrench, adapter, Fraction(angle))
    folded = q.wrench_setting(torque, wrench, adapter, Fraction(angle + 1))
    assert opened.reading < folded.reading


def test_a_wrench_without_lever_is_refused() -> None:
    for wrench, adapter, angle in ((0, 1, 0), (-1, 1, 0), (10, -1, 0), (4, 4, 180), (4, 5, 180)):
        with pytest.raises(ValueError, match=r"above zero|no lever"):
            q.wrench_setting(Fraction(1), Fraction(wrench), Fraction(adapter), Fraction(angle))


@given(ranges(), positive(), positive())
def test_the_castellated_window_opens_at_the_least_and_closes_at_the_maximum(
    torque: q.TorqueRange, above: Fraction, drag: Fraction
) -> None:
    assert torque.low is not None
    window = q.castellated_window(torque, torque.high + above, drag)
    assert (window.start, window.aim, window.limit) == (
        torque.low + drag,
        torque.high + drag,
        torque.high + above + drag,
    )


def test_a_window_needs_a_least_torque_and_a_maximum_above_the_range() -> None:
    with pytest.raises(ValueError, match="recommended minimum"):
        q.castellated_window(q.TorqueRange(None, Fraction(70)), Fraction(100), Fraction(0))
    with pytest.raises(ValueError, match="above the maximum"):
        q.castellated_window(q.TorqueRange(Fraction(50), Fraction(70)), Fraction(69), Fraction(0))
    assert q.castellated_window(q.TorqueRange(Fraction(50), Fraction(70)), Fraction(70), Fraction(0)).limit == 70


@given(positive(), UNITS, UNITS)
def test_units_convert_there_and_back_exactly(value: Fraction, unit: str, to: str) -> None:
    assert q.convert_torque(q.convert_torque(value, unit, to), to, unit) == value


@given(positive(), UNITS, UNITS, UNITS)
def test_a_detour_over_a_third_unit_changes_nothing(value: Fraction, unit: str, between: str, to: str) -> None:
    assert q.convert_torque(q.convert_torque(value, unit, between), between, to) == q.convert_torque(value, unit, to)


def test_units_that_are_no_torque_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match="'furlong'"):
        q.convert_torque(Fraction(1), "furlong", "N.m")
    with pytest.raises(ValueError, match=r"'\[in_i\]'"):
        q.convert_torque(Fraction(1), "N.m", "[in_i]")


@given(ranges(), st.integers(0, 4))
def test_a_rounded_range_never_reaches_outside(torque: q.TorqueRange, places: int) -> None:
    assert torque.low is not None
    try:
        found = q.round_range(torque, places)
    except ValueError:
        assert torque.high - torque.low < Fraction(1, 10**places)
        return
    assert found.low is not None
    assert torque.low <= found.low < torque.low + Fraction(1, 10**places)
    assert torque.high - Fraction(1, 10**places) < found.high <= torque.high


def test_ranges_round_inwards_and_settings_half_to_even() -> None:
    assert q.round_range(q.TorqueRange(Fraction("5.61"), Fraction("7.99")), 0) == q.TorqueRange(
        Fraction(6), Fraction(7)
    )
    assert q.round_range(q.TorqueRange(None, Fraction("7.99")), 1) == q.TorqueRange(None, Fraction("7.9"))
    assert [q.round_setting(Fraction(text), 0) for text in ("0.5", "1.5", "2.5", "117.39")] == [0, 2, 2, 117]
    assert q.round_setting(Fraction("117.391"), 2) == Fraction("117.39")


def test_a_range_narrower_than_the_rounding_is_refused() -> None:
    with pytest.raises(ValueError, match="no torque of 0 decimals"):
        q.round_range(q.TorqueRange(Fraction("5.2"), Fraction("5.8")), 0)
