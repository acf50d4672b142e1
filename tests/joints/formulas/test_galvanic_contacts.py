"""Metals in contact, by their own logic, on invented groups."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from service.joints.formulas.galvanic import (
    GroupMember,
    GroupPair,
    PairRule,
    SeriesPlace,
    Verdict,
    anode,
    groups_of,
    judge_contact,
)

MEMBERS = [
    GroupMember("lightest", "A", "m1"),
    GroupMember("light", "B", "m2"),
    GroupMember("either", "B", "m3"),
    GroupMember("either", "C", "m4"),
    GroupMember("heavy", "C", "m5"),
]
PAIRS = [
    GroupPair("A", "A", "compatible", "p1"),
    GroupPair("A", "B", "protect", "p2"),
    GroupPair("C", "A", "isolate", "p3"),
    GroupPair("B", "B", "compatible", "p4"),
    GroupPair("B", "C", "protect", "p5"),
    GroupPair("C", "C", "compatible", "p6"),
]
RULES = [
    PairRule("lightest", "heavy", "prohibited", "", "r1"),
    PairRule("heavy", "light", "prohibited", "above 450 degF", "r2"),
    PairRule("light", "light", "caution", "", "r3"),
]
METALS = st.sampled_from(["lightest", "light", "either", "heavy", "unheard of"])
#: mildest first, written down apart from the module's own order
ORDER: list[Verdict] = ["unknown", "compatible", "protect", "caution", "isolate", "prohibited"]


@given(METALS, METALS, st.sampled_from([(), ("above 450 degF",)]))
def test_it_does_not_matter_which_metal_is_named_first(first: str, second: str, conditions: tuple[str, ...]) -> None:
    assert judge_contact(first, second, MEMBERS, PAIRS, RULES, conditions) == judge_contact(
        second, first, MEMBERS, PAIRS, RULES, conditions
    )


@given(METALS, METALS, METALS, METALS, st.sampled_from(ORDER[1:]))
def test_another_rule_never_softens_a_verdict(first: str, second: str, a: str, b: str, verdict: Verdict) -> None:
    held = judge_contact(first, second, MEMBERS, PAIRS, RULES)
    more = judge_contact(first, second, MEMBERS, PAIRS, [*RULES, PairRule(a, b, verdict, "", "r9")])
    assert ORDER.index(more.verdict) >= ORDER.index(held.verdict)
    assert set(held.reasons) <= set(more.reasons)


def test_a_metal_in_two_groups_is_judged_in_both() -> None:
    assert groups_of("either", MEMBERS) == ("B", "C")
    found = judge_contact("either", "lightest", MEMBERS, PAIRS)
    assert [(reason.row, reason.verdict) for reason in found.reasons] == [("p3", "isolate"), ("p2", "protect")]
    assert found.verdict == "isolate"


def test_a_metal_in_two_groups_is_not_compatible_with_itself_by_default() -> None:
    assert judge_contact("either", "either", MEMBERS, PAIRS).verdict == "protect"


def test_a_condition_counts_only_when_it_is_stated() -> None:
    unstated = judge_contact("light", "heavy", MEMBERS, PAIRS, RULES)
    assert unstated.verdict == "protect"
    assert [(reason.row, reason.counted) for reason in unstated.reasons] == [("r2", False), ("p5", True)]
    stated = judge_contact("light", "heavy", MEMBERS, PAIRS, RULES, ["above 450 degF"])
    assert stated.verdict == "prohibited"
    assert all(reason.counted for reason in stated.reasons)


def test_a_rule_outranks_the_groups_and_both_are_told() -> None:
    found = judge_contact("heavy", "lightest", MEMBERS, PAIRS, RULES)
    assert found.verdict == "prohibited"
    assert [reason.row for reason in found.reasons] == ["r1", "p3"]


def test_a_rule_on_a_metal_with_itself_is_found() -> None:
    found = judge_contact("light", "light", MEMBERS, PAIRS, RULES)
    assert (found.verdict, [reason.row for reason in found.reasons]) == ("caution", ["r3", "p4"])


def test_without_a_row_nothing_is_known_not_even_of_a_metal_with_itself() -> None:
    for other in ("heavy", "unheard of"):
        found = judge_contact("unheard of", other, MEMBERS, PAIRS, RULES)
        assert (found.verdict, found.reasons) == ("unknown", ())


def test_the_lower_place_corrodes_whichever_is_named_first() -> None:
    series = [SeriesPlace(1, "zinc", "s1"), SeriesPlace(3, "steel", "s3"), SeriesPlace(5, "gold", "s5")]
    assert anode("zinc", "steel", series) == anode("steel", "zinc", series) == "zinc"
    assert anode("gold", "steel", series) == "steel"
    assert anode("zinc", "tin", series) is None
    assert anode("tin", "zinc", series) is None
    assert anode("zinc", "zinc", series) is None


def test_a_metal_listed_twice_is_placed_only_where_both_places_agree() -> None:
    series = [
        SeriesPlace(2, "twice", "s2"),
        SeriesPlace(3, "between", "s3"),
        SeriesPlace(4, "twice", "s4"),
        SeriesPlace(5, "above", "s5"),
        SeriesPlace(1, "below", "s1"),
    ]
    assert anode("twice", "between", series) is None
    assert anode("between", "twice", series) is None
    assert anode("above", "twice", series) == "twice"
    assert anode("twice", "above", series) == "twice"
    assert anode("below", "twice", series) == "below"
