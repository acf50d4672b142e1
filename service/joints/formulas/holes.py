"""Holes: the first drill above a diameter, and the room or interference between hole and shank. Lengths are inches."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from service.joints.formulas.stack import Span


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill by its designation (``F``, ``No. 30``, ``1/4``) and diameter."""

    designation: str
    diameter: Fraction


def first_above(diameter: Fraction, drills: Iterable[Drill]) -> Drill | None:
    """The smallest drill that is larger than ``diameter``, None when there is none.

    With the letter drills alone this is the rule of AC 43.13-1B 7-39. It is of use for 1/4, 5/16 and 3/8 in only:
    from No. 10 it jumps to A (.234), and the letters end at Z (.413). The caller serves it where a row says that it
    holds.
    """
    return min((drill for drill in drills if drill.diameter > diameter), key=lambda drill: drill.diameter, default=None)


def fit(hole: Span, shank: Span) -> Span:
    """Hole less shank at worst case; below zero is interference."""
    return hole - shank
