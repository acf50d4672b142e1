"""Ultimate loads of a fastener and of the sheet around it: shear, bearing, tension, thread stripping, tear-out.

Each is a stress times an area, and each says which area, because published loads differ in nothing else: a rivet's
shear may be worked on its shank or on the hole it fills. Stresses are psi, lengths inches, loads pounds-force, all
Fractions, unrounded. Stresses, factors and coefficients come in from rows; this module holds none but the equations'
own.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from service.joints.formulas.areas import PI, circle_area

#: Share of pi Le D that NASA TM-106943 eq. 76 prints for internal threads (its table III was worked with 7/8).
INTERNAL_THREAD_SHARE: Final = Fraction(3, 4)
#: Share of pi Le D that NASA TM-106943 eq. 63 prints for external threads.
EXTERNAL_THREAD_SHARE: Final = Fraction(5, 8)


def single_shear(diameter: Fraction, shear_strength: Fraction) -> Fraction:
    """Load that shears one section of a shank, or of a rivet filling a hole of ``diameter`` (MIL-HDBK-5, 8.1.5)."""
    return circle_area(diameter) * shear_strength


def tension(area: Fraction, strength: Fraction) -> Fraction:
    """Load that ``strength`` gives on ``area``; say whether that is the stress area or the minor diameter's."""
    return area * strength


def bearing(diameter: Fraction, thickness: Fraction, bearing_strength: Fraction) -> Fraction:
    """Load that crushes a hole: bearing strength x D x t (NASA TM-106943 eq. 73; MIL-HDBK-5, 8.1.5.1)."""
    return bearing_strength * diameter * thickness


def thickness_ratio(thickness: Fraction, diameter: Fraction) -> Fraction:
    """t/D of a rivet or bolt hole; MIL-HDBK-5H p. 8-9 lists bearing stresses for 0.18 and up only."""
    return thickness / diameter


def thread_shear_area(engaged: Fraction, diameter: Fraction, share: Fraction) -> Fraction:
    """Area that strips: ``share`` x pi x length engaged x diameter (NASA TM-106943 eq. 63 and 76)."""
    return share * PI * engaged * diameter


def internal_thread_pull_out(
    engaged: Fraction, major: Fraction, shear_strength: Fraction, share: Fraction = INTERNAL_THREAD_SHARE
) -> Fraction:
    """Load that strips the nut or insert: its shear strength x 3/4 pi Le x the screw's major diameter (eq. 76)."""
    return shear_strength * thread_shear_area(engaged, major, share)


def external_thread_pull_out(engaged: Fraction, internal_minor: Fraction, shear_strength: Fraction) -> Fraction:
    """Load that strips the screw: its shear strength x 5/8 pi Le x the nut's minor diameter (eq. 63)."""
    return shear_strength * thread_shear_area(engaged, internal_minor, EXTERNAL_THREAD_SHARE)


def tear_out(edge: Fraction, diameter: Fraction, thickness: Fraction, shear_strength: Fraction) -> Fraction:
    """Load that tears the hole out to the edge: shear strength x 2 t (e - D/2) (NASA TM-106943 eq. 70).

    ``edge`` is from the hole's centre. ValueError when the hole reaches the edge.
    """
    ligament = edge - diameter / 2
    if ligament <= 0:
        raise ValueError(f"a hole of {diameter} in reaches an edge {edge} in from its centre")
    return shear_strength * 2 * thickness * ligament


def margin(allowable: Fraction, load: Fraction) -> Fraction:
    """Margin of safety, allowable / load - 1 (NASA TM-106943 eq. 53); the caller's load carries its safety factor."""
    if load <= 0:
        raise ValueError(f"a margin needs a load above zero: {load}")
    return allowable / load - 1


def interaction(tension_ratio: Fraction, shear_ratio: Fraction) -> Fraction:
    """Rt^2 + Rs^3, at most 1 where a bolt carries tension and shear together (NASA TM-106943 eq. 56)."""
    return tension_ratio**2 + shear_ratio**3
