"""Open data: the CSV files of the registry package bd-warehouse (Apache licence; read as files, never imported).

Its sources are drill tables, ASME B18.2.8 clearance holes and ASME B18.21.1 tooth lock washers. Where it differs from the tables here, the
difference is stated in this file and held.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import pytest

from service.api.desk import Desk
from service.parts.part import Part
from service.quantity import parse_number
from service.tables.joint_rows import Drill

_FOUND = find_spec("bd_warehouse")
DATA = Path(next(iter(_FOUND.submodule_search_locations or []))) / "data" if _FOUND is not None else None
pytestmark = pytest.mark.skipif(
    DATA is None or not DATA.is_dir(),
    reason="the package bd-warehouse is not installed (pip install --no-deps bd-warehouse)",
)


def rows(name: str) -> Iterator[dict[str, str]]:
    assert DATA is not None
    with (DATA / name).open(encoding="utf-8-sig", newline="") as stream:
        for row in csv.DictReader(stream, skipinitialspace=True):
            yield {k.strip(): (v or "").strip() for k, v in row.items()}


def inches(text: str) -> Fraction:
    return parse_number(text.replace("-", " "))


def ours(desk: Desk) -> dict[str, Fraction]:
    """Our drills by the name the other table uses: A, #30."""
    return {
        row.designation.replace("No. ", "#"): parse_number(row.diameter)
        for row in desk.catalogue.package.of(Drill)
        if row.kind in {"letter", "number"}
    }


def test_letter_and_number_drills_agree(desk: Desk) -> None:
    theirs = {
        row["Size"]: inches(row["Diameter"])
        for row in rows("drill_sizes.csv")
        if row["Size"][:1] == "#" or row["Size"].isalpha()
    }
    assert len(theirs) >= 100
    held = ours(desk)
    for size, diameter in theirs.items():
        # the other table rounds a few number drills to three places
        assert held[size] == pytest.approx(diameter, abs=0.0006), size


def test_no_letter_or_number_drill_is_missing_here(desk: Desk) -> None:
    assert {f"#{n}" for n in range(1, 81)} | set("ABCDEFGHIJKLMNOPQRSTUVWXYZ") <= set(ours(desk))


def test_clearance_holes_named_by_drill_pass_the_bolt(desk: Desk, part: Callable[..., Part]) -> None:
    """ASME B18.2.8 clearance holes for #10 to 1/2: the close fit passes the shank of the AN bolt, the hole rows here stay under the loose fit."""
    drills = ours(desk)
    bolts = {
        "#10": "AN3-12A",
        "1/4": "AN4-12A",
        "5/16": "AN5-12A",
        "3/8": "AN6-12A",
        "7/16": "AN7-12A",
        "1/2": "AN8-20A",
    }
    checked = 0
    for row in rows("clearance_hole_sizes.csv"):
        if row["Size"] in bolts:
            close, normal, loose = (
                drills[row[fit]] if row[fit] in drills else inches(row[fit]) for fit in ("Close", "Normal", "Loose")
            )
            bolt = part(bolts[row["Size"]])
            shank, size = bolt.value("shank_diameter"), bolt.value("nominal_diameter")
            assert shank is not None
            assert size is not None
            assert shank.greatest <= size.number < close < normal < loose, row["Size"]
            washer = part(
                {
                    "#10": "AN960-10",
                    "1/4": "AN960-416",
                    "5/16": "AN960-516",
                    "3/8": "AN960-616",
                    "7/16": "AN960-716",
                    "1/2": "AN960-816",
                }[row["Size"]]
            )
            hole = washer.value("inside_diameter")
            assert hole is not None
            assert size.number < hole.number <= loose
            checked += 1
    assert checked == len(bolts)


#: dash of MS35333 -> size in ASME B18.21.1
TOOTH = {
    "36": "#4",
    "37": "#6",
    "38": "#8",
    "39": "#10",
    "40": "1/4",
    "41": "5/16",
    "42": "3/8",
    "43": "7/16",
    "44": "1/2",
}
#: outside diameters where the other table gives another figure than the row here: (here, there)
DIFFER = {"41": (Fraction("0.610"), Fraction("0.607")), "44": (Fraction("0.900"), Fraction("0.883"))}


@pytest.mark.parametrize("dash", list(TOOTH))
def test_internal_tooth_washers_are_those_of_asme_b18_21_1(part: Callable[..., Part], dash: str) -> None:
    theirs = next(r for r in rows("internal_tooth_lock_washer_parameters.csv") if r["Size"] == TOOTH[dash])
    washer = part(f"MS35333-{dash}")
    inside, outside, thickness = (washer.value(name) for name in ("inside_diameter", "outside_diameter", "thickness"))
    assert inside is not None
    assert outside is not None
    assert thickness is not None
    assert inside.least == inches(theirs["asme_b18.21.1:d1"])
    if dash in DIFFER:
        assert (outside.greatest, inches(theirs["asme_b18.21.1:d2"])) == DIFFER[dash]
        assert outside.least <= inches(theirs["asme_b18.21.1:d2"]) <= outside.greatest
    else:
        assert outside.greatest == inches(theirs["asme_b18.21.1:d2"])
    # the other table's thickness lies inside the band here: it gives one figure where the standard gives two limits
    assert thickness.least <= inches(theirs["asme_b18.21.1:h"]) <= thickness.greatest
