"""Shapes of questions and answers about joints: sets, torque, threads, holes, metals."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema

from service.api.schemas import CautionShape, Cited, Noticed, Shape
from service.quantity import parse_number


def exact(given: Any) -> Fraction:
    """A number of a request: a JSON number or a string as the trade writes it (``.063``, ``1 1/4``). ValueError else."""
    if isinstance(given, Fraction):
        return given
    if isinstance(given, bool) or not isinstance(given, int | float | str | Decimal):
        raise ValueError("a number, or a string such as .063 or 1 1/4, is wanted")
    value = parse_number(given if isinstance(given, str) else format(Decimal(str(given)), "f"))
    if abs(value) > 1_000_000:
        raise ValueError("a number beyond a million is no dimension of a joint")
    return value


def _at_least_zero(given: Any) -> Fraction:
    value = exact(given)
    if value < 0:
        raise ValueError("at least 0")
    return value


def _above_zero(given: Any) -> Fraction:
    value = exact(given)
    if value <= 0:
        raise ValueError("above 0")
    return value


def _at_least_one(given: Any) -> Fraction:
    value = exact(given)
    if value < 1:
        raise ValueError("at least 1")
    return value


_SCHEMA = {"anyOf": [{"type": "number"}, {"type": "string", "maxLength": 40}], "examples": ["0.063"]}
NumberIn = Annotated[Fraction, PlainValidator(exact), WithJsonSchema(_SCHEMA)]
NotNegative = Annotated[Fraction, PlainValidator(_at_least_zero), WithJsonSchema(_SCHEMA)]
Positive = Annotated[Fraction, PlainValidator(_above_zero), WithJsonSchema(_SCHEMA)]
AtLeastOne = Annotated[Fraction, PlainValidator(_at_least_one), WithJsonSchema(_SCHEMA)]
PartNumber = Annotated[str, Field(max_length=200)]
ZERO = Fraction(0)


class SizeAsked(Shape):
    """A measured or drawn size with tolerance magnitudes, inches."""

    value: Positive
    plus: NotNegative = Field(ZERO, description="Tolerance upwards, a magnitude.")
    minus: NotNegative = Field(ZERO, description="Tolerance downwards, a magnitude.")


class LayerAsked(Shape):
    """A plate of the stack, from the head on; inches."""

    thickness: Positive
    plus: NotNegative = ZERO
    minus: NotNegative = ZERO
    material: str = Field("", description="A word of the condition `material`, or empty.", max_length=40)


class JointAskedBase(Shape):
    """A set of hardware, and what is known of its joint."""

    fastener: PartNumber
    under_head: list[PartNumber] = Field([], max_length=6, description="Washers under the head, head side first.")
    under_nut: list[PartNumber] = Field([], max_length=6, description="Washers under the nut, plate side first.")
    nut: PartNumber | None = None
    plate_nut: PartNumber | None = None
    cotter_pin: PartNumber | None = None
    lockwire: PartNumber | None = None
    stack: list[LayerAsked] = Field(
        [], max_length=20, description="Plates from the head on. Empty: only the set is judged."
    )
    hole: SizeAsked | None = Field(None, description="Hole diameter, inches.")
    nut_height: SizeAsked | None = Field(
        None, description="Measured height of the nut, inches; stands instead of the tables'."
    )
    nut_slot_bottom: SizeAsked | None = Field(
        None, description="Measured height of the bottom of a castellated nut's slots above its bearing face, inches."
    )
    grip: SizeAsked | None = Field(None, description="Measured grip of the fastener, inches; instead of the tables'.")
    length: SizeAsked | None = Field(
        None, description="Measured length under the head, inches; instead of the tables'."
    )
    cotter_hole_from_point: SizeAsked | None = Field(
        None, description="Measured from the point of the fastener to the centre of its cotter hole, inches."
    )
    reused_nut_drag: NotNegative | None = Field(None, description="Measured drag of a used self-locking nut, in-lb.")


class JointFindingShape(Cited):
    """What a rule says of the set. ``row``, ``source`` ... are null for what is plain from the question itself."""

    severity: Literal["fault", "caution", "note"]
    effect: Literal["excludes", "conditions", "notes", "fits"]
    rule: str
    topic: str
    text: str
    parts: list[str]
    unstated: list[str]
    unknown: list[str]


class FigureShape(Shape):
    """A figure at worst case: its least and greatest value."""

    name: str
    low: str
    high: str
    unit: str
    display: str
    meaning: str


class PracticeShape(Cited):
    """One document's limit against the joint; the margin must not be negative."""

    topic: str
    practice: str
    applies_to: str
    outcome: Literal["always", "within-tolerance", "never"]
    limit: str
    margin_low: str
    margin_high: str
    unit: str
    rule: str


class ClockingShape(Shape):
    """A pack of washers under a castellated nut and how far it turns the slots against where they stand now."""

    pack: str
    of_a_slot: str
    degrees: str


class NotJudgedShape(Shape):
    """What could not be judged, and why; vital when no verdict can be given without it."""

    what: str
    why: str
    vital: bool


class TorqueRowShape(Cited):
    """A torque row as printed. A suspected slip of print keeps its printed value, with the believed one beside it."""

    document: str
    thread: str
    series: str
    part: str
    nut_load: str
    range: str
    low: str | None
    high: str | None
    unit: str
    estimated: bool
    printed_slip: bool
    believed_low: str | None
    believed_high: str | None
    fastener: str
    finish: str
    condition: str
    implied_nut_factor: str | None = Field(
        description="K that the middle of the row implies at the stress of its column."
    )


class PairTorque(Shape):
    """The general table's row for this thread and nut, where it has one."""

    recommended: TorqueRowShape | None
    maximum: TorqueRowShape | None
    why_not: str


class CheckShape(Shape):
    """What was found about a set."""

    verdict: Literal["compatible", "compatible_with_conditions", "incompatible", "unknown"]
    findings: list[JointFindingShape]
    figures: list[FigureShape]
    practices: list[PracticeShape]
    clocking: list[ClockingShape]
    not_judged: list[NotJudgedShape]
    torque: PairTorque


class CheckAnswer(CheckShape, Noticed):
    """The verdict on a set, every rule that spoke, the figures, and what could not be judged."""

    joint: dict[str, str]
    parts: dict[str, list[str]] = Field(description="Canonical numbers by place.")
    cautions: list[CautionShape]


class TorqueNoteShape(Cited):
    """A column head, footnote or caution of a torque table."""

    document: str
    topic: str
    nut_load: str
    range: str
    text: str
    value: str
    unit: str


class TorqueDocumentShape(Shape):
    """One document's rows and what belongs to them."""

    document: str
    rows: list[TorqueRowShape]
    notes: list[TorqueNoteShape]


class TorquesAnswer(Noticed):
    """Torques by document, never blended."""

    thread: str
    nut: str
    nut_load: str
    documents: list[TorqueDocumentShape]
    general_notes: list[TorqueNoteShape]
    threads: list[str] = Field(description="Every thread that some document has.")


TorqueUnit = Literal["[in_i].[lbf_av]", "[ft_i].[lbf_av]", "[in_i].[oz_av].[g]", "N.m", "kgf.m", "kgf.cm"]


class RangeAsked(Shape):
    """A torque range. For a single torque give it as both ends; a maximum alone has no low end."""

    low: NotNegative | None = None
    high: Positive


class SettingAsked(Shape):
    """What is to be tightened, and with which wrench."""

    thread: str | None = Field(None, max_length=20, examples=["1/4-28"])
    nut: str | None = Field(None, max_length=200, description="A nut's number, or `tension` or `shear`.")
    document: str = Field("ac43.13-1b-table-7-1", max_length=60)
    torque: RangeAsked | None = Field(None, description="The maker's own range, used instead of a table.")
    maximum: Positive | None = Field(None, description="The maker's maximum.")
    drag: NotNegative = Field(ZERO, description="Measured running drag.")
    given_unit: TorqueUnit = Field(
        "[in_i].[lbf_av]", description="UCUM unit of the torque, the maximum and the drag as they are given here."
    )
    drag_practice: Literal["always", "from-a-third"] = "always"
    wrench_length: Positive = Field(Fraction(1), description="Grip to square drive, inches.")
    adapter_length: NotNegative = Field(
        ZERO, description="Square drive to fastener axis, inches; 0 without an adapter."
    )
    adapter_degrees: NumberIn = Field(ZERO, description="0 straight on, 90 square to the wrench, 180 folded back.")
    castellated: bool = False
    unit: TorqueUnit = Field("[in_i].[lbf_av]", description="UCUM unit to set on the wrench.")
    places: int | None = Field(
        None,
        ge=0,
        le=6,
        description="Decimals to set; else 0 for in-lb, in-oz and kgf.cm, 1 for ft-lb and N.m, 2 for kgf.m.",
    )


class TorqueRangeShape(Shape):
    """A range of torque; a maximum has no low end."""

    low: str | None
    high: str
    unit: str
    display: str


class WindowShape(Shape):
    """Line a castellated nut up from ``start`` on, aim to be done by ``aim``, never pass ``limit``."""

    start: str
    aim: str
    limit: str
    unit: str


class SettingAnswer(Noticed):
    """What to set on the wrench, step by step."""

    basis_row: TorqueRowShape | None
    maximum_row: TorqueRowShape | None
    torque: TorqueRangeShape
    with_drag: TorqueRangeShape
    effective_length: str
    adapter_effect: Literal["lengthens", "shortens", "none"]
    reading: TorqueRangeShape = Field(description="On the wrench, unrounded, in-lb.")
    set_to: TorqueRangeShape = Field(description="On the wrench, in the unit asked, rounded.")
    rounding: str
    castellated: WindowShape | None = Field(description="At the nut, in-lb.")
    castellated_set_to: WindowShape | None = Field(description="On the wrench, in the unit asked, rounded.")
    notes: list[TorqueNoteShape]


class PreloadAsked(Shape):
    """A torque to be turned into an estimate of clamping force."""

    thread: str = Field(max_length=20, examples=["1/4-28"])
    torque: RangeAsked | None = Field(None, description="In-lb, without drag; else the general table's row for `nut`.")
    nut: str | None = Field(None, max_length=200, description="A nut's number, or `tension` or `shear`.")
    condition: str | None = Field(None, max_length=60, description="Only factors whose condition has this word.")
    nut_factor: Positive | None = Field(None, description="Your own K, beside the rows.")
    scatter: NotNegative = Field(Fraction("0.25"), description="Of the preload, plus and minus.")
    relaxation: NotNegative = Field(ZERO, description="Of the least preload.")


class EstimateShape(Cited):
    """Preload by one nut factor, pounds-force."""

    condition: str
    factor_low: str
    factor_high: str
    nominal: str
    least: str
    most: str
    least_with_scatter: str
    most_with_scatter: str
    unit: str


class PreloadAnswer(Noticed):
    """An estimate beside the table, never instead of it."""

    estimate: Literal[True]
    thread: str
    torque: TorqueRangeShape
    basis_row: TorqueRowShape | None
    implied_nut_factor: str | None
    estimates: list[EstimateShape]
    scatter: str
    relaxation: str
    warning: str
    warnings: list[TorqueNoteShape]
