"""Cotter hole against slots, and what a change of washers turns, by their own logic."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.joints.formulas import clocking as c
from service.joints.formulas.stack import Shank, Span, Stack, exactly
from tests.joints.inches import inches, spans

NUT = c.nominal_nut(Fraction("0.2"), Fraction("0.3"))
PITCH = Fraction(1, 28)
PIN = Fraction(1, 16)
packs = st.lists(st.tuples(st.text("abc", min_size=1, max_size=3), inches("0", "0.13")), min_size=1, max_size=6)


def fit(clamped: str, length: str = "1", hole: str = "0.1") -> c.SlotFit:
    shank = Shank(exactly(Fraction("0.3")), exactly(Fraction(length)), PITCH)
    return c.slot_fit(Stack((exactly(Fraction(clamped)),)), shank, exactly(Fraction(hole)), PIN, NUT)


def test_the_hole_is_measured_from_the_nuts_face() -> None:
    found = fit("0.65")
    assert found.centre == exactly(Fraction("0.25"))
    assert found.above_bottom == exactly(Fraction("0.05") - PIN / 2)
    assert found.below_top == exactly(Fraction("0.05"))
    assert found.outcome == "always"


def test_half_the_pin_may_stand_above_the_castellation_and_no_more() -> None:
    assert fit("0.6").outcome == "always"
    assert fit("0.599").outcome == "never"


def test_the_pin_must_lie_on_the_slots_bottom_or_above() -> None:
    assert fit(str(Fraction("0.7") - PIN / 2)).outcome == "always"
    assert fit("0.67").outcome == "never"


def test_a_fit_that_hangs_on_the_tolerance_is_told_apart() -> None:
    shank = Shank(exactly(Fraction("0.3")), Span(Fraction("0.98"), Fraction("1.02")), PITCH)
    for clamped, said in (
        ("0.64", "always"),
        ("0.61", "within-tolerance"),
        ("0.66", "within-tolerance"),
        ("0.8", "never"),
        ("0.5", "never"),
    ):
        found = c.slot_fit(Stack((exactly(Fraction(clamped)),)), shank, exactly(Fraction("0.1")), PIN, NUT)
        assert found.outcome == said, clamped


def test_a_pin_without_diameter_is_refused() -> None:
    with pytest.raises(ValueError, match="cotter pin"):
        c.slot_fit(
            Stack((exactly(Fraction(1)),)),
            Shank(exactly(Fraction(1)), exactly(Fraction(2)), PITCH),
            exactly(PIN),
            Fraction(0),
            NUT,
        )


@given(
    spans("0.5", "0.8"),
    spans("0.9", "1.1"),
    spans("0.05", "0.15"),
    inches("0.03", "0.1"),
    spans("0.15", "0.2"),
    spans("0.25", "0.35"),
)
def test_the_clamped_range_is_where_the_pin_always_fits(
    clamped: Span, length: Span, hole: Span, pin: Fraction, bottom: Span, height: Span
) -> None:
    held, bolt, nut = Stack((clamped,)), Shank(exactly(Fraction(0)), length, PITCH), c.CastellatedNut(bottom, height)
    window = c.clamped_range(held, bolt, hole, pin, nut)
    inside = window is not None and window.low <= clamped.low and clamped.high <= window.high
    assert (c.slot_fit(held, bolt, hole, pin, nut).outcome == "always") == inside


def test_the_clamped_range_is_worked_from_the_worst_ends() -> None:
    """Length .98 to 1.02, hole .09 to .11 from the end: the hole is .87 to .93 from the head."""
    bolt = Shank(exactly(Fraction(0)), Span(Fraction("0.98"), Fraction("1.02")), PITCH)
    hole = Span(Fraction("0.09"), Fraction("0.11"))
    nut = c.CastellatedNut(Span(Fraction("0.10"), Fraction("0.12")), Span(Fraction("0.34"), Fraction("0.36")))
    pin = Fraction("0.06")
    # least: .93 - .34; most: .87 - .03 - .12
    window = Span(Fraction("0.59"), Fraction("0.72"))
    assert c.clamped_range(Stack((exactly(Fraction(1)),)), bolt, hole, pin, nut) == window
    widest = Stack((Span(Fraction(1), Fraction("1.13")),))
    assert c.clamped_range(widest, bolt, hole, pin, nut) == window
    assert c.clamped_range(Stack((Span(Fraction(1), Fraction("1.131")),)), bolt, hole, pin, nut) is None


@given(inches("-0.2", "0.2"), inches("-0.2", "0.2"), st.sampled_from([20, 24, 28, 32]))
def test_shifts_add_up_round_the_circle(first: Fraction, second: Fraction, tpi: int) -> None:
    pitch = Fraction(1, tpi)
    one, two, both = (c.slot_shift(by, pitch) for by in (first, second, first + second))
    assert 0 <= one < 1
    assert (one + two) % 1 == both


@given(st.integers(-12, 12), st.sampled_from([20, 24, 28, 32]), st.sampled_from([4, 6]))
def test_a_sixth_of_the_pitch_is_one_slot_and_turns_nothing(steps: int, tpi: int, slots: int) -> None:
    assert c.slot_shift(Fraction(steps, tpi * slots), Fraction(1, tpi), slots) == 0
    assert c.slot_shift(Fraction(2 * steps + 1, 2 * tpi * slots), Fraction(1, tpi), slots) == Fraction(1, 2)


def test_a_thicker_pack_leaves_more_to_turn_until_it_passes_a_slot() -> None:
    assert c.slot_shift(Fraction(1, 28 * 60), PITCH) == Fraction(1, 10)
    assert c.slot_shift(-Fraction(1, 28 * 60), PITCH) == Fraction(9, 10)


def test_a_thicker_pack_moves_the_slot_away_by_its_shift() -> None:
    (found,) = c.choose_pack(Fraction(1, 4), Fraction(0), [("shim", Fraction(1, 28 * 60))], PITCH)
    assert (found.shift, found.remaining) == (Fraction(1, 10), Fraction(7, 20))


def test_a_nut_with_one_slot_turns_all_the_way_round() -> None:
    assert c.slot_shift(Fraction(1, 56), PITCH, 1) == Fraction(1, 2)
    assert c.slot_shift(Fraction(1, 2), Fraction(2), 1) == Fraction(1, 4)


def test_steps_become_degrees() -> None:
    assert c.turn_to_next_slot(Fraction(1, 2)) == 30
    assert c.turn_to_next_slot(Fraction(1, 2), 4) == 45


@given(inches("0", "0.999"), inches("0", "0.13"), packs)
def test_the_first_choice_leaves_least_and_the_present_pack_what_there_was(
    remaining: Fraction, present: Fraction, tried: list[tuple[str, Fraction]]
) -> None:
    found = c.choose_pack(remaining, present, [*tried, ("as it is", present)], PITCH)
    assert len(found) == len(tried) + 1
    left = [choice.remaining for choice in found]
    assert left == sorted(left)
    assert all(0 <= value < 1 for value in left)
    kept = next(choice for choice in found if choice.pack == "as it is")
    assert (kept.shift, kept.remaining) == (0, remaining)


@given(inches("0", "0.999"), inches("0", "0.13"), inches("0", "0.13"))
def test_changing_a_pack_and_changing_it_back_leaves_what_there_was(
    remaining: Fraction, present: Fraction, other: Fraction
) -> None:
    assume(present != other)
    (there,) = c.choose_pack(remaining, present, [("other", other)], PITCH)
    (back,) = c.choose_pack(there.remaining, other, [("present", present)], PITCH)
    assert back.remaining == remaining


def test_what_is_left_is_a_fraction_of_one_step() -> None:
    for remaining in (-1, 1):
        with pytest.raises(ValueError, match="fraction of one step"):
            c.choose_pack(Fraction(remaining), Fraction(0), [], PITCH)
    for pitch, slots in ((0, 6), (1, 0)):
        with pytest.raises(ValueError, match="above zero"):
            c.slot_shift(Fraction(1), Fraction(pitch), slots)
