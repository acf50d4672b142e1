"""Drawings of joints: the pack in order and to scale, sums as the joint engine has them, faults in words and colour."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from fractions import Fraction
from xml.etree import ElementTree

import pytest

from service.drawings import shanks
from service.drawings.elements import FAULT_INK, INCH
from service.drawings.known import Known
from service.drawings.part import Stamp
from service.drawings.stack import Assembly, Fault, Joint, Plate, draw_joint
from service.joints.formulas.stack import Shank, Stack, exactly, nut_clearance
from service.parts.part import Part
from service.quantity import decimal_text

STAMP = Stamp("0" * 64, ("Not approved data.",))
SVG = "{http://www.w3.org/2000/svg}"
Named = Callable[..., Part]


def joint(part: Named, *faults: Fault, fastener: str = "AN4-12A", nut: str = "AN365-428A") -> Joint:
    plates = (Plate(Fraction(1, 2), "spar"), Plate(Fraction("0.19"), "fitting"))
    return Joint(part(fastener), plates, (part("AN960-416"),), (part("AN960-416L"),), part(nut), faults)


def laid_out(asked: Joint) -> Assembly:
    known = Known(asked.fastener)
    shaft = shanks.shaft_of(known)
    assert shaft is not None
    return Assembly(asked, shaft, known)


def texts(svg: bytes) -> list[ElementTree.Element]:
    return list(ElementTree.fromstring(svg).iter(f"{SVG}text"))


def said(svg: bytes) -> str:
    return ElementTree.fromstring(svg)[1].text or ""


def test_layers_lie_end_to_end_and_to_scale(part: Named) -> None:
    pack = laid_out(joint(part))
    layers = [*pack.head_washers, *pack.plates, *pack.nut_washers]
    assert [layer.end - layer.start for layer in layers] == [
        thickness * INCH for thickness in (Fraction("0.063"), Fraction(1, 2), Fraction("0.19"), Fraction("0.032"))
    ]
    assert layers[0].start == 0
    assert all(before.end == after.start for before, after in itertools.pairwise(layers))
    assert pack.nut is not None
    assert pack.nut.start == pack.clamped == layers[-1].end


def test_the_length_past_the_nut_s_face_is_the_joint_engine_s(part: Named) -> None:
    asked = joint(part)
    grip, length = (asked.fastener.value(name) for name in ("grip_length", "length"))
    assert grip is not None
    assert length is not None
    spans = [exactly(Fraction(text)) for text in ("0.063", "0.032")]
    stack = Stack(tuple(exactly(plate.thickness) for plate in asked.plates), (spans[0],), (spans[1],))
    shank = Shank(exactly(grip.number), exactly(length.number), Fraction(1, 28))
    pack = laid_out(asked)
    assert (pack.clamped - pack.shaft.grip.mm) / INCH == nut_clearance(stack, shank).low  # type: ignore[union-attr]
    past = (shank.length - stack.clamped).low
    assert f"past nut face {decimal_text(past, 4)} in" in [element.text for element in texts(draw_joint(asked, STAMP))]


def test_the_pack_is_told_in_order(part: Named) -> None:
    words = said(draw_joint(joint(part), STAMP))
    order = [
        words.index(piece)
        for piece in ("AN960-416 .063 in", "plate 1: 0.5 in (1/2) spar", "plate 2: 0.19 in fitting", "AN960-416L")
    ]
    assert order == sorted(order)


@pytest.mark.parametrize(
    ("dimension", "start"),
    [("grip", "grip "), ("length", "length "), ("plates", "plates "), ("protrusion", "past nut face")],
)
def test_a_faulty_dimension_is_marked_in_words_and_colour(part: Named, dimension: str, start: str) -> None:
    svg = draw_joint(joint(part, Fault(dimension, "too long by far")), STAMP)
    marked = [element.text or "" for element in texts(svg) if element.get("fill") == FAULT_INK]
    assert any(words.startswith(start) and words.endswith("FAULT") for words in marked)
    assert f"FAULT, {dimension}: too long by far" in marked
    assert "too long by far" in said(svg)


def test_a_sound_joint_has_no_fault_in_it(part: Named) -> None:
    svg = draw_joint(joint(part), STAMP)
    assert FAULT_INK.encode() not in svg
    assert b"FAULT" not in svg


def test_a_fault_on_what_is_not_drawn_is_still_said(part: Named) -> None:
    assert "FAULT, temperature: the insert is too hot" in said(
        draw_joint(joint(part, Fault("temperature", "the insert is too hot")), STAMP)
    )


def test_an_unknown_height_is_an_outline_and_no_protrusion_is_worked_out(part: Named) -> None:
    asked = joint(part)
    assert asked.nut is not None
    height = asked.nut.value("height")
    assert height is None or height.exact is None
    words = said(draw_joint(asked, STAMP))
    assert "AN365-428A: nut height not in the tables: outline only" in words
    assert "AN365-428A, height not held" in [element.text for element in texts(draw_joint(asked, STAMP))]
    assert "protrusion past the nut: not worked out" in words


def test_a_bolt_that_ends_short_of_the_nut_s_face_says_so(part: Named) -> None:
    asked = Joint(part("AN4-12A"), (Plate(Fraction(2)),))
    assert any((element.text or "").startswith("short by 0.7188 in") for element in texts(draw_joint(asked, STAMP)))


@pytest.mark.parametrize(
    "fastener", ["AN4-12A", "AN4H12", "MS24694-S10", "MS20470AD4-5", "AN23-14", "AN960-416", "MS16996-10", "MS20995C32"]
)
@pytest.mark.parametrize("nut", ["AN310-4", "AN350-4", "MS21047-4", "AN4-12A", "AN818-4", "MS24665-132"])
def test_whatever_is_put_together_is_drawn(part: Named, fastener: str, nut: str) -> None:
    asked = Joint(
        part(fastener), (Plate(Fraction(1, 64)), Plate(Fraction(3))), (part(nut),), (part(fastener),), part(nut)
    )
    assert ElementTree.fromstring(draw_joint(asked, STAMP)).get("role") == "img"


def test_the_same_joint_gives_the_same_bytes(part: Named) -> None:
    assert draw_joint(joint(part), STAMP) == draw_joint(joint(part), STAMP)
