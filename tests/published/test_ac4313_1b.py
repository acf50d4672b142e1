"""FAA Advisory Circular AC 43.13-1B, chapter 7 (pages dated 9/8/98): its paragraphs as verdicts, its table 7-1 as torques.

The torque figures were copied from table 7-1, page 7-9. They are compared with the rows of the tables; the circular is not the aircraft's own data.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import httpx
import pytest

from service.api.desk import Desk
from service.designation.reading import Refusal
from service.mating.clauses import Setting
from service.parts.part import Part
from service.settings import Settings
from service.tables.joint_rows import Torque

SOURCE = "ac43.13-1b"

#: thread: (tension nut recommended low, high, shear nut recommended low, high, tension nut maximum, shear nut maximum), in-lb
TABLE_7_1 = {
    "8-36": (12, 15, 7, 9, 20, 12),
    "10-32": (20, 25, 12, 15, 40, 25),
    "1/4-28": (50, 70, 30, 40, 100, 60),
    "5/16-24": (100, 140, 60, 85, 225, 140),
    "3/8-24": (160, 190, 95, 110, 390, 240),
    "7/16-20": (450, 500, 270, 300, 840, 500),
    "1/2-20": (480, 690, 290, 410, 1100, 660),
    "9/16-18": (800, 1000, 480, 600, 1600, 960),
    "5/8-18": (1100, 1300, 600, 780, 2400, 1400),
    "3/4-16": (2300, 2500, 1300, 1500, 5000, 3000),
    "7/8-14": (2500, 3000, 1500, 1800, 7000, 4200),
    "1-14": (3700, 5500, 2200, 3300, 10000, 6000),
    "1-1/8-12": (5000, 7000, 3000, 4200, 15000, 9000),
    "1-1/4-12": (9000, 11000, 5400, 6600, 25000, 15000),
    "8-32": (12, 15, 7, 9, 20, 12),
    "10-24": (20, 25, 12, 15, 35, 21),
    "1/4-20": (40, 50, 25, 30, 75, 45),
    "5/16-18": (80, 90, 48, 55, 160, 100),
    "3/8-16": (160, 185, 95, 100, 275, 170),
    "7/16-14": (235, 255, 140, 155, 475, 280),
    "1/2-13": (400, 480, 240, 290, 880, 520),
    "9/16-12": (500, 700, 300, 420, 1100, 650),
    "5/8-11": (700, 900, 420, 540, 1500, 900),
    "3/4-10": (1150, 1600, 700, 950, 2500, 1500),
    "7/8-9": (2200, 3000, 1300, 1800, 4600, 2700),
}
#: printed figures that a later reproduction prints otherwise: thread -> (range, end, printed, believed)
SLIPS = {"5/8-18": ("low", 600, 660), "3/8-16": ("high", 100, 110)}


def torque(desk: Desk, thread: str, nut_load: str, range_: str) -> Torque:
    found = [
        row
        for row in desk.catalogue.package.of(Torque)
        if (row.document, row.thread, row.nut_load, row.range) == ("ac43.13-1b-table-7-1", thread, nut_load, range_)
    ]
    assert len(found) == 1, (thread, nut_load, range_)
    return found[0]


@pytest.mark.parametrize("thread", list(TABLE_7_1))
def test_table_7_1_stands_as_printed(desk: Desk, thread: str) -> None:
    tension_low, tension_high, shear_low, shear_high, tension_most, shear_most = (str(n) for n in TABLE_7_1[thread])
    tension, shear = torque(desk, thread, "tension", "recommended"), torque(desk, thread, "shear", "recommended")
    assert (tension.low, tension.high) == (tension_low, tension_high)
    assert (shear.low, shear.high) == (shear_low, shear_high)
    assert torque(desk, thread, "tension", "maximum").high == tension_most
    assert torque(desk, thread, "shear", "maximum").high == shear_most
    assert {row.source_id for row in (tension, shear)} == {SOURCE}


def test_table_7_1_has_no_row_the_circular_does_not_print(desk: Desk) -> None:
    held = {row.thread for row in desk.catalogue.package.of(Torque) if row.document == "ac43.13-1b-table-7-1"}
    assert held == set(TABLE_7_1)


def test_suspect_figures_keep_the_print_and_name_what_is_believed(desk: Desk) -> None:
    for thread, (end, printed, believed) in SLIPS.items():
        row = torque(desk, thread, "shear", "recommended")
        assert getattr(row, end) == str(printed)
        assert getattr(row, f"believed_{end}") == str(believed)
        assert row.printed_slip == "yes"
        assert row.note


@pytest.mark.parametrize("thread", list(TABLE_7_1))
def test_shear_nut_torques_are_near_0_60_of_tension_nut_torques(desk: Desk, thread: str) -> None:
    """The table's shear columns are 60 percent of its tension columns, rounded; the suspect figures are the two exceptions."""
    tension, shear = torque(desk, thread, "tension", "recommended"), torque(desk, thread, "shear", "recommended")
    for end in ("low", "high"):
        if SLIPS.get(thread, ("", 0, 0))[0] != end:
            ratio = Fraction(getattr(shear, end)) / Fraction(getattr(tension, end))
            assert Fraction(56, 100) <= ratio <= Fraction(635, 1000), (end, float(ratio))


Verdicts = Callable[..., Any]


async def candidate(app: httpx.AsyncClient, number: str, other: str, **joint: str) -> dict[str, Any]:
    answer = await app.get(f"/v1/parts/{number}/mates", params=joint)
    assert answer.status_code == 200, answer.text
    for found in answer.json()["candidates"]:
        if other in {found["number"], *found["variants"]}:
            return dict(found)
    raise AssertionError(f"{number} is not offered {other}")


def cites(found: dict[str, Any], paragraph: str, effect: str) -> bool:
    return any(f["source"] == SOURCE and paragraph in f["locator"] and f["effect"] == effect for f in found["findings"])


PARAGRAPHS = [
    ("7-64f", "AN4-12A", "AN365-428A", {"temperature": "251"}, "excluded", "excludes"),
    ("7-64f", "AN4-12A", "MS21044N4", {"temperature": "300"}, "excluded", "excludes"),
    ("7-64a", "AN4-12A", "AN365-428A", {"rotates": "true"}, "excluded", "excludes"),
    ("7-64a", "AN4-12A", "AN363-428", {"rotates": "true"}, "excluded", "excludes"),
    ("7-122b", "AN4-12", "AN310-4", {"rotates": "true"}, "conditional", "fits"),
    (
        "7-64b",
        "AN4-12",
        "MS17825-4",
        {"temperature": "100"},
        "fits",
        "fits",
    ),
    ("7-64c", "AN4-12A", "AN365-428A", {"engine_intake": "true"}, "excluded", "excludes"),
    ("7-64d", "AN4-12A", "AN365-428A", {"opened_every_flight": "true"}, "excluded", "excludes"),
    ("7-64e", "AN4-12A", "MS21045-4", {"heat_source": "true", "rotates": "false"}, "fits", "fits"),
    (
        "7-64e",
        "AN4-12A",
        "AN365-428A",
        {"heat_source": "true", "rotates": "false", "temperature": "200"},
        "conditional",
        "conditions",
    ),
    ("7-65a", "AN4-12A", "AN363-428", {"temperature": "451"}, "excluded", "excludes"),
    ("7-67", "AN4-12", "AN320-4", {"load": "tension"}, "excluded", "excludes"),
    ("Table 7-1", "AN4-12A", "MS20364-428A", {"load": "tension"}, "excluded", "excludes"),
    ("7-69", "AN4-12A", "AN345-416", {"primary_structure": "true"}, "excluded", "excludes"),
    ("7-68", "AN4-12A", "AN315-4R", {}, "conditional", "conditions"),
    ("7-87", "AN4-12A", "MS35333-40", {"primary_structure": "true"}, "excluded", "excludes"),
    ("7-87", "AN4-12A", "MS35338-44", {"secondary_structure": "true"}, "excluded", "excludes"),
    ("7-87", "AN4-12A", "AN935-416", {"frequently_removed": "true"}, "excluded", "excludes"),
    ("7-87", "AN4-12A", "MS35333-40", {"corrosive": "true"}, "excluded", "excludes"),
    ("7-87", "AN4-12A", "MS35333-40", {"airflow": "true"}, "excluded", "excludes"),
    ("7-86", "AN4-12A", "AN970-4", {"material": "wood"}, "fits", "fits"),
    ("7-86", "AN4-12A", "AN960-416", {"material": "wood"}, "conditional", "conditions"),
    ("7-86", "AN4-12A", "AN960-416", {"material": "aluminium"}, "fits", "fits"),
]


@pytest.mark.parametrize(("paragraph", "bolt", "other", "joint", "verdict", "effect"), PARAGRAPHS)
async def test_a_paragraph_is_a_verdict_that_cites_it(
    app: httpx.AsyncClient, paragraph: str, bolt: str, other: str, joint: dict[str, str], verdict: str, effect: str
) -> None:
    found = await candidate(app, bolt, other, **joint)
    assert found["verdict"] == verdict, [(f["rule"], f["effect"]) for f in found["findings"]]
    assert cites(found, paragraph, effect), [(f["locator"], f["effect"]) for f in found["findings"]]


@pytest.mark.parametrize(
    ("paragraph", "bolt", "other", "joint"),
    [
        ("7-64f", "AN4-12A", "AN365-428A", {"temperature": "250"}),
        ("7-65a", "AN4-12A", "AN363-428", {"temperature": "450"}),
        (
            "7-87",
            "AN4-12A",
            "MS35333-40",
            {"primary_structure": "false", "secondary_structure": "false", "endangers_flight": "false"},
        ),
    ],
)
async def test_a_limit_holds_at_its_own_figure(
    app: httpx.AsyncClient, paragraph: str, bolt: str, other: str, joint: dict[str, str]
) -> None:
    assert not cites(await candidate(app, bolt, other, **joint), paragraph, "excludes")


def excluded_by(desk: Desk, joint: dict[str, str], **numbers: str) -> set[str]:
    parts = {kind: desk.part(number, "from-memory") for kind, number in numbers.items()}
    return {
        f.rule
        for f in desk.rules.judge(Setting(parts, joint))
        if f.effect == "excludes" and f.citation.source == SOURCE
    }


def test_paragraph_7_41_no_aluminium_bolt_below_a_quarter_inch_in_primary_structure(desk: Desk) -> None:
    assert "bolt.aluminium.minimum-size" in excluded_by(desk, {"primary_structure": "yes"}, bolt="AN3DD5A")
    assert "bolt.aluminium.minimum-size" not in excluded_by(desk, {"primary_structure": "yes"}, bolt="AN4DD5A")
    assert "bolt.aluminium.minimum-size" not in excluded_by(desk, {"primary_structure": "yes"}, bolt="AN3-5A")


def test_paragraph_7_41_no_aluminium_bolt_or_nut_where_it_comes_out_often(desk: Desk) -> None:
    assert "bolt.aluminium.removal" in excluded_by(desk, {"frequently_removed": "yes"}, bolt="AN4DD5A")
    assert "bolt.aluminium.removal" not in excluded_by(desk, {"frequently_removed": "yes"}, bolt="AN4-5A")


def test_paragraph_7_127_a_cotter_pin_is_never_used_again(desk: Desk) -> None:
    assert "cotter-pin.reuse" in excluded_by(desk, {"reused": "yes"}, cotter_pin="MS24665-132")


def test_paragraph_7_39_the_first_letter_drill_above_the_nominal_size(desk: Desk) -> None:
    path = Settings().tables / "joints" / "fastener_holes.csv"
    with path.open(encoding="utf-8", newline="") as stream:
        drills = {
            r["thread_or_basic"]: (r["drill"], r["diameter"]) for r in csv.DictReader(stream) if r["locator"] == "7-39"
        }
    assert drills == {"AN4": ("F", ".257"), "AN5": ("O", ".316"), "AN6": ("V", ".377")}


def test_every_family_named_by_the_circular_is_held(desk: Desk) -> None:
    """Families that chapter 7 names for bolts, nuts, washers and pins."""
    for number in (
        "AN3-5A", "AN20-30", "AN73-5", "AN173-12", "AN21-12", "NAS464-5L20", "MS20004-10", "AN42-10", "AN310-4", "AN315-4R", "AN316-4R",
        "AN320-4",
        "AN340-8", "AN345-416", "AN350-4", "AN363-428", "MS20364-428A", "MS20365-428A", "AN935-416", "AN936A416", "AN960-416", "AN970-4", "MS20002-6",
        "AN380-2-2", "AN381-2-8",
    ):  # fmt: skip
        found = desk.reader.read(number)
        assert not (isinstance(found, Refusal) and found.outcome == "not-covered"), number
        if not isinstance(found, Refusal):
            assert Part(found).description
