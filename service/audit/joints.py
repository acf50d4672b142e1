"""Arithmetic of the joint tables: threads against the 60 degree profile, shear torques against tension torques.

A printed slip that is kept on purpose says so in its own row (``printed_slip``) and carries the value believed; the check then holds the believed
value to the arithmetic.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from service.catalogue.catalogue import Catalogue
from service.quantity import parse_number
from service.tables.joint_rows import ThreadValue, Torque
from service.tables.reading import Fault

#: height of the sharp 60 degree triangle over the pitch, sqrt(3)/2
_TRIANGLE = Fraction("0.8660254037844386")
#: published basic diameters are rounded to four places
_ROUNDED = Fraction(2, 10_000)
#: a published stress area is rounded to three significant figures
_AREA = Fraction(1, 100)
#: table 7-1 states 24 and 54 ksi for shear nuts against 40 and 90 for tension nuts: 0.60, then rounded to whole steps
_SHEAR_SHARE = (Fraction("0.56"), Fraction("0.64"))


def thread_profile(catalogue: Catalogue) -> Iterator[Fault]:
    """Basic pitch diameter is D - 3/4 H, basic internal minor D - 5/4 H, with H the 60 degree triangle of the pitch; the stress area follows."""
    sizes = _basic(catalogue, "major_diameter")
    pitches = {thread: 1 / count for thread, count in _basic(catalogue, "threads_per_inch").items()}
    for row, file, line in catalogue.package.located(ThreadValue):
        if row.thread_class or row.limit or row.thread not in sizes or row.thread not in pitches:
            continue
        value = parse_number(row.believed if row.printed_slip == "yes" and row.believed else row.value)
        size, height = sizes[row.thread], pitches[row.thread] * _TRIANGLE
        depth = {"pitch_diameter": Fraction(3, 4), "minor_diameter_internal": Fraction(5, 4)}.get(row.quantity)
        if depth is not None and "UNJ" not in row.series and abs(value - (size - depth * height)) > _ROUNDED:
            yield Fault(file, line, f"{row.row}: {row.value} is not D - {depth} H = {float(size - depth * height):.4f}")
        if row.quantity == "stress_area":
            # the mean of pitch and minor diameter: D - 0.9743 p
            across = size - Fraction("0.9743") * pitches[row.thread]
            area = Fraction("0.7853981634") * across * across
            if abs(value - area) > _AREA * area:
                yield Fault(file, line, f"{row.row}: {row.value} against {float(area):.5f} by the formula")


def shear_torques(catalogue: Catalogue) -> Iterator[Fault]:
    """Where a document gives both columns, the shear nut's torque is near 0.60 of the tension nut's."""
    rows = list(catalogue.package.located(Torque))
    tension = {(r.document, r.thread, r.part, r.range): r for r, _, _ in rows if r.nut_load == "tension"}
    for row, file, line in rows:
        other = tension.get((row.document, row.thread, row.part, row.range))
        if row.nut_load != "shear" or other is None:
            continue
        for end in ("low", "high"):
            ours, theirs = _torque(row, end), _torque(other, end)
            # small torques are rounded to whole inch-pounds, so a step of one is allowed
            if ours is None or theirs is None or _SHEAR_SHARE[0] * theirs - 1 <= ours <= _SHEAR_SHARE[1] * theirs + 1:
                continue
            yield Fault(
                file, line, f"{row.row}: {end} {ours} is {float(ours / theirs):.2f} of the tension torque {theirs}"
            )


def _torque(row: Torque, end: str) -> Fraction | None:
    slip = row.printed_slip == "yes"
    text: str = getattr(row, f"believed_{end}" if slip else end) or getattr(row, end)
    return parse_number(text) if text else None


def _basic(catalogue: Catalogue, quantity: str) -> dict[str, Fraction]:
    return {
        row.thread: parse_number(row.value)
        for row, _, _ in catalogue.package.located(ThreadValue)
        if row.quantity == quantity and not row.thread_class and not row.limit
    }


CHECKS = (thread_profile, shear_torques)
