"""FAA AC 43.13-1B tables 4-9, 4-10 and 4-11 (pages 4-37 to 4-39): every printed cell against its engineering notes.

A second FAA print of table 4-11 (Inspection Authorization test supplement, exhibit 6) was seen and is copied here; of the other two
only one print was. Holes are the nominal ones for the rivet sizes; the AN3 column is worked with the shear load the notes print.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from service.joints.formulas.splice import PerInch, bolts_per_inch, rivets_per_inch

RIVETS = Path(__file__).parents[2] / "seed_tables" / "rivets"


def rows(name: str) -> list[dict[str, str]]:
    with (RIVETS / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


CELLS = rows("splice_tables.csv")
#: nominal holes of the engineering notes: drills 41, 30, 21, 11 and F
HOLES = {"3/32": "0.096", "1/8": "0.1285", "5/32": "0.159", "3/16": "0.191", "1/4": "0.257"}
#: rivet shear and sheet bearing as shares of sheet tensile strength. Table 4-10 leaves its shear share blank (0.50 fits), table 4-11
#: prints 160 percent for bearing in both prints while its cells fit 165
RATIOS = {"4-9": ("0.40", "1.60"), "4-10": ("0.50", "1.60"), "4-11": ("0.70", "1.65")}
#: sheet tensile strength and single shear of one AN3 bolt, psi and lbf; table 4-11 names none, and bearing governs all its cells
BOLT = {"4-9": (70000, 2126), "4-10": (55000, 2126), "4-11": (0, 2126)}
#: cells that are no rounding of their own arithmetic: printed, worked to one place
SLIPS = {("4-9", "0.032", "5/32"): ("3.9", "4.0"), ("4-9", "0.128", "AN3"): ("3.2", "4.2")}
#: the circular rounds either way and with hole areas of fewer figures: no other cell is further off
WIDEST = Fraction("0.075")


def worked(cell: dict[str, str]) -> PerInch:
    shear, bearing = map(Fraction, RATIOS[cell["table"]])
    sheet, size = Fraction(cell["sheet_thickness"]), cell["rivet_diameter_or_bolt"]
    if size != "AN3":
        return rivets_per_inch(sheet, Fraction(HOLES[size]), shear, bearing)
    tensile, load = map(Fraction, BOLT[cell["table"]])
    return bolts_per_inch(sheet, Fraction("0.190"), tensile or Fraction(1), load, bearing)


@pytest.mark.parametrize(
    "cell", CELLS, ids=lambda c: f"{c['table']} {c['sheet_thickness']} {c['rivet_diameter_or_bolt']}"
)
def test_a_cell_is_the_larger_of_bearing_and_shear(cell: dict[str, str]) -> None:
    key = (cell["table"], cell["sheet_thickness"], cell["rivet_diameter_or_bolt"])
    found = worked(cell)
    off = abs(found.needed - Fraction(cell["count_per_inch"]))
    if key in SLIPS:
        assert (cell["count_per_inch"], cell["believed"], cell["printed_slip"]) == (*SLIPS[key], "yes")
        assert off > WIDEST
        assert abs(found.needed - Fraction(cell["believed"])) <= Fraction("0.05")
    else:
        assert cell["printed_slip"] == "no"
        assert off <= WIDEST, float(found.needed)
        assert cell["governing"] == found.mode or abs(found.bearing - found.shear) < Fraction("0.05")


def test_all_131_rivet_cells_and_17_bolt_cells_are_held() -> None:
    keys = {(c["table"], c["sheet_thickness"], c["rivet_diameter_or_bolt"]) for c in CELLS}
    assert len(CELLS) == len(keys)
    assert [sum(table == name for table, _, _ in keys) for name in ("4-9", "4-10", "4-11")] == [48, 49, 51]
    assert sum(size == "AN3" for _, _, size in keys) == 17


def test_the_printed_bearing_share_of_table_4_11_does_not_fit_its_cells() -> None:
    """Why 1.65 is used: with 1.60 the bearing-governed cells miss by 0.1 and more."""
    for size, printed in (("3/32", "6.3"), ("1/8", "4.7"), ("5/32", "3.8"), ("3/16", "3.2")):
        thin = Fraction("0.016")
        fits = rivets_per_inch(thin, Fraction(HOLES[size]), Fraction("0.70"), Fraction("1.65")).bearing
        misses = rivets_per_inch(thin, Fraction(HOLES[size]), Fraction("0.70"), Fraction("1.60")).bearing
        assert abs(fits - Fraction(printed)) <= Fraction("0.05")
        assert abs(misses - Fraction(printed)) > Fraction("0.05")


#: sheet: rivets per inch for 3/32, 1/8, 5/32, 3/16, 1/4 and bolts AN3; exhibit 6 of the test supplement, blanks left out
SECOND_PRINT = {
    "0.016": {"3/32": "6.3", "1/8": "4.7"},
    "0.020": {"3/32": "6.3", "1/8": "4.7", "5/32": "3.8"},
    "0.025": {"3/32": "6.3", "1/8": "4.7", "5/32": "3.8"},
    "0.032": {"3/32": "6.3", "1/8": "4.7", "5/32": "3.8", "3/16": "3.2"},
    "0.036": {"3/32": "7.1", "1/8": "4.7", "5/32": "3.8", "3/16": "3.2", "1/4": "2.4"},
    "0.040": {"3/32": "7.9", "1/8": "4.7", "5/32": "3.8", "3/16": "3.2", "1/4": "2.4"},
    "0.051": {"3/32": "10.1", "1/8": "5.6", "5/32": "3.8", "3/16": "3.2", "1/4": "2.4"},
    "0.064": {"3/32": "12.7", "1/8": "7.0", "5/32": "4.6", "3/16": "3.2", "1/4": "2.4"},
    "0.081": {"1/8": "8.9", "5/32": "5.8", "3/16": "4.0", "1/4": "2.4", "AN3": "3.2"},
    "0.091": {"1/8": "10.0", "5/32": "6.5", "3/16": "4.5", "1/4": "2.5", "AN3": "3.2"},
    "0.102": {"1/8": "11.2", "5/32": "7.3", "3/16": "5.1", "1/4": "2.8", "AN3": "3.2"},
    "0.128": {"5/32": "9.2", "3/16": "6.4", "1/4": "3.5", "AN3": "3.2"},
}


@pytest.mark.parametrize("sheet", list(SECOND_PRINT))
def test_the_second_print_of_table_4_11_agrees_cell_by_cell_blanks_included(sheet: str) -> None:
    held = {
        c["rivet_diameter_or_bolt"]: c["count_per_inch"]
        for c in CELLS
        if (c["table"], c["sheet_thickness"]) == ("4-11", sheet)
    }
    assert held == SECOND_PRINT[sheet]


def test_a_thicker_sheet_never_needs_fewer_rivets_down_a_column() -> None:
    for table in RATIOS:
        for size in (*HOLES, "AN3"):
            column = [
                (Fraction(c["sheet_thickness"]), Fraction(c["believed"]))
                for c in CELLS
                if (c["table"], c["rivet_diameter_or_bolt"]) == (table, size)
            ]
            counts = [count for _, count in sorted(column)]
            assert counts == sorted(counts), (table, size)
