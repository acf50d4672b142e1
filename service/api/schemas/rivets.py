"""Shapes of questions and answers about riveted joints."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from service.api.schemas import CautionShape, Cited, Noticed, Shape
from service.api.schemas.joints import JointFindingShape, NotJudgedShape, PartNumber, Positive

Sheets = Annotated[list[Positive], Field(min_length=1, max_length=10)]


class RivetSelectAsked(Shape):
    """Sheets to be joined; inches."""

    sheets: Sheets
    diameter: Positive | None = Field(
        None, description="Rivet diameter; else the next made above three times the thickest sheet."
    )
    alloy_code: str = Field("AD", max_length=4, description="Alloy letters of the rivet number.")
    families: list[PartNumber] = Field(
        [], max_length=10, description="Rivet families; empty: the active ones of the head asked."
    )
    head: Literal["protruding", "flush"] = "protruding"
    material: str | None = Field(None, max_length=60, description="Sheet material as the splice tables name it.")
    width: Positive | None = Field(None, description="Width of the splice, inches.")
    joint: Literal["full", "stringer", "frame", "single-lap"] = "full"
    leg_thickness: Positive | None = Field(None, description="Thickness of the stringer's leg, inches.")
    leg_width: Positive | None = Field(None, description="Width of the stringer's leg, inches.")


class RivetLengthShape(Cited):
    """A length by one rounding practice."""

    practice: str
    length: str
    numbers: list[str]


class LimitShape(Cited):
    """A limit of one document, worked for this diameter."""

    practice: str
    applies_to: str
    quantity: str
    limit: str
    in_diameters: str
    inches: str | None = Field(description="Null where it hangs on a size that was not given.")


class RivetRowShape(Cited):
    """A row as printed."""

    quantity: str
    applies_to: str
    value: str
    unit: str
    area_basis: str = Field(description="The area a strength was worked on: the nominal hole or the shank.")
    sheet_thickness: str = Field(description="The sheet that a bearing load is for, inches; empty for the rest.")


class CountShape(Cited):
    """Rivets on each side of the joint by one order of rounding."""

    practice: str
    by_printed_cell: int
    by_worked_cell: int | None


class SpliceShape(Cited):
    """A cell of a splice table: printed, believed, and worked from the table's own notes."""

    table: str
    material: str
    printed_per_inch: str
    printed_slip: bool
    believed_per_inch: str | None
    worked_bearing: str | None
    worked_shear: str | None
    governing: str | None
    assumptions: list[RivetRowShape]
    factor: str
    factor_row: str | None
    counts: list[CountShape]


class RivetSelectAnswer(Noticed):
    """A rivet for a pack of sheets, each document by itself."""

    grip: str
    thickest: str
    target_diameter: str
    diameter: str | None
    why_no_diameter: str
    computed_length: str | None
    lengths: list[RivetLengthShape]
    diameters: list[LimitShape]
    spacing: list[LimitShape]
    shop_head: list[LimitShape]
    holes: list[RivetRowShape]
    strengths: list[RivetRowShape]
    splices: list[SpliceShape]
    why_no_splice: str


class RivetCheckAsked(Shape):
    """A rivet in its sheets and what was measured; inches."""

    rivet: PartNumber
    sheets: Sheets
    edge: Positive | None = Field(None, description="Hole centre to edge.")
    pitch: Positive | None = None
    row: Positive | None = Field(None, description="Between rows.")
    head_width: Positive | None = Field(None, description="Shop head across.")
    head_height: Positive | None = None
    hole: Positive | None = None


class RivetCheckAnswer(Noticed):
    """The verdict on a rivet, every rule that spoke, and what could not be judged."""

    rivet: str
    description: str
    verdict: Literal["compatible", "compatible_with_conditions", "incompatible", "unknown"]
    findings: list[JointFindingShape]
    not_judged: list[NotJudgedShape]
    joint: dict[str, str]
    cautions: list[CautionShape]
