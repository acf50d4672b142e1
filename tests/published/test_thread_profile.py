"""The 60 degree unified thread profile (ASME B1.1) by geometry, and unit factors by the library pint, against the thread rows.

Basic pitch diameter = D - 0.649519 p and basic internal minor diameter = D - 1.082532 p follow from H = p sqrt(3) / 2; nothing is copied.
"""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pint
import pytest

from service.api.desk import Desk
from service.quantity import parse_number
from service.tables.joint_rows import ThreadValue
from service.tables.rows import Attribute

H_OF_P = sqrt(3) / 2


def basic(desk: Desk, quantity: str) -> dict[str, ThreadValue]:
    """The rows of a basic dimension: no class, no limit."""
    return {
        r.thread: r
        for r in desk.catalogue.package.of(ThreadValue)
        if (r.quantity, r.thread_class, r.limit) == (quantity, "", "")
    }


def major(thread: str) -> Fraction:
    """Basic major diameter from the thread's own name: a screw number n is .060 + .013 n; a 1 of fine pitch is the screw, of coarse the inch."""
    size, _, per_inch = thread.rpartition("-")
    size = size.replace("-", " ")
    numbered = size.isdigit() and (size != "1" or int(per_inch) > 20)
    return Fraction(60 + 13 * int(size), 1000) if numbered else parse_number(size)


def pitch(thread: str) -> Fraction:
    return 1 / Fraction(thread.rpartition("-")[2])


def test_the_threads_of_common_hardware_are_held(desk: Desk) -> None:
    assert {
        "10-32",
        "1/4-28",
        "5/16-24",
        "3/8-24",
        "7/16-20",
        "1/2-20",
        "9/16-18",
        "5/8-18",
        "3/4-16",
        "7/8-14",
    } <= set(basic(desk, "pitch_diameter"))


@pytest.mark.parametrize(
    ("quantity", "depth"),
    [("pitch_diameter", 2 * 3 / 8 * H_OF_P), ("minor_diameter_internal", 2 * 5 / 8 * H_OF_P)],
    ids=["pitch diameter", "minor diameter"],
)
def test_basic_diameters_follow_from_the_profile(desk: Desk, quantity: str, depth: float) -> None:
    rows = basic(desk, quantity)
    assert len(rows) >= 15
    for thread, row in rows.items():
        expected = float(major(thread)) - depth * float(pitch(thread))
        assert float(parse_number(row.value)) == pytest.approx(expected, abs=0.00011), row.row


def test_major_diameter_and_pitch_are_those_of_the_name(desk: Desk) -> None:
    for thread, row in basic(desk, "major_diameter").items():
        assert parse_number(row.value) == pytest.approx(major(thread), abs=0.00006), row.row
    for thread, row in basic(desk, "threads_per_inch").items():
        assert 1 / parse_number(row.value) == pitch(thread), row.row


def test_stress_areas_follow_from_the_pitch(desk: Desk) -> None:
    """ASME B1.1: As = pi/4 (D - 0.9743 p)^2 up to 100 ksi."""
    rows = basic(desk, "stress_area")
    assert len(rows) >= 15
    for thread, row in rows.items():
        expected = 0.785398163 * (float(major(thread)) - 0.9743 * float(pitch(thread))) ** 2
        assert float(parse_number(row.value)) == pytest.approx(expected, rel=0.006), row.row


def test_every_thread_of_a_part_has_the_size_its_name_says(desk: Desk) -> None:
    for family in desk.catalogue.families.values():
        found = desk.reader.read(family.examples[0])
        codes = found.codes  # type: ignore[union-attr]
        thread, size = family.value("thread", codes), family.value("nominal_diameter", codes)
        if (
            thread is not None
            and size is not None
            and isinstance(thread.exact, str)
            and isinstance(size.exact, Fraction)
        ):
            assert major(thread.exact) == pytest.approx(size.exact, abs=0.001), family.id


UNITS = pint.UnitRegistry()
#: UCUM code -> pint's own name for the unit
PINT = {
    "[in_i]": "inch",
    "[degF]": "degF",
    "[psi]": "psi",
    "[lbf_av]": "lbf",
    "[in_i].[lbf_av]": "inch * lbf",
    "deg": "degree",
    "1": "dimensionless",
    "": "dimensionless",
}


def test_every_unit_of_the_vocabulary_is_known_to_pint(desk: Desk) -> None:
    for row in desk.catalogue.package.of(Attribute):
        UNITS.Unit(PINT[row.unit])


def test_the_named_sizes_are_right_in_millimetres() -> None:
    """An inch is 25.4 mm exactly: the sizes a metric rule shows for AN3, AN4 and AN5."""
    for thread, millimetres in (("10-32", 4.826), ("1/4-28", 6.35), ("5/16-24", 7.9375)):
        assert UNITS.Quantity(float(major(thread)), "inch").to("mm").magnitude == pytest.approx(millimetres)


def test_bolt_strength_rows_are_area_times_stress(desk: Desk) -> None:
    """A rated single shear of a 75 ksi bolt is its shank's area times 75 ksi, worked out by pint from the nominal size."""
    for number, percent in (("AN4-12A", 1), ("AN5-12A", 1), ("AN6-12A", 1), ("AN8-20A", 1)):
        part = desk.part(number, "from-memory")
        size, load, stress = part.value("nominal_diameter"), part.value("shear_load"), part.value("shear_strength")
        assert size is not None
        assert load is not None
        assert stress is not None
        area = 3.14159265 / 4 * UNITS.Quantity(float(size.number), "inch") ** 2
        expected = (area * UNITS.Quantity(float(stress.number), "psi")).to("lbf").magnitude
        assert float(load.number) == pytest.approx(expected, rel=percent / 100), number
