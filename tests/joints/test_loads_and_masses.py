"""What a bolt carries of a load, and what parts weigh: hand arithmetic from the rows' own figures and published formulas."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.desk import Desk
from service.joints.assembly import Layer, quantity
from service.joints.checking import Checker
from service.joints.closing import Selection, Wish
from service.joints.formulas.stack import exactly
from service.joints.loads import Load, carrying
from service.joints.masses import Masses
from service.joints.selecting import Selector
from service.parts.part import Part

Named = Callable[..., Part]
PLATES = (Layer(exactly(Fraction(1, 2)), "aluminium"),)


@pytest.fixture(scope="session")
def selector(desk: Desk) -> Selector:
    return Selector(desk.catalogue, desk.encoder, desk.mates, Checker(desk.catalogue, desk.rules))


def test_double_shear_counts_two_planes_and_a_limit_load_its_factor(part: Named) -> None:
    """AN4: 3680 lbf single shear (MIL-HDBK-5, table 8.1.5(a): 75 ksi on 1/4 in). 2000 x 1.5 = 3000 needed."""
    single = carrying(part("AN4-12A"), Load("limit", shear=Fraction(2000), factor=Fraction(3, 2)))
    double = carrying(part("AN4-12A"), Load("limit", shear=Fraction(2000), shear_planes=2, factor=Fraction(3, 2)))
    assert (single.by_kind[0].needed, single.by_kind[0].allowed) == (3000, 3680)
    assert double.by_kind[0].allowed == 7360
    assert single.by_kind[0].margin == Fraction(3680, 3000) - 1


def test_shear_on_the_shank_is_the_stress_times_the_circle(part: Named) -> None:
    """MIL-HDBK-5J 8.1.5: 75 ksi x pi/4 x D^2, printed to three figures."""
    for number, diameter in (("AN4-12A", 0.25), ("AN5-12A", 0.3125), ("AN6-12A", 0.375), ("AN8-12A", 0.5)):
        allowed = carrying(part(number), Load("ultimate", shear=Fraction(1))).by_kind[0].allowed
        assert float(allowed) == pytest.approx(75_000 * pi / 4 * diameter**2, rel=2e-3)


def test_shear_and_tension_together_use_the_cube_and_the_square(part: Named) -> None:
    """NASA TM-106943 eq. 56, for a bolt whose every load is used to 0.8: 0.64 + 0.512 is over 1, at 0.7 it is not."""
    bolt = part("AN4-12A")
    shear, tension = quantity(bolt, "shear_load"), quantity(bolt, "tension_load")
    assert shear is not None
    assert tension is not None
    for share, holds in ((Fraction(7, 10), True), (Fraction(8, 10), False)):
        found = carrying(bolt, Load("ultimate", shear.number * share, tension.number * share))
        assert found.together == share**2 + share**3
        assert found.holds is holds


def test_a_load_that_a_bolt_just_carries_is_carried(part: Named) -> None:
    """3680 lbf on an AN4 leaves a margin of nothing; a pound more is too much, and the share says by how much."""
    exactly_carried = carrying(part("AN4-12A"), Load("ultimate", shear=Fraction(3680)))
    over = carrying(part("AN4-12A"), Load("ultimate", shear=Fraction(3681)))
    assert exactly_carried.by_kind[0].margin == 0
    assert exactly_carried.holds
    assert not over.holds
    assert (exactly_carried.share, over.share) == (1, Fraction(3681, 3680))


def test_one_load_too_great_is_enough_and_the_greater_share_counts(part: Named) -> None:
    bolt = part("AN4-12A")
    tension = quantity(bolt, "tension_load")
    assert tension is not None
    found = carrying(bolt, Load("ultimate", shear=Fraction(368), tension=tension.number * 2))
    assert not found.holds
    assert found.share == 2
    shear_only, tension_only = (carrying(bolt, load) for load in (
        Load("ultimate", shear=Fraction(10)), Load("ultimate", tension=Fraction(10)),
    ))  # fmt: skip
    assert [entry.kind for entry in shear_only.by_kind] == ["shear"]
    assert [entry.kind for entry in tension_only.by_kind] == ["tension"]
    assert tension_only.by_kind[0].allowed == tension.number
    assert shear_only.together is tension_only.together is None


@pytest.mark.parametrize(
    ("shear", "tension", "word"), [(500, 0, "shear"), (0, 500, "tension"), (500, 500, "both"), (1, 500, "both")]
)
def test_a_load_is_named_by_what_is_in_it(shear: int, tension: int, word: str) -> None:
    assert Load("ultimate", Fraction(shear), Fraction(tension)).word == word


def test_a_load_that_no_row_gives_is_not_carried(part: Named) -> None:
    found = carrying(part("NAS6204-8"), Load("ultimate", tension=Fraction(1)))
    assert found.unknown == ("tension",)
    assert not found.holds


@pytest.mark.parametrize(
    "wrong",
    [
        {"shear": Fraction(-1)},
        {},
        {"shear": Fraction(1), "factor": Fraction(1, 2)},
        {"shear": Fraction(1), "shear_planes": 3},
    ],
)
def test_a_load_that_makes_no_sense_is_refused(wrong: dict[str, Fraction]) -> None:
    with pytest.raises(ValueError, match=r"load|factor"):
        Load("ultimate", **wrong)  # type: ignore[arg-type]


def selected(selector: Selector, load: Load, **more: object) -> Selection:
    joint = {"load": load.word, "temperature": Fraction(100), "rotates": "no"}
    return selector.select(Wish(PLATES, joint=joint, load=load, **more))  # type: ignore[arg-type]


@settings(max_examples=15)
@given(pounds=st.integers(100, 20_000), more=st.integers(0, 20_000))
def test_a_greater_load_never_gets_a_thinner_bolt(selector: Selector, pounds: int, more: int) -> None:
    family = frozenset({"AN3-AN20"})
    sizes = []
    for load in (pounds, pounds + more):
        found = selected(selector, Load("ultimate", shear=Fraction(load)), bolt_families=family, limit=1)
        if not found.choices:
            sizes.append(Fraction(100))
            assert found.nothing
            continue
        choice = found.choices[0]
        assert choice.carrying is not None
        assert choice.carrying.holds
        value = quantity(choice.assembly.fastener, "nominal_diameter")
        assert value is not None
        sizes.append(value.number)
    assert sizes[0] <= sizes[1]


def test_what_is_too_weak_is_named_with_what_it_lacks(selector: Selector) -> None:
    found = selected(selector, Load("ultimate", shear=Fraction(3000)), diameter=Fraction("0.19"))
    assert not found.choices
    strongest = found.too_weak[0].carrying.by_kind[0]
    assert f"{strongest.needed - strongest.allowed} lbf" in found.nothing
    assert all(entry.carrying.by_kind[0].allowed <= strongest.allowed for entry in found.too_weak)


def test_a_plate_nut_gets_no_washer_under_it_and_no_drilled_bolt(selector: Selector) -> None:
    found = selector.select(Wish(PLATES, "1/4-28", holding="plate_nut"))
    assert found.choices
    for choice in found.choices:
        assembly = choice.assembly
        assert assembly.plate_nut is not None
        assert assembly.nut is assembly.cotter_pin is None
        assert not assembly.under_nut
        drilled = assembly.fastener.value("shank_drilled") if assembly.fastener is not None else None
        assert drilled is None or drilled.exact == "no"


def test_a_washer_weighs_its_ring(desk: Desk, part: Named) -> None:
    """pi/4 (D^2 - d^2) t x 0.283 lb/cu in, the density of low-alloy steel (MIL-HDBK-5J table 2.3.1.0)."""
    washer = part("AN960-416")
    sizes = [quantity(washer, name) for name in ("outside_diameter", "inside_diameter", "thickness")]
    outside, inside, thickness = (float(v.number) for v in sizes if v is not None)
    (weighed,) = Masses(desk.catalogue, "from-memory").weigh([washer])
    assert weighed.mass is not None
    assert float(weighed.mass) == pytest.approx(pi / 4 * (outside**2 - inside**2) * thickness * 0.283, rel=1e-9)


def test_a_bolt_weighs_shank_thread_and_hexagon(desk: Desk, part: Named) -> None:
    """NAS6204-8: shank .2495 x .500; thread .370 at pitch diameter .25 - .649519/28 (ASME B1.1); head .439 x .125."""
    (weighed,) = Masses(desk.catalogue, "from-memory").weigh([part("NAS6204-8")])
    thread = pi / 4 * (0.25 - 0.64951905 / 28) ** 2 * 0.370
    volume = pi / 4 * 0.2495**2 * 0.5 + thread + sqrt(3) / 2 * 0.439**2 * 0.125
    assert weighed.mass is not None
    assert float(weighed.mass) == pytest.approx(volume * 0.283, rel=1e-6)


def test_what_cannot_be_weighed_says_why_and_a_strict_caller_gets_nothing_from_memory(desk: Desk, part: Named) -> None:
    nut, bolt = Masses(desk.catalogue, "from-memory").weigh([part("AN310-4"), part("AN4-12A")])
    assert nut.mass is bolt.mass is None
    assert nut.why_not
    assert bolt.why_not
    (strict,) = Masses(desk.catalogue, "secondary").weigh([part("AN960-416")])
    assert strict.mass is None
