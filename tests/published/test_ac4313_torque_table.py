"""FAA AC 43.13-1B, table 7-1 (page 7-9): its columns against each other and against the stresses of its column heads.

test_ac4313_1b.py holds the rows to the print; here they are held to one another, so that a digit lost on both sides would still show.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from fractions import Fraction
from pathlib import Path

import pytest

from service.joints.formulas.preload import implied_nut_factor
from service.joints.formulas.threads import parse_thread, stress_area

TABLES = Path(__file__).parents[2] / "seed_tables" / "joints"


def rows(name: str) -> list[dict[str, str]]:
    with (TABLES / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


PRINTED = [r for r in rows("torques.csv") if r["document"] == "ac43.13-1b-table-7-1"]
CELLS = {(r["thread"], r["nut_load"], r["range"]): r for r in PRINTED}
HEADS = {(r["nut_load"], r["range"]): Fraction(r["value"]) for r in rows("torque_notes.csv") if r["topic"] == "column"}
#: cells outside the table's own ratio; the first two are flagged as slips, the third has no second reading
OFF_RATIO = {("5/8-18", "low"), ("3/8-16", "high"), ("3/4-16", "low")}


def test_25_threads_stand_in_four_columns() -> None:
    assert len(PRINTED) == len(CELLS) == 25 * 4
    assert sum(r["series"] == "fine" for r in PRINTED) == 14 * 4
    assert {r["unit"] for r in PRINTED} == {"[in_i].[lbf_av]"}


def test_shear_stress_is_six_tenths_of_tension_stress_in_the_column_heads() -> None:
    assert HEADS["shear", "recommended"] / HEADS["tension", "recommended"] == Fraction(6, 10)
    assert HEADS["shear", "maximum"] / HEADS["tension", "maximum"] == Fraction(6, 10)


@pytest.mark.parametrize("thread", sorted({r["thread"] for r in PRINTED}))
def test_shear_torques_keep_that_ratio_to_rounding(thread: str) -> None:
    tension, shear = CELLS[thread, "tension", "recommended"], CELLS[thread, "shear", "recommended"]
    for end in ("low", "high"):
        ratio = Fraction(shear[end]) / Fraction(tension[end])
        inside = Fraction("0.57") < ratio < Fraction("0.63")
        assert inside == ((thread, end) not in OFF_RATIO), (end, float(ratio))
        if shear[f"believed_{end}"]:
            assert Fraction("0.57") < Fraction(shear[f"believed_{end}"]) / Fraction(tension[end]) < Fraction("0.63")


def test_every_maximum_lies_above_its_range_and_every_range_rises() -> None:
    for (thread, load, which), row in CELLS.items():
        if which == "recommended":
            assert Fraction(row["low"]) < Fraction(row["high"]) < Fraction(CELLS[thread, load, "maximum"]["high"])
        else:
            assert row["low"] == ""


def test_torque_never_falls_with_size() -> None:
    columns: dict[tuple[str, str, str, str], list[tuple[Fraction, Fraction]]] = defaultdict(list)
    for (thread, load, which), row in CELLS.items():
        for end in ("low", "high"):
            if row[end]:
                columns[row["series"], load, which, end].append((parse_thread(thread).diameter, Fraction(row[end])))
    assert len(columns) == 12
    for column, cells in columns.items():
        values = [value for _, value in sorted(cells)]
        assert values == sorted(values), column


def test_the_estimated_cells_are_the_three_largest_fine_shear_ranges() -> None:
    """The asterisk of the table's footnote."""
    assert {(r["thread"], r["nut_load"], r["range"]) for r in PRINTED if r["estimated"] == "yes"} == {
        (thread, "shear", "recommended") for thread in ("1-14", "1-1/8-12", "1-1/4-12")
    }


def implied(which: str, ends: tuple[str, ...]) -> list[Fraction]:
    return [
        implied_nut_factor(Fraction(row[end]), HEADS["tension", which], stress_area(thread), thread.diameter)
        for (name, load, kind), row in CELLS.items()
        if load == "tension" and kind == which
        for thread in [parse_thread(name)]
        for end in ends
    ]


@pytest.mark.parametrize(
    ("which", "ends", "least", "most"),
    [("recommended", ("low", "high"), "0.115", "0.241"), ("maximum", ("high",), "0.092", "0.207")],
)
def test_no_single_nut_factor_makes_the_table(which: str, ends: tuple[str, ...], least: str, most: str) -> None:
    """Why no torque is ever computed for a size the table does not print; the spans stand in torque_notes.csv too."""
    found = implied(which, ends)
    assert (round(float(min(found)), 3), round(float(max(found)), 3)) == (float(least), float(most))
    (note,) = (r for r in rows("torque_notes.csv") if r["topic"] == "warning" and r["range"] == which)
    assert f"from {least} to {most}" in note["text"]
