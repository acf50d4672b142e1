"""Shapes of the question for sets of hardware and of its answer."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from service.api.schemas import Cited, Noticed, Shape
from service.api.schemas.joints import (
    ZERO,
    AtLeastOne,
    JointFindingShape,
    LayerAsked,
    NotJudgedShape,
    NotNegative,
    PairTorque,
    PartNumber,
    Positive,
    SizeAsked,
)


class PreferAsked(Shape):
    """Preferences of a selection. Empty lists leave everything open."""

    bolt_families: list[PartNumber] = Field([], max_length=30, description="Family ids, as in /v1/families.")
    nut_families: list[PartNumber] = Field([], max_length=40)
    materials: list[Annotated[str, Field(max_length=40)]] = Field(
        [], max_length=10, description="Material groups of the bolt: steel, stainless, aluminium, titanium."
    )
    avoid: list[PartNumber] = Field([], max_length=100, description="Families or numbers to leave out.")
    holding: Literal["nut", "plate_nut"] = Field(
        "nut", description="A nut, or a plate nut on the last plate: then no washer lies under it."
    )
    drilled: bool | None = Field(None, description="Only bolts drilled for a cotter pin, or only undrilled ones.")
    most_under_head: int = Field(1, ge=0, le=2)
    most_under_nut: int = Field(2, ge=0, le=3)
    least_under_nut: int = Field(1, ge=0, le=2)
    thread_in_hole: Literal["none", "as-published"] = Field(
        "none", description="No thread in the plates, or as much as every published practice allows."
    )


class LoadAsked(Shape):
    """What one fastener must carry, pounds-force."""

    basis: Literal["limit", "ultimate"] = Field(description="What the figures are; the rows give ultimate loads.")
    shear: NotNegative = ZERO
    tension: NotNegative = ZERO
    shear_planes: Literal[1, 2] = Field(1, description="Planes in which the shank is cut: 2 in double shear.")
    factor: AtLeastOne | None = Field(
        None, description="Multiplies the figures; must be stated with limit loads, such as the 1.5 of 14 CFR 25.303."
    )


class SelectAskedBase(Shape):
    """A stack to be closed. One of thread, diameter and load is needed."""

    stack: list[LayerAsked] = Field(min_length=1, max_length=20)
    thread: str | None = Field(None, max_length=20, examples=["1/4-28"])
    diameter: Positive | None = Field(None, description="Nominal diameter, inches; .190 for No. 10.")
    load: LoadAsked | None = Field(
        None, description="Only bolts that carry it by their rows; without thread or diameter the thinnest first."
    )
    nut_height: SizeAsked | None = Field(None, description="Height of the nut to be used, inches, where it is known.")
    nut_slot_bottom: SizeAsked | None = Field(
        None, description="Bottom of the slots of the nut to be used above its bearing face, inches, where it is known."
    )
    prefer: PreferAsked | None = None
    limit: int = Field(5, ge=1, le=50)


class MarginsShape(Shape):
    """Room at worst case, inches."""

    grip: str = Field(description="Grip past the plates, or thread still allowed in them.")
    nut: str = Field(description="From the nut's face to the end of the grip.")
    past_pack: str = Field(description="Bolt past the washers: room for the nut and what shows beyond it.")


class CarriedShape(Cited):
    """One kind of load on the bolt, pounds-force: asked, needed with its factor, and the row's over all planes."""

    kind: Literal["shear", "tension"]
    needed: str
    allowed: str
    margin: str = Field(description="Allowed over needed, less 1 (NASA TM-106943 eq. 53).")


class CarryingShape(Shape):
    """What the bolt carries of the load that was asked; bearing in the plates and the nut's strength are not in it."""

    by_kind: list[CarriedShape]
    unknown: list[str] = Field(description="Kinds of load that no row gives for this bolt.")
    together: str | None = Field(
        description="Tension and shear at once, at most 1: Rt^2 + Rs^3 (NASA TM-106943 eq. 56)."
    )


class TooWeakShape(Shape):
    """A bolt, of any length, left out for the load."""

    number: str
    carrying: CarryingShape


class WeighedShape(Shape):
    """A part and its mass, pounds; null with the reason where it cannot be worked out."""

    number: str
    mass: str | None
    why_not: str


class MassShape(Shape):
    """Mass of the parts that can be weighed by their rows: shape times density of the material's group. An estimate."""

    pounds: str
    display: str
    complete: bool = Field(description="Whether every part of the set is in it.")
    parts: list[WeighedShape]


class SetShape(Shape):
    """A complete set that passes the check."""

    rank: int
    fastener: str
    description: str
    under_head: list[str]
    under_nut: list[str]
    nut: str | None
    plate_nut: str | None
    other_nuts: list[str] = Field(description="Numbers of the same nut family that the rules let stand here too.")
    cotter_pin: str | None
    verdict: Literal["compatible", "compatible_with_conditions"]
    cautions: list[JointFindingShape]
    not_judged: list[NotJudgedShape]
    margins: MarginsShape
    carrying: CarryingShape | None = Field(description="Null where no load was asked.")
    mass: MassShape
    torque: PairTorque
    behind_because: str = Field(description="Why the set is behind the one before it; empty for the first.")


class RuledOutShape(Shape):
    """A nut that rules exclude here."""

    number: str
    rules: list[JointFindingShape]


class MissShape(Shape):
    """A bolt that does not close the stack, and by how much, inches."""

    number: str
    constraint: str
    by: str


class SelectAnswer(Noticed):
    """Sets that close the stack, ranked; what was ruled out; what came near."""

    sets: list[SetShape]
    ranked_by: list[str]
    bolts_tried: int
    bolts_closing: int
    nothing_closes: str = Field(description="Why there is no set; empty when there is one.")
    ruled_out: list[RuledOutShape]
    near_misses: list[MissShape]
    too_weak: list[TooWeakShape]
    joint: dict[str, str]
    not_considered: list[str]
