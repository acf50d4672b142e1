"""Drawings of parts: to scale, in words, the same every time, and never a failure.

Outside checks: pint's inch for the scale; the contrast formula of WCAG 2.2 (relative luminance, SC 1.4.3 and 1.4.11)
for the ink of a fault; Python's XML parser for the form.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from xml.etree import ElementTree

import pint
import pytest

from service.api.desk import Desk
from service.catalogue.catalogue import Catalogue
from service.designation.reader import Reader
from service.designation.reading import Designation
from service.drawings import elements, fittings, flats, nuts, pins, plate_nuts, shanks
from service.drawings.known import Known
from service.drawings.marking import Drafted
from service.drawings.part import Stamp, draw_part
from service.parts.part import Part

STAMP = Stamp("0" * 64, ("Not approved data.",))
SVG = "{http://www.w3.org/2000/svg}"
SHOWN = (
    "AN4-12A", "AN4H12", "AN310-4", "AN960-416", "MS35333-40", "MS35338-44", "MS24665-132", "NAS6204-12D", "MS20470AD4-5", "AN525-10R8",
    "MS20426AD4-5", "AN509-10R8", "AN42B-10", "MS20995C32",
)  # fmt: skip
SHAPES: tuple[Callable[[Known], list[Drafted]], ...] = (
    shanks.views, nuts.views, flats.views, pins.cotter, plate_nuts.views, fittings.views,
)  # fmt: skip


def every_example(catalogue: Catalogue, reader: Reader) -> list[Part]:
    """Each family's examples at the weakest and at the strongest basis."""
    found = [reader.read(example) for family in catalogue.families.values() for example in family.examples]
    return [Part(one, basis) for one in found if isinstance(one, Designation) for basis in ("from-memory", "published")]


def words_of(svg: bytes) -> list[str]:
    return [element.text or "" for element in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def test_every_family_s_examples_are_drawn_as_well_formed_svg(catalogue: Catalogue, reader: Reader) -> None:
    parts = every_example(catalogue, reader)
    assert {part.family.id for part in parts} == set(catalogue.families)
    for part in parts:
        root = ElementTree.fromstring(draw_part(part, STAMP))
        assert root.tag == f"{SVG}svg"
        assert root.get("role") == "img"
        title, desc = root[0], root[1]
        assert title.tag == f"{SVG}title"
        assert part.number in (title.text or "")
        assert desc.tag == f"{SVG}desc"
        assert part.family.title in (desc.text or "")


def test_every_dimension_is_as_long_as_the_value_it_prints(catalogue: Catalogue, reader: Reader) -> None:
    millimetres = Fraction(str(pint.UnitRegistry().Quantity(1, "inch").to("mm").magnitude)).limit_denominator(1000)
    seen = 0
    for part in every_example(catalogue, reader):
        displays = {v.display: v.number for v in part.attributes.values() if isinstance(v.exact, Fraction)}
        for shape in SHAPES:
            for view in shape(Known(part)):
                for dimension in view.dimensions:
                    display = next(d for d in sorted(displays, key=len, reverse=True) if dimension.words.endswith(d))
                    assert dimension.span == displays[display] * millimetres, (part.number, dimension.words)
                    seen += 1
    assert seen > 500  # not a handful: hundreds of dimensions were compared


@pytest.mark.parametrize("number", SHOWN)
def test_one_user_unit_is_one_millimetre_and_the_bar_is_one_inch(part: Callable[..., Part], number: str) -> None:
    svg = draw_part(part(number), STAMP).decode()
    root = ElementTree.fromstring(svg)
    box = (root.get("viewBox") or "").split()
    assert root.get("width") == f"{box[2]}mm"
    assert root.get("height") == f"{box[3]}mm"
    bars = re.findall(r'd="M0 ([\d.]+)L0 ([\d.]+)L([\d.]+) \2L\3 \1"', svg)
    assert [bar[2] for bar in bars] == ["25.4"]
    assert any("1 inch (25.4 mm)" in words for words in words_of(svg.encode()))


@pytest.mark.parametrize(
    ("number", "attributes"),
    [
        ("AN4-12A", ("grip_length", "length", "thread_length", "width_across_flats", "shank_diameter", "head_mark")),
        ("AN4H12", ("grip_length", "length", "head_hole_diameter", "shank_hole_diameter")),
        ("NAS6204-12D", ("grip_length", "length", "head_height", "shank_hole_from_point", "shank_hole_diameter")),
        ("AN960-416", ("inside_diameter", "outside_diameter", "thickness")),
        ("MS20470AD4-5", ("length", "head_diameter", "head_height")),
        ("MS24665-132", ("length", "shank_diameter")),
        ("AN310-4", ("width_across_flats", "thread")),
    ],
)
def test_a_drawing_prints_the_values_of_its_part(
    part: Callable[..., Part], number: str, attributes: tuple[str, ...]
) -> None:
    drawn = part(number)
    words = words_of(draw_part(drawn, STAMP))
    for attribute in attributes:
        value = drawn.value(attribute)
        assert value is not None
        assert any(value.display in line for line in words), attribute


def test_what_the_tables_do_not_give_is_dashed_and_said(part: Callable[..., Part]) -> None:
    svg = draw_part(part("AN4-12A"), STAMP)
    assert "head height not in the tables: outline only." in words_of(svg)
    assert elements.ASSUMED.dashes.encode() in svg
    whole = draw_part(part("AN960-416"), STAMP)
    assert elements.ASSUMED.dashes.encode() not in whole
    assert not any("outline only" in words for words in words_of(whole))


def test_a_value_below_the_basis_asked_for_is_not_drawn_as_known(part: Callable[..., Part]) -> None:
    strict = part("AN960-416", basis="published")
    inside = strict.value("inside_diameter")
    assert inside is None or inside.exact is None
    words = words_of(draw_part(strict, STAMP))
    assert not any("from-memory" in line for line in words)


def test_a_hole_is_drawn_only_where_one_is_drilled(part: Callable[..., Part]) -> None:
    drilled, plain = (draw_part(part(number), STAMP) for number in ("AN4H12", "AN4-12A"))
    assert any("lockwire hole" in words for words in words_of(drilled))
    assert any("cotter hole" in words for words in words_of(drilled))
    assert not any("hole" in words for words in words_of(plain))


@pytest.mark.parametrize("number", SHOWN)
def test_a_drawing_holds_only_shapes_and_words(part: Callable[..., Part], number: str) -> None:
    svg = draw_part(part(number), STAMP)
    allowed = {"svg", "title", "desc", "path", "circle", "text", "g"}
    inks = set()
    for element in ElementTree.fromstring(svg).iter():
        assert element.tag.removeprefix(SVG) in allowed
        assert not {"style", "class", "id", "href", "onload"} & set(element.attrib)
        inks |= {element.get("fill"), element.get("stroke")}
    assert inks <= {None, "none", "currentColor"}


def test_paper_brings_its_own_ground_and_ink(part: Callable[..., Part]) -> None:
    svg = draw_part(part("AN4-12A"), STAMP, "paper")
    assert b'color="#000"' in svg
    assert b'fill="#fff"' in svg


def test_the_same_part_gives_the_same_bytes_in_another_process(part: Callable[..., Part], desk: Desk) -> None:
    code = (
        "import sys; from tests.strategies import real_catalogue; from service.designation.reader import Reader; "
        "from service.parts.part import Part; from service.drawings.part import Stamp, draw_part; r = Reader(real_catalogue()); "
        "[sys.stdout.buffer.write(draw_part(Part(r.read(n)), Stamp('0' * 64, ('Not approved data.',)))) for n in sys.argv[1:]]"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"}
    other = subprocess.run([sys.executable, "-c", code, *SHOWN], capture_output=True, check=True, env=environment)
    assert other.stdout == b"".join(draw_part(part(number), STAMP) for number in SHOWN)


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize(("ground", "least"), [("#ffffff", 4.5), ("#000000", 4.5), ("#121212", 4.0)])
def test_the_ink_of_a_fault_is_told_from_white_and_from_black(ground: str, least: float) -> None:
    darker, lighter = sorted((luminance(elements.FAULT_INK), luminance(ground)))
    assert (lighter + 0.05) / (darker + 0.05) >= least


@pytest.mark.parametrize(("rising", "slope"), [(True, -1), (False, 1)])
def test_section_lines_stay_in_their_plate_and_stand_at_45_degrees(rising: bool, slope: int) -> None:
    view = elements.View()
    elements.hatch(view, Fraction(2), Fraction(3), Fraction(5), Fraction(13), rising, Fraction(1))
    lines = re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", view.elements[0])
    assert len(lines) >= 10
    for x1, y1, x2, y2 in ((Fraction(n) for n in line) for line in lines):
        assert 2 <= x1 <= x2 <= 5
        assert 3 <= min(y1, y2) <= max(y1, y2) <= 13
        assert y2 - y1 == slope * (x2 - x1)


def test_words_are_wrapped_within_their_width() -> None:
    text = "head height not in the tables: outline only"
    lines = elements.wrapped(text, Fraction(30))
    assert " ".join(lines) == text
    assert len(lines) > 1
    assert all(elements.width_of(line) <= 30 for line in lines)


def test_somebody_else_s_words_are_text_and_nothing_else() -> None:
    assert elements.plain("<script>&\x00\x0b") == "&lt;script&gt;&amp;  "


def test_leaders_do_not_share_a_line_and_dimensions_do_not_overlap() -> None:
    view = Drafted()
    for x in (Fraction(0), Fraction(1), Fraction(2)):
        view.point_out((x, Fraction(0)), f"leader {x}")
        view.measure((Fraction(0), Fraction(0)), (x + 20, Fraction(0)), f"dimension {x}")
    view.finish()
    rows = re.findall(r'<text x="[-\d.]+" y="([-\d.]+)"', "".join(view.elements))
    assert len(rows) == len(set(rows)) == 6


def picture(svg: bytes) -> str:
    """The words in the picture itself, without the small print."""
    small = elements.number(elements.SMALL)
    every = ElementTree.fromstring(svg).iter(f"{SVG}text")
    return " ".join(element.text or "" for element in every if element.get("font-size") != small)


def test_what_is_outline_only_is_said_in_every_picture_and_description(catalogue: Catalogue, reader: Reader) -> None:
    seen = 0
    for part in every_example(catalogue, reader):
        svg = draw_part(part, STAMP)
        if elements.ASSUMED.dashes.encode() not in svg:
            continue
        seen += 1
        desc = ElementTree.fromstring(svg)[1].text or ""
        assert "Dashed, size not held: " in picture(svg), part.number
        assert "Dashed, size not held: " in desc, part.number
    assert seen > 300  # few parts are held whole


def test_a_part_without_any_size_says_that_nothing_is_drawn(part: Callable[..., Part]) -> None:
    assert "No size held: nothing can be drawn to scale." in picture(draw_part(part("MS16555-1"), STAMP))
    assert "No size held" not in picture(draw_part(part("AN960-416"), STAMP))


@pytest.mark.parametrize(
    ("number", "mark", "strokes"),
    [
        ("AN4-12A", "raised dash or asterisk", "Z"),
        ("NAS6204-12D", "triangle, raised or recessed", "Z"),
        ("MS20470AD4-5", "indented dimple", "circle"),
    ],
)
def test_a_head_shows_its_mark_and_names_it(part: Callable[..., Part], number: str, mark: str, strokes: str) -> None:
    drawn = part(number)
    value = drawn.value("head_mark")
    assert value is not None
    assert value.exact == mark
    svg = draw_part(drawn, STAMP)
    assert f"mark: {mark}" in picture(svg)
    assert strokes.encode() in svg


def corners_of(svg: bytes) -> list[int]:
    """How many corners each closed shape of straight lines has."""
    return [data.count("L") + 1 for data in re.findall(r'd="(M[^"]*Z)"', svg.decode())]


def test_a_twelve_point_nut_is_two_hexagons_and_a_plain_one_is_one(part: Callable[..., Part]) -> None:
    assert corners_of(draw_part(part("NAS1804-3"), STAMP)).count(6) == 2
    assert corners_of(draw_part(part("AN315-4R"), STAMP)).count(6) == 1


def test_a_wing_nut_has_a_wing_on_either_side(part: Callable[..., Part]) -> None:
    views = nuts.views(Known(part("AN350-4")))
    assert len(views) == 2
    assert views[1].bottom == -views[1].top > Fraction("0.25") * Fraction("25.4")
    assert "wing" in picture(draw_part(part("AN350-4"), STAMP))


@pytest.mark.parametrize(("number", "rivets"), [("MS21047-3", 2), ("MS21051-3", 2), ("MS21055-3", 2)])
def test_the_rivets_of_a_plate_nut_stand_as_its_style_says(part: Callable[..., Part], number: str, rivets: int) -> None:
    known = Known(part(number))
    places = plate_nuts.lugs_of(known, Fraction(5)).rivets
    assert len(places) == rivets
    style = known.word("plate_style")
    left = sum(x < 0 for x, _ in places)
    below = sum(y > 0 for _, y in places)
    assert (left, below) == {"two-lug": (1, 0), "one-lug": (0, 0), "corner": (0, 1)}[style]


@pytest.mark.parametrize(
    ("number", "arms"),
    [("AN815-4", {0, 180}), ("AN821-4", {90, 180}), ("AN824-4", {0, 90, 180}), ("AN827-4", {0, 90, 180, 270})],
)
def test_a_fitting_has_an_end_for_each_tube(part: Callable[..., Part], number: str, arms: set[int]) -> None:
    form = Known(part(number)).word("fitting_form")
    assert {turn for turn, _ in fittings._arms(form)} == arms
    assert "tube ⌀ 1/4 in" in picture(draw_part(part(number), STAMP))


def test_a_45_degree_elbow_bends_by_45_degrees_from_straight(part: Callable[..., Part]) -> None:
    (first, _), (second, _) = fittings._arms(Known(part("AN823-4")).word("fitting_form"))
    assert abs(first - second) % 360 in {135, 225}
