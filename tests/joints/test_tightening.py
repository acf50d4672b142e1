"""A document's torque rows: one range, or a refusal to choose among several."""

from __future__ import annotations

import pytest

from service.api.desk import Desk
from service.joints.tightening import TorqueTables


def test_a_document_with_ranges_by_finish_is_not_chosen_from(desk: Desk) -> None:
    """NASA TM-106943 table VII gives a range for each of three finishes."""
    tables = TorqueTables(desk.catalogue, "from-memory")
    with pytest.raises(ValueError, match="several ranges"):
        tables.recommended("1/4-28", "tension", "nasa-tm-106943-table-vii")


def test_a_document_with_one_range_gives_it(desk: Desk) -> None:
    """AC 43.13-1B table 7-1, 1/4-28: 50 to 70 in-lb for tension nuts."""
    found = TorqueTables(desk.catalogue, "published").recommended("1/4-28", "tension")
    assert found is not None
    assert (found.row.low, found.row.high) == ("50", "70")
