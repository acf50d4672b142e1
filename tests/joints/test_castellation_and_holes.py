"""The cotter hole in the slots, the size of the hole, and clevis pins: hand arithmetic on measured and listed sizes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.joints.assembly import Assembly, Layer
from service.joints.checking import Check, Checker
from service.joints.formulas.stack import Span, exactly, toleranced
from service.parts.part import Part

Named = Callable[..., Part]
#: measured on the nut: bottom of the slots and height above the bearing face
NUT = {"slot_bottom_height": exactly(Fraction("0.150")), "height": exactly(Fraction("0.280"))}
#: measured on the bolt: length, and point to the centre of the cotter hole
BOLT = {
    "grip_length": exactly(Fraction("0.500")),
    "length": exactly(Fraction("0.900")),
    "shank_hole_from_point": exactly(Fraction("0.160")),
}


def castled(part: Named, plates: str, tolerance: str = "0", washer: str = "AN960-416L", **more: Any) -> Assembly:
    return Assembly(
        part("AN4-6"),
        (),
        (part(washer),),
        part("AN310-4"),
        cotter_pin=part("MS24665-132"),
        stack=(Layer(toleranced(Fraction(plates), Fraction(tolerance), Fraction(tolerance))),),
        measured={**BOLT, **NUT, **more},
        joint={"rotates": "no", "load": "shear", "temperature": Fraction(100)},
    )


PLATES = (Layer(exactly(Fraction("0.5"))),)


def found(check: Check, severity: str) -> set[str]:
    return {finding.rule for finding in check.findings if finding.severity == severity}


def figure(check: Check, name: str) -> Span:
    return next(entry.value for entry in check.figures if entry.name == name)


def test_the_hole_stands_where_length_less_hole_less_pack_puts_it(part: Named, checker: Checker) -> None:
    """0.900 - 0.160 - (0.500 + 0.032) = 0.208 above the bearing face; a 1/16 in pin reaches down to 0.177."""
    thin = part("AN960-416L").value("thickness")
    assert thin is not None
    check = checker.check(castled(part, "0.500"))
    assert figure(check, "cotter_hole").low == Fraction("0.740") - Fraction("0.500") - thin.number
    assert "cotter-pin.castellation" not in found(check, "fault") | found(check, "caution")
    assert "cotter-pin.slots" not in found(check, "fault") | found(check, "caution")
    assert not any("cotter hole" in entry.what for entry in check.not_judged)


@pytest.mark.parametrize(
    ("plates", "rule"), [("0.420", "cotter-pin.castellation"), ("0.600", "cotter-pin.slots")]
)  # 0.740 - 0.420 - 0.032 = 0.288 is above 0.280; 0.740 - 0.600 - 0.032 - 0.03 = 0.078 is below 0.150
def test_a_hole_outside_the_slots_is_a_fault_that_says_which_way(
    part: Named, checker: Checker, plates: str, rule: str
) -> None:
    check = checker.check(castled(part, plates))
    assert check.verdict == "incompatible"
    assert rule in found(check, "fault")


def test_a_hole_that_may_or_may_not_stand_in_the_slots_is_a_caution(part: Named, checker: Checker) -> None:
    check = checker.check(castled(part, "0.430", "0.010"))
    assert "cotter-pin.castellation" in found(check, "caution")


def test_a_fault_names_bolt_nut_and_pin_and_says_what_washers_would_mend_it(part: Named, checker: Checker) -> None:
    """The pin (.060) fits while the pack is .460 to .560 high: 0.740 - 0.280, and 0.740 - 0.150 - 0.030."""
    high, low = (checker.check(castled(part, plates)) for plates in ("0.420", "0.600"))
    too_high = next(f for f in high.findings if f.rule == "cotter-pin.castellation")
    assert "Here 0.008 in above the top of the nut; 0.008 to 0.108 in more under the nut" in too_high.text
    assert set(too_high.parts) == {"AN4-6", "AN310-4", "MS24665-132"}
    too_low = next(f for f in low.findings if f.rule == "cotter-pin.slots")
    assert "Here 0.072 in below the bottom of the slots; 0.072 to 0.172 in less under the nut" in too_low.text


@pytest.mark.parametrize(
    ("plates", "tolerance", "severity"),
    [
        ("0.428", "0", ""),  # 0.460 exactly: centre of the pin level with the top
        ("0.427", "0", "fault"),
        ("0.427", "0.001", "caution"),  # reaches 0.460 at best
        ("0.438", "0.010", ""),
        ("0.438", "0.011", "caution"),
    ],
)
def test_the_top_of_the_nut_is_a_limit_to_the_thousandth(
    part: Named, checker: Checker, plates: str, tolerance: str, severity: str
) -> None:
    check = checker.check(castled(part, plates, tolerance))
    said = [f for f in check.findings if f.rule == "cotter-pin.castellation"]
    assert [f.severity for f in said] == ([severity] if severity else [])
    assert all(("At worst case" in f.text) is (severity == "caution") for f in said)


@pytest.mark.parametrize(
    ("plates", "severity"), [("0.528", ""), ("0.529", "fault")]
)  # a pack of 0.560 puts the pin's lower edge on the bottom of the slots
def test_the_bottom_of_the_slots_is_a_limit_to_the_thousandth(
    part: Named, checker: Checker, plates: str, severity: str
) -> None:
    check = checker.check(castled(part, plates))
    assert [f.severity for f in check.findings if f.rule == "cotter-pin.slots"] == ([severity] if severity else [])


def test_tolerances_wider_than_the_slots_allow_are_told_to_be_measured(part: Named, checker: Checker) -> None:
    """The window is a tenth of an inch; plates that may differ by a fifth never fit for certain."""
    check = checker.check(castled(part, "0.45", "0.1"))
    words = [f.text for f in check.findings if f.rule in {"cotter-pin.castellation", "cotter-pin.slots"}]
    assert words
    assert all("no pack fits for certain" in text for text in words)


@settings(max_examples=30, deadline=None)
@given(st.integers(min_value=330, max_value=427))
def test_the_washers_that_a_fault_asks_for_bring_the_hole_into_the_slots(
    part: Named, checker: Checker, thousandths: int
) -> None:
    """What the words ask for is put into the pack and judged again."""
    plates = Fraction(thousandths, 1000)
    words = next(
        f.text for f in checker.check(castled(part, str(plates))).findings if f.rule == "cotter-pin.castellation"
    )
    least, most = (Fraction(t) for t in words.split(" in more under")[0].split("; ")[-1].split(" to "))
    for extra, fits in (
        (least, True),
        (most, True),
        (least - Fraction(1, 1000), False),
        (most + Fraction(1, 1000), False),
    ):
        # what lies in the pack is all one to the hole: the plates stand for the washers here
        again = checker.check(castled(part, str(plates + extra)))
        said = {"cotter-pin.castellation", "cotter-pin.slots"} & (found(again, "fault") | found(again, "caution"))
        assert bool(said) is not fits


def test_what_is_not_known_of_hole_and_slots_is_said_of_the_right_part(part: Named, checker: Checker) -> None:
    whole = castled(part, "0.500")
    check = checker.check(replace(whole, measured={}))
    caution = next(f for f in check.findings if f.rule == "cotter-pin.castellation")
    assert set(caution.unknown) == {
        "shank_hole_from_point of AN4-6", "slot_bottom_height of AN310-4", "height of AN310-4"
    }  # fmt: skip


def test_other_packs_of_the_same_washers_turn_the_slots_by_their_height_over_the_pitch(
    part: Named, checker: Checker
) -> None:
    """28 threads and 6 slots: .001 in of pack is .168 of a step from slot to slot; .063 against .032 in place."""
    check = checker.check(castled(part, "0.500"))
    turned = {entry.pack: entry.shift for entry in check.clocking}
    heights = {
        "AN960-416L": "0.032", "AN960-416": "0.063", "AN960-416L and AN960-416L": "0.064",
        "AN960-416L and AN960-416": "0.095", "AN960-416 and AN960-416": "0.126",
    }  # fmt: skip
    expected = {name: (Fraction(height) - Fraction("0.032")) * 28 * 6 % 1 for name, height in heights.items()}
    assert turned == expected
    assert [entry.remaining for entry in check.clocking] == sorted(expected.values())


def test_a_plain_nut_or_a_bare_face_has_no_slots_to_turn(part: Named, checker: Checker) -> None:
    whole = castled(part, "0.500")
    assert checker.check(replace(whole, nut=part("MS21045-4"))).clocking == ()
    assert checker.check(replace(whole, under_nut=())).clocking == ()


def test_the_thread_that_must_show_is_asked_of_self_locking_and_plain_nuts_only(part: Named, checker: Checker) -> None:
    """AC 43.13-1B 7-37 names those two kinds; at a castellated nut the cotter hole decides."""
    plates = (Layer(exactly(Fraction("0.5"))),)
    castle, locking = (
        checker.check(Assembly(part(bolt), (), (part("AN960-416"),), part(nut), stack=plates))
        for bolt, nut in (("AN4-7", "AN310-4"), ("AN4-7A", "AN365-428A"))
    )
    assert "protrusion.one-thread" in found(locking, "caution")
    assert "protrusion.one-thread" not in found(castle, "caution") | found(castle, "fault")
    assert "cotter-pin.castellation" in found(castle, "caution")


def test_a_bolt_that_ends_before_the_castellated_nut_is_a_fault(part: Named, checker: Checker) -> None:
    plates = (Layer(exactly(Fraction("0.9"))),)
    check = checker.check(Assembly(part("AN4-6"), (), (part("AN960-416"),), part("AN310-4"), stack=plates))
    assert "cotter-pin.slots" in found(check, "fault")


@pytest.mark.parametrize(("bolt", "nut"), [("AN4-6A", "AN310-4"), ("AN4-6", "MS21045-4")])
def test_only_a_drilled_shank_under_a_castellated_nut_is_asked_for_its_hole(
    part: Named, checker: Checker, bolt: str, nut: str
) -> None:
    check = checker.check(Assembly(part(bolt), (), (part("AN960-416"),), part(nut), stack=PLATES))
    assert not any(entry.what == "cotter hole in the slots" for entry in check.not_judged)
    assert "cotter-pin.castellation" not in found(check, "caution") | found(check, "fault")


def test_a_bolt_that_ends_level_with_the_nuts_face_does_not_reach_the_nut(part: Named, checker: Checker) -> None:
    """Plates of one half inch and a washer: a bolt just as long ends there, one a thousandth longer does not."""
    washer = part("AN960-416").value("thickness")
    assert washer is not None
    for more, fault in ((Fraction(0), True), (Fraction(1, 1000), False)):
        length = Fraction("0.5") + washer.greatest + more
        check = checker.check(castled(part, "0.5", washer="AN960-416", length=Span(length - Fraction(1, 100), length)))
        assert any("before it reaches the nut" in f.text for f in check.findings) is fault


def test_a_pin_whose_diameter_no_row_good_enough_gives_is_said(part: Named, checker: Checker) -> None:
    whole = castled(part, "0.500")
    strict = replace(whole, cotter_pin=part("MS24665-132", basis="published"))
    assert any("no row gives the diameter" in entry.why for entry in checker.check(strict).not_judged)


def test_without_a_cotter_pin_the_slots_are_not_judged_and_it_is_said(part: Named, checker: Checker) -> None:
    whole = castled(part, "0.500")
    bare = Assembly(whole.fastener, (), whole.under_nut, whole.nut, stack=whole.stack, measured=whole.measured)
    assert any(
        entry.what == "cotter hole in the slots" and "no cotter pin" in entry.why
        for entry in checker.check(bare).not_judged
    )


@pytest.mark.parametrize(("hole", "caution"), [("0.257", False), ("0.258", True), ("0.2656", True)])
def test_a_hole_over_the_first_letter_drill_is_a_caution(
    part: Named, checker: Checker, hole: str, caution: bool
) -> None:
    """AC 43.13-1B 7-39: the first letter drill above 1/4 in is F, .257; 17/64 in (.2656) is over it."""
    check = checker.check(Assembly(part("AN4-12A"), nut=part("AN365-428A"), hole=exactly(Fraction(hole))))
    assert ("hole.general" in found(check, "caution")) is caution


def test_a_hole_that_washer_or_head_falls_into_is_a_fault(part: Named, checker: Checker) -> None:
    washer = part("AN960-416")
    rim = washer.value("outside_diameter")
    assert rim is not None
    for size, fault in ((rim.number - Fraction(1, 1000), False), (rim.number, True)):
        check = checker.check(Assembly(part("AN4-12A"), (), (washer,), part("AN365-428A"), hole=exactly(size)))
        assert ("hole.bearing" in found(check, "fault") and fault) or (
            not any(f.rule == "hole.bearing" and washer.number in f.parts for f in check.findings) and not fault
        )


def test_a_hole_listed_for_repairs_only_does_not_widen_the_ordinary_one(part: Named, checker: Checker) -> None:
    """AN3: .191 is the hole of practice; the .197 of the battle-damage manual is for a bolt in place of a rivet."""
    for hole, caution in (("0.191", False), ("0.195", True)):
        check = checker.check(Assembly(part("AN3-6A"), nut=part("AN365-1032A"), hole=exactly(Fraction(hole))))
        assert ("hole.general" in found(check, "caution")) is caution


@pytest.mark.parametrize(("hole", "tight"), [("0.249", False), ("0.2489", True)])
def test_a_shank_that_may_be_larger_than_the_hole_is_for_a_drawn_fit(
    part: Named, checker: Checker, hole: str, tight: bool
) -> None:
    """The shank of an AN4 is at most .249."""
    check = checker.check(Assembly(part("AN4-12A"), nut=part("AN365-428A"), hole=exactly(Fraction(hole))))
    assert ("hole.light-drive" in found(check, "caution")) is tight


def test_a_shank_that_no_row_gives_leaves_the_fit_open(part: Named, checker: Checker) -> None:
    check = checker.check(Assembly(part("AN24-12A"), nut=part("AN364-428A"), hole=exactly(Fraction("0.257"))))
    assert any(entry.what == "fit in the hole" for entry in check.not_judged)
    assert not any(entry.name == "hole_clearance" for entry in check.figures)


def test_a_width_that_no_row_gives_leaves_the_bearing_open(part: Named, checker: Checker) -> None:
    check = checker.check(Assembly(part("AN4-12A"), nut=part("AN365-428A"), hole=exactly(Fraction("0.257"))))
    assert [entry.what for entry in check.not_judged if entry.what.startswith("bearing")] == ["bearing under the nut"]


def test_what_lies_next_to_the_plates_must_bear_not_what_lies_above_it(part: Named, checker: Checker) -> None:
    """A hole of 0.6 in: an AN960-416 (1/2 in across) falls into it, an AN970-4 (over 1 in) bears."""
    small, large = part("AN960-416"), part("AN970-4")
    hole, bolt, nut = exactly(Fraction("0.6")), part("AN4-12"), part("AN310-4")

    def dropped(head: tuple[Part, ...], under_nut: tuple[Part, ...]) -> list[tuple[str, ...]]:
        check = checker.check(Assembly(bolt, head, under_nut, nut, hole=hole))
        return [f.parts for f in check.findings if f.rule == "hole.bearing"]

    assert dropped((small, large), (large, small)) == []
    assert dropped((large, small), (large,)) == [("AN960-416",)]
    assert dropped((large,), (small, large)) == [("AN960-416",)]
    assert dropped((), (large,)) == [("AN4-12",)]
    assert dropped((large,), ()) == [("AN310-4",)]


def test_a_hole_for_a_fastener_that_no_row_speaks_of_is_left_open(part: Named, checker: Checker) -> None:
    """The letter rule excepts close-tolerance bolts: nothing is said of a hole for one."""
    check = checker.check(Assembly(part("NAS6204-8"), nut=part("MS21042-4"), hole=exactly(Fraction("0.257"))))
    assert "hole.general" not in found(check, "caution")
    assert any(entry.what == "size of the hole" for entry in check.not_judged)


@pytest.mark.parametrize(("plates", "verdict"), [("0.370", "play"), ("0.430", "fault")])
def test_a_clevis_pin_needs_its_cotter_hole_clear_of_the_pack(
    part: Named, checker: Checker, plates: str, verdict: str
) -> None:
    """Hole .076: 0.531 - 0.086 - 0.038 = 0.407 from under the head to the edge of the hole."""
    check = checker.check(
        Assembly(
            part("MS20392-2C17"),
            cotter_pin=part("MS24665-132"),
            stack=(Layer(exactly(Fraction(plates))),),
            measured={"length": exactly(Fraction("0.531")), "shank_hole_from_point": exactly(Fraction("0.086"))},
        )
    )
    assert ("clevis-pin.length" in found(check, "fault")) is (verdict == "fault")
    assert figure(check, "end_play").low == Fraction("0.407") - Fraction(plates)


def test_a_clevis_pin_that_nobody_measured_is_not_judged(part: Named, checker: Checker) -> None:
    check = checker.check(Assembly(part("MS20392-2C17"), stack=(Layer(exactly(Fraction(1, 4))),)))
    assert check.verdict == "unknown"
    assert any(entry.vital and entry.what == "grip of the clevis pin" for entry in check.not_judged)


def test_a_measured_size_outside_the_rows_tolerance_questions_the_number(part: Named, checker: Checker) -> None:
    """NAS6204 point to cotter hole: .170 with .010 either way."""
    for size, questioned in (("0.178", False), ("0.190", True)):
        measured = {"shank_hole_from_point": exactly(Fraction(size))}
        check = checker.check(Assembly(part("NAS6204-8D"), nut=part("AN310-4"), measured=measured))
        assert ("measured.differs" in found(check, "caution")) is questioned
