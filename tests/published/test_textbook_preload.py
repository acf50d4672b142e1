"""Two textbooks on bolted joints: T = K D F at five nut factors (page 85, figure 3.7), and K from friction (chapter 8).

The first was read in a reproduction. The second is the remark of a design textbook that with both friction coefficients at 0.15 K is
close to 0.20 whatever the size and whether the thread is coarse or fine (from memory).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.preload import nut_factor_from_friction, preload, torque_for
from service.joints.formulas.threads import parse_thread

DIAMETER, LOAD = Fraction("0.190"), Fraction(1275)


@pytest.mark.parametrize(
    ("factor", "printed"), [("0.30", "72.7"), ("0.25", "60.6"), ("0.20", "48.5"), ("0.15", "36.3"), ("0.10", "24.2")]
)
def test_the_torque_of_a_no_10_screw_at_1275_lbf(factor: str, printed: str) -> None:
    found = torque_for(LOAD, Fraction(factor), DIAMETER)
    assert abs(found - Fraction(printed)) <= Fraction("0.05")
    assert preload(found, Fraction(factor), DIAMETER) == LOAD


@pytest.mark.parametrize(
    "thread", ["1/4-20", "1/4-28", "3/8-16", "3/8-24", "1/2-13", "1/2-20", "3/4-10", "3/4-16", "1-8", "1-12"]
)
def test_friction_of_0_15_makes_k_about_0_20_at_any_size(thread: str) -> None:
    found = nut_factor_from_friction(parse_thread(thread), Fraction("0.15"), Fraction("0.15"))
    assert float(found) == pytest.approx(0.20, abs=0.012)
