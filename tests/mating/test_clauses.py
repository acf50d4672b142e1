"""The condition language of rules: true, false, or undecided, and why."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

import pytest

from service.catalogue.catalogue import Catalogue
from service.mating.clauses import Setting, Truth, compile_clauses
from service.mating.rules import RuleBook, compiled
from service.parts.part import Part
from service.tables.rows import Rule

Named = Callable[..., Part]


@pytest.fixture
def judge(part: Named) -> Callable[..., Truth]:
    def truth(text: str, joint: Mapping[str, Fraction | str] | None = None, **numbers: str) -> Truth:
        (clause,) = compile_clauses(text)
        return clause.judge(Setting({kind: part(number) for kind, number in numbers.items()}, joint or {}))

    return truth


@pytest.mark.parametrize(
    ("text", "holds"),
    [
        ("bolt.shank_drilled = yes", False),
        ("bolt.shank_drilled = no", True),
        ("bolt.shank_drilled != yes", True),
        ("bolt.material_group = titanium|steel", True),
        ("bolt.material_group != titanium|steel", False),
        ("bolt.nominal_diameter < 0.3125", True),
        ("bolt.nominal_diameter < 1/4", False),
        ("bolt.nominal_diameter <= 1/4", True),
        ("bolt.nominal_diameter >= 0.25", True),
        ("bolt.nominal_diameter > 0.25", False),
        ("bolt.thread = nut.thread", True),
        ("bolt.thread != nut.thread", False),
        ("nut.tensile_strength < bolt.tensile_strength", False),
        ("bolt.family = AN3-AN20", True),
        ("bolt.basic = AN5", False),
        ("bolt is present", True),
        ("washer is present", False),
        ("washer is missing", True),
        ("bolt.grip_length is known", True),
        ("bolt.head_height is known", False),
        ("bolt.head_height is absent", True),
    ],
)
def test_a_clause_about_known_parts_is_true_or_false(judge: Callable[..., Truth], text: str, holds: bool) -> None:
    assert judge(text, bolt="AN4-12A", nut="AN365-428A") == Truth(holds)


def test_an_unstated_joint_condition_leaves_a_clause_undecided(judge: Callable[..., Truth]) -> None:
    assert judge("joint.temperature > 250", bolt="AN4-12A") == Truth(None, unstated=("temperature",))
    assert judge("joint.temperature > 250", {"temperature": Fraction(251)}) == Truth(True)
    assert judge("joint.temperature > 250", {"temperature": Fraction(250)}) == Truth(False)


def test_an_attribute_no_row_gives_leaves_a_clause_undecided(judge: Callable[..., Truth]) -> None:
    assert judge("bolt.max_temperature < 450", bolt="AN4-12A") == Truth(None, unknown=("max_temperature of AN4-12A",))
    assert (
        judge("joint.temperature > bolt.max_temperature", {"temperature": Fraction(300)}, bolt="AN4-12A").holds is None
    )


def test_a_clause_about_a_part_that_is_not_there_is_false(judge: Callable[..., Truth]) -> None:
    assert judge("washer.material_group = steel", bolt="AN4-12A") == Truth(False)
    assert judge("washer.material_group is absent", bolt="AN4-12A") == Truth(False)


@pytest.mark.parametrize(
    "text",
    [
        "nut is hot",
        "gadget.locking = insert",
        "nut.locking",
        "nut.locking ~ insert",
        "bolt is present or nut is present",
    ],
)
def test_what_is_not_in_the_language_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        compile_clauses(text)


def rule(effect: str, unstated: str, when: str) -> Rule:
    return Rule(
        row="t.rule",
        topic="t",
        effect=effect,
        unstated=unstated,
        when=when,
        text="t",
        source_id="s",
        locator="l",
        basis="derived",
        note="",
    )


HOT = "nut.locking = insert and joint.temperature > 250"


@pytest.mark.parametrize(
    ("effect", "unstated", "said"),
    [
        ("excludes", "conditions", "conditions"),
        ("excludes", "notes", "notes"),
        ("excludes", "silent", None),
        ("notes", "notes", "notes"),
        ("fits", "notes", None),
    ],
)
def test_what_a_rule_says_when_its_condition_is_not_stated(
    part: Named, effect: str, unstated: str, said: str | None
) -> None:
    found = compiled(rule(effect, unstated, HOT)).judge(Setting({"nut": part("AN365-428A")}, {}))
    assert (found.effect if found else None) == said
    if found is not None:
        assert found.unstated == ("temperature",)


def test_a_rule_that_holds_has_its_full_effect_and_one_that_does_not_is_silent(part: Named) -> None:
    hot = compiled(rule("excludes", "silent", HOT))
    stated = hot.judge(Setting({"nut": part("AN365-428A")}, {"temperature": Fraction(300)}))
    assert stated is not None
    assert (stated.effect, stated.unstated, stated.unknown) == ("excludes", (), ())
    assert hot.judge(Setting({"nut": part("AN365-428A")}, {"temperature": Fraction(200)})) is None
    assert hot.judge(Setting({"nut": part("AN365-428C")}, {"temperature": Fraction(300)})) is None


def test_a_rule_on_something_unknown_never_excludes(part: Named) -> None:
    found = compiled(rule("excludes", "conditions", "bolt.max_temperature < 450")).judge(
        Setting({"bolt": part("AN4-12A")}, {})
    )
    assert found is not None
    assert (found.effect, found.unknown) == ("conditions", ("max_temperature of AN4-12A",))


def test_silence_is_about_what_is_not_stated_and_never_about_what_is_not_known(part: Named) -> None:
    """A nut without a known limit at a stated temperature is not known to be fit: the rule must be heard."""
    own_limit = compiled(rule("excludes", "silent", "joint.temperature > bolt.max_temperature"))
    assert own_limit.judge(Setting({"bolt": part("AN4-12A")}, {})) is None
    found = own_limit.judge(Setting({"bolt": part("AN4-12A")}, {"temperature": Fraction(300)}))
    assert found is not None
    assert (found.effect, found.unknown) == ("conditions", ("max_temperature of AN4-12A",))


def test_every_rule_row_compiles_and_asks_only_what_exists(catalogue: Catalogue) -> None:
    for found in RuleBook(catalogue).rules:
        for clause in found.clauses:
            asked = [(clause.subject, clause.attribute), *([clause.other] if clause.other else [])]
            for subject, name in asked:
                if name and name not in {"family", "basic"}:
                    known = catalogue.conditions if subject == "joint" else catalogue.attributes
                    assert name in known, f"{found.row.row} asks {subject}.{name}"
            if clause.attribute == "family":
                assert set(clause.literals) <= set(catalogue.families), f"{found.row.row} names a family not held"


def test_every_rule_that_asks_for_words_asks_for_words_that_occur(catalogue: Catalogue) -> None:
    """A rule about ``locking = nylon`` would never hold: the words of a rule are words of the tables."""
    occurring: dict[str, set[str]] = {}
    for family in catalogue.families.values():
        for facet in family.facets.all:
            for statements in facet.rules:
                occurring.setdefault(statements.attribute.attribute, set()).update(
                    str(s.value.exact)
                    for s in statements.statements
                    if s.value is not None and s.value.exact is not None
                )
    for found in RuleBook(catalogue).rules:
        for clause in found.clauses:
            words = [w for w in clause.literals if isinstance(w, str)]
            if clause.subject == "joint":
                row = catalogue.conditions[clause.attribute]
                allowed = {"yes", "no"} if row.form == "flag" else set(row.values.split())
                assert set(words) <= allowed or row.form == "quantity", f"{found.row.row}: {words}"
            elif clause.operator == "=" and words and clause.attribute not in {"family", "basic"}:
                assert set(words) & occurring.get(clause.attribute, set()), (
                    f"{found.row.row}: {clause.attribute} is never {words}"
                )
