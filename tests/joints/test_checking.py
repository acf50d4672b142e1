"""Sets of hardware and their verdicts: what a mechanic must be told, and what must never pass."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.desk import Desk
from service.joints.assembly import Assembly, Layer
from service.joints.checking import Check, Checker
from service.joints.formulas.stack import exactly, toleranced
from service.parts.part import Part

Named = Callable[..., Part]


def plate(thickness: str, material: str = "", tolerance: str = "0") -> Layer:
    return Layer(toleranced(Fraction(thickness), Fraction(tolerance), Fraction(tolerance)), material)


def bolted(part: Named, nut: str = "AN365-428A", washer: str = "AN960-416", **more: Any) -> Assembly:
    joint: Mapping[str, Any] = {"rotates": "no", "load": "shear", "temperature": Fraction(150), **more.pop("joint", {})}
    fastener = part(more.pop("fastener", "AN4-12A"))
    return Assembly(fastener, (), (part(washer),), part(nut), joint=joint, **more)


def faults(check: Check) -> set[str]:
    return {finding.rule for finding in check.findings if finding.severity == "fault"}


def cautions(check: Check) -> set[str]:
    return {finding.rule for finding in check.findings if finding.severity == "caution"}


def test_a_set_that_nothing_speaks_against_is_compatible(part: Named, checker: Checker) -> None:
    joint = {"rotates": "no", "load": "shear", "temperature": Fraction(150)}
    check = checker.check(Assembly(part("NAS6204-8"), (), (part("AN960-416"),), part("MS21042-4"), joint=joint))
    assert check.verdict == "compatible"
    assert {"thread.bolt.nut", "size.washer.bolt"} <= {finding.rule for finding in check.findings}


def test_a_bolt_without_a_listed_limit_is_a_caution_only_where_it_is_hot(part: Named, checker: Checker) -> None:
    assert checker.check(bolted(part)).verdict == "compatible"
    hot = checker.check(bolted(part, "MS21043-4", joint={"temperature": Fraction(500)}))
    assert "bolt.limit-not-held.steel" in cautions(hot)


def test_every_finding_about_a_readable_set_names_a_row_and_its_source(part: Named, checker: Checker) -> None:
    check = checker.check(bolted(part, stack=(plate("0.775"),)))
    assert check.findings
    assert all(finding.citation is not None and finding.citation.source for finding in check.findings)


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"nut": "AN365-524A"}, "thread.bolt.nut-differ"),
        ({"washer": "AN960-10"}, "size.washer.bolt-small"),
        ({"joint": {"temperature": Fraction(251)}}, "nut.insert.temperature"),
        ({"joint": {"rotates": "yes"}}, "nut.self-locking.rotation"),
        ({"nut": "MS20364-428A", "joint": {"load": "tension"}}, "nut.shear.tension"),
        ({"nut": "AN310-4"}, "nut.castellated.undrilled"),
        ({"fastener": "AN4-12"}, "nut.insert.drilled-small"),
    ],
)
def test_what_a_rule_forbids_is_incompatible(part: Named, checker: Checker, change: Any, rule: str) -> None:
    check = checker.check(bolted(part, **change))
    assert check.verdict == "incompatible"
    assert rule in faults(check)


def test_an_insert_nut_is_let_stand_at_250_and_not_above(part: Named, checker: Checker) -> None:
    """The boundary itself is allowed (AC 43.13-1B 7-64 f)."""
    at, above = (checker.check(bolted(part, joint={"temperature": Fraction(t)})) for t in (250, 251))
    assert "nut.insert.temperature" not in faults(at)
    assert "nut.insert.temperature" in faults(above)


def test_what_was_not_said_makes_a_set_conditional(part: Named, checker: Checker) -> None:
    check = checker.check(Assembly(part("AN4-12A"), (), (part("AN960-416"),), part("AN365-428A")))
    assert check.verdict == "compatible_with_conditions"
    assert any(f.unstated == ("temperature",) for f in check.findings if f.rule == "nut.insert.temperature")


def test_a_hot_part_that_no_row_limits_is_never_called_compatible(part: Named, checker: Checker) -> None:
    """Silence is no permission: the tables give no limit for an aluminium bolt."""
    hot = bolted(part, nut="AN365D428C", washer="AN960D416", fastener="AN4DD12A", joint={"temperature": Fraction(1500)})
    assert checker.check(hot).verdict in {"unknown", "incompatible"}


def test_each_of_several_washers_is_judged_and_named(part: Named, checker: Checker) -> None:
    joint = {"rotates": "no", "temperature": Fraction(100)}
    right, wrong = part("AN960-416"), part("AN960-10")
    check = checker.check(Assembly(part("AN4-12A"), (right,), (right, wrong), part("AN365-428A"), joint=joint))
    small = next(finding for finding in check.findings if finding.rule == "size.washer.bolt-small")
    assert wrong.number in small.parts
    assert right.number not in small.parts


def test_a_countersunk_washer_belongs_under_the_head_of_a_strong_bolt(part: Named, checker: Checker) -> None:
    """The plain washer under the nut of the same bolt is no fault of the set."""
    strong, countersunk, plain, nut = part("NAS6204-8"), part("MS20002C4"), part("AN960-416"), part("MS21042-4")
    right = checker.check(Assembly(strong, (countersunk,), (plain,), nut))
    wrong = checker.check(Assembly(strong, (plain,), (plain,), nut))
    assert "washer.csk.high-strength" not in cautions(right)
    assert "washer.csk.high-strength" in cautions(wrong)


@pytest.mark.parametrize("material", ["wood", "composite"])
def test_soft_parts_ask_for_large_area_washers(part: Named, checker: Checker, material: str) -> None:
    """AC 43.13-1B 7-86 for wood; trade practice for laminates."""
    small, large = (
        checker.check(bolted(part, washer=w, joint={"material": material})) for w in ("AN960-416", "AN970-4")
    )
    bare = checker.check(Assembly(part("AN4-12A"), (), (), part("AN365-428A"), joint={"material": material}))
    assert f"washer.{material}.small" in cautions(small)
    assert f"washer.{material}.missing" in cautions(bare)
    assert not {f"washer.{material}.small", f"washer.{material}.missing"} & cautions(large)


@pytest.mark.parametrize(("head", "nut"), [("wood", "aluminium"), ("aluminium", "wood"), ("wood", "wood")])
def test_each_side_is_judged_by_the_plate_it_bears_on(part: Named, checker: Checker, head: str, nut: str) -> None:
    """A washer only under the nut leaves the head bare; each outer plate counts for its own side."""
    stack = (plate("0.4", head), plate("0.375", nut))
    large, small = part("AN970-4"), part("AN960-416")
    one_sided = checker.check(Assembly(part("AN4-12A"), (), (large,), part("AN365-428A"), stack=stack))
    assert ("washer.wood.bare-head" in cautions(one_sided)) is (head == "wood")
    plain = checker.check(Assembly(part("AN4-12A"), (small,), (large,), part("AN365-428A"), stack=stack))
    assert ("washer.wood.small" in cautions(plain)) is (head == "wood")
    assert "washer.wood.bare-head" not in cautions(plain)
    other = checker.check(Assembly(part("AN4-12A"), (large,), (), part("AN365-428A"), stack=stack))
    assert ("washer.wood.bare-nut" in cautions(other)) is (nut == "wood")


WRONG_SETS: list[dict[str, Any]] = [
    {"nut": "AN365-524A"},
    {"washer": "AN960-10"},
    {"nut": "AN310-4"},
    {"fastener": "AN4-12"},
    {"nut": "MS20364-428A", "joint": {"load": "tension"}},
    {"joint": {"temperature": Fraction(300)}},
]


@pytest.mark.parametrize("basis", ["published", "secondary", "derived", "common-practice"])
@pytest.mark.parametrize("change", WRONG_SETS)
def test_a_stricter_question_never_gets_a_laxer_answer(
    desk: Desk, part: Named, change: dict[str, Any], basis: str
) -> None:
    """What excludes a set on all that is known excludes it for whoever trusts less of it."""
    whole = Checker(desk.catalogue, desk.rules).check(bolted(part, **change))
    strict = Checker(desk.catalogue, desk.rules, basis).check(bolted(lambda n: part(n, basis=basis), **change))
    assert whole.verdict == strict.verdict == "incompatible"
    assert faults(whole) <= faults(strict)


def test_a_strict_question_leaves_out_what_a_weaker_rule_says_for_a_set(desk: Desk, part: Named) -> None:
    strict = Checker(desk.catalogue, desk.rules, "published").check(bolted(lambda n: part(n, basis="published")))
    whole = Checker(desk.catalogue, desk.rules).check(bolted(part))
    assert "thread.bolt.nut" in {finding.rule for finding in whole.findings}  # common practice
    assert "thread.bolt.nut" not in {finding.rule for finding in strict.findings}
    assert strict.verdict == "unknown"


def test_cadmium_on_titanium_is_a_fault(part: Named, checker: Checker) -> None:
    """QQ-P-416 6.1.1.1.1."""
    check = checker.check(bolted(part, stack=(plate("0.775", "titanium"),)))
    assert "washer.cadmium.titanium" in faults(check)


@pytest.mark.parametrize(("head", "nut", "too_high"), [(1, 1, False), (1, 2, True), (0, 3, True)])
def test_two_washers_of_a_sixteenth_are_an_eighth_and_three_are_more(
    part: Named, checker: Checker, head: int, nut: int, too_high: bool
) -> None:
    """AC 43.13-1B 7-37: at most 1/8 in of washers adjust the grip; a washer of 1/16 is printed .063."""
    washer = part("AN960-416")
    check = checker.check(Assembly(part("AN4-12A"), (washer,) * head, (washer,) * nut, part("AN365-428A")))
    assert ("grip.washers-eighth" in cautions(check)) is too_high


def test_a_nut_that_runs_onto_the_shank_is_a_fault(part: Named, checker: Checker) -> None:
    check = checker.check(bolted(part, stack=(plate("0.5"),)))
    assert "grip.runout" in faults(check)


def test_thread_in_the_hole_beyond_every_practice_is_a_fault(part: Named, checker: Checker) -> None:
    check = checker.check(bolted(part, stack=(plate("1.0"),)))
    assert {"grip.two-threads", "grip.shear"} & faults(check)


def test_a_bolt_that_no_nut_can_show_a_thread_on_is_a_fault(part: Named, checker: Checker) -> None:
    check = checker.check(bolted(part, stack=(plate("1.25"),)))
    assert "protrusion.one-thread" in faults(check)


def test_an_unknown_nut_height_is_asked_for_and_a_measured_one_is_judged(part: Named, checker: Checker) -> None:
    unknown = checker.check(bolted(part, stack=(plate("0.775"),)))
    known = checker.check(bolted(part, stack=(plate("0.775"),), measured={"height": exactly(Fraction("0.3"))}))
    tall = checker.check(bolted(part, stack=(plate("0.775"),), measured={"height": exactly(Fraction("0.5"))}))
    assert "protrusion.one-thread" in cautions(unknown)
    assert "protrusion.one-thread" not in cautions(known) | faults(known)
    assert "protrusion.one-thread" in faults(tall)


def test_the_highest_nut_named_is_exactly_the_highest_that_shows_enough(part: Named, checker: Checker) -> None:
    check = checker.check(bolted(part, stack=(plate("0.775"),)))
    most = next(figure for figure in check.figures if figure.name == "highest_nut.circular").value.low
    for height, allowed in ((most, True), (most + Fraction(1, 10_000), False)):
        judged = checker.check(bolted(part, stack=(plate("0.775"),), measured={"height": exactly(height)}))
        one = next(result for result in judged.practices if result.practice == "circular")
        assert (one.outcome == "always") is allowed


def test_a_castle_nut_whose_slots_no_row_gives_is_left_to_the_eye(part: Named, checker: Checker) -> None:
    pin = part("MS24665-132")
    check = checker.check(bolted(part, nut="AN310-4", fastener="AN4-12", cotter_pin=pin, stack=(plate("0.775"),)))
    assert "cotter-pin.castellation" in cautions(check)
    assert any(entry.what == "cotter hole in the slots" for entry in check.not_judged)


def test_swapping_a_regular_washer_for_a_thin_one_turns_the_slots(part: Named, checker: Checker) -> None:
    """.063 to .032 at 28 threads an inch: .031 x 28 turns = .868 of a turn = 5.208 steps of six: .792 is left."""
    check = checker.check(bolted(part, nut="AN310-4", fastener="AN4-12", cotter_pin=part("MS24665-132")))
    by_pack = {entry.pack: entry.remaining for entry in check.clocking}
    assert by_pack["AN960-416"] == 0
    assert by_pack["AN960-416L"] == Fraction("0.792")


@pytest.mark.parametrize(("drag", "fault"), [("7.9", True), ("8", False)])
def test_a_used_nut_below_table_7_2_is_a_fault(part: Named, checker: Checker, drag: str, fault: bool) -> None:
    """AC 43.13-1B table 7-2: 7/16-20 needs 8 in-lb."""
    parts = part("AN7-12A"), part("AN960-716"), part("AN365-720A")
    used = Assembly(parts[0], (), (parts[1],), parts[2], reused_nut_drag=Fraction(drag))
    assert ("nut.self-locking.reuse" in faults(checker.check(used))) is fault


def test_a_hole_smaller_than_the_shank_is_said(part: Named, checker: Checker) -> None:
    tight = checker.check(bolted(part, hole=exactly(Fraction("0.245"))))
    free = checker.check(bolted(part, hole=exactly(Fraction("0.257"))))
    assert "hole.light-drive" in cautions(tight)
    assert "hole.light-drive" not in cautions(free)


@settings(max_examples=25)
@given(thickness=st.integers(400, 1200), tolerance=st.integers(0, 40), wider=st.integers(0, 40))
def test_a_wider_tolerance_only_widens_figures(
    desk: Desk, checker: Checker, thickness: int, tolerance: int, wider: int
) -> None:
    checks = []
    for spread in (tolerance, tolerance + wider):
        layer = plate(f"{thickness / 1000:.3f}", tolerance=f"{spread / 1000:.3f}")
        checks.append(checker.check(bolted(lambda n, b="from-memory": desk.part(n, b), stack=(layer,))))
    narrow, wide = ({f.name: f.value for f in c.figures} for c in checks)
    for name, span in narrow.items():
        if not name.startswith("highest_nut"):
            assert wide[name].low <= span.low
            assert span.high <= wide[name].high
    order = ["compatible", "compatible_with_conditions", "incompatible"]
    if checks[0].verdict == "compatible_with_conditions":
        assert order.index(checks[1].verdict) >= 1 or checks[1].verdict == "unknown"
