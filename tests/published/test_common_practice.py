"""Facts of the trade (basis: common-practice): what any mechanic would say about these numbers. No document is claimed for them here."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from service.api.desk import Desk
from service.parts.part import Part

Named = Callable[..., Part]


def text(part: Part, attribute: str) -> str | None:
    value = part.value(attribute)
    assert value is not None, f"{part.number} has no {attribute}"
    return value.text


@pytest.mark.parametrize(
    ("basic", "thread", "sixteenths"),
    [
        ("AN3", "10-32", 3),
        ("AN4", "1/4-28", 4),
        ("AN5", "5/16-24", 5),
        ("AN6", "3/8-24", 6),
        ("AN7", "7/16-20", 7),
        ("AN8", "1/2-20", 8),
    ],
)
def test_the_an_number_counts_sixteenths_of_the_diameter(part: Named, basic: str, thread: str, sixteenths: int) -> None:
    bolt = part(f"{basic}-12A")
    size = bolt.value("nominal_diameter")
    assert size is not None
    assert text(bolt, "thread") == thread
    if sixteenths == 3:  # 3/16 by name, a number 10 screw by measure
        assert size.exact == Fraction(190, 1000)
    else:
        assert size.exact == Fraction(sixteenths, 16)


def test_h_drills_the_head(part: Named) -> None:
    assert text(part("AN4H12A"), "head_drilled") == "yes"
    assert text(part("AN4-12A"), "head_drilled") == "no"


def test_a_leaves_the_shank_plain_and_no_a_drills_it_for_a_cotter_pin(part: Named) -> None:
    assert text(part("AN4-12A"), "shank_drilled") == "no"
    assert text(part("AN4-12"), "shank_drilled") == "yes"
    assert "cotter" in part("AN4-12").description


def test_a_c_before_the_size_is_stainless_and_dd_is_2024(part: Named) -> None:
    assert text(part("AN4C12A"), "material_group") == "stainless"
    assert text(part("AN960C416"), "material_group") == "stainless"
    assert text(part("AN310C4"), "material_group") == "stainless"
    assert text(part("AN4DD12A"), "material_group") == "aluminium"
    assert "2024" in (text(part("AN4DD12A"), "material") or "")


@pytest.mark.parametrize(
    ("nut", "bolt"),
    [("AN365-1032A", "AN3-12A"), ("AN365-428A", "AN4-12A"), ("AN310-3", "AN3-12"), ("MS21042-3", "AN3-12A")],
)
def test_this_nut_goes_on_that_bolt(desk: Desk, nut: str, bolt: str) -> None:
    found = {
        n: c
        for c in desk.mates.of(desk.part(bolt, "from-memory"), {"rotates": "no", "temperature": Fraction(70)})
        for n in (c.number, *c.variants)
    }
    assert found[nut].verdict in {"fits", "conditional"}
    assert "thread.bolt.nut" in {f.rule for f in found[nut].findings}


def test_an364_is_the_low_form_and_an363_all_metal_for_exhaust_heat(part: Named) -> None:
    assert text(part("AN364-1032A"), "height_form") == "thin"
    assert text(part("AN364-1032A"), "load_class") == "shear"
    assert text(part("AN363-1032"), "locking") == "all-metal"
    hot, limit = part("AN363-1032").value("max_temperature"), part("AN365-1032A").value("max_temperature")
    assert hot is not None
    assert limit is not None
    assert hot.number > limit.number == 250


def test_ms21042_3_is_the_low_all_metal_nut_for_an3(part: Named) -> None:
    nut = part("MS21042-3")
    assert (text(nut, "thread"), text(nut, "locking"), text(nut, "height_form")) == ("10-32", "all-metal", "low")


@pytest.mark.parametrize(
    ("number", "size"),
    [("MS35333-40", Fraction(1, 4)), ("MS35333-41", Fraction(5, 16)), ("MS35333-42", Fraction(3, 8))],
)
def test_star_washers_go_on_their_bolts(part: Named, number: str, size: Fraction) -> None:
    washer = part(number)
    value = washer.value("nominal_diameter")
    assert value is not None
    assert value.exact == size
    assert text(washer, "tooth_form") == "internal"


def test_an960_names_its_bolt_and_l_is_the_thin_one(part: Named) -> None:
    quarter, thin, ten = part("AN960-416"), part("AN960-416L"), part("AN960-10")
    assert text(quarter, "nominal_size") == text(thin, "nominal_size") == "1/4"
    assert text(ten, "nominal_size") == text(part("AN3-5A"), "nominal_size") == "#10"
    thick, less = quarter.value("thickness"), thin.value("thickness")
    assert thick is not None
    assert less is not None
    assert less.number * 2 == pytest.approx(thick.number, abs=0.002)
    assert text(thin, "thickness_form") == "thin"


def test_an970_3_is_the_large_area_washer_for_an3(part: Named) -> None:
    large, plain = part("AN970-3"), part("AN960-10")
    assert text(large, "nominal_size") == "#10"
    wide, narrow = large.value("outside_diameter"), plain.value("outside_diameter")
    assert wide is not None
    assert narrow is not None
    assert wide.number > narrow.number


def test_a_dash_taken_as_total_eighths_is_told_as_a_misreading(part: Named) -> None:
    bolt = part("AN4-42A")
    nominal = bolt.value("nominal_length")
    assert nominal is not None
    assert nominal.exact == Fraction(17, 4) != Fraction(42, 8)
    assert any("42/8" in m.wrong and "4 2/8" in m.text for m in bolt.misreadings)


@pytest.mark.parametrize("number", ["AN365-1032A", "AN364-1032A", "MS20365-428A"])
def test_a_trailing_a_on_a_nut_taken_as_not_drilled_is_told_as_a_misreading(part: Named, number: str) -> None:
    assert any("not drilled" in m.wrong and "insert" in m.text for m in part(number).misreadings)
    assert text(part(number), "locking") == "insert"


def test_the_drilled_shank_takes_castle_nut_and_cotter_pin_together(desk: Desk) -> None:
    for bolt, nut in (("AN3-12", "AN310-3"), ("AN4-12", "AN310-4"), ("AN6-12", "AN310-6")):
        roles = {n: c.role for c in desk.mates.of(desk.part(bolt, "from-memory"), {}) for n in (c.number, *c.variants)}
        assert roles[nut] == "castellated_nut"
        assert "cotter_pin" in roles.values()


def test_ms24665_132_suits_the_castle_nuts_of_an3_and_an4(part: Named) -> None:
    pin = part("MS24665-132")
    size, length = pin.value("nominal_diameter"), pin.value("length")
    assert size is not None
    assert length is not None
    assert (size.exact, length.exact) == (Fraction(1, 16), Fraction(1, 2))
