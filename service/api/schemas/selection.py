"""Shapes of the question for sets of hardware and of its answer."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from service.api.schemas import Noticed, Shape
from service.api.schemas.joints import JointFindingShape, LayerAsked, PairTorque, PartNumber, Positive, SizeAsked


class PreferAsked(Shape):
    """Preferences of a selection. Empty lists leave everything open."""

    bolt_families: list[PartNumber] = Field([], max_length=30, description="Family ids, as in /v1/families.")
    nut_families: list[PartNumber] = Field([], max_length=40)
    materials: list[Annotated[str, Field(max_length=40)]] = Field(
        [], max_length=10, description="Material groups of the bolt: steel, stainless, aluminium, titanium."
    )
    avoid: list[PartNumber] = Field([], max_length=100, description="Families or numbers to leave out.")
    drilled: bool | None = Field(None, description="Only bolts drilled for a cotter pin, or only undrilled ones.")
    most_under_head: int = Field(1, ge=0, le=2)
    most_under_nut: int = Field(2, ge=0, le=3)
    least_under_nut: int = Field(1, ge=0, le=2)
    thread_in_hole: Literal["none", "as-published"] = Field(
        "none", description="No thread in the plates, or as much as every published practice allows."
    )


class SelectAskedBase(Shape):
    """A stack to be closed."""

    stack: list[LayerAsked] = Field(min_length=1, max_length=20)
    thread: str | None = Field(None, max_length=20, examples=["1/4-28"])
    diameter: Positive | None = Field(None, description="Nominal diameter, inches; .190 for No. 10.")
    nut_height: SizeAsked | None = Field(None, description="Height of the nut to be used, inches, where it is known.")
    prefer: PreferAsked | None = None
    limit: int = Field(5, ge=1, le=50)


class MarginsShape(Shape):
    """Room at worst case, inches."""

    grip: str = Field(description="Grip past the plates, or thread still allowed in them.")
    nut: str = Field(description="From the nut's face to the end of the grip.")
    past_pack: str = Field(description="Bolt past the washers: room for the nut and what shows beyond it.")


class SetShape(Shape):
    """A complete set that passes the check."""

    rank: int
    fastener: str
    description: str
    under_head: list[str]
    under_nut: list[str]
    nut: str
    other_nuts: list[str] = Field(description="Numbers of the same nut family that the rules let stand here too.")
    cotter_pin: str | None
    verdict: Literal["compatible", "compatible_with_conditions"]
    cautions: list[JointFindingShape]
    margins: MarginsShape
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
    joint: dict[str, str]
    not_considered: list[str]
