"""Minimum torque of a self-locking nut used again: FAA AC 43.13-1B table 7-2 (page 7-12) and four Army manuals, document by document.

TM 55-1520-240-23-1 task 1-13, TM 1-1500-204-23-6 table 2-8, TM 10-5430-232-12&P table I-2 and TM 1-4220-250-12&P table F-1 print one series; the
circular prints another, lower one. Neither replaces the other.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

TABLE = Path(__file__).parents[2] / "seed_tables" / "joints" / "prevailing_torques.csv"
with TABLE.open(encoding="utf-8", newline="") as stream:
    ROWS = list(csv.DictReader(stream))

#: AC 43.13-1B table 7-2, in-lb
TABLE_7_2 = {
    "7/16-20": 8, "1/2-20": 10, "9/16-18": 13, "5/8-18": 18, "3/4-16": 27, "7/8-14": 40, "1-14": 55, "1-1/8-12": 73, "1-1/4-12": 94,
    "7/16-14": 8, "1/2-13": 10, "9/16-12": 14, "5/8-11": 20, "3/4-10": 27, "7/8-9": 40, "1-8": 51, "1-1/8-8": 68, "1-1/4-8": 88,
}  # fmt: skip
ARMY = [
    "tm55-1520-240-23-1-task-1-13",
    "tm1-1500-204-23-6-table-2-8",
    "tm10-5430-232-12p-table-i-2",
    "tm1-4220-250-12p-table-f-1",
]


def of(document: str) -> dict[str, Fraction]:
    return {r["thread"]: Fraction(r["minimum"]) for r in ROWS if r["document"] == document}


def test_table_7_2_stands_as_printed_and_begins_at_7_16() -> None:
    assert of("ac43.13-1b-table-7-2") == TABLE_7_2


@pytest.mark.parametrize("first", ARMY)
@pytest.mark.parametrize("second", ARMY)
def test_the_army_manuals_print_one_fine_series(first: str, second: str) -> None:
    one, two = of(first), of(second)
    shared = one.keys() & two.keys()
    assert len(shared) >= 9
    assert all(one[thread] == two[thread] for thread in shared)


def test_the_army_series_lies_above_the_circulars_wherever_both_print_a_thread() -> None:
    circular, army = of("ac43.13-1b-table-7-2"), of(ARMY[1])
    shared = circular.keys() & army.keys()
    assert {"7/16-20", "3/4-16", "1-1/4-12", "7/16-14", "1-8"} <= shared
    for thread in shared:
        assert Fraction("1.4") < army[thread] / circular[thread] < Fraction("2.5"), thread
