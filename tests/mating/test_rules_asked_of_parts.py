"""Which parts and joint decide a clause, which rules may still speak, and what a rule says of what nobody stated or knows."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from service.api.desk import Desk
from service.catalogue.catalogue import Catalogue
from service.mating import rules as rules_module
from service.mating.clauses import NO, YES, Exact, Setting, Truth, compile_clauses
from service.mating.rules import RuleBook, compiled
from service.parts.part import Part
from service.tables.rows import Rule

Named = Callable[..., Part]
BOLT = frozenset({"bolt"})


def rule(effect: str, unstated: str, when: str) -> Rule:
    cells = {"row": "t.rule", "topic": "t", "effect": effect, "unstated": unstated, "when": when, "text": "t"}
    return Rule(**cells, source_id="s", locator="l", basis="derived", note="")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "truth"),
    [
        ("bolt.basic = AN4", YES),
        ("washer.material_group != steel", NO),  # no washer: nothing is true of it
        ("bolt.thread = washer.thread", NO),
        ("bolt.material_group < 3", NO),  # a word is neither more nor less than a number
        ("bolt.nominal_diameter < steel", NO),
        ("bolt.nominal_diameter > steel", NO),
        ("bolt.locking = insert", Truth(None, unknown=("locking of AN4-12A",))),  # no attribute of a bolt
    ],
)
def test_nothing_is_true_of_a_part_that_is_not_there_or_of_words_as_numbers(
    part: Named, text: str, truth: Truth
) -> None:
    (clause,) = compile_clauses(text)
    assert clause.judge(Setting({"bolt": part("AN4-12A")}, {})) == truth


@pytest.mark.parametrize(("joint", "known"), [({"temperature": Fraction(70)}, True), ({}, False)])
def test_a_joint_condition_is_known_when_it_is_stated(joint: dict[str, Exact], known: bool) -> None:
    (asks_known,), (asks_absent,) = compile_clauses("joint.temperature is known"), compile_clauses("joint.temperature is absent")  # fmt: skip
    assert asks_known.judge(Setting({}, joint)) == Truth(known)
    assert asks_absent.judge(Setting({}, joint)) == Truth(not known)


def test_words_with_a_point_are_words_unless_they_name_a_part() -> None:
    (words,), (other,) = compile_clauses("joint.material = hard.metal"), compile_clauses("joint.material = bolt.thread")
    assert (words.literals, words.other) == (("hard.metal",), None)
    assert (other.literals, other.other) == ((), ("bolt", "thread"))


@pytest.mark.parametrize(
    ("text", "subjects", "by_bolt", "by_bolt_and_joint"),
    [
        ("bolt.shank_drilled = yes", {"bolt"}, True, True),
        ("bolt.thread = nut.thread", {"bolt", "nut"}, False, False),
        ("joint.temperature > bolt.max_temperature", {"bolt"}, False, True),
        ("joint.temperature > 250", set(), False, True),
        ("bolt is present", {"bolt"}, False, False),  # a set that grows may bring it
        ("nut is missing", set(), False, False),
    ],
)
def test_the_parts_a_clause_names_must_be_there_and_alone_decide_it(
    text: str, subjects: set[str], by_bolt: bool, by_bolt_and_joint: bool
) -> None:
    (clause,) = compile_clauses(text)
    assert clause.subjects == subjects
    assert clause.about_only(BOLT) is by_bolt
    assert clause.about_only(BOLT | {"joint"}) is by_bolt_and_joint


@pytest.mark.parametrize("text", ["nut is present", "nut is missing"])
def test_a_part_alone_never_decides_who_else_is_there(text: str) -> None:
    (clause,) = compile_clauses(text)
    assert not clause.about_only(frozenset({"nut"}))


def test_a_rule_fails_on_a_part_when_one_clause_about_it_alone_is_false(part: Named) -> None:
    both = compiled(
        rule("excludes", "silent", "bolt.shank_drilled = yes and nut.locking = insert and bolt.basic = AN4")
    )
    drilled, plain = (Setting({"bolt": part(number)}, {}) for number in ("AN4-12", "AN4-12A"))
    assert both.fails_on(plain, BOLT)
    assert not both.fails_on(drilled, BOLT), "the nut is not asked yet"
    whole = Setting({"bolt": part("AN4-12A"), "nut": part("AN365-428A")}, {})
    assert not both.fails_on(whole, frozenset({"nut"})), "the nut alone does not say so"


@pytest.mark.parametrize(
    ("effect", "unstated", "said"),
    [
        ("notes", "conditions", "notes"),
        ("conditions", "conditions", "conditions"),
        ("conditions", "notes", "notes"),
        ("conditions", "silent", None),
    ],
)
def test_a_note_on_something_unstated_stays_a_note(part: Named, effect: str, unstated: str, said: str | None) -> None:
    found = compiled(rule(effect, unstated, "nut.locking = insert and joint.temperature > 250")).judge(
        Setting({"nut": part("AN365-428A")}, {})
    )
    assert (found.effect if found else None) == said


@pytest.mark.parametrize(("effect", "said"), [("notes", "notes"), ("conditions", "notes"), ("fits", None)])
def test_what_no_row_gives_makes_a_condition_a_note_and_a_fit_nothing(
    part: Named, effect: str, said: str | None
) -> None:
    found = compiled(rule(effect, "silent", "bolt.max_temperature < 450")).judge(Setting({"bolt": part("AN4-12A")}, {}))
    assert (found.effect if found else None) == said


def test_rules_about_a_set_name_no_part_outside_it(desk: Desk) -> None:
    for kinds in ({"bolt"}, {"bolt", "nut"}, {"washer"}):
        about = desk.rules.about(kinds)
        assert about
        assert all(found.clauses and found.subjects <= kinds for found in about)


def test_rules_that_fail_on_the_part_asked_about_are_not_left(desk: Desk, part: Named) -> None:
    """nut.insert.drilled-small asks a drilled shank: it is open for AN4-12 and closed for AN4-12A, whatever the nut."""
    drilled, plain = part("AN4-12"), part("AN4-12A")
    small = "nut.insert.drilled-small"
    assert small in desk.rules.left_by(drilled, {}, "nut")
    assert small not in desk.rules.left_by(plain, {}, "nut")
    assert small in desk.rules.open_for(drilled)
    assert small not in desk.rules.open_for(plain)
    assert "nut.insert.temperature" in desk.rules.left_by(plain, {"temperature": Fraction(251)}, "nut")
    assert "nut.insert.temperature" not in desk.rules.left_by(plain, {"temperature": Fraction(250)}, "nut")


def test_what_is_kept_of_open_rules_is_bounded(
    catalogue: Catalogue, part: Named, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rules_module, "_MOST_OPEN", 2)
    book = RuleBook(catalogue)
    numbers = ["AN4-12", "AN4-12A", "AN5-12", "AN4-12"]
    said = [book.open_for(part(number)) for number in numbers]
    assert len(book._open) <= 2
    assert said[0] == said[3] == RuleBook(catalogue).open_for(part("AN4-12"))
    again = book.open_for(part("AN4-12"))
    assert again is said[3], "worked out once"


def judged(desk: Desk, part: Named, basis: str = "from-memory", among: str = "", **joint: Exact) -> set[str]:
    whole = Setting({"bolt": part("AN4-12A"), "nut": part("MS21042-4")}, joint)
    return {f.rule for f in desk.rules.judge(whole, basis, frozenset({among} if among else ()))}


def test_with_kinds_named_what_speaks_for_other_parts_is_left_out_and_what_speaks_against_is_not(
    desk: Desk, part: Named
) -> None:
    """bolt.hex.load speaks for the bolt, nut.thin-wall.embrittlement is a note on the nut, thread.bolt.nut is on both;
    bolt.cadmium.temperature speaks against the bolt."""
    hot: dict[str, Exact] = {"load": "shear", "temperature": Fraction(500)}
    for_bolt, on_nut, on_both, against = (
        "bolt.hex.load", "nut.thin-wall.embrittlement", "thread.bolt.nut", "bolt.cadmium.temperature",
    )  # fmt: skip
    assert {for_bolt, on_nut, on_both, against} <= judged(desk, part, **hot)
    about_nut = judged(desk, part, among="nut", **hot)
    assert {on_nut, on_both, against} <= about_nut
    assert for_bolt not in about_nut
    about_bolt = judged(desk, part, among="bolt", **hot)
    assert {for_bolt, on_both, against} <= about_bolt
    assert on_nut not in about_bolt


def test_a_note_just_good_enough_is_given_and_a_weaker_one_is_not(desk: Desk, part: Named) -> None:
    """nut.thin-wall.batch-test is published, nut.thin-wall.protrusion a secondary copy."""
    published, secondary = judged(desk, part, "published"), judged(desk, part, "secondary")
    assert "nut.thin-wall.batch-test" in published & secondary
    assert "nut.thin-wall.protrusion" in secondary - published
    weakest = list(desk.rules.judge(Setting({"bolt": part("AN4-12A"), "nut": part("MS21042-4")}, {})))
    assert {found.rule for found in weakest} == judged(desk, part)
