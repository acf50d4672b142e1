"""From a stack to sets: every set checks, thicker is never shorter, hotter never gains, and nothing is a reasoned answer."""

from __future__ import annotations

from fractions import Fraction
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.desk import Desk
from service.joints.assembly import Layer, quantity
from service.joints.checking import Checker
from service.joints.closing import Choice, Wish
from service.joints.formulas.stack import exactly
from service.joints.selecting import Selector

OF_ONE_FAMILY = frozenset({"AN3-AN20"})
#: an insert, an all-metal, a castle and a thin nut
FOUR_NUTS = frozenset({"AN365", "AN363", "AN310", "MS20364"})


@pytest.fixture(scope="session")
def selector(desk: Desk) -> Selector:
    return Selector(desk.catalogue, desk.encoder, desk.mates, Checker(desk.catalogue, desk.rules))


def stack(thousandths: int, material: str = "aluminium") -> tuple[Layer, ...]:
    return (Layer(exactly(Fraction(thousandths, 1000)), material),)


def test_a_drilled_bolt_comes_with_castle_nut_and_cotter_pin(selector: Selector) -> None:
    found = selector.select(Wish(stack(700), "1/4-28", drilled=True, bolt_families=OF_ONE_FAMILY))
    assert found.choices
    for choice in found.choices:
        assert choice.assembly.cotter_pin is not None
        assert choice.assembly.nut is not None
        castellated = choice.assembly.nut.value("castellated")
        assert castellated is not None
        assert castellated.exact == "yes"


@pytest.mark.parametrize("material", ["wood", "composite"])
def test_soft_parts_get_large_area_washers_under_head_and_nut(selector: Selector, material: str) -> None:
    """AC 43.13-1B 7-86 for wood: under head and nut; laminates by trade practice."""
    found = selector.select(Wish(stack(700, material), "1/4-28", bolt_families=OF_ONE_FAMILY))
    assert found.choices
    for choice in found.choices:
        assert choice.assembly.under_head
        assert choice.assembly.under_nut
        assert all(washer.family.id == "AN970" for washer in (*choice.assembly.under_head, *choice.assembly.under_nut))


def test_each_side_gets_the_washer_of_the_plate_it_bears_on(selector: Selector) -> None:
    plates = (*stack(350, "aluminium"), *stack(350, "wood"))
    found = selector.select(Wish(plates, "1/4-28", bolt_families=OF_ONE_FAMILY, materials=frozenset({"steel"})))
    assert found.choices
    for choice in found.choices:
        assert {washer.family.id for washer in choice.assembly.under_nut} == {"AN970"}
        assert "AN970" not in {washer.family.id for washer in choice.assembly.under_head}


def test_a_turning_joint_gets_no_plain_self_locking_nut(selector: Selector) -> None:
    """AC 43.13-1B 7-64 a."""
    found = selector.select(Wish(stack(700), "1/4-28", joint={"rotates": "yes"}, bolt_families=OF_ONE_FAMILY, limit=20))
    assert found.choices
    for choice in found.choices:
        assert choice.assembly.nut is not None
        locking, castellated = (choice.assembly.nut.value(name) for name in ("locking", "castellated"))
        assert locking is not None
        assert castellated is not None
        assert locking.exact == "castellated" or castellated.exact == "yes"


def test_the_shorter_bolt_was_left_out_for_a_reason(selector: Selector) -> None:
    """The bolt one eighth shorter than the one chosen leaves thread in the plates, and by the amount said."""
    found = selector.select(Wish(stack(700), "1/4-28", bolt_families=OF_ONE_FAMILY, drilled=False))
    shorter = next(miss for miss in found.misses if miss.number == "AN4-11A")
    assert shorter.constraint == "thread in the hole"
    assert found.choices[0].assembly.fastener is not None
    assert found.choices[0].assembly.fastener.number == "AN4-12A"


def test_when_nothing_closes_the_constraint_and_the_shortfall_are_named(selector: Selector) -> None:
    wish = Wish(stack(700), "1/4-28", bolt_families=OF_ONE_FAMILY, most_under_head=0, most_under_nut=1)
    found = selector.select(wish)
    assert not found.choices
    assert found.misses[0].number in found.nothing
    assert found.misses[0].by > 0


def test_a_wish_that_only_rules_stop_names_them(selector: Selector) -> None:
    joint = {"temperature": Fraction(1500)}
    found = selector.select(Wish(stack(700), "1/4-28", joint=joint, bolt_families=OF_ONE_FAMILY))
    assert not found.choices
    assert found.closing
    assert found.nothing


def test_allowing_published_thread_in_the_hole_can_only_shorten(selector: Selector) -> None:
    strict = selector.select(Wish(stack(700), "1/4-28", bolt_families=OF_ONE_FAMILY))
    loose = selector.select(Wish(stack(700), "1/4-28", bolt_families=OF_ONE_FAMILY, thread_in_hole="as-published"))
    assert _length(loose.choices[0].assembly.fastener) <= _length(strict.choices[0].assembly.fastener)


def _length(part: object) -> Fraction:
    value = quantity(part, "length")  # type: ignore[arg-type]
    assert value is not None
    return value.number


@settings(max_examples=20)
@given(thickness=st.integers(300, 2500), more=st.integers(0, 300), drilled=st.booleans())
def test_more_stack_never_gives_a_shorter_bolt(selector: Selector, thickness: int, more: int, drilled: bool) -> None:
    lengths = []
    for thousandths in (thickness, thickness + more):
        wish = Wish(stack(thousandths), "1/4-28", bolt_families=OF_ONE_FAMILY, drilled=drilled, limit=1)
        found = selector.select(wish)
        assert found.choices, found.nothing
        lengths.append(_length(found.choices[0].assembly.fastener))
    assert lengths[0] <= lengths[1]


@settings(max_examples=8)
@given(
    thickness=st.integers(200, 3000),
    thread=st.sampled_from(["10-32", "1/4-28", "5/16-24", "3/8-24", "1/2-20"]),
    temperature=st.sampled_from([70, 200, 300, 440, 500]),
    load=st.sampled_from(["shear", "tension", "both"]),
    material=st.sampled_from(["aluminium", "steel", "titanium", "wood", "magnesium"]),
)
def test_a_selected_set_always_checks(
    desk: Desk, selector: Selector, thickness: int, thread: str, temperature: int, load: str, material: str
) -> None:
    """By a checker of its own, on the assembly as answered."""
    joint = {"temperature": Fraction(temperature), "load": load}
    found = selector.select(Wish(stack(thickness, material), thread, joint=joint, limit=3))
    checker = Checker(desk.catalogue, desk.rules)
    for choice in found.choices:
        check = checker.check(choice.assembly)
        assert check.verdict in {"compatible", "compatible_with_conditions"}
        assert not [finding for finding in check.findings if finding.severity == "fault"]
        assert choice.margins.grip >= 0
        assert choice.margins.nut >= 0


@settings(max_examples=6)
@given(thickness=st.integers(300, 2000), cool=st.integers(60, 600), hotter=st.integers(0, 600))
def test_a_hotter_joint_never_gains_a_candidate(selector: Selector, thickness: int, cool: int, hotter: int) -> None:
    """A candidate is a bolt with a nut: heat may ask for another washer or cotter pin, never let another nut in."""
    pairs = []
    for temperature in (cool, cool + hotter):
        joint = {"temperature": Fraction(temperature), "rotates": "no"}
        wish = Wish(
            stack(thickness), "1/4-28", joint=joint, bolt_families=OF_ONE_FAMILY, nut_families=FOUR_NUTS, limit=400
        )
        pairs.append({pair for choice in selector.select(wish).choices for pair in _pairs(choice)})
    assert pairs[1] <= pairs[0]


def _pairs(choice: Choice) -> list[tuple[str, str]]:
    assert choice.assembly.fastener is not None
    assert choice.assembly.nut is not None
    bolt = choice.assembly.fastener.number
    return [(bolt, nut) for nut in (choice.assembly.nut.number, *choice.other_nuts)]


def test_all_dashes_of_a_diameter_over_all_nut_families_in_a_tenth_of_a_second(selector: Selector) -> None:
    """The best of several warm runs, because this host is shared."""
    wish = Wish(stack(700), "1/4-28", joint={"temperature": Fraction(180)})
    selector.select(wish)
    times = []
    for _ in range(5):
        start = perf_counter()
        selector.select(wish)
        times.append(perf_counter() - start)
    assert min(times) < 0.1
