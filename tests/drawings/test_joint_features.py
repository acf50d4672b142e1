"""What a joint's drawing shows: true scale, worst cases, hole, slots, pins, teeth, lugs, what is not held, faults in words.

Outside checks: sums and lengths worked by hand from the sizes named beside each (1 in is 25.4 mm by definition); for
section lines the even-odd rule of polygons, written anew here.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from xml.etree import ElementTree

import pytest

from service.designation.reader import Reader
from service.drawings import elements, section
from service.drawings.elements import ASSUMED, FAULT_INK
from service.drawings.joint import DIMENSIONS, Fault, worst
from service.drawings.layout import Assembly, laid_out
from service.drawings.marking import Drafted
from service.drawings.part import Stamp
from service.drawings.stack import draw_joint
from service.joints.formulas.stack import Span
from tests.drawings.joints import JOINTS, joint

STAMP = Stamp("0" * 64, ("Not approved data.",))
SVG = "{http://www.w3.org/2000/svg}"


def drawn(reader: Reader, name: str) -> bytes:
    return draw_joint(JOINTS[name](reader), STAMP)


def lay(reader: Reader, name: str) -> Assembly:
    found = laid_out(JOINTS[name](reader))
    assert found is not None
    return found


def words(svg: bytes) -> list[str]:
    return [element.text or "" for element in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def picture(svg: bytes) -> str:
    """The words in the picture itself, the small print left out."""
    every = ElementTree.fromstring(svg).iter(f"{SVG}text")
    return " ".join(one.text or "" for one in every if one.get("font-size") != elements.number(elements.SMALL))


def straight(svg: bytes) -> list[tuple[float, float, float, float]]:
    """Every straight stroke of a drawing: x and y of both ends."""
    return [
        (float(a), float(b), float(c), float(d))
        for a, b, c, d in re.findall(rb"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)", svg)
    ]


@pytest.mark.parametrize(
    ("name", "inch"),
    [
        ("tolerances", "13/16"),  # grip of the bolt
        ("tolerances", "1 9/32"),  # its length
        ("tolerances", "0.625"),  # 0.25 and 0.375 of plate
        ("thick stack", "3.5"),
        ("castellated, measured", "0.28"),  # height of the nut as measured
    ],
)
def test_a_length_stands_on_paper_at_25_4_mm_to_the_inch(reader: Reader, name: str, inch: str) -> None:
    wanted = float(sum(Fraction(piece) for piece in inch.split())) * 25.4
    long = [abs(c - a) for a, b, c, d in straight(drawn(reader, name)) if b == d]
    assert any(abs(one - wanted) < 0.002 for one in long)


def test_the_bar_of_a_joint_s_sheet_is_one_inch(reader: Reader) -> None:
    svg = drawn(reader, "tolerances").decode()
    assert re.findall(r'd="M0 [\d.]+L0 ([\d.]+)L([\d.]+) \1L\2', svg) == [
        (re.findall(r'd="M0 [\d.]+L0 ([\d.]+)L25\.4', svg)[0], "25.4")
    ]


def test_the_worst_case_stands_below_the_nominal_size(reader: Reader) -> None:
    """0.25 with 0.005 either way and 0.375 with 0.01 up and 0.005 down: 0.615 to 0.64 by hand."""
    svg = drawn(reader, "tolerances")
    said = words(svg)
    assert said[said.index("plates 0.625 in (5/8)") + 1] == "0.615 to 0.64"
    assert "plate 1: 0.25 in (1/4), 0.245 to 0.255 spar" in picture(svg)
    assert "plate 2: 0.375 in (3/8), 0.37 to 0.385 fitting" in picture(svg)


def test_a_size_without_tolerance_has_no_worst_case() -> None:
    assert worst(Span(Fraction(1, 2), Fraction(1, 2))) == worst(None) == ""
    assert worst(Span(Fraction("0.245"), Fraction("0.255"))) == "0.245 to 0.255"


def test_the_worst_case_of_the_length_past_the_nut_is_the_sum_of_all_tolerances(reader: Reader) -> None:
    """Length 1.12, no tolerance; pack 0.69 and 0.032 with 0.01 either way; nut 0.28 with 0.005 either way: 0.118, 0.103 to 0.133."""
    said = words(drawn(reader, "castellated, measured"))
    assert said[said.index("past the nut 0.118 in") + 1] == "0.103 to 0.133"


def test_a_given_hole_is_drawn_wider_than_the_shank_and_dimensioned(reader: Reader) -> None:
    """Hole 0.28, shank 0.249 less 0.003 at most: edges 3.556 mm from the axis, 0.031 to 0.034 in of room."""
    svg = drawn(reader, "thread in the hole")
    edges = {abs(b) for a, b, c, d in straight(svg) if b == d and abs(abs(b) - 3.556) < 0.001}
    assert edges
    assert "hole ⌀ 0.28 in" in picture(svg)
    assert "room around the shank: 0.031 to 0.034 in" in words(svg)


def test_without_a_hole_the_drawing_says_that_it_is_drawn_at_the_shank(reader: Reader) -> None:
    svg = drawn(reader, "plate nut")
    assert "hole not given: drawn as wide as the shank" in words(svg)
    assert "hole ⌀" not in picture(svg)


def test_a_cotter_pin_goes_through_the_shank_where_its_hole_is(reader: Reader) -> None:
    """Hole 0.170 from the end of 1.12, pin 0.060: its sides stand 24.13 mm along the axis, 0.762 mm either way."""
    svg = drawn(reader, "castellated, measured")
    across = {round(a, 2) for a, b, c, d in straight(svg) if a == c and b < -3.2 and d > 3.2 and b == -d}
    assert {round(24.13 - 0.762, 2), round(24.13 + 0.762, 2)} <= across
    assert "cotter pin MS24665-132 ⌀ .060 in" in picture(svg)


def test_the_hole_stands_in_the_slots_where_arithmetic_puts_it(reader: Reader) -> None:
    """0.95 less 0.722 of pack is 0.228 above the nut's face, the slots' bottom at 0.19: the pin's edge clears it by 0.008."""
    pack = lay(reader, "castellated, measured")
    assert pack.shape is not None
    assert pack.shape.slots is not None
    assert pack.nut is not None
    bottom = pack.nut.start + pack.shape.slots[1].mm
    assert bottom == (Fraction("0.722") + Fraction("0.19")) * Fraction("25.4")
    assert "nut face to hole 0.228 in" in picture(drawn(reader, "castellated, measured"))


def test_only_a_castellated_nut_has_slots_and_unheld_ones_are_said(reader: Reader) -> None:
    assert lay(reader, "tolerances").shape.slots is None  # type: ignore[union-attr]
    assert "AN310-4, height not held, slots not" in picture(drawn(reader, "castellated"))
    assert "slots not held" not in picture(drawn(reader, "castellated, measured"))


def test_a_pin_is_not_drawn_through_a_shank_without_a_hole(reader: Reader) -> None:
    said = picture(drawn(reader, "pin without a hole"))
    assert "Not drawn: cotter pin MS24665-132, the shank of AN4-12A is not drilled" in said


@pytest.mark.parametrize(
    ("name", "words_in_it"),
    [("external teeth", "external teeth"), ("internal teeth", "internal teeth"), ("split", "split")],
)
def test_a_lock_washer_shows_its_teeth_or_its_split(reader: Reader, name: str, words_in_it: str) -> None:
    pack = lay(reader, name)
    lock, flat = pack.nut_washers[0], lay(reader, "clevis pin").nut_washers[0]
    assert words_in_it in lock.words
    dashed = []
    for layer in (lock, flat):
        view = Drafted()
        section.washer(view, layer, pack.shaft.diameter.mm / 2, True)
        dashed.append(sum(ASSUMED.dashes in element for element in view.elements))
    assert dashed[0] > dashed[1] == 0
    assert words_in_it.split()[-1] in picture(drawn(reader, name))


@pytest.mark.parametrize("form", ["internal", "external"])
def test_teeth_stand_at_their_own_edge(reader: Reader, form: str) -> None:
    pack = lay(reader, f"{form} teeth")
    layer, view = pack.nut_washers[0], Drafted()
    section.washer(view, layer, pack.shaft.diameter.mm / 2, True)
    teeth = " ".join(element for element in view.elements if ASSUMED.dashes in element)
    levels = [abs(float(y)) for y in re.findall(r"[ML][-\d.]+ ([-\d.]+)", teeth)]
    middle = float(layer.bore + layer.rim) / 2
    assert all((level < middle) == (form == "internal") for level in levels)


def test_lockwire_is_drawn_from_a_drilled_head_and_said_where_there_is_no_hole(reader: Reader) -> None:
    drilled = drawn(reader, "lockwire")
    assert "lockwire MS20995C32 ⌀ 0.032 in through the" in picture(drilled)
    plain = joint("AN4-12A", "0.75", nut="AN365-428A", lockwire="MS20995C32")(reader)
    assert "no hole in the head for it" in picture(draw_joint(plain, STAMP))


def test_a_plate_nut_has_a_lug_on_each_side_or_on_one(reader: Reader) -> None:
    two, one = (lay(reader, name).shape for name in ("plate nut", "plate nut, one lug"))
    assert two is not None
    assert two.lugs is not None
    assert one is not None
    assert one.lugs is not None
    assert (two.lugs.sides, one.lugs.sides) == ((-1, 1), (1,))
    said = picture(drawn(reader, "plate nut"))
    assert "plate nut MS21047-3, two-lug, height not held" in said
    assert "MS21047-3 height, base and lugs" in said


def test_a_clevis_pin_s_end_play_is_what_lies_between_pack_and_hole(reader: Reader) -> None:
    """0.6 less 0.1, less half a hole of 0.076, less plates and washer of 0.413 in."""
    made = JOINTS["clevis pin, measured"](reader)
    hole = made.fastener.value("shank_hole_diameter")
    assert hole is not None
    by_hand = Fraction("0.6") - Fraction("0.1") - hole.number / 2 - Fraction("0.413")
    assert f"end play {float(by_hand):.4f}".rstrip("0") in picture(draw_joint(made, STAMP))


def test_a_taper_pin_says_that_its_taper_is_not_drawn(reader: Reader) -> None:
    assert "taper (drawn straight)" in picture(drawn(reader, "taper pin"))


def test_section_lines_keep_out_of_a_countersink(reader: Reader) -> None:
    """The head's cone runs straight from its rim at the surface to the hole's edge at its depth."""
    pack = lay(reader, "countersunk")
    view = Drafted()
    section.plate(view, pack.plates[0], pack, True)
    deep, half, hole = float(pack.shaft.head.height.mm), float(pack.shaft.head.half), float(pack.hole)
    assert deep > 0
    hatches = [element for element in view.elements if element.count("M") > 2 and "0.18" in element]
    ends = [(float(x), abs(float(y))) for one in hatches for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", one)]
    assert len(ends) > 20
    for x, y in ends:
        assert y >= max(hole, half - (half - hole) * x / deep) - 0.002


@pytest.mark.parametrize("rising", [True, False])
def test_section_lines_of_any_shape_lie_inside_it(rising: bool) -> None:
    corners = [(0, 0), (10, 0), (10, 8), (6, 3), (2, 8), (0, 8)]

    def inside(x: float, y: float) -> bool:
        found = False
        for (x1, y1), (x2, y2) in zip(corners, corners[1:] + corners[:1], strict=True):
            if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
                found = not found
        return found

    view = elements.View()
    elements.hatch_shape(view, [(Fraction(x), Fraction(y)) for x, y in corners], rising, Fraction(1))
    strokes = straight(view.elements[0].encode())
    assert len(strokes) > 10
    assert all(inside((a + c) / 2, (b + d) / 2) for a, b, c, d in strokes)
    assert not inside(6, 7)  # the notch: a line through it would have been found


def test_plates_reach_past_the_widest_washer_and_nut(reader: Reader) -> None:
    pack = lay(reader, "composite")
    washer = pack.nut_washers[0]
    assert washer.rim == pack.head_washers[0].rim
    assert pack.plates[0].rim > washer.rim > pack.shaft.head.half


def test_what_is_not_held_is_said_in_the_picture_and_in_the_description(reader: Reader) -> None:
    svg = drawn(reader, "missing heights")
    desc = ElementTree.fromstring(svg)[1].text or ""
    assert "AN363-428, height not held" in picture(svg)
    assert "MS20002-4, thickness not held" in picture(svg)
    for said in (picture(svg), desc):
        assert "Dashed, size not held: AN4-12A head height;" in said
    assert "Dashed, size not held: MS20002-4" not in picture(drawn(reader, "tolerances"))


def test_a_number_that_could_not_be_read_is_named_and_not_drawn(reader: Reader) -> None:
    svg = drawn(reader, "unreadable nut")
    assert "Not drawn: nut AN365-99Z: cannot be read" in picture(svg)
    assert lay(reader, "unreadable nut").nut is None


@pytest.mark.parametrize(
    ("name", "start"),
    [
        ("too short", "short by"),  # 21/32 of bolt in 0.813 of pack
        ("grip too long", "grip 1 9/16 in"),
        ("thread in the hole", "thread in hole 0.4375 in"),  # 0.5 of plate less 1/16 of grip
        ("thread in the hole", "hole ⌀ 0.28 in"),
    ],
)
def test_a_fault_is_words_at_its_dimension_in_bold_and_in_colour(reader: Reader, name: str, start: str) -> None:
    every = ElementTree.fromstring(drawn(reader, name)).iter(f"{SVG}text")
    found = [one for one in every if (one.text or "").startswith(start)]
    assert [(one.text or "").endswith("FAULT") for one in found] == [True]
    assert found[0].get("font-weight") == "bold"
    assert found[0].get("fill") == FAULT_INK


def test_each_dimension_that_a_fault_may_name_can_be_marked(reader: Reader) -> None:
    """In the joint with everything measured, and in one with thread in its hole."""
    marked = set()
    for name in DIMENSIONS:
        for made in ("castellated, measured", "thread in the hole"):
            asked = JOINTS[made](reader)
            svg = draw_joint(replace(asked, faults=(Fault(name, "by far"),)), STAMP)
            if any(line.endswith(" FAULT") for line in words(svg)):
                marked.add(name)
    assert marked == set(DIMENSIONS)


def test_a_caution_is_said_but_marks_no_dimension(reader: Reader) -> None:
    asked = joint("AN4-12A", "0.75", nut="AN365-428A", faults=(Fault("grip", "look at it", "caution"),))(reader)
    svg = draw_joint(asked, STAMP)
    assert "CAUTION, grip: look at it" in picture(svg)
    assert FAULT_INK.encode() not in svg


@pytest.mark.parametrize("name", sorted(JOINTS))
def test_every_joint_is_well_formed_titled_and_the_same_each_time(reader: Reader, name: str) -> None:
    svg = drawn(reader, name)
    assert svg == drawn(reader, name)
    root = ElementTree.fromstring(svg)
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert JOINTS[name](reader).fastener.number in (root[0].text or "")
    for child in root.iter():
        assert not {"style", "class", "id", "href"} & set(child.attrib)
