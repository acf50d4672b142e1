"""An estimate of what a torque does: T = K D F with the scatter that belongs to it.

**An estimate beside a table, never instead of one.** The torque table of AC 43.13-1B does not follow one nut factor:
worked backwards from its stresses (:func:`implied_nut_factor`) its recommended rows run from 0.115 to 0.241. K is no
property of a thread; it changes with plating, lubricant, wear and speed. So every function here wants its K from the
caller, who got it from a row with its conditions.

Torques are inch-pounds, lengths inches, loads pounds-force, stresses psi; Fractions, unrounded.
Equations of NASA TM-106943, numbered as there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from service.joints.formulas.areas import PI
from service.joints.formulas.threads import Thread, pitch_diameter


@dataclass(frozen=True, slots=True)
class PreloadBand:
    """Clamping force: what the formula gives, and the least and the most that scatter and relaxation leave."""

    nominal: Fraction
    low: Fraction
    high: Fraction


def preload(torque: Fraction, nut_factor: Fraction, diameter: Fraction) -> Fraction:
    """F = T / (K D) (eq. 1 without its scatter). ``torque`` is without running drag. ValueError when K or D is not
    above zero."""
    _positive(nut_factor=nut_factor, diameter=diameter)
    return torque / (nut_factor * diameter)


def torque_for(load: Fraction, nut_factor: Fraction, diameter: Fraction) -> Fraction:
    """T = K D F: the inverse of :func:`preload`, running drag to be added."""
    _positive(nut_factor=nut_factor, diameter=diameter)
    return nut_factor * diameter * load


def target_preload(yield_strength: Fraction, area: Fraction, share: Fraction) -> Fraction:
    """``share`` of yield on the stress area; 0.65 in eq. 3, one agency's practice."""
    return share * yield_strength * area


def preload_band(
    nominal: Fraction, scatter: Fraction, relaxation: Fraction = Fraction(0), thermal: Fraction = Fraction(0)
) -> PreloadBand:
    """Least and most preload: (1 + u) P + Pth (eq. 12) and ((1 - u) P - Pth) / (1 + r) (eq. 11, 13).

    ``scatter`` u is 0.25 for a hand torque wrench on lubricated threads and ``relaxation`` r 0.05 of the least
    preload (pages 4 and 6), which gives 0.714 and 1.25 of the nominal (eq. 14, 16). ``thermal`` is the size of the
    load that temperature adds or takes away. ValueError unless 0 <= u < 1, r >= 0 and thermal >= 0.
    """
    if not 0 <= scatter < 1 or relaxation < 0 or thermal < 0:
        raise ValueError(
            f"scatter must be in [0, 1), relaxation and thermal at least 0: {scatter}, {relaxation}, {thermal}"
        )
    return PreloadBand(
        nominal,
        ((1 - scatter) * nominal - thermal) / (1 + relaxation),
        (1 + scatter) * nominal + thermal,
    )


def preload_from_torques(
    low: Fraction,
    high: Fraction,
    factors: tuple[Fraction, Fraction],
    diameter: Fraction,
    relaxation: Fraction = Fraction(0),
) -> PreloadBand:
    """Preload of a torque range when K lies anywhere between the two ``factors``.

    The most comes from the high torque on the smallest K, the least from the low torque on the largest; nominal is
    the middle torque on the middle K. For rows that give K as a span, such as 0.11 to 0.15.
    """
    smallest, largest = min(factors), max(factors)
    return PreloadBand(
        preload((low + high) / 2, (smallest + largest) / 2, diameter),
        preload(low, largest, diameter) / (1 + relaxation),
        preload(high, smallest, diameter),
    )


def implied_nut_factor(torque: Fraction, stress: Fraction, area: Fraction, diameter: Fraction) -> Fraction:
    """K that would make ``torque`` give ``stress`` on ``area``: T / (stress x area x D). Shows whether a table
    follows one K."""
    _positive(stress=stress, area=area, diameter=diameter)
    return torque / (stress * area * diameter)


def nut_factor_from_friction(thread: Thread, thread_friction: Fraction, face_friction: Fraction) -> Fraction:
    """K from friction (eq. 2): (Dp/2D) (tan psi + mu sec alpha) / (1 - mu tan psi sec alpha) + 0.625 mu_c.

    psi is the helix angle, alpha the 30 degree half angle; the face is taken as 1.25 D across. Worked in floating
    point, right to 12 digits.
    """
    mean = pitch_diameter(thread)
    rise = thread.pitch / (PI * mean)
    secant = Fraction(1 / math.cos(math.pi / 6))
    screw = (rise + thread_friction * secant) / (1 - thread_friction * rise * secant)
    return mean / (2 * thread.diameter) * screw + Fraction("0.625") * face_friction


def _positive(**values: Fraction) -> None:
    for name, value in values.items():
        if value <= 0:
            raise ValueError(f"{name.replace('_', ' ')} must be above zero: {value}")
