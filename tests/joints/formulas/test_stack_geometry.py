"""A bolt through a pack at worst case, by its own logic."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.joints.formulas import stack as k
from tests.joints.inches import bolt_runs, inches, spans, stacks

ONE_THREAD = k.ProtrusionPractice("one thread", threads_min=Fraction(1))
NUT = k.exactly(Fraction("0.22"))


def inch(text: str) -> k.Span:
    return k.exactly(Fraction(text))


def simple(*plates: str, head: tuple[str, ...] = (), nut: tuple[str, ...] = ()) -> k.Stack:
    return k.Stack(tuple(map(inch, plates)), tuple(map(inch, head)), tuple(map(inch, nut)))


def shank(grip: str, length: str = "2", tpi: int = 20, runout: str = "0") -> k.Shank:
    return k.Shank(inch(grip), inch(length), Fraction(1, tpi), Fraction(runout))


def wider(span: k.Span, by: Fraction) -> k.Span:
    return k.Span(span.low - by, span.high + by)


# spans


@given(spans(), spans())
def test_a_sum_and_its_difference_only_widen(first: k.Span, second: k.Span) -> None:
    spread = (first.high - first.low) + (second.high - second.low)
    for found in (first + second, first - second):
        assert found.high - found.low == spread


@given(spans(), spans(), st.fractions(0, 1), st.fractions(0, 1))
def test_every_pair_of_values_lies_in_the_sum_and_the_difference(
    first: k.Span, second: k.Span, a: Fraction, b: Fraction
) -> None:
    x = first.low + a * (first.high - first.low)
    y = second.low + b * (second.high - second.low)
    assert (first + second).low <= x + y <= (first + second).high
    assert (first - second).low <= x - y <= (first - second).high


def test_a_span_does_not_run_backwards_and_tolerances_are_magnitudes() -> None:
    with pytest.raises(ValueError, match="least value 2 is above the greatest 1"):
        k.Span(Fraction(2), Fraction(1))
    for plus, minus in ((-1, 0), (0, -1)):
        with pytest.raises(ValueError, match="magnitudes"):
            k.toleranced(Fraction(1), Fraction(plus), Fraction(minus))
    assert k.toleranced(Fraction(".189"), minus=Fraction(".003")) == k.Span(Fraction(".186"), Fraction(".189"))
    assert k.toleranced(Fraction(1), plus=Fraction(1, 4)) == k.Span(Fraction(1), Fraction(5, 4))


def test_spans_move_and_change_unit() -> None:
    held = k.Span(Fraction(1), Fraction(2))
    assert held.shifted(Fraction(-1)) == k.Span(Fraction(0), Fraction(1))
    assert held.scaled(Fraction(20)) == k.Span(Fraction(20), Fraction(40))
    assert k.total([]) == inch("0")


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        ("0", "1", "always"),
        ("-0.001", "1", "within-tolerance"),
        ("-1", "0", "within-tolerance"),
        ("-1", "-0.001", "never"),
    ],
)
def test_a_margin_of_nothing_still_holds(low: str, high: str, said: str) -> None:
    assert k.outcome(k.Span(Fraction(low), Fraction(high))) == said


# the pack


def test_washers_under_the_head_count_into_the_grip_and_those_under_the_nut_do_not() -> None:
    held = simple("0.5", "0.25", head=("0.063",), nut=("0.032", "0.063"))
    assert held.plate_end == inch("0.813")
    assert held.clamped == inch("0.908")


def test_a_pack_holds_plates_and_no_negative_thickness() -> None:
    with pytest.raises(ValueError, match="at least one plate"):
        k.Stack(())
    for wrong in (
        lambda: simple("-0.1"),
        lambda: simple("0.1", head=("-0.1",)),
        lambda: simple("0.1", nut=("-0.1",)),
        lambda: k.Stack((k.Span(Fraction("-0.001"), Fraction("0.1")),)),
    ):
        with pytest.raises(ValueError, match="thickness"):
            wrong()
    with pytest.raises(ValueError, match="pitch"):
        k.Shank(inch("1"), inch("2"), Fraction(0))
    with pytest.raises(ValueError, match="run-out"):
        shank("1", runout="-0.1")


# grip


def test_a_grip_too_long_stops_the_nut_on_the_shank() -> None:
    assert k.outcome(k.nut_clearance(simple("0.5"), shank("0.5"))) == "always"
    assert k.outcome(k.nut_clearance(simple("0.5"), shank("0.501"))) == "never"
    assert k.nut_clearance(simple("0.5", nut=("0.063",)), shank("0.501")) == inch("0.062")


def test_incomplete_thread_behind_the_grip_takes_clearance() -> None:
    assert k.nut_clearance(simple("0.5", nut=("0.063",)), shank("0.5", runout="0.06")) == inch("0.003")


def test_thread_in_the_hole_is_what_the_grip_does_not_fill() -> None:
    assert k.thread_in_hole(simple("0.5"), shank("0.4")) == inch("0.1")
    assert k.thread_in_hole(simple("0.5", nut=("0.063",)), shank("0.55")) == inch("-0.05")
    assert k.thread_in_hole(simple("0.5", head=("0.063",)), shank("0.5")) == inch("0.063")


@given(stacks(), inches("0", "2"), inches("0", "0.05"))
def test_looser_tolerances_never_improve_an_outcome(held: k.Stack, grip: Fraction, by: Fraction) -> None:
    order = ["never", "within-tolerance", "always"]
    bolt = k.Shank(k.exactly(grip), k.exactly(grip + Fraction(1, 2)), Fraction(1, 28))
    loose = replace(
        held, plates=(k.Span(max(Fraction(0), held.plates[0].low - by), held.plates[0].high + by), *held.plates[1:])
    )
    for tight, slack in (
        (k.nut_clearance(held, bolt), k.nut_clearance(loose, bolt)),
        (k.protrusion(held, bolt, NUT), k.protrusion(loose, bolt, NUT)),
    ):
        assert slack.low <= tight.low
        assert tight.high <= slack.high
        if k.outcome(tight) != "always":
            assert order.index(k.outcome(slack)) <= max(1, order.index(k.outcome(tight)))
        else:
            assert k.outcome(slack) != "never"


# protrusion


def test_protrusion_is_length_less_pack_and_nut() -> None:
    assert k.protrusion(simple("0.5", nut=("0.063",)), shank("0.5", "1"), NUT) == inch("0.217")
    assert k.protrusion(simple("0.5"), shank("0.5", "0.7"), NUT) == inch("-0.02")


def test_a_practice_in_threads_depends_on_the_pitch_and_one_in_inches_does_not() -> None:
    past = inch("0.045")
    assert k.judge_protrusion(past, Fraction(1, 20), ONE_THREAD).outcome == "never"
    assert k.judge_protrusion(past, Fraction(1, 28), ONE_THREAD).outcome == "always"
    flat = k.ProtrusionPractice("flat end", length_min=Fraction(1, 32))
    for tpi in (20, 28):
        found = k.judge_protrusion(past, Fraction(1, tpi), flat)
        assert (found.practice, found.outcome, found.limit) == ("flat end", "always", Fraction(1, 32))
        assert found.margin == inch("0.045").shifted(-Fraction(1, 32))


def test_the_greater_of_threads_and_length_is_asked_for() -> None:
    both = k.ProtrusionPractice("both", threads_min=Fraction(1), length_min=Fraction(1, 32))
    assert k.judge_protrusion(inch("0.1"), Fraction(1, 40), both).limit == Fraction(1, 32)
    assert k.judge_protrusion(inch("0.1"), Fraction(1, 20), both).limit == Fraction(1, 20)


def test_too_much_is_judged_only_where_a_practice_says_so() -> None:
    assert k.judge_excess(inch("9"), Fraction(1, 20), ONE_THREAD) is None
    most = k.ProtrusionPractice("three threads", threads_max=Fraction(3))
    for past, said in (
        (inch("0.15"), "always"),
        (inch("0.151"), "never"),
        (wider(inch("0.15"), Fraction(1, 99)), "within-tolerance"),
    ):
        found = k.judge_excess(past, Fraction(1, 20), most)
        assert found is not None
        assert (found.outcome, found.limit) == (said, Fraction(3, 20))
    spread = k.judge_excess(k.Span(Fraction("0.1"), Fraction("0.2")), Fraction(1, 20), most)
    assert spread is not None
    assert spread.margin == k.Span(Fraction("-0.05"), Fraction("0.05"))


# thread in the hole

TWO_THREADS = k.BearingPractice("two", Fraction(2), none_up_to=Fraction(3, 32), none_in_shear=True)


@pytest.mark.parametrize(
    ("nut_side", "shear", "allowed"),
    [("0.25", False, "0.1"), ("0.25", True, "0"), ("3/32", False, "0"), ("0.09", False, "0"), ("0.094", False, "0.1")],
)
def test_thin_plates_and_shear_joints_allow_no_thread(nut_side: str, shear: bool, allowed: str) -> None:
    assert k.allowed_in_hole(simple("0.02", nut_side), Fraction(1, 20), shear, TWO_THREADS) == Fraction(allowed)


def test_a_practice_silent_on_thin_plates_and_shear_allows_there_too() -> None:
    plain = k.BearingPractice("plain", Fraction(2))
    assert k.allowed_in_hole(simple("0.05"), Fraction(1, 20), True, plain) == Fraction(1, 10)


def test_a_plate_that_may_be_thin_counts_as_thin() -> None:
    held = k.Stack((k.Span(Fraction("0.09"), Fraction("0.11")),))
    assert k.allowed_in_hole(held, Fraction(1, 20), False, TWO_THREADS) == 0


def test_only_the_thickest_plate_may_hold_thread_and_no_more_than_its_own_thickness() -> None:
    confined = k.BearingPractice("thicker part", Fraction(2), only_in_thickest=True)
    assert k.allowed_in_hole(simple("0.1", "0.2"), Fraction(1, 20), False, confined) == Fraction(1, 10)
    assert k.allowed_in_hole(simple("0.2", "0.2"), Fraction(1, 20), False, confined) == Fraction(1, 10)
    assert k.allowed_in_hole(simple("0.201", "0.2"), Fraction(1, 20), False, confined) == 0
    assert k.allowed_in_hole(simple("0.03", "0.04"), Fraction(1, 20), False, confined) == Fraction("0.04")
    # at worst case: a nut-side plate that may be the thinner one, or thinner than the threads allowed
    loose = k.Stack((inch("0.2"), k.Span(Fraction("0.19"), Fraction("0.21"))))
    assert k.allowed_in_hole(loose, Fraction(1, 20), False, confined) == 0
    other = k.Stack((k.Span(Fraction("0.19"), Fraction("0.21")), inch("0.2")))
    assert k.allowed_in_hole(other, Fraction(1, 20), False, confined) == 0
    thin = k.Stack((k.Span(Fraction("0.04"), Fraction("0.06")),))
    assert k.allowed_in_hole(thin, Fraction(1, 20), False, confined) == Fraction("0.04")


def test_thread_in_the_hole_is_judged_at_worst_case() -> None:
    held = k.Stack((k.Span(Fraction("0.49"), Fraction("0.51")),))
    found = k.judge_thread_in_hole(held, shank("0.4"), False, TWO_THREADS)
    assert (found.practice, found.outcome, found.limit) == ("two", "within-tolerance", Fraction(1, 10))
    assert found.margin == k.Span(Fraction("-0.01"), Fraction("0.01"))
    assert k.judge_thread_in_hole(held, shank("0.41"), False, TWO_THREADS).outcome == "always"
    assert k.judge_thread_in_hole(held, shank("0.41"), True, TWO_THREADS).outcome == "never"


# windows and choice


@given(stacks(), inches("0", "0.1"), inches("0", "2"), inches("0", "0.05"))
def test_a_grip_in_the_window_always_clears_the_nut_and_never_leaves_too_much_thread(
    held: k.Stack, allowed: Fraction, grip: Fraction, runout: Fraction
) -> None:
    bolt = k.Shank(k.exactly(grip), k.exactly(grip + 1), Fraction(1, 28), runout)
    good = k.outcome(k.nut_clearance(held, bolt)) == "always" and k.thread_in_hole(held, bolt).high <= allowed
    assert k.grip_window(held, allowed, runout).admits(bolt.grip) == good


def test_the_ends_of_the_window_belong_to_it() -> None:
    window = k.grip_window(simple("0.5", nut=("0.063",)), Fraction("0.1"))
    assert (window.low, window.high) == (Fraction("0.4"), Fraction("0.563"))
    assert window.admits(k.Span(Fraction("0.4"), Fraction("0.563")))
    assert not window.admits(k.Span(Fraction("0.399"), Fraction("0.5")))
    assert not window.admits(k.Span(Fraction("0.5"), Fraction("0.564")))


def test_tolerances_that_overrun_the_window_are_told_by_how_much() -> None:
    held = k.Stack((k.Span(Fraction("0.49"), Fraction("0.51")),))
    assert k.grip_window(held, Fraction(0)).short_by == Fraction("0.02")
    assert k.grip_window(held, Fraction("0.05")).short_by == 0
    assert k.grip_window(held, Fraction("0.05"), Fraction("0.04")).short_by == Fraction("0.01")


@given(bolt_runs(), stacks(), inches("0", "0.1"), inches("0", "1"))
def test_more_plate_never_gives_a_shorter_bolt(
    run: tuple[k.Shank, ...], held: k.Stack, allowed: Fraction, more: Fraction
) -> None:
    thicker = replace(held, plates=(*held.plates, k.exactly(more)))
    first = k.shortest_that_closes(run, held, NUT, ONE_THREAD, allowed)
    second = k.shortest_that_closes(run, thicker, NUT, ONE_THREAD, allowed)
    if first is not None and second is not None:
        assert second.length.high >= first.length.high
        assert second.grip.high >= first.grip.high


@given(bolt_runs(), stacks(), inches("0", "0.1"))
def test_the_chosen_bolt_closes_and_no_shorter_one_does(
    run: tuple[k.Shank, ...], held: k.Stack, allowed: Fraction
) -> None:
    chosen = k.shortest_that_closes(run, held, NUT, ONE_THREAD, allowed)
    closing = [
        bolt
        for bolt in run
        if k.outcome(k.nut_clearance(held, bolt)) == "always"
        and k.thread_in_hole(held, bolt).high <= allowed
        and k.protrusion(held, bolt, NUT).low >= bolt.pitch
    ]
    assert chosen == (min(closing, key=lambda bolt: bolt.length.high) if closing else None)


def test_the_choice_does_not_hang_on_the_order_of_the_bolts() -> None:
    run = [shank(grip, length) for grip, length in (("0.5", "1.5"), ("0.45", "1.4"), ("0.5", "1.2"))]
    held = simple("0.5", nut=("0.063",))
    for order in (run, run[::-1]):
        assert k.shortest_that_closes(order, held, NUT, ONE_THREAD, Fraction("0.06")) == run[2]
    assert k.shortest_that_closes([], held, NUT, ONE_THREAD) is None


def test_the_shortest_bolt_is_the_one_that_is_shorter_at_worst_case_then_the_one_of_less_grip() -> None:
    held = simple("0.5", nut=("0.063",))

    def bolt(grip: tuple[str, str], length: tuple[str, str]) -> k.Shank:
        return k.Shank(k.Span(*map(Fraction, grip)), k.Span(*map(Fraction, length)), Fraction(1, 28))

    spread, tight = bolt(("0.5", "0.5"), ("1.0", "1.3")), bolt(("0.5", "0.5"), ("1.1", "1.2"))
    assert k.shortest_that_closes([spread, tight], held, NUT, ONE_THREAD) == tight
    deep, shallow = bolt(("0.50", "0.56"), ("1.1", "1.2")), bolt(("0.51", "0.53"), ("1.1", "1.2"))
    assert k.shortest_that_closes([deep, shallow], held, NUT, ONE_THREAD) == shallow


def test_a_pack_at_the_ceiling_is_kept_and_of_two_equally_high_the_lower_at_least_comes_first() -> None:
    regular, uneven = inch("0.063"), k.Span(Fraction("0.05"), Fraction("0.063"))
    assert k.washer_choices([regular, uneven], 1, Fraction("0.063")) == ((), (uneven,), (regular,))


def test_washers_are_laid_in_every_way_lowest_first() -> None:
    thin, regular = inch("0.032"), inch("0.063")
    found = k.washer_choices([thin, regular], 2)
    assert found == ((), (thin,), (regular,), (thin, thin), (thin, regular), (regular, regular))
    assert k.washer_choices([thin, regular], 2, Fraction("0.1"))[-1] == (thin, regular)
    assert k.washer_choices([thin], 0) == ((),)


@given(st.lists(spans("0.02", "0.1"), max_size=3), st.integers(0, 3), inches("0.05", "0.3"))
def test_no_pack_passes_the_ceiling_or_the_count(heights: list[k.Span], most: int, ceiling: Fraction) -> None:
    packs = k.washer_choices(heights, most, ceiling)
    assert packs[0] == ()
    assert all(len(pack) <= most and k.total(pack).high <= ceiling for pack in packs)
    tops = [k.total(pack).high for pack in packs]
    assert tops == sorted(tops)
