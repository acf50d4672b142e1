"""Torque rows as one document gives them, and a setting worked by hand: adapter, drag, castellated window, rounding.

Sources: AC 43.13-1B table 7-1 (1/4-28: tension 50 to 70, maximum 100; shear 30 to 40, maximum 60) and 7-40 d, f, h; NASA TM-106943
table VII and pages 4 and 6 (K .11 to .15, scatter .25, relaxation .05); ASME B1.1 (1/4-28 stress area .0364 sq in).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from service.api.desk import Desk
from service.joints.formulas.threads import parse_thread
from service.joints.formulas.torque import TorqueRange
from service.joints.tightening import (
    GENERAL,
    INCH_POUNDS,
    Setting,
    TorqueTables,
    Wrench,
    column_for,
    estimates,
    implied_factor,
    range_of,
    setting,
)

NASA = "nasa-tm-106943-table-vii"
RANGE = TorqueRange(Fraction(50), Fraction(70))
STRAIGHT = Wrench(Fraction(10), Fraction(2), Fraction(0))
BARE = Wrench(Fraction(10), Fraction(0), Fraction(0))


@pytest.fixture(scope="module")
def at(desk: Desk) -> Callable[[str], TorqueTables]:
    return lambda basis: TorqueTables(desk.catalogue, basis)


@pytest.fixture(scope="module")
def tables(at: Callable[[str], TorqueTables]) -> TorqueTables:
    return at("from-memory")


@pytest.mark.parametrize(("column", "low", "high", "most"), [("tension", 50, 70, 100), ("shear", 30, 40, 60)])
def test_a_column_has_its_own_range_and_its_own_maximum(
    tables: TorqueTables, column: str, low: int, high: int, most: int
) -> None:
    found = tables.recommended("1/4-28", column)
    assert found is not None
    assert found.range == TorqueRange(Fraction(low), Fraction(high))
    assert found.maximum is not None
    assert range_of(found.maximum) == TorqueRange(None, Fraction(most))
    assert found.row.document == GENERAL


def test_a_nut_of_no_load_class_reads_no_column(tables: TorqueTables) -> None:
    assert (column_for("tension"), column_for("shear"), column_for("high strength")) == ("tension", "shear", "")
    assert tables.recommended("1/4-28", "") is None
    assert tables.recommended("no such thread", "tension") is None


def test_several_ranges_are_told_apart_in_the_refusal(tables: TorqueTables) -> None:
    told = "53 to 58: A-286 bolt, 130 ksi, cadmium-plated nut, dry, .*; 48 to 54: .*; 39 to 43: "
    with pytest.raises(ValueError, match=f"{NASA} gives several ranges for 1/4-28 \\({told}"):
        tables.recommended("1/4-28", "", NASA)


def test_two_ranges_are_several(tables: TorqueTables) -> None:
    """TM 55-2840-251-23 table E-2, 1/4-28: 30 to 35 for a slotted screw, 70 to 95 for a hexagon."""
    with pytest.raises(ValueError, match=r"30 to 35: slotted.*70 to 95: hexagon"):
        tables.recommended("1/4-28", "", "tm55-2840-251-23-table-e-2")


@pytest.mark.parametrize("change", [{"low": "51"}, {"high": "69"}, {"low": ""}])
def test_ranges_that_differ_at_one_end_are_several_and_rows_without_a_word_are_told_by_their_place(
    at: Callable[[str], TorqueTables], change: dict[str, str]
) -> None:
    held = at("published")
    found = held.recommended("1/4-28", "tension")
    assert found is not None
    bare = found.row.model_copy(update={"part": "", "fastener": "", "finish": "", "condition": ""})
    held.all = [bare, bare.model_copy(update=change | {"locator": "another page"})]
    with pytest.raises(ValueError, match=f"{bare.locator}; .*another page"):
        held.recommended("1/4-28", "tension")


def test_a_row_without_a_high_end_is_no_range_and_one_without_a_low_end_is(at: Callable[[str], TorqueTables]) -> None:
    held = at("published")
    found = held.recommended("1/4-28", "tension")
    assert found is not None
    held.all = [found.row.model_copy(update={"high": ""})]
    assert held.recommended("1/4-28", "tension") is None
    held.all = [found.row.model_copy(update={"low": ""})]
    open_below = held.recommended("1/4-28", "tension")
    assert open_below is not None
    assert open_below.range == TorqueRange(None, Fraction(70))


def test_the_same_range_for_several_parts_is_one_range(tables: TorqueTables) -> None:
    """TM 55-1520-240-23-1 task 1-14: 30 to 45 for either self-retaining bolt of this thread; no maximum is printed."""
    found = tables.recommended("1/4-28", "", "tm55-1520-240-23-1-task-1-14")
    assert found is not None
    assert found.range == TorqueRange(Fraction(30), Fraction(45))
    assert found.maximum is None


def test_rows_without_a_column_are_kept_beside_the_column_asked(tables: TorqueTables) -> None:
    tension = tables.rows("1/4-28", "tension")
    assert {row.nut_load for row in tension} == {"tension", ""}
    assert {row.nut_load for row in tables.rows("1/4-28")} == {"tension", "shear", ""}
    assert {row.thread for row in tension} == {"1/4-28"}
    assert {row.document for row in tables.rows("1/4-28", document=NASA)} == {NASA}
    assert {GENERAL, NASA} < {row.document for row in tension}


def test_notes_are_of_the_document_asked_and_the_warning_is_the_general_tables(tables: TorqueTables) -> None:
    notes = tables.about(GENERAL)
    assert notes
    assert {note.document for note in notes} == {GENERAL}
    assert {note.document for note in tables.about("")} == {""}
    warning = tables.warning()
    assert warning is not None
    assert (warning.topic, warning.document) == ("warning", GENERAL)


def test_no_row_weaker_than_asked_is_used(at: Callable[[str], TorqueTables]) -> None:
    """The warning is computed, so derived; two NASA tables and three nut factors are secondary copies."""
    published, secondary = at("published"), at("secondary")
    for rows in (published.all, published.notes, published.factors):
        assert {row.basis for row in rows} == {"published"}
    for rows in (secondary.all, secondary.notes, secondary.factors):
        assert {row.basis for row in rows} == {"published", "secondary"}
    assert published.warning() is secondary.warning() is None
    copy = "nasa-rp-1228-torque-table"
    assert copy not in {row.document for row in published.all}
    assert copy in {row.document for row in secondary.all}
    assert len(published.threads) == len(set(published.threads))
    assert {"10-32", "1/4-28"} <= set(published.threads)


def worked(torque: TorqueRange = RANGE, wrench: Wrench = STRAIGHT, **more: Any) -> Setting:
    asked: dict[str, Any] = {
        "maximum": None, "drag": Fraction(10), "practice": "always", "castellated": False, "unit": INCH_POUNDS, "places": 0,
    }  # fmt: skip
    return setting(torque, wrench=wrench, **asked | more)


def test_drag_is_added_before_the_adapter_takes_its_share_and_the_range_is_rounded_inwards() -> None:
    """(50 + 10) x 10 / 12 = 50 and (70 + 10) x 10 / 12 = 66.67."""
    found = worked()
    assert found.torque == RANGE
    assert found.with_drag == TorqueRange(Fraction(60), Fraction(80))
    assert found.reading == TorqueRange(Fraction(50), Fraction(200, 3))
    assert found.rounded == TorqueRange(Fraction(50), Fraction(66))
    assert found.low is not None
    assert (found.low.reading, found.high.reading) == (50, Fraction(200, 3))
    assert found.window is found.window_rounded is None


def test_a_castellated_window_starts_at_the_least_and_ends_at_the_maximum_with_drag() -> None:
    """60, 80 and 110 inch-pounds; at the wrench 50, 66.67 and 91.67: the ends inwards, the aim to the nearest."""
    found = worked(castellated=True, maximum=Fraction(100))
    assert found.window is not None
    assert (found.window.start, found.window.aim, found.window.limit) == (60, 80, 110)
    assert found.window_rounded is not None
    rounded = found.window_rounded
    assert (rounded.start, rounded.aim, rounded.limit) == (50, 67, 91)


def test_a_castellated_nut_without_a_maximum_has_no_window() -> None:
    with pytest.raises(ValueError, match="below a maximum"):
        worked(castellated=True)


def test_a_window_in_foot_pounds_is_a_twelfth() -> None:
    found = worked(wrench=BARE, castellated=True, maximum=Fraction(100), unit="[ft_i].[lbf_av]", places=2)
    assert found.window_rounded is not None
    rounded = found.window_rounded
    # 60, 80 and 110 inch-pounds: 5, 6.667 and 9.1667 foot-pounds
    assert (rounded.start, rounded.aim, rounded.limit) == (5, Fraction("6.67"), Fraction("9.16"))
    assert found.reading == TorqueRange(Fraction(60), Fraction(80))
    assert found.rounded == TorqueRange(Fraction(5), Fraction("6.66"))


def test_a_maximum_alone_stays_without_a_low_end() -> None:
    found = worked(TorqueRange(None, Fraction(70)))
    assert found.low is None
    assert found.reading == TorqueRange(None, Fraction(200, 3))
    assert found.rounded == TorqueRange(None, Fraction(66))


def test_a_single_torque_is_rounded_to_the_nearest_because_no_range_is_left() -> None:
    single = TorqueRange(Fraction("40.4"), Fraction("40.4"))
    assert worked(single, BARE).rounded == TorqueRange(Fraction(50), Fraction(50))


def test_a_preload_is_widest_where_low_torque_meets_the_largest_factor(tables: TorqueTables) -> None:
    """P = T / (K D) with D = 1/4: 50 / (.15 / 4) to 70 / (.11 / 4), nominal 60 / (.13 / 4); then .75 / 1.05 and 1.25."""
    factor = next(row for row in tables.factors if row.condition == "lubricated" and row.source_id == "nasa-tm-106943")
    thread = parse_thread("1/4-28", "UNF")
    (found,) = estimates(RANGE, thread, [factor], Fraction("0.25"), Fraction("0.05"))
    low, high = 4 * Fraction(50) / Fraction("0.15"), 4 * Fraction(70) / Fraction("0.11")
    assert (found.band.low, found.band.high) == (low, high)
    assert found.band.nominal == found.with_scatter.nominal == 4 * Fraction(60) / Fraction("0.13")
    assert found.with_scatter.low == low * Fraction("0.75") / Fraction("1.05")
    assert found.with_scatter.high == high * Fraction("1.25")
    assert found.factor is factor
    (alone,) = estimates(TorqueRange(None, Fraction(70)), thread, [factor], Fraction(0), Fraction(0))
    assert (alone.band.low, alone.band.high) == (4 * Fraction(70) / Fraction("0.15"), high)


def test_the_factor_that_a_row_implies_is_its_middle_torque_on_the_stress_area(tables: TorqueTables) -> None:
    """60 / (40000 x .0364 x 1/4) = .165; the maximum, 100 at 90000 psi, implies .122 (AC 43.13-1B table 7-1 column heads)."""
    found = tables.recommended("1/4-28", "tension")
    assert found is not None
    assert found.maximum is not None
    middle, most = implied_factor(found.row, Fraction(40_000)), implied_factor(found.maximum, Fraction(90_000))
    assert middle is not None
    assert most is not None
    assert float(middle) == pytest.approx(60 / (40_000 * 0.0364 * 0.25), rel=2e-3)
    assert float(most) == pytest.approx(100 / (90_000 * 0.0364 * 0.25), rel=2e-3)
    assert implied_factor(found.row.model_copy(update={"thread": "pipe"}), Fraction(40_000)) is None
