"""Tightening torque: a table's range with drag added, the reading of an adapted wrench, the castellated window, units.

A range comes from one row of one document and is never blended with another's, nor stretched to a size the document
does not give. Torques are Fractions in whatever unit the caller states once; lengths are inches (or any one unit).

Rounding, wherever a torque is shown: a single setting is rounded half to even; the two ends of a range are rounded
inwards, low up and high down, so that a rounded range never reaches outside the printed one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

#: newton metres in one unit, exact: the international inch, pound and standard gravity define them.
_NEWTON_METRES: Final[dict[str, Fraction]] = {
    "N.m": Fraction(1),
    "kgf.m": Fraction("9.80665"),
    "kgf.cm": Fraction("0.0980665"),
    "[in_i].[lbf_av]": Fraction("0.0254") * Fraction("0.45359237") * Fraction("9.80665"),
    "[ft_i].[lbf_av]": Fraction("0.3048") * Fraction("0.45359237") * Fraction("9.80665"),
    "[in_i].[oz_av].[g]": Fraction("0.0254") * Fraction("0.45359237") / 16 * Fraction("9.80665"),
}
#: UCUM codes of the torque units that can be converted.
TORQUE_UNITS: Final = tuple(_NEWTON_METRES)

#: cosines that are exact, so that the common settings of an adapter stay exact.
_EXACT_COSINES: Final = {0: Fraction(1), 60: Fraction(1, 2), 90: Fraction(0), 120: Fraction(-1, 2), 180: Fraction(-1)}

DragPractice = Literal["always", "from-a-third"]
AdapterEffect = Literal["lengthens", "shortens", "none"]


@dataclass(frozen=True, slots=True)
class TorqueRange:
    """Low and high ends of a torque, same unit. A maximum has no low end."""

    low: Fraction | None
    high: Fraction

    def __post_init__(self) -> None:
        if self.low is not None and self.low > self.high:
            raise ValueError(f"the low end {self.low} is above the high end {self.high}")
        if (self.high if self.low is None else self.low) < 0:
            raise ValueError("a torque range does not reach below zero")

    def contains(self, torque: Fraction) -> bool:
        """Whether ``torque`` lies within, ends included."""
        return (self.low is None or self.low <= torque) and torque <= self.high


@dataclass(frozen=True, slots=True)
class WrenchSetting:
    """What the wrench must show for a torque at the fastener, and why."""

    reading: Fraction
    effect: AdapterEffect
    #: wrench length plus the adapter's reach along it
    effective_length: Fraction


@dataclass(frozen=True, slots=True)
class CastellatedWindow:
    """Where a castellated nut may stop: line up from ``start`` on, aim to be done by ``aim``, never pass ``limit``."""

    start: Fraction
    aim: Fraction
    limit: Fraction


def add_drag(torque: TorqueRange, drag: Fraction, practice: DragPractice = "always") -> TorqueRange:
    """The range at the wrench when the nut drags ``drag`` before it seats.

    ``always`` is AC 43.13-1B 7-40 d: final torque is the wanted torque plus the drag. ``from-a-third`` is TM
    5-2330-325-13&P WP 0095: below a third of the recommended torque the drag is left out. That manual does not say
    which end of the range it means; a third of the low end is taken, because adding drag is what the circular asks
    for anyway. ValueError for a negative drag.
    """
    if drag < 0:
        raise ValueError(f"drag is not negative: {drag}")
    if practice == "from-a-third" and drag < (torque.high if torque.low is None else torque.low) / 3:
        return torque
    return TorqueRange(None if torque.low is None else torque.low + drag, torque.high + drag)


def effective_length(wrench: Fraction, adapter: Fraction, degrees: Fraction) -> Fraction:
    """Lever from hand to fastener along the wrench: L + E cos a, a = 0 straight on, 180 folded back (TM 9-254 fig. 46).

    ValueError when the wrench has no length, the adapter a negative one, or the fastener comes at or behind the hand.
    """
    if wrench <= 0 or adapter < 0:
        raise ValueError(f"lengths must be above zero: wrench {wrench}, adapter {adapter}")
    length = wrench + adapter * _cosine(degrees)
    if length <= 0:
        raise ValueError(f"an adapter of {adapter} at {degrees} degrees leaves a wrench of {wrench} no lever")
    return length


def wrench_setting(
    torque: Fraction, wrench: Fraction, adapter: Fraction, degrees: Fraction = Fraction(0)
) -> WrenchSetting:
    """Reading for ``torque`` at the fastener with an adapter of length ``adapter``: T L / (L + E cos a).

    ``wrench`` is from the grip to the square drive, ``adapter`` from the square drive to the fastener's axis.
    Straight on the reading is lower than the torque (T L / (L + E)), folded back higher (T L / (L - E)), square to
    the wrench the same (AC 43.13-1B 7-40 h; TM 1-1500-204-23-9 para 8-5; NAVEDTRA 14008 ch. 2). ValueError as
    :func:`effective_length`.
    """
    length = effective_length(wrench, adapter, degrees)
    effect: AdapterEffect = "none" if length == wrench else "lengthens" if length > wrench else "shortens"
    return WrenchSetting(torque * wrench / length, effect, length)


def applied_torque(reading: Fraction, wrench: Fraction, adapter: Fraction, degrees: Fraction = Fraction(0)) -> Fraction:
    """Torque at the fastener for a reading: the inverse of :func:`wrench_setting`."""
    return reading * effective_length(wrench, adapter, degrees) / wrench


def castellated_window(recommended: TorqueRange, maximum: Fraction, drag: Fraction) -> CastellatedWindow:
    """Torques between which a castellated nut may be lined up with its hole (AC 43.13-1B 7-40 d, f).

    Alignment starts at the recommended minimum plus drag and the maximum plus drag is never passed; where that is not
    enough, the washers or the nut are changed. ``aim``, the recommended maximum plus drag, is where a mechanic would
    rather be done (common practice). ValueError when the range has no low end or reaches above the maximum.
    """
    if recommended.low is None:
        raise ValueError("alignment starts at a recommended minimum, and this range has none")
    if recommended.high > maximum:
        raise ValueError(f"the recommended range reaches {recommended.high}, above the maximum {maximum}")
    with_drag = add_drag(recommended, drag)
    return CastellatedWindow(recommended.low + drag, with_drag.high, maximum + drag)


def convert_torque(value: Fraction, unit: str, to: str) -> Fraction:
    """``value`` in another of :data:`TORQUE_UNITS`, exact. ValueError for a unit that is not there."""
    try:
        return value * _NEWTON_METRES[unit] / _NEWTON_METRES[to]
    except KeyError as missing:
        raise ValueError(f"not a torque unit: {missing.args[0]!r}; known: {', '.join(TORQUE_UNITS)}") from None


def round_setting(value: Fraction, places: int) -> Fraction:
    """A single torque at ``places`` decimals, half to even."""
    return Fraction(round(value * 10**places), 10**places)


def round_range(torque: TorqueRange, places: int) -> TorqueRange:
    """A range at ``places`` decimals, rounded inwards. ValueError when nothing is left between the rounded ends."""
    scale = 10**places
    high = Fraction(math.floor(torque.high * scale), scale)
    low = None if torque.low is None else Fraction(math.ceil(torque.low * scale), scale)
    if low is not None and low > high:
        raise ValueError(f"no torque of {places} decimals lies in the range")
    return TorqueRange(low, high)


def _cosine(degrees: Fraction) -> Fraction:
    folded = abs(degrees) % 360
    folded = min(folded, 360 - folded)
    if folded.denominator == 1 and folded.numerator in _EXACT_COSINES:
        return _EXACT_COSINES[folded.numerator]
    return Fraction(math.cos(math.radians(folded)))
