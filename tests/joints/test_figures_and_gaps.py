"""The figures of a joint by hand, what cannot be judged and how grave that is, and which side a washer belongs to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from service.api.desk import Desk
from service.joints.assembly import Assembly, Layer
from service.joints.checking import Check, Checker
from service.joints.formulas.stack import Span, exactly, toleranced
from service.parts.part import Part

Named = Callable[..., Part]
HUNDREDTH = Fraction(1, 100)


def about(centre: str, spread: Fraction = HUNDREDTH) -> Span:
    return Span(Fraction(centre) - spread, Fraction(centre) + spread)


def figures(check: Check) -> dict[str, Span]:
    return {figure.name: figure.value for figure in check.figures}


def unjudged(check: Check) -> set[tuple[str, bool]]:
    return {(entry.what, entry.vital) for entry in check.not_judged}


def rules(check: Check, severity: str) -> set[str]:
    return {finding.rule for finding in check.findings if finding.severity == severity}


def test_every_figure_is_what_the_sizes_add_up_to(checker: Checker, joint: Assembly) -> None:
    found = figures(checker.check(joint))
    assert found["plates"] == about("0.5")
    assert found["clamped"] == about("0.595")
    assert found["grip"] == exactly(Fraction("0.5"))
    assert found["length"] == exactly(Fraction("0.9"))
    assert found["nut_clearance"] == about("0.095")
    assert found["thread_in_hole"] == about("0.032")
    assert found["past_pack"] == about("0.305")
    assert found["protrusion"] == about("0.055")
    assert found["threads_showing"] == about(str(Fraction("0.055") * 28), HUNDREDTH * 28)
    assert found["washers_under_head"] == exactly(Fraction("0.032"))
    assert found["washers_under_nut"] == exactly(Fraction("0.063"))
    assert found["highest_nut.circular"] == exactly(Fraction("0.295") - Fraction(1, 28))
    units = {figure.name: figure.unit for figure in checker.check(joint).figures}
    assert units.pop("threads_showing") == "1"
    assert set(units.values()) == {"[in_i]"}


def test_without_plates_only_the_set_is_judged_and_that_is_no_gap_in_the_verdict(
    checker: Checker, joint: Assembly
) -> None:
    check = checker.check(replace(joint, stack=()))
    assert ("grip and protrusion", False) in unjudged(check)
    assert check.verdict != "unknown"
    assert set(figures(check)) == {"washers_under_head", "washers_under_nut"}


def test_without_a_readable_fastener_there_is_no_verdict(checker: Checker, joint: Assembly) -> None:
    check = checker.check(replace(joint, fastener=None))
    assert ("grip and protrusion", True) in unjudged(check)
    assert check.verdict == "unknown"


def test_a_fastener_whose_lengths_no_row_gives_leaves_the_verdict_open_for_each_of_them(
    checker: Checker, joint: Assembly, part: Named
) -> None:
    check = checker.check(replace(joint, fastener=part("AN24-12"), measured={}))
    reasons = [entry for entry in check.not_judged if entry.what == "grip and protrusion"]
    assert check.verdict in {"unknown", "incompatible"}
    assert all(entry.vital for entry in reasons)
    assert reasons
    one = checker.check(replace(joint, fastener=part("AN24-12"), measured={"grip_length": exactly(Fraction("0.5"))}))
    assert "nut_clearance" not in figures(one)
    both = checker.check(replace(joint, fastener=part("AN24-12")))
    assert figures(both)["nut_clearance"] == about("0.095")


def test_a_washer_whose_thickness_a_strict_caller_cannot_trust_leaves_the_verdict_open(
    desk: Desk, joint: Assembly, part: Named
) -> None:
    strict = Checker(desk.catalogue, desk.rules, "published")
    check = strict.check(replace(joint, under_nut=(part("AN960-416", basis="published"),)))
    assert ("grip and protrusion", True) in unjudged(check)
    assert "clamped" not in figures(check)


def test_a_missing_tolerance_of_a_washer_is_said_once_for_each_number(
    checker: Checker, joint: Assembly, part: Named
) -> None:
    same = part("AN960-416")
    check = checker.check(replace(joint, under_head=(same,), under_nut=(same, same)))
    said = [entry for entry in check.not_judged if entry.what == "washer tolerance"]
    assert len(said) == 1
    assert "AN960-416" in said[0].why
    toleranced_washer = part("AN935-416")
    value = toleranced_washer.value("thickness")
    assert value is not None
    spread = value.plus is not None or value.minus is not None
    other = checker.check(replace(joint, under_head=(), under_nut=(toleranced_washer,)))
    assert bool([e for e in other.not_judged if e.what == "washer tolerance"]) is not spread


@pytest.mark.parametrize(
    ("plates", "tolerance", "severity"),
    [("0.407", "0", ""), ("0.408", "0", "fault"), ("0.407", "0.001", "caution"), ("0.408", "0.001", "caution")],
)
def test_a_clevis_pin_is_long_enough_to_the_thousandth(
    part: Named, checker: Checker, plates: str, tolerance: str, severity: str
) -> None:
    """Hole .076, its centre .086 from the point of a pin .531 long: the hole begins .407 under the head."""
    spread = Fraction(tolerance)
    check = checker.check(
        Assembly(
            part("MS20392-2C17"),
            cotter_pin=part("MS24665-132"),
            stack=(Layer(toleranced(Fraction(plates), spread, spread)),),
            measured={"length": exactly(Fraction("0.531")), "shank_hole_from_point": exactly(Fraction("0.086"))},
        )
    )
    said = [finding for finding in check.findings if finding.rule == "clevis-pin.length"]
    assert [finding.severity for finding in said] == ([severity] if severity else [])
    assert all(("At worst case" in finding.text) is (severity == "caution") for finding in said)
    assert figures(check)["length"] == exactly(Fraction("0.531"))


@pytest.mark.parametrize("missing", ["length", "shank_hole_from_point"])
def test_a_clevis_pin_measured_by_half_is_not_judged(part: Named, checker: Checker, missing: str) -> None:
    sizes = {"length": exactly(Fraction("0.531")), "shank_hole_from_point": exactly(Fraction("0.086"))}
    del sizes[missing]
    check = checker.check(Assembly(part("MS20392-2C17"), stack=(Layer(exactly(Fraction("0.3"))),), measured=sizes))
    assert [e.vital for e in check.not_judged if e.what == "grip of the clevis pin"] == [True]
    assert "end_play" not in figures(check)


SOFT: dict[str, Any] = {"material": "wood"}


def test_a_set_without_any_washer_on_wood_is_said_once_and_not_side_by_side(checker: Checker, part: Named) -> None:
    bare = checker.check(Assembly(part("AN4-7A"), (), (), part("MS21045-4"), joint=SOFT))
    assert "washer.wood.missing" in rules(bare, "caution")
    assert not {"washer.wood.bare-head", "washer.wood.bare-nut"} & rules(bare, "caution")


def test_a_plate_nut_asks_for_no_washer_under_it(checker: Checker, part: Named) -> None:
    large = part("AN970-4")
    plate_nut = checker.check(Assembly(part("AN4-7A"), (large,), (), plate_nut=part("MS21047L4"), joint=SOFT))
    nut = checker.check(Assembly(part("AN4-7A"), (large,), (), part("MS21045-4"), joint=SOFT))
    assert "washer.wood.bare-nut" not in rules(plate_nut, "caution")
    assert "washer.wood.bare-nut" in rules(nut, "caution")


def test_what_is_stated_of_the_whole_joint_stands_before_the_plates(checker: Checker, part: Named) -> None:
    plates = (Layer(exactly(Fraction("0.4")), "aluminium"),)
    large = part("AN970-4")
    both = Assembly(part("AN4-7A"), (), (large,), part("MS21045-4"), stack=plates, joint=SOFT)
    assert "washer.wood.bare-head" in rules(checker.check(both), "caution")
    assert "washer.wood.bare-head" not in rules(checker.check(replace(both, joint={})), "caution")


def test_a_rule_about_washer_and_nut_concerns_the_washer_under_the_nut(checker: Checker, part: Named) -> None:
    """A dished washer belongs under the nut of a threaded taper pin (AC 43.13-1B 7-89); a rule on lock washers with a
    self-locking nut names the lock washer wherever it lies."""
    lock, plain = part("AN935-416"), part("AN960-416")
    under_nut = checker.check(Assembly(part("AN4-7A"), (plain,), (plain, lock), part("MS21045-4")))
    said = next(f for f in under_nut.findings if f.rule == "lock-washer.self-locking-nut")
    assert set(said.parts) == {"AN935-416", "MS21045-4"}


def heated(check: Check) -> dict[str, bool]:
    """Numbers whose own limit no row gives, and whether that leaves the verdict open."""
    return {
        entry.what.removeprefix("temperature of "): entry.vital
        for entry in check.not_judged
        if entry.what.startswith("temperature of ")
    }


@pytest.mark.parametrize(("temperature", "vital"), [(100, False), (250, False), (251, True), (500, True)])
def test_a_part_without_a_limit_is_named_and_counts_above_the_lowest_limit_of_any(
    checker: Checker, joint: Assembly, part: Named, temperature: int, vital: bool
) -> None:
    """The lowest limit of the rows is the 250 F of the insert nut (AC 43.13-1B 7-64 f); a stainless AN bolt has none."""
    hot = {**joint.joint, "temperature": Fraction(temperature)}
    check = checker.check(replace(joint, fastener=part("AN4C7A"), under_head=(), joint=hot))
    assert heated(check) == {"AN4C7A": vital}


def test_parts_whose_limit_some_row_gives_are_not_named(checker: Checker, joint: Assembly) -> None:
    assert heated(checker.check(joint)) == {}
    assert heated(checker.check(replace(joint, joint={"rotates": "no"}))) == {}


def test_to_a_strict_caller_a_limit_from_a_weaker_row_is_no_limit(desk: Desk, joint: Assembly, part: Named) -> None:
    """The limit of this nut is its sheet's, seen in a reproduction: nothing published limits the nut or the bolt."""
    nut = part("MS21045-4", basis="published")
    strict = Checker(desk.catalogue, desk.rules, "published").check(replace(joint, nut=nut, measured={}))
    assert "MS21045-4" in heated(strict)
    assert "MS21045-4" not in heated(Checker(desk.catalogue, desk.rules).check(replace(joint, measured={})))


def test_a_weaker_copy_of_a_minimum_drag_is_left_out_for_a_strict_caller(desk: Desk, part: Named) -> None:
    """13 in-lb on 7/16-20 is above the 8 of table 7-2 (AC 43.13-1B) and below the 14 of the Army's series, both published."""
    used = Assembly(part("AN7-12A"), (), (), part("AN365-720A"), reused_nut_drag=Fraction(13))
    said = {
        basis: {
            f.citation.source
            for f in Checker(desk.catalogue, desk.rules, basis).check(used).findings
            if f.rule == "nut.self-locking.reuse" and f.citation is not None
        }
        for basis in ("published", "from-memory")
    }
    assert "ac43.13-1b" in said["published"]
    assert said["published"] <= said["from-memory"]


@pytest.mark.parametrize(
    ("low", "high", "questioned"),
    [
        ("0.180", "0.180", False),
        ("0.181", "0.181", True),
        ("0.160", "0.160", False),
        ("0.159", "0.159", True),
        ("0.179", "0.185", False),
        ("0.150", "0.161", False),
    ],
)
def test_a_measured_size_is_questioned_only_when_it_lies_wholly_outside_the_rows(
    checker: Checker, part: Named, low: str, high: str, questioned: bool
) -> None:
    """Point to cotter hole of NAS6204: .170 with .010 either way (its Table I)."""
    measured = {"shank_hole_from_point": Span(Fraction(low), Fraction(high))}
    check = checker.check(Assembly(part("NAS6204-8D"), (), (), part("AN310-4"), measured=measured))
    said = [finding for finding in check.findings if finding.rule == "measured.differs"]
    assert bool(said) is questioned
    for finding in said:
        assert finding.parts == ("NAS6204-8D",)
        assert f"{low.rstrip('0')} in measured, 0.16 to 0.18 in by the rows" in finding.text


def test_what_a_pair_cannot_be_compared_by_leaves_the_verdict_open(desk: Desk, part: Named) -> None:
    def strictly(number: str) -> Part:
        return part(number, basis="published")

    strict = Checker(desk.catalogue, desk.rules, "published")
    check = strict.check(Assembly(strictly("AN4-7A"), (), (strictly("AN960-416"),), strictly("MS21045-4")))
    assert {("thread of the pair", True), ("size of a washer", True), ("size of the fastener", True)} <= unjudged(check)
    assert check.verdict == "unknown"


def test_pairs_whose_rows_are_there_leave_nothing_open(checker: Checker, joint: Assembly) -> None:
    assert unjudged(checker.check(joint)) == {("washer tolerance", False)}


def test_a_bolt_without_a_nut_is_said_and_a_pin_without_one_is_not(
    checker: Checker, joint: Assembly, part: Named
) -> None:
    assert ("nut", False) in unjudged(checker.check(replace(joint, nut=None)))
    assert ("nut", False) not in unjudged(checker.check(joint))
    assert ("nut", False) not in unjudged(checker.check(Assembly(part("MS20392-2C17"))))


@pytest.mark.parametrize(("bolt", "nut", "listed"), [("AN4-7A", "AN365-428A", False), ("AN7-12A", "AN365-720A", True)])
def test_where_the_circular_gives_no_minimum_drag_it_is_said(
    checker: Checker, part: Named, bolt: str, nut: str, listed: bool
) -> None:
    """AC 43.13-1B table 7-2 begins at 7/16."""
    check = checker.check(Assembly(part(bolt), (), (), part(nut), reused_nut_drag=Fraction(20)))
    assert (("minimum prevailing torque by the circular", False) in unjudged(check)) is not listed
