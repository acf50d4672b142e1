"""T = K D F and its scatter by their own logic, and how far the torque table is from one K."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.joints.formulas import preload as p
from service.joints.formulas.threads import Thread
from tests.joints.inches import inches, positive, threads

factors = inches("0.08", "0.35")


@given(positive(), factors, positive(2))
def test_torque_and_preload_are_each_others_inverse(torque: Fraction, factor: Fraction, diameter: Fraction) -> None:
    assert p.torque_for(p.preload(torque, factor, diameter), factor, diameter) == torque


@given(positive(), factors, positive(2))
def test_a_slipperier_thread_clamps_harder(torque: Fraction, factor: Fraction, diameter: Fraction) -> None:
    assert p.preload(torque, factor, diameter) > p.preload(torque, factor + Fraction(1, 1000), diameter)


@given(positive(), inches("0", "0.9"), inches("0", "0.1"), positive(50))
def test_the_band_holds_the_nominal_and_only_widens(
    nominal: Fraction, scatter: Fraction, relaxation: Fraction, thermal: Fraction
) -> None:
    bare = p.preload_band(nominal, scatter)
    assert bare.low <= nominal <= bare.high
    for wider in (
        p.preload_band(nominal, scatter + Fraction(1, 20)),
        p.preload_band(nominal, scatter, relaxation),
        p.preload_band(nominal, scatter, Fraction(0), thermal),
    ):
        assert wider.low <= bare.low
        assert wider.high >= bare.high


def test_without_scatter_the_band_is_a_point() -> None:
    assert p.preload_band(Fraction(100), Fraction(0)) == p.PreloadBand(Fraction(100), Fraction(100), Fraction(100))


def test_heat_takes_from_the_least_and_adds_to_the_most() -> None:
    band = p.preload_band(Fraction(1000), Fraction(1, 4), Fraction("0.05"), Fraction(100))
    assert (band.low, band.high) == (Fraction(650) / Fraction("1.05"), 1350)


@pytest.mark.parametrize(
    ("scatter", "relaxation", "thermal"),
    [("1", "0", "0"), ("-0.1", "0", "0"), ("0.2", "-0.1", "0"), ("0.2", "0", "-1")],
)
def test_scatter_that_is_none_is_refused(scatter: str, relaxation: str, thermal: str) -> None:
    with pytest.raises(ValueError, match="scatter"):
        p.preload_band(Fraction(1), Fraction(scatter), Fraction(relaxation), Fraction(thermal))


@given(positive(), positive(), factors, factors, positive(2))
def test_a_span_of_k_bounds_every_preload_within(
    low: Fraction, above: Fraction, first: Fraction, second: Fraction, diameter: Fraction
) -> None:
    band = p.preload_from_torques(low, low + above, (first, second), diameter)
    for torque in (low, low + above):
        for factor in (first, second):
            assert band.low <= p.preload(torque, factor, diameter) <= band.high
    assert band.low <= band.nominal <= band.high
    assert band == p.preload_from_torques(low, low + above, (second, first), diameter)


def test_relaxation_lowers_only_the_least() -> None:
    kept = p.preload_from_torques(Fraction(50), Fraction(70), (Fraction("0.2"), Fraction("0.2")), Fraction(1, 4))
    less = p.preload_from_torques(
        Fraction(50), Fraction(70), (Fraction("0.2"), Fraction("0.2")), Fraction(1, 4), Fraction("0.05")
    )
    assert (kept.low, kept.nominal, kept.high) == (1000, 1200, 1400)
    assert (less.low, less.nominal, less.high) == (1000 / Fraction("1.05"), 1200, 1400)


@given(positive(), factors, threads)
def test_the_implied_factor_is_the_k_that_was_used(load: Fraction, factor: Fraction, thread: Thread) -> None:
    torque = p.torque_for(load, factor, thread.diameter)
    assert p.implied_nut_factor(torque, load, Fraction(1), thread.diameter) == factor


def test_the_target_is_a_share_of_yield() -> None:
    assert p.target_preload(Fraction(85000), Fraction("0.02"), Fraction("0.65")) == 1105


@pytest.mark.parametrize("zero", ["nut factor", "diameter"])
def test_k_and_diameter_must_be_above_zero(zero: str) -> None:
    factor, diameter = (Fraction(0), Fraction(1)) if zero == "nut factor" else (Fraction(1), Fraction(0))
    with pytest.raises(ValueError, match=f"{zero} must be above zero"):
        p.preload(Fraction(1), factor, diameter)
    with pytest.raises(ValueError, match=f"{zero} must be above zero"):
        p.torque_for(Fraction(1), factor, diameter)


@pytest.mark.parametrize("place", [0, 1, 2])
def test_an_implied_factor_needs_stress_area_and_diameter(place: int) -> None:
    values = [Fraction(1), Fraction(1), Fraction(1)]
    values[place] = Fraction(0)
    with pytest.raises(ValueError, match="above zero"):
        p.implied_nut_factor(Fraction(1), *values)


@given(threads, inches("0.05", "0.3"), inches("0.05", "0.3"))
def test_more_friction_is_a_larger_k(thread: Thread, screw: Fraction, face: Fraction) -> None:
    held = p.nut_factor_from_friction(thread, screw, face)
    assert p.nut_factor_from_friction(thread, screw + Fraction(1, 100), face) > held
    assert p.nut_factor_from_friction(thread, screw, face + Fraction(1, 100)) > held


@given(threads)
def test_without_friction_k_is_the_rise_of_the_helix(thread: Thread) -> None:
    """Work in equals work out: 2 pi K D F = p F."""
    found = p.nut_factor_from_friction(thread, Fraction(0), Fraction(0))
    assert float(found) == pytest.approx(float(thread.pitch / thread.diameter) / (2 * math.pi), rel=1e-12)


@given(st.sampled_from(["0", "-1"]), factors)
def test_relaxed_and_strict_inputs_are_told_apart(torque: str, factor: Fraction) -> None:
    """No torque is a torque, and gives no preload; a loosening torque gives a pull the other way, not an error."""
    assert p.preload(Fraction(torque), factor, Fraction(1)) <= 0
