"""MIL-STD-889B notice 1 table II (sea water) against the salt-water order of NASA RP-1228, both read in reproductions.

The two do not agree on every neighbour (RP-1228 puts aluminium 5052 before cadmium, MIL-STD-889 after); the metals of fasteners stand
in one order in both. The five groups are those of MIL-STD-889 as an airframe textbook reproduces them; the rule of steps is our own.
"""

from __future__ import annotations

import csv
import itertools
from pathlib import Path

import pytest

from service.joints.formulas.galvanic import GroupMember, GroupPair, PairRule, SeriesPlace, anode, judge_contact

TABLE = Path(__file__).parents[2] / "seed_tables" / "joints" / "galvanic.csv"
with TABLE.open(encoding="utf-8", newline="") as stream:
    ROWS = list(csv.DictReader(stream))

SERIES = [SeriesPlace(int(r["a"]), r["b"], r["row"]) for r in ROWS if r["kind"] == "series"]
MEMBERS = [GroupMember(r["a"], r["b"], r["row"]) for r in ROWS if r["kind"] == "member"]
PAIRS = [GroupPair(r["a"], r["b"], r["verdict"], r["row"]) for r in ROWS if r["kind"] == "group_pair"]  # type: ignore[arg-type]
RULES = [
    PairRule(r["a"], r["b"], r["verdict"], r["condition"], r["row"])  # type: ignore[arg-type]
    for r in ROWS
    if r["kind"] == "pair_rule" and r["verdict"] != "recommended"
]

#: NASA RP-1228, most active first, by the names of the other list
RP_1228 = [
    "magnesium",
    "zinc (hot-dip, die cast, plated)",
    "cadmium (plated)",
    "aluminium 2024-T4",
    "steel 1010",
    "iron (cast)",
    "stainless 304 (active)",
    "copper 110",
    "silver",
]


@pytest.mark.parametrize(("first", "second"), list(itertools.combinations(RP_1228, 2)))
def test_the_metals_of_fasteners_stand_in_the_order_of_rp_1228(first: str, second: str) -> None:
    assert anode(first, second, SERIES) == first
    assert anode(second, first, SERIES) == first


def test_the_two_lists_differ_on_cadmium_and_5052_and_the_table_keeps_mil_std_889() -> None:
    assert anode("cadmium (plated)", "aluminium 5052-O", SERIES) == "cadmium (plated)"


def test_places_run_from_1_to_92_without_gap() -> None:
    assert [place.place for place in SERIES] == list(range(1, 93))


def test_the_noble_end_that_nobody_saw_is_marked_from_memory() -> None:
    remembered = {int(r["a"]) for r in ROWS if r["kind"] == "series" and r["basis"] == "from-memory"}
    assert remembered == set(range(68, 93))


def test_group_verdicts_follow_from_the_steps_between_the_groups() -> None:
    order = ["I", "II", "III", "IV", "V"]
    assert len(PAIRS) == 15
    for pair in PAIRS:
        steps = abs(order.index(pair.first) - order.index(pair.second))
        assert pair.verdict == ("compatible", "protect", "isolate")[min(steps, 2)], pair.row


@pytest.mark.parametrize(
    ("first", "second", "verdict"),
    [
        ("cadmium", "aluminium", "compatible"),
        ("steel", "aluminium", "protect"),
        ("stainless 300 series", "aluminium", "isolate"),
        ("stainless 400 series", "aluminium", "isolate"),
        ("titanium", "stainless 300 series", "compatible"),
        ("graphite", "aluminium", "isolate"),
        ("graphite", "titanium", "protect"),
        ("magnesium", "aluminium", "protect"),
    ],
)
def test_common_pairs_by_the_five_groups(first: str, second: str, verdict: str) -> None:
    assert judge_contact(first, second, MEMBERS, PAIRS, RULES).verdict == verdict


def test_cadmium_and_titanium_are_prohibited_with_every_document_named() -> None:
    """QQ-P-416 6.1.1.1.1 without condition; MIL-STD-1568C 5.7.6 and 5.8.1 in their cases; NASA-STD-6016B as a caution."""
    found = judge_contact("cadmium", "titanium", MEMBERS, PAIRS, RULES)
    assert found.verdict == "prohibited"
    sources = {r["row"]: r["source_id"] for r in ROWS}
    said = {sources[reason.row] for reason in found.reasons}
    assert {"qq-p-416", "mil-std-1568c", "nasa-std-6016b"} <= said


def test_silver_on_titanium_is_prohibited_only_when_hot() -> None:
    assert judge_contact("silver", "titanium", MEMBERS, PAIRS, RULES).verdict == "caution"
    assert judge_contact("silver", "titanium", MEMBERS, PAIRS, RULES, ["above 450 degF"]).verdict == "prohibited"
