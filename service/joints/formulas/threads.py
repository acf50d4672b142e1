"""Unified inch screw threads by formula: basic diameters, areas, class 2A, 3A and 2B limits, and the UNJ form.

Formulas of ASME B1.1 (form, allowance, tolerance), FED-STD-H28 (stress areas) and MIL-S-8879 (UNJ). The tolerance
formulas were written down from memory; they are held to every published row by
tests/published/test_asme_b1_1_threads.py, the UNJ ones are not, because no UNJ table was at hand.

All lengths are inches, all areas square inches, all results :class:`fractions.Fraction`. Irrational constants carry
34 digits. Basic sizes and areas come unrounded. Limits of size are rounded as the published rows are: the class 2A
pitch tolerance to six places, then the basic sizes, the allowance and each tolerance to four, always half up, and the
limit is their sum. (Rounding only the sum misses eighteen published limits by one in the last place.)

Limits are those before plating. A plated class 2A thread may reach the basic size.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Context, Decimal
from fractions import Fraction
from typing import Final, Literal

from service.joints.formulas.areas import PI, circle_area
from service.quantity import rounded

Form = Literal["UN", "UNJ"]
ExternalClass = Literal["2A", "3A"]

_CONTEXT: Final = Context(prec=34)
_SQRT3: Final = Fraction(_CONTEXT.sqrt(Decimal(3)))
_DESIGNATION: Final = re.compile(r"(?:(?P<whole>\d+)-)??(?P<size>\d+/[1-9]\d*|\d+)-(?P<tpi>[1-9]\d*)\Z")

#: Series whose tolerances count one diameter of engagement; every other series counts nine pitches (ASME B1.1).
_DIAMETER_SERIES: Final = frozenset({"UNC", "UNF", "8UN", "UNJC", "UNJF"})

#: Tolerance of pitch diameter as a share of class 2A's.
_PITCH_SHARE: Final = {
    "2A": Fraction(1),
    "3A": Fraction("0.75"),
    "2B": Fraction("1.30"),
    "3B": Fraction("0.975"),
}

#: No screw number is used with a pitch as coarse as an inch size: 1-64 is number 1, 1-14 is one inch.
_COARSEST_NUMBERED: Final = {0: 80, 1: 48}
_COARSEST_NUMBERED_ELSE: Final = 24


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread: basic major ``diameter`` in inches, threads per inch, series word (may be empty), and form."""

    diameter: Fraction
    threads_per_inch: int
    series: str = ""
    form: Form = "UN"

    def __post_init__(self) -> None:
        if self.threads_per_inch <= 0:
            raise ValueError(f"threads per inch must be above zero: {self.threads_per_inch}")
        if internal_minor_diameter(self) <= 0:
            raise ValueError(f"no core is left at {self.threads_per_inch} threads per inch on {self.diameter} in")

    @property
    def pitch(self) -> Fraction:
        """Distance between threads, inches."""
        return Fraction(1, self.threads_per_inch)


@dataclass(frozen=True, slots=True)
class ExternalLimits:
    """Limits of size of a screw, inches."""

    thread_class: ExternalClass
    allowance: Fraction
    major_max: Fraction
    major_min: Fraction
    pitch_max: Fraction
    pitch_min: Fraction


@dataclass(frozen=True, slots=True)
class InternalLimits:
    """Limits of size of a class 2B nut thread, inches."""

    minor_min: Fraction
    minor_max: Fraction
    pitch_min: Fraction
    pitch_max: Fraction


def screw_diameter(number: int) -> Fraction:
    """Basic diameter of a numbered screw: 0.060 + 0.013 N inches (ASME B1.1): No. 10 is 0.190. ValueError below 0."""
    if number < 0:
        raise ValueError(f"screw numbers start at 0: {number}")
    return Fraction(60 + 13 * number, 1000)


def parse_thread(designation: str, series: str = "") -> Thread:
    """``10-32``, ``1/4-28``, ``1-1/8-12`` or ``1-14`` as a :class:`Thread`.

    ``series`` is the standard's word (``UNC``, ``UNJF``, ``UNS`` ...); one that begins with UNJ gives the UNJ form. A
    single whole number is a screw number where the pitch is that of one (``1-64``), an inch size otherwise
    (``1-14``). ValueError when it is no such designation.
    """
    match = _DESIGNATION.match(designation.strip())
    if match is None:
        raise ValueError(f"not a thread designation: {designation!r}")
    tpi = int(match["tpi"])
    if "/" in match["size"]:
        diameter = int(match["whole"] or 0) + Fraction(match["size"])
    elif match["whole"]:
        raise ValueError(f"not a thread designation: {designation!r}")
    else:
        size = int(match["size"])
        numbered = size <= 14 and tpi >= _COARSEST_NUMBERED.get(size, _COARSEST_NUMBERED_ELSE)
        diameter = screw_diameter(size) if numbered else Fraction(size)
    return Thread(diameter, tpi, series, "UNJ" if series.startswith("UNJ") else "UN")


def thread_height(thread: Thread) -> Fraction:
    """H, the height of the sharp triangle the form is cut from: half the square root of 3 times the pitch."""
    return _SQRT3 / 2 * thread.pitch


def pitch_diameter(thread: Thread) -> Fraction:
    """Basic pitch diameter: D - 3/4 H (D - 0.64952 p)."""
    return thread.diameter - Fraction(3, 4) * thread_height(thread)


def internal_minor_diameter(thread: Thread) -> Fraction:
    """Basic minor diameter of the nut: D - 5/4 H (UN, D - 1.08253 p) or D - 9/8 H (UNJ, D - 0.97428 p)."""
    share = Fraction(9, 8) if thread.form == "UNJ" else Fraction(5, 4)
    return thread.diameter - share * thread_height(thread)


def external_minor_diameter(thread: Thread) -> Fraction:
    """Minor diameter of the screw: D - 11/8 H (UN with rounded root, D - 1.19078 p) or D - 4/3 H (UNJ, the root's
    maximum).

    Not to be compared with the nut's minor diameter: the two belong to different roots.
    """
    share = Fraction(4, 3) if thread.form == "UNJ" else Fraction(11, 8)
    return thread.diameter - share * thread_height(thread)


def root_radius(thread: Thread) -> tuple[Fraction, Fraction]:
    """Smallest and largest root radius of a UNJ screw: 0.15011 p and 0.18042 p (MIL-S-8879). ValueError for UN."""
    if thread.form != "UNJ":
        raise ValueError("only the UNJ form has a mandatory root radius")
    return Fraction("0.15011") * thread.pitch, Fraction("0.18042") * thread.pitch


def stress_area(thread: Thread) -> Fraction:
    """Tensile stress area: pi/4 (D - 0.9743 p)^2 (FED-STD-H28; also NASA TM-106943 eq. 4)."""
    return circle_area(thread.diameter - Fraction("0.9743") * thread.pitch)


def stress_area_above_100_ksi(thread: Thread, thread_class: ExternalClass = "3A") -> Fraction:
    """Tensile stress area for steels above 100 ksi: pi (Es/2 - 0.16238 p)^2, Es the smallest pitch diameter of the
    class.

    FED-STD-H28, written down from memory; smaller than :func:`stress_area`. ValueError without a series.
    """
    smallest = external_limits(thread, thread_class).pitch_min
    return PI * (smallest / 2 - Fraction("0.16238") * thread.pitch) ** 2


def minor_area(thread: Thread) -> Fraction:
    """Area of section at the minor diameter, pi/4 (D - 3/2 H)^2: the older flat root that the published areas use."""
    return circle_area(thread.diameter - Fraction(3, 2) * thread_height(thread))


def engagement_length(thread: Thread) -> Fraction:
    """Length of engagement that the tolerances assume: D for the coarse, fine and 8-pitch series, 9 pitches elsewhere.

    ValueError when the thread has no series word, because then it is not known.
    """
    if not thread.series:
        raise ValueError("the tolerance of a thread depends on its series, which was not given")
    return thread.diameter if thread.series in _DIAMETER_SERIES else 9 * thread.pitch


def pitch_diameter_tolerance(thread: Thread, thread_class: str) -> Fraction:
    """Tolerance of pitch diameter: class 2A is 0.0015 D^(1/3) + 0.0015 Le^(1/2) + 0.015 p^(2/3), to six places.

    3A is 0.75, 2B 1.30 and 3B 0.975 of that, not rounded again. ValueError for another class or without a series.
    """
    if thread_class not in _PITCH_SHARE:
        raise ValueError(f"no tolerance formula for class {thread_class!r}")
    engaged = engagement_length(thread)
    class_2a = Fraction("0.0015") * (
        _power(thread.diameter, Fraction(1, 3)) + _power(engaged, Fraction(1, 2))
    ) + Fraction("0.015") * _two_thirds(thread.pitch)
    return _PITCH_SHARE[thread_class] * rounded(class_2a, 6, "half-up")


def major_diameter_tolerance(thread: Thread) -> Fraction:
    """Tolerance of a screw's major diameter, classes 2A and 3A, unrounded: 0.060 p^(2/3)."""
    return Fraction("0.060") * _two_thirds(thread.pitch)


def allowance(thread: Thread, thread_class: ExternalClass) -> Fraction:
    """Gap left for plating and easy assembly: 0.3 of class 2A's pitch tolerance, unrounded; none in class 3A."""
    return Fraction("0.3") * pitch_diameter_tolerance(thread, "2A") if thread_class == "2A" else Fraction(0)


def external_limits(thread: Thread, thread_class: ExternalClass) -> ExternalLimits:
    """Limits of a screw before plating, each rounded to four places as the module says. ValueError without a series."""
    gap = _four(allowance(thread, thread_class))
    major_max = _four(thread.diameter) - gap
    pitch_max = _four(pitch_diameter(thread)) - gap
    return ExternalLimits(
        thread_class,
        gap,
        major_max,
        major_max - _four(major_diameter_tolerance(thread)),
        pitch_max,
        pitch_max - _four(pitch_diameter_tolerance(thread, thread_class)),
    )


def internal_minor_tolerance(thread: Thread) -> Fraction:
    """Tolerance of a class 2B minor diameter, unrounded.

    Below 1/4 in: 0.05 p^(2/3) + 0.03 p/D - 0.002, never under 0.25 p - 0.4 p^2; from 1/4 in up 0.25 p - 0.4 p^2. ASME
    B1.1, written down from memory and held to the published coarse rows. ValueError for the UNJ form, whose rule was
    not at hand.
    """
    if thread.form == "UNJ":
        raise ValueError("no tolerance formula at hand for the minor diameter of a UNJ nut")
    by_pitch = thread.pitch / 4 - Fraction("0.4") * thread.pitch**2
    if thread.diameter >= Fraction(1, 4):
        return by_pitch
    small = Fraction("0.05") * _two_thirds(thread.pitch)
    small += Fraction("0.03") * thread.pitch / thread.diameter - Fraction("0.002")
    return max(small, by_pitch)


def internal_limits(thread: Thread) -> InternalLimits:
    """Class 2B limits of a nut: minor diameter to three places from No. 6 up (four below), pitch diameter to four.

    ValueError for the UNJ form and without a series.
    """
    places = 3 if thread.diameter >= screw_diameter(6) else 4
    minor = _four(internal_minor_diameter(thread))
    pitch_min = _four(pitch_diameter(thread))
    return InternalLimits(
        rounded(minor, places, "half-up"),
        rounded(minor + _four(internal_minor_tolerance(thread)), places, "half-up"),
        pitch_min,
        pitch_min + _four(pitch_diameter_tolerance(thread, "2B")),
    )


def _four(value: Fraction) -> Fraction:
    return rounded(value, 4, "half-up")


def _two_thirds(value: Fraction) -> Fraction:
    return _power(value, Fraction(2, 3))


def _power(value: Fraction, exponent: Fraction) -> Fraction:
    base = _CONTEXT.divide(Decimal(value.numerator), Decimal(value.denominator))
    power = _CONTEXT.divide(Decimal(exponent.numerator), Decimal(exponent.denominator))
    return Fraction(_CONTEXT.power(base, power))
