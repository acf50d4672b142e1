"""Areas of circles and rings, exact but for pi, which is carried to 34 digits and rounded by nobody here."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

#: pi to 34 digits: far beyond any dimension, so that a result is rounded once, by whoever shows it.
PI: Final = Fraction("3.141592653589793238462643383279503")


def circle_area(diameter: Fraction) -> Fraction:
    """Area of a circle of ``diameter``; inches give square inches. ValueError below zero."""
    if diameter < 0:
        raise ValueError(f"a diameter is not negative: {diameter}")
    return PI / 4 * diameter**2


def ring_area(outside: Fraction, inside: Fraction) -> Fraction:
    """Area between two circles, such as the bearing face of a washer. ValueError when ``inside`` is the larger."""
    if inside > outside:
        raise ValueError(f"the hole ({inside}) is larger than the rim ({outside})")
    return circle_area(outside) - circle_area(inside)
