"""The limits of each document as the arithmetic takes them, read off the documents' own paragraphs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from service.catalogue.catalogue import Catalogue
from service.joints.practices import Practices, Protruding, shop_head_practice, spacing_practice
from service.mating.clauses import Setting, compile_clauses
from service.parts.part import Part


@pytest.fixture(scope="module")
def practices(catalogue: Catalogue) -> Practices:
    return Practices(catalogue, "from-memory")


def protruding(practices: Practices, name: str) -> Protruding:
    return next(entry for entry in practices.protrusion if entry.practice.name == name)


@pytest.mark.parametrize(
    ("name", "threads", "length", "most"),
    [
        ("circular", 1, 0, None),  # AC 43.13-1B 7-37
        ("navy", 2, 0, None),  # NAVEDTRA 14014 ch. 5
        ("rotorcraft", 0, Fraction(1, 32), None),  # TM 55-1520-240-23-1 task 1-13 item 5
        ("shop", 0, 0, 3),  # common-practice
    ],
)
def test_a_document_asks_threads_or_a_length_or_sets_a_most(
    practices: Practices, name: str, threads: int, length: Fraction, most: int | None
) -> None:
    asked = protruding(practices, name).practice
    assert (asked.threads_min, asked.length_min, asked.threads_max) == (threads, length, most)


def test_threads_in_the_hole_by_document(practices: Practices) -> None:
    """TM 55-1520-240-23-1 task 1-13 items 1, 2: two threads in a plate above 3/32, none in a thinner one, none in shear.
    NAVEDTRA 14014 ch. 5: two threads, and only in the thicker part."""
    by_name = {entry.practice.name: entry for entry in practices.in_hole}
    rotorcraft, navy = by_name["rotorcraft"], by_name["navy"]
    said = rotorcraft.practice
    assert (said.threads_max, said.none_up_to, said.none_in_shear, said.only_in_thickest) == (2, Fraction(3, 32), True, False)  # fmt: skip
    said = navy.practice
    assert (said.threads_max, said.none_up_to, said.none_in_shear, said.only_in_thickest) == (2, None, False, True)
    assert rotorcraft.row.rule == "grip.two-threads"
    assert rotorcraft.thin is not None
    assert rotorcraft.shear is not None
    assert (rotorcraft.thin.rule, rotorcraft.thin.quantity) == ("grip.thin-sheet", "threads")
    assert rotorcraft.shear.rule == "grip.shear"
    assert navy.thin is navy.shear is None


def test_the_circular_asks_no_thread_of_a_castellated_nut(practices: Practices, part: Callable[..., Part]) -> None:
    """AC 43.13-1B 7-37 names self-locking and plain nuts; the Navy's course names no exception. Where it is not known
    whether a nut is castellated, the limit is asked."""
    castle, locking, none = (
        Setting({"nut": part(number)} if number else {}, {}) for number in ("AN310-4", "AN365-428A", "")
    )
    circular, navy = protruding(practices, "circular"), protruding(practices, "navy")
    assert not circular.speaks_of(castle)
    assert circular.speaks_of(locking)
    assert circular.speaks_of(none)
    assert all(navy.speaks_of(setting) for setting in (castle, locking, none))


def test_an_exception_of_two_conditions_holds_where_both_hold(practices: Practices, part: Callable[..., Part]) -> None:
    whole = protruding(practices, "circular")
    both = replace(whole, excepted=compile_clauses("nut.castellated = yes and joint.load = shear"))
    castle = {"nut": part("AN310-4")}
    assert not both.speaks_of(Setting(castle, {"load": "shear"}))
    assert both.speaks_of(Setting(castle, {"load": "tension"}))
    assert both.speaks_of(Setting(castle, {})), "not stated is no exception"


def test_a_practice_is_read_with_its_own_limits_and_no_others(practices: Practices) -> None:
    """FAA-H-8083-31 ch. 4: edge 2 to 4 D, pitch 3 to 10 D, rows 2.5 D. NAVEDTRA 14018 ch. 13: pitch 3 to 8 D."""
    limits = {name: spacing_practice(name, found) for name, (found, _) in practices.spacing.items()}
    faa, navy = limits["faa handbook"], limits["navy"]
    assert (faa.edge_min, faa.edge_max, faa.pitch_min, faa.pitch_max, faa.row_min) == (2, 4, 3, 10, Fraction("2.5"))
    assert (navy.edge_min, navy.edge_max, navy.pitch_min, navy.pitch_max, navy.row_min) == (None, None, 3, 8, None)
    assert faa.name == "faa handbook"


def test_a_nominal_shop_head_is_no_limit(practices: Practices) -> None:
    """FAA-H-8083-31 figure 4-76 draws 1.5 D by 0.5 D; MIL-HDBK-5H p. 8-9 says at least 1.3 D by 0.3 D."""
    limits = {name: shop_head_practice(name, found) for name, (found, _) in practices.shop_heads.items()}
    drawn, least = limits["faa handbook"], limits["mil-hdbk-5"]
    assert (drawn.diameter_min, drawn.height_min) == (None, None)
    assert (least.diameter_min, least.height_min) == (Fraction("1.3"), Fraction("0.3"))
    assert least.name == "mil-hdbk-5"


@pytest.mark.parametrize("basis", ["published", "secondary"])
def test_no_weaker_practice_than_asked_is_taken(catalogue: Catalogue, basis: str) -> None:
    """The shop's most of three threads is common practice; the circular's edge distance is secondary."""
    held = Practices(catalogue, basis)
    assert "shop" not in {entry.practice.name for entry in held.protrusion}
    assert "circular" in {entry.practice.name for entry in held.protrusion}
    assert ("circular" in held.spacing) is (basis == "secondary")
    assert held.rows("no such topic") == []
