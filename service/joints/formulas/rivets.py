"""A solid rivet for a pack of sheets: length, diameter, shop head, edge distance and pitch.

Documents differ, so a limit is never built in: a *practice* is a handful of factors from the rows of one document,
and every verdict carries the practice's name. Lengths are inches as Fractions.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

LengthRounding = Literal["next-above", "nearest"]

#: Rivet lengths step by a sixteenth; half steps exist and are the caller's choice.
SIXTEENTH: Final = Fraction(1, 16)


@dataclass(frozen=True, slots=True)
class SpacingPractice:
    """Edge distance, pitch and row spacing of one document, in rivet diameters; None where it says nothing."""

    name: str
    edge_min: Fraction | None = None
    edge_max: Fraction | None = None
    pitch_min: Fraction | None = None
    pitch_max: Fraction | None = None
    row_min: Fraction | None = None


@dataclass(frozen=True, slots=True)
class ShopHeadPractice:
    """Shop head of one document, in rivet diameters; None where it says nothing."""

    name: str
    diameter_min: Fraction | None = None
    diameter_max: Fraction | None = None
    height_min: Fraction | None = None
    height_max: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Breach:
    """A measured dimension outside a practice's limit: by how much, and whose limit it is."""

    practice: str
    dimension: str
    measured: Fraction
    limit: Fraction

    @property
    def by(self) -> Fraction:
        """How far outside, inches, always above zero."""
        return abs(self.measured - self.limit)


@dataclass(frozen=True, slots=True)
class DiameterCheck:
    """How a rivet diameter stands to the thickest sheet."""

    #: D over the thickest sheet
    ratio: Fraction
    at_least_sheet: bool
    at_most_three_sheets: bool


def computed_length(grip: Fraction, diameter: Fraction, allowance: Fraction = Fraction(3, 2)) -> Fraction:
    """Grip plus the shank that makes the shop head: G + 1.5 D (NAVEDTRA 14018 ch. 13; FAA-H-8083-31 ch. 4).

    Three Army manuals print 1/2 D, believed to have lost a digit. For a flush rivet the grip counts from the flush
    surface, because its length includes the head. ValueError when a dimension is not above zero.
    """
    if grip <= 0 or diameter <= 0:
        raise ValueError(f"grip and diameter must be above zero: {grip}, {diameter}")
    return grip + allowance * diameter


def standard_length(computed: Fraction, rounding: LengthRounding, step: Fraction = SIXTEENTH) -> Fraction:
    """A length that is made, by one of the two published roundings.

    ``next-above``: TM 10-5410-229-13&P para 5-6(2). ``nearest``: what FAA test items and course examples do; a tie
    goes up, so that the head does not come out short. The two differ by one step for two .040 sheets and a 1/8 rivet.
    """
    steps = computed / step
    return (math.ceil(steps) if rounding == "next-above" else math.floor(steps + Fraction(1, 2))) * step


def target_diameter(thickest: Fraction) -> Fraction:
    """Three times the thickest sheet (AC 43.13-1B 4-58 g(2)(a)); NAVEDTRA 14018 makes that the upper limit."""
    return 3 * thickest


def next_diameter(target: Fraction, made: Iterable[Fraction]) -> Fraction | None:
    """The smallest diameter made that is not below ``target``, as the circular's example chooses; None when there is
    none."""
    return min((diameter for diameter in made if diameter >= target), default=None)


def check_diameter(diameter: Fraction, sheets: Sequence[Fraction]) -> DiameterCheck:
    """``diameter`` against the thickest of ``sheets``: not thinner than it, not over three times it (NAVEDTRA 14018
    ch. 13).

    ValueError without sheets.
    """
    if not sheets:
        raise ValueError("a rivet needs sheets to hold")
    thickest = max(sheets)
    return DiameterCheck(diameter / thickest, diameter >= thickest, diameter <= 3 * thickest)


def check_spacing(
    diameter: Fraction,
    practice: SpacingPractice,
    *,
    edge: Fraction | None = None,
    pitch: Fraction | None = None,
    row: Fraction | None = None,
) -> tuple[Breach, ...]:
    """What of the given distances breaks ``practice``; distances are from hole centres."""
    return _breaches(
        practice.name,
        diameter,
        [
            ("edge distance", edge, practice.edge_min, practice.edge_max),
            ("pitch", pitch, practice.pitch_min, practice.pitch_max),
            ("row spacing", row, practice.row_min, None),
        ],
    )


def check_shop_head(
    diameter: Fraction, practice: ShopHeadPractice, *, width: Fraction | None = None, height: Fraction | None = None
) -> tuple[Breach, ...]:
    """What of the measured shop head breaks ``practice``."""
    return _breaches(
        practice.name,
        diameter,
        [
            ("shop head diameter", width, practice.diameter_min, practice.diameter_max),
            ("shop head height", height, practice.height_min, practice.height_max),
        ],
    )


def rivets_in_row(width: Fraction, edge: Fraction, pitch: Fraction) -> int:
    """How many rivets fit in a row across ``width`` with ``edge`` left at both ends and ``pitch`` between. 0 when
    none does.

    ValueError when the pitch is not above zero.
    """
    if pitch <= 0:
        raise ValueError(f"a pitch must be above zero: {pitch}")
    room = width - 2 * edge
    return 0 if room < 0 else math.floor(room / pitch) + 1


def _breaches(
    practice: str,
    diameter: Fraction,
    measured: Sequence[tuple[str, Fraction | None, Fraction | None, Fraction | None]],
) -> tuple[Breach, ...]:
    found: list[Breach] = []
    for dimension, value, least, most in measured:
        if value is None:
            continue
        if least is not None and value < least * diameter:
            found.append(Breach(practice, dimension, value, least * diameter))
        elif most is not None and value > most * diameter:
            found.append(Breach(practice, dimension, value, most * diameter))
    return tuple(found)
