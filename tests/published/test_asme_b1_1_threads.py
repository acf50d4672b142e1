"""ASME B1.1, Unified inch screw threads: the published rows against the standard's own formulas.

The rows were read in two or more reproductions of the standard's tables (basic dimensions, limits of size, stress areas, and the
limits of the small sizes); the formulas are those of service.joints.formulas.threads. Limits of size must come out to the last printed place.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from service.joints.formulas import threads as t
from service.quantity import rounded

TABLE = Path(__file__).parents[2] / "seed_tables" / "joints" / "threads.csv"
with TABLE.open(encoding="utf-8", newline="") as stream:
    ROWS = list(csv.DictReader(stream))

#: rows that the reproductions misprint, and what the formula gives: digit slips, kept as printed and flagged
SLIPS = {
    "joints.threads.3/4-16.minor_diameter_external": ("0.6763", ".6756"),
    "joints.threads.1-12.minor_diameter_external": ("0.9001", ".9008"),
    "joints.threads.9/16-12.2b.pitch_diameter.max": ("0.5125", ".5152"),
}

FORMULAS: dict[tuple[str, str, str], Callable[[t.Thread], Fraction | int]] = {
    ("major_diameter", "", ""): lambda thread: thread.diameter,
    ("threads_per_inch", "", ""): lambda thread: thread.threads_per_inch,
    ("pitch_diameter", "", ""): lambda thread: rounded(t.pitch_diameter(thread), 4, "half-up"),
    ("minor_diameter_internal", "", ""): lambda thread: rounded(t.internal_minor_diameter(thread), 4, "half-up"),
    ("allowance", "2A", ""): lambda thread: t.external_limits(thread, "2A").allowance,
    ("major_diameter", "2A", "max"): lambda thread: t.external_limits(thread, "2A").major_max,
    ("major_diameter", "2A", "min"): lambda thread: t.external_limits(thread, "2A").major_min,
    ("pitch_diameter", "2A", "max"): lambda thread: t.external_limits(thread, "2A").pitch_max,
    ("pitch_diameter", "2A", "min"): lambda thread: t.external_limits(thread, "2A").pitch_min,
    ("minor_diameter_internal", "2B", "max"): lambda thread: t.internal_limits(thread).minor_max,
    ("pitch_diameter", "2B", "max"): lambda thread: t.internal_limits(thread).pitch_max,
}
#: the standard rounds inside these, so that the last place may differ
ROUGHLY: dict[str, tuple[Callable[[t.Thread], Fraction], str, str]] = {
    "minor_diameter_external": (t.external_minor_diameter, "0.0001", "0"),
    "stress_area": (t.stress_area, "0.000005", "0.002"),
    "minor_area": (t.minor_area, "0.000005", "0.005"),
}


def printed(row: dict[str, str]) -> Fraction:
    """What the row states, or what is believed where it is a listed slip."""
    if row["row"] in SLIPS:
        assert (row["value"], row["believed"], row["printed_slip"]) == (*SLIPS[row["row"]], "yes")
        return Fraction(row["believed"])
    assert (row["believed"], row["printed_slip"]) == ("", "no"), row["row"]
    return Fraction(row["value"])


@pytest.mark.parametrize("row", [r for r in ROWS if r["quantity"] not in ROUGHLY], ids=lambda r: r["row"][15:])
def test_a_dimension_is_what_the_formula_gives_to_the_last_place(row: dict[str, str]) -> None:
    formula = FORMULAS[row["quantity"], row["thread_class"], row["limit"]]
    assert printed(row) == formula(t.parse_thread(row["thread"], row["series"]))


@pytest.mark.parametrize("row", [r for r in ROWS if r["quantity"] in ROUGHLY], ids=lambda r: r["row"][15:])
def test_a_root_or_an_area_is_what_the_formula_gives_within_its_rounding(row: dict[str, str]) -> None:
    formula, places, share = ROUGHLY[row["quantity"]]
    exact = formula(t.parse_thread(row["thread"], row["series"]))
    assert abs(printed(row) - exact) <= Fraction(places) + Fraction(share) * exact


@pytest.mark.parametrize("row", [r for r in ROWS if r["row"] in SLIPS], ids=lambda r: r["row"][15:])
def test_a_listed_slip_is_one(row: dict[str, str]) -> None:
    """As printed these three miss their formula by far more than rounding."""
    believed, value = Fraction(row["believed"]), Fraction(row["value"])
    assert abs(value - believed) > Fraction("0.0005")


def test_every_slip_is_in_the_table_and_no_other_row_is_flagged() -> None:
    assert {row["row"] for row in ROWS if row["printed_slip"] == "yes"} == set(SLIPS)


def test_the_table_holds_the_standard_series() -> None:
    """No. 4 to 1-1/4 in the coarse and the fine series, and the special 1-14 that AC 43.13-1B lists as fine."""
    held = {(row["thread"], row["series"]) for row in ROWS}
    assert {("4-40", "UNC"), ("10-24", "UNC"), ("1/4-20", "UNC"), ("1-8", "UNC"), ("1-1/4-7", "UNC")} <= held
    assert {("4-48", "UNF"), ("10-32", "UNF"), ("1/4-28", "UNF"), ("1-12", "UNF"), ("1-1/4-12", "UNF")} <= held
    assert ("1-14", "UNS") in held
    assert len({row["thread"] for row in ROWS}) == 44
