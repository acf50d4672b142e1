"""Drawings: a part, or a joint, to true scale."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal

from fastapi import Query
from pydantic import AfterValidator, Field

from service.api.desk import Desk
from service.api.ready import JSON, SVG, Answer, Body, Operation, parse_json
from service.api.schemas import NOTICE, Shape
from service.api.v1.parts import BasisQuery, Number
from service.drawings.part import Stamp, draw_part
from service.drawings.stack import DIMENSIONS, Fault, Joint, Plate, draw_joint
from service.quantity import parse_number

#: no pack at a parts counter is thicker
LARGEST_THICKNESS = 24


def _thickness(value: Decimal | str) -> Decimal | str:
    exact = Fraction(value) if isinstance(value, Decimal) else parse_number(value)
    if not 0 < exact <= LARGEST_THICKNESS:
        raise ValueError(f"a plate is more than 0 and at most {LARGEST_THICKNESS} in thick")
    return value


Thickness = Annotated[
    Annotated[Decimal, Field(gt=0, le=LARGEST_THICKNESS, allow_inf_nan=False)]
    | Annotated[str, Field(pattern=r"^([0-9]{1,2}[ -])?[0-9]{1,3}/[1-9][0-9]{0,2}$")],
    AfterValidator(_thickness),
]
PartNumber = Annotated[str, Field(min_length=1, max_length=200)]


class DrawingQuery(BasisQuery):
    """How a drawing is made."""

    ground: Literal["clear", "paper"] = Field(
        "clear",
        description="clear: no ground, ink is the colour of the page the drawing is written into. paper: black on white, for an image element or a printer.",
    )


class PlateAsked(Shape):
    """A plate of the stack."""

    thickness: Thickness = Field(description="Inches, as a decimal or a fraction: 0.125, 1/8.")
    material: str = Field("", max_length=60, description="In words; it stands beside the plate.")


class FaultAsked(Shape):
    """A dimension that is wrong and why. It is marked in words as well as colour."""

    dimension: str = Field(
        min_length=1,
        max_length=40,
        description=f"Marked in the drawing: {', '.join(DIMENSIONS)}. Any other is said in words under it.",
    )
    words: str = Field(min_length=1, max_length=300)


class JointDrawingAsked(Shape):
    """A joint to draw; washers and plates in order from the head on."""

    fastener: PartNumber
    under_head: list[PartNumber] = Field(default_factory=list, max_length=8)
    stack: list[PlateAsked] = Field(min_length=1, max_length=24)
    under_nut: list[PartNumber] = Field(default_factory=list, max_length=8)
    nut: PartNumber | None = None
    faults: list[FaultAsked] = Field(default_factory=list, max_length=24)


def operations(desk: Desk) -> list[Operation]:
    """The operations that draw."""
    stamp = Stamp(desk.catalogue.digest, (NOTICE,))

    def draw_part_drawing(number: Number, query: Annotated[DrawingQuery, Query()]) -> Answer:
        return Answer(draw_part(desk.part(number, query.basis), stamp, query.ground), SVG)

    def draw_joint_drawing(body: Body, query: Annotated[DrawingQuery, Query()]) -> Answer:
        asked: JointDrawingAsked = parse_json(JointDrawingAsked, body.data)
        return Answer(draw_joint(joint_of(desk, asked, query.basis), stamp, query.ground), SVG)

    refusals = ("not-made", "not-covered", "ambiguous", "unreadable")
    return [
        Operation(
            "GET", "/v1/parts/{number}/drawing.svg", "draw-part", "A part drawn to true scale", draw_part_drawing, None,
            produces=(SVG,), problems=refusals, examples=({"number": "AN960-416"},), tag="parts",
            description="Millimetres, with a bar of one inch to prove the scale on paper or on a screen. Dimensions read as the tables print them. "
            "What the tables do not give is a dashed outline and the drawing says so. Lines and words only: no script, no style sheet.",
        ),
        Operation(
            "POST", "/v1/joints/drawing.svg", "draw-joint", "A joint drawn to true scale", draw_joint_drawing, None,
            produces=(SVG,), consumes=(JSON,), body=JointDrawingAsked, problems=refusals, tag="joints",
            examples=({"body": Body(JSON, EXAMPLE)},),
            description="The pack cut open along the bolt's axis at the sizes printed, tolerances not counted. It judges nothing: faults come in with the "
            "request and are marked in words as well as colour.",
        ),
    ]  # fmt: skip


#: the example in the OpenAPI document: it is executed when that is exported
EXAMPLE = (
    b'{"fastener": "AN4-12A", "under_head": ["AN960-416"], "stack": [{"thickness": "1/2", "material": "spar"}, '
    b'{"thickness": "0.19", "material": "fitting"}], "under_nut": ["AN960-416"], "nut": "AN365-428A", '
    b'"faults": [{"dimension": "grip", "words": "an example of a fault"}]}'
)


def joint_of(desk: Desk, asked: JointDrawingAsked, basis: str) -> Joint:
    """The joint a request names. Raises Problem for a number that names no part."""
    return Joint(
        desk.part(asked.fastener, basis),
        tuple(Plate(_exact(plate.thickness), plate.material) for plate in asked.stack),
        tuple(desk.part(number, basis) for number in asked.under_head),
        tuple(desk.part(number, basis) for number in asked.under_nut),
        desk.part(asked.nut, basis) if asked.nut is not None else None,
        tuple(Fault(fault.dimension, fault.words) for fault in asked.faults),
    )


def _exact(thickness: Decimal | str) -> Fraction:
    return Fraction(thickness) if isinstance(thickness, Decimal) else parse_number(thickness)
