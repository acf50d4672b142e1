"""How many rivets a splice needs: the cells of AC 43.13-1B tables 4-9 to 4-11 worked from first principles, and the
count.

A table's cell is rivets per inch of width on each side of the joint. The engineering notes below each table give the
rule: enough rivets that neither the sheet crushes in bearing nor the rivets shear before the sheet would tear. With
rivet shear k and sheet bearing b as shares of the sheet's tensile strength, a hole of diameter d and a sheet t thick:

    bearing: 1 / (b d)        shear: t / (k pi d^2 / 4)        the cell: the larger of the two

The printed cell stands; the worked one is its check. The ratios come from rows (table 4-10 leaves its k unprinted,
table 4-11's cells fit b = 1.65 where 1.60 is printed). Lengths are inches, loads pounds-force, stresses psi, all
Fractions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from service.joints.formulas.areas import circle_area

Mode = Literal["bearing", "shear"]
CountOrder = Literal["factor-first", "width-first"]


@dataclass(frozen=True, slots=True)
class PerInch:
    """Fasteners per inch of width that each mode asks for; the larger governs."""

    bearing: Fraction
    shear: Fraction

    @property
    def needed(self) -> Fraction:
        """The larger of the two, unrounded."""
        return max(self.bearing, self.shear)

    @property
    def mode(self) -> Mode:
        """Which of the two governs."""
        return "shear" if self.shear > self.bearing else "bearing"


def rivets_per_inch(thickness: Fraction, hole: Fraction, shear_ratio: Fraction, bearing_ratio: Fraction) -> PerInch:
    """Rivets per inch for a sheet of ``thickness`` and a nominal ``hole``, from the two ratios of the table's notes.

    ValueError when an argument is not above zero.
    """
    _positive(thickness, hole, shear_ratio, bearing_ratio)
    return PerInch(1 / (bearing_ratio * hole), thickness / (shear_ratio * circle_area(hole)))


def bolts_per_inch(
    thickness: Fraction, diameter: Fraction, tensile_strength: Fraction, single_shear: Fraction, bearing_ratio: Fraction
) -> PerInch:
    """Bolts per inch: the same with the bolt's own shear load, t x sheet tensile strength / load (the tables' bolt
    column).

    ValueError when an argument is not above zero.
    """
    _positive(thickness, diameter, tensile_strength, single_shear, bearing_ratio)
    return PerInch(1 / (bearing_ratio * diameter), thickness * tensile_strength / single_shear)


def splice_count(per_inch: Fraction, width: Fraction, factor: Fraction, order: CountOrder) -> int:
    """Fasteners on each side of the joint for ``width`` inches, with one factor of the table's notes.

    The circular rounds in two ways. ``factor-first`` (4-58 g(2)(b), sheet): per inch x factor x width, rounded up
    once. ``width-first`` (figure 4-20, frame): per inch x width rounded up, then x factor, rounded up again; never
    fewer. The example rounds the factored number per inch to one decimal on the way; that step is left out, because
    it can round a need down. ValueError unless the need and width are above zero and the factor lies in (0, 1].
    """
    _positive(per_inch, width, factor)
    if factor > 1:
        raise ValueError(f"the notes' factors reduce: {factor} is above 1")
    if order == "width-first":
        return math.ceil(math.ceil(per_inch * width) * factor)
    return math.ceil(per_inch * width * factor)


def count_by_load(
    width: Fraction, thickness: Fraction, tensile_strength: Fraction, shear_load: Fraction, bearing_load: Fraction
) -> int:
    """The older handbook's count for each side of a break: width x t x tensile strength over the weaker of shear and
    bearing.

    AC 65-15A ch. 5, written down from memory (75,000 psi there). ValueError when an argument is not above zero.
    """
    _positive(width, thickness, tensile_strength, shear_load, bearing_load)
    return math.ceil(width * thickness * tensile_strength / min(shear_load, bearing_load))


def _positive(*values: Fraction) -> None:
    if any(value <= 0 for value in values):
        raise ValueError(f"every argument must be above zero: {', '.join(map(str, values))}")
