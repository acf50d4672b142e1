"""The general-purpose library pint: torque conversions and the standard sizes in other units."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from service.joints.formulas.torque import TORQUE_UNITS, convert_torque

UNITS = pint.UnitRegistry()
#: UCUM code -> the library's own expression
PINT = {
    "N.m": "newton * meter",
    "kgf.m": "kilogram_force * meter",
    "kgf.cm": "kilogram_force * centimeter",
    "[in_i].[lbf_av]": "inch * pound_force",
    "[ft_i].[lbf_av]": "foot * pound_force",
    "[in_i].[oz_av].[g]": "inch * ounce * standard_gravity",
}


def test_every_unit_offered_is_checked() -> None:
    assert set(PINT) == set(TORQUE_UNITS)


@pytest.mark.parametrize("unit", list(PINT))
@pytest.mark.parametrize("to", list(PINT))
def test_factors_agree(unit: str, to: str) -> None:
    expected = UNITS.Quantity(70, PINT[unit]).to(PINT[to]).magnitude
    assert float(convert_torque(Fraction(70), unit, to)) == pytest.approx(expected, rel=1e-12)


def test_a_foot_pound_is_twelve_inch_pounds_and_sixteen_ounces_make_a_pound() -> None:
    assert convert_torque(Fraction(1), "[ft_i].[lbf_av]", "[in_i].[lbf_av]") == 12
    assert convert_torque(Fraction(1), "[in_i].[lbf_av]", "[in_i].[oz_av].[g]") == 16
