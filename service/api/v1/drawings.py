"""Drawings: a part, or a joint, to true scale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any, Final, Literal

from fastapi import Query
from pydantic import AfterValidator, Field, create_model

from service.api.desk import Desk
from service.api.problems import Problem
from service.api.ready import JSON, SVG, Answer, Body, Operation, parse_json
from service.api.schemas import NOTICE, Shape
from service.api.schemas.joints import NotNegative, SizeAsked
from service.api.v1.joint_reading import SetReader, conditions_model, span, stated
from service.api.v1.parts import BasisQuery, Number
from service.catalogue.catalogue import Catalogue
from service.drawings.joint import DIMENSIONS, Fault, Given, Joint, Plate
from service.drawings.part import Stamp, draw_part
from service.drawings.stack import draw_joint
from service.joints.assembly import PLACES, Layer
from service.joints.checking import Checker
from service.mating.clauses import Exact
from service.quantity import parse_number

NONE: Final = Fraction(0)
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
    plus: NotNegative = Field(NONE, description="Tolerance upwards, a magnitude.")
    minus: NotNegative = Field(NONE, description="Tolerance downwards, a magnitude.")
    material: str = Field("", max_length=60, description="In words; it stands beside the plate.")


class FaultAsked(Shape):
    """A dimension that is wrong and why. It is marked in words as well as colour."""

    dimension: str = Field(
        min_length=1,
        max_length=40,
        description=f"Marked in the drawing: {', '.join(DIMENSIONS)}. Any other is said in words under it.",
    )
    words: str = Field(min_length=1, max_length=300)


class JointDrawingAskedBase(Shape):
    """A joint to draw; washers and plates in order from the head on. What the check finds wrong is marked in it."""

    fastener: PartNumber
    under_head: list[PartNumber] = Field(default_factory=list, max_length=8)
    stack: list[PlateAsked] = Field(min_length=1, max_length=24)
    under_nut: list[PartNumber] = Field(default_factory=list, max_length=8)
    nut: PartNumber | None = None
    plate_nut: PartNumber | None = None
    cotter_pin: PartNumber | None = None
    lockwire: PartNumber | None = None
    hole: SizeAsked | None = Field(
        None, description="Hole diameter, inches; without it the hole is drawn at the shank."
    )
    nut_height: SizeAsked | None = Field(
        None, description="Measured height of the nut, inches; instead of the tables'."
    )
    nut_slot_bottom: SizeAsked | None = Field(
        None, description="Measured, bearing face to the bottom of the slots, inches."
    )
    grip: SizeAsked | None = Field(None, description="Measured grip of the fastener, inches.")
    length: SizeAsked | None = Field(None, description="Measured length under the head, inches.")
    cotter_hole_from_point: SizeAsked | None = Field(
        None, description="Measured, point to the centre of the hole, inches."
    )
    faults: list[FaultAsked] = Field(
        default_factory=list, max_length=24, description="Faults to mark beside those that the check finds."
    )


def operations(desk: Desk) -> list[Operation]:
    """The operations that draw."""
    stamp = Stamp(desk.catalogue.digest, (NOTICE,))
    asked_model = _model(conditions_model(desk.catalogue))

    @lru_cache(maxsize=8)
    def checker(basis: str) -> Checker:
        return Checker(desk.catalogue, desk.rules, basis)

    def draw_part_drawing(number: Number, query: Annotated[DrawingQuery, Query()]) -> Answer:
        return Answer(draw_part(desk.part(number, query.basis), stamp, query.ground), SVG)

    def draw_joint_drawing(body: Body, query: Annotated[DrawingQuery, Query()]) -> Answer:
        asked: Any = parse_json(asked_model, body.data)
        joint, reader = joint_of(desk, asked, query.basis)
        given = stated(asked.conditions, desk.catalogue)
        found = judged(joint, reader, checker(query.basis), desk.catalogue, given)
        said = {fault.words for fault in found}
        return Answer(
            draw_joint(
                replace(joint, faults=(*found, *(fault for fault in joint.faults if fault.words not in said))),
                stamp,
                query.ground,
            ),
            SVG,
        )

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
            produces=(SVG,), consumes=(JSON,), body=asked_model, problems=(*refusals, "bad-body"), tag="joints",
            examples=({"body": Body(JSON, EXAMPLE)},),
            description="The pack cut open along the bolt's axis at nominal sizes, with the worst case of each length beside it. The set is judged as "
            "`POST /v1/joints/check` judges it: what is wrong is marked at its dimension in words as well as colour, together with the "
            "`faults` that come in with the request. A number other than the fastener's that cannot be read is not drawn and the drawing says so.",
        ),
    ]  # fmt: skip


#: the example in the OpenAPI document: it is executed when that is exported
EXAMPLE = (
    b'{"fastener": "AN4-12A", "under_head": ["AN960-416"], "stack": [{"thickness": "1/2", "plus": "0.005", "minus": "0.005", '
    b'"material": "spar"}, {"thickness": "0.19", "material": "fitting"}], "under_nut": ["AN960-416"], "nut": "AN365-428A", '
    b'"hole": {"value": "0.250", "plus": "0.003"}, "faults": [{"dimension": "plates", "words": "an example of a fault"}]}'
)

#: the members of a request that give a measured size, and the attribute that each stands for
_MEASURED: Final = {
    "nut_height": "height",
    "nut_slot_bottom": "slot_bottom_height",
    "grip": "grip_length",
    "length": "length",
    "cotter_hole_from_point": "shank_hole_from_point",
}
#: where a finding of the check is marked in the drawing, by its topic; any other is said in words
_MARKED: Final = {"grip": "grip", "protrusion": "protrusion", "hole": "hole", "cotter pin": "cotter_hole"}
#: the same by the topic of a practice: thread in the hole is found under the topic of the grip
_PRACTISED: Final = {"thread_in_hole": "thread", "protrusion": "protrusion"}


def _model(conditions: type[Shape]) -> type[JointDrawingAskedBase]:
    """The body of a joint's drawing: the joint and the conditions that its check may ask about."""
    fields: dict[str, Any] = {"conditions": (conditions | None, None)}
    model: type[JointDrawingAskedBase] = create_model("JointDrawingAsked", __base__=JointDrawingAskedBase, **fields)
    model.__doc__ = JointDrawingAskedBase.__doc__
    return model


def joint_of(desk: Desk, asked: JointDrawingAskedBase, basis: str) -> tuple[Joint, SetReader]:
    """The joint a request names, and the reader of its numbers. Raises Problem for a fastener that names no part, for a
    tolerance that uses up its size, and for a nut and a plate nut together."""
    if asked.nut is not None and asked.plate_nut is not None:
        fault = {"at": "plate_nut", "reason": "a joint has a nut or a plate nut, not both"}
        raise Problem("bad-body", "A nut and a plate nut are given.", {"faults": [fault]})
    reader = SetReader(desk, basis)
    sizes = {attribute: _given(member, getattr(asked, member)) for member, attribute in _MEASURED.items()}
    joint = Joint(
        desk.part(asked.fastener, basis),
        tuple(_plate(index, plate) for index, plate in enumerate(asked.stack)),
        reader.many("under_head", asked.under_head),
        reader.many("under_nut", asked.under_nut),
        reader.one("nut", asked.nut),
        tuple(Fault(fault.dimension, fault.words) for fault in asked.faults),
        reader.one("plate_nut", asked.plate_nut),
        reader.one("cotter_pin", asked.cotter_pin),
        reader.one("lockwire", asked.lockwire),
        _given("hole", asked.hole),
        {attribute: size for attribute, size in sizes.items() if size is not None},
    )
    return replace(joint, unread=tuple(f"{missed.what} {missed.why}" for missed in reader.missed)), reader


def judged(
    joint: Joint, reader: SetReader, checker: Checker, catalogue: Catalogue, conditions: Mapping[str, Exact]
) -> tuple[Fault, ...]:
    """What the check finds wrong with a joint, at the dimension where it is marked: once for each rule, though several
    documents may say it. What it would have looked at is a caution, the first one of each dimension. Nothing for a fastener that the check does not judge."""
    if joint.fastener.family.kind not in PLACES["fastener"]:
        return ()
    words = catalogue.conditions["material"].values.split() if "material" in catalogue.conditions else []
    stack = tuple(Layer(plate.span, plate.material if plate.material in words else "") for plate in joint.plates)
    assembly = replace(joint.assembly, stack=stack, joint=conditions)
    check = checker.check(assembly, tuple(reader.findings), tuple(reader.missed))
    practised = {result.rule: _PRACTISED.get(result.topic, "") for result in check.practices}
    faults: list[Fault] = []
    one_a_rule = {finding.rule: finding for finding in reversed(check.findings)}
    for finding in (one for one in check.findings if one_a_rule[one.rule] is one):
        where = practised.get(finding.rule) or _MARKED.get(finding.topic, "")
        if finding.effect == "excludes":
            faults.append(Fault(where or f"{finding.topic} of the set", finding.text))
        elif (
            finding.effect == "conditions"
            and where in {"grip", "thread", "protrusion", "hole"}
            and where not in {fault.dimension for fault in faults}
        ):
            faults.append(Fault(where, finding.text, "caution"))
    return tuple(faults)


def _plate(index: int, plate: PlateAsked) -> Plate:
    thickness = Fraction(plate.thickness) if isinstance(plate.thickness, Decimal) else parse_number(plate.thickness)
    if plate.minus >= thickness:
        fault = {"at": f"stack/{index}/minus", "reason": "less than the thickness"}
        raise Problem("bad-body", "A tolerance may not use up the plate.", {"faults": [fault]})
    return Plate(thickness, plate.material, plate.plus, plate.minus)


def _given(member: str, size: SizeAsked | None) -> Given | None:
    if size is None:
        return None
    span(member, size)  # refuses a tolerance that uses up the size
    return Given(size.value, size.plus, size.minus)
