"""Each document's limit on thread in the hole, protrusion and washers, against joints worked by hand.

Pitch of 28 threads: .0357 in. Plates .400 +- .010 and .100 with washers of .032 and .063: the pack is .595 +- .010 high
and the plates end .532 +- .010 under the head.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from service.joints.assembly import Assembly, Layer
from service.joints.checking import Check, Checker
from service.joints.formulas.stack import exactly
from service.parts.part import Part

Named = Callable[..., Part]


def sized(joint: Assembly, **sizes: str) -> Assembly:
    """The joint with other measured sizes; an empty one is not measured."""
    kept = {name: size for name, size in joint.measured.items() if sizes.get(name) != ""}
    return replace(joint, measured={**kept, **{n: exactly(Fraction(v)) for n, v in sizes.items() if v}})


def said(check: Check, rule: str) -> list[tuple[str, str]]:
    return [(finding.severity, finding.text) for finding in check.findings if finding.rule == rule]


def outcomes(check: Check, topic: str) -> dict[str, tuple[str, Fraction]]:
    return {r.practice: (r.outcome, r.limit) for r in check.practices if r.topic == topic}


def test_thread_in_the_hole_is_judged_by_each_document(checker: Checker, joint: Assembly) -> None:
    """.022 to .042 in: within the two threads of the helicopter manual, which go for a nut-side part above 3/32 in; the
    Navy lets thread stand in the thicker part only, and here the nut side is the thinner."""
    check = checker.check(joint)
    assert outcomes(check, "thread_in_hole") == {
        "rotorcraft": ("always", Fraction(2, 28)),
        "navy": ("never", Fraction(0)),
    }
    ((severity, text),) = said(check, "grip.two-threads")
    assert severity == "caution"
    assert "leaves 0.022 to 0.042 in of thread in the hole; allowed here 0 in" in text


@pytest.mark.parametrize(
    ("load", "nut_side", "rule"), [("shear", "0.1", "grip.shear"), ("both", "0.1", "grip.shear"), ("tension", "0.09375", "grip.thin-sheet")]
)  # fmt: skip
def test_thread_that_no_document_allows_is_a_fault(
    checker: Checker,
    joint: Assembly,
    load: str,
    nut_side: str,
    rule: str,
) -> None:
    """None in a shear joint, and none where the nut-side part is 3/32 in or thinner (TM 55-1520-240-23-1, task 1-13)."""
    plates = (joint.stack[0], Layer(exactly(Fraction(nut_side)), "aluminium"))
    check = checker.check(replace(joint, stack=plates, joint={**joint.joint, "load": load}))
    assert [severity for severity, _ in said(check, rule)] == ["fault"]
    assert check.verdict == "incompatible"


def test_thread_that_may_or_may_not_stand_in_the_hole_is_said_as_that(checker: Checker, joint: Assembly) -> None:
    ((severity, text),) = said(checker.check(sized(joint, grip_length="0.53")), "grip.two-threads")
    assert severity == "caution"
    assert "may leave up to 0.012 in" in text
    assert said(checker.check(sized(joint, grip_length="0.542")), "grip.two-threads") == []


@pytest.mark.parametrize(
    ("grip", "severity", "words"),
    [
        ("0.585", "", ""),
        ("0.586", "caution", "At worst case the grip reaches 0.001 in past the pack"),
        ("0.605", "caution", "At worst case the grip reaches 0.02 in past the pack"),
        ("0.606", "fault", "The grip reaches 0.001 in or more past the pack"),
    ],
)
def test_the_nut_must_clamp_before_it_meets_the_shank(
    checker: Checker,
    joint: Assembly,
    grip: str,
    severity: str,
    words: str,
) -> None:
    found = said(checker.check(sized(joint, grip_length=grip)), "grip.runout")
    assert [s for s, _ in found] == ([severity] if severity else [])
    assert all(words in text for _, text in found)


def test_what_shows_past_the_nut_is_judged_by_each_document(checker: Checker, joint: Assembly) -> None:
    """.045 to .065 in: one thread and 1/32 in always, the Navy's two threads never, and not above three."""
    check = checker.check(joint)
    found = outcomes(check, "protrusion")
    assert found["circular"] == ("always", Fraction(1, 28))
    assert found["navy"] == ("never", Fraction(2, 28))
    assert found["ground vehicle"] == ("never", Fraction(2, 28))
    assert found["rotorcraft"] == ("always", Fraction(1, 32))
    assert found["shop"] == ("always", Fraction(3, 28))
    assert said(check, "protrusion.one-thread") == []
    ((severity, text),) = said(check, "protrusion.two-threads")
    assert severity == "caution"
    assert "Shows 0.045 to 0.065 in; navy practice: at least 0.0714 in" in text


@pytest.mark.parametrize(
    ("height", "one_thread", "flat_end", "most"),
    [
        ("0.30", "fault", "caution", ""),  # -.005 to .015: never a thread
        ("0.27", "caution", "note", ""),  # .025 to .045: perhaps
        ("0.19", "", "", "note"),  # .105 to .125: perhaps more than three threads, .107
        ("0.10", "", "", "note"),  # .195 to .215
    ],
)
def test_the_circular_decides_and_the_others_stand_beside_it(
    checker: Checker,
    joint: Assembly,
    height: str,
    one_thread: str,
    flat_end: str,
    most: str,
) -> None:
    check = checker.check(sized(joint, height=height))
    for rule, severity in (
        ("protrusion.one-thread", one_thread),
        ("protrusion.chamfer", flat_end),
        ("protrusion.most", most),
    ):
        assert [s for s, _ in said(check, rule)] == ([severity] if severity else []), rule
    assert all("at most 0.1071 in" in text for _, text in said(check, "protrusion.most"))


@pytest.mark.parametrize(
    ("length", "severity", "words"),
    [
        ("0.9", "caution", "up to 0.2593 in high it shows enough at worst case"),  # .295 - 1/28
        ("0.635", "caution", "at worst case no nut is low enough"),  # .030 to .050
        ("0.62", "fault", "The bolt ends 0.015 to 0.035 in past the pack"),
        ("0.605", "fault", "The bolt ends 0 to 0.02 in past the pack"),
        ("0.58", "fault", "The bolt ends up to 0.025 in short of the pack's end"),
    ],
)
def test_without_the_nuts_height_a_bolt_too_short_for_any_nut_is_still_a_fault(
    checker: Checker,
    joint: Assembly,
    length: str,
    severity: str,
    words: str,
) -> None:
    check = checker.check(sized(joint, length=length, height=""))
    ((found, text),) = said(check, "protrusion.one-thread")
    assert found == severity
    assert words in text
    assert any(entry.what == "protrusion" for entry in check.not_judged)


@pytest.mark.parametrize(
    ("head", "nut", "rules"),
    [
        (1, 2, set()),
        (0, 3, {"washer.count.nut"}),
        (2, 2, {"washer.count.three"}),
        (2, 3, {"washer.count.nut", "washer.count.three", "washer.count.four"}),
    ],
)
def test_washers_are_counted_as_each_document_counts_them(
    checker: Checker,
    part: Named,
    head: int,
    nut: int,
    rules: set[str],
) -> None:
    """Two under the nut (a light-aircraft manual), four in all (a light-sport manual), three in all (trade practice)."""
    thin = part("AN960-416L")
    check = checker.check(Assembly(part("AN4-7A"), (thin,) * head, (thin,) * nut, part("MS21045-4")))
    counted = {f.rule: f.severity for f in check.findings if f.rule.startswith("washer.count")}
    assert set(counted) == rules
    assert set(counted.values()) <= {"note"}


def test_without_a_nut_what_is_left_for_one_is_a_figure_and_not_a_verdict(checker: Checker, joint: Assembly) -> None:
    check = checker.check(replace(joint, nut=None))
    assert ("protrusion", "no nut was given") in {(e.what, e.why) for e in check.not_judged}
    assert outcomes(check, "protrusion") == {}
    assert {f.name for f in check.figures} >= {"past_pack", "highest_nut.circular"}
