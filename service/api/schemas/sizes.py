"""Shapes of answers about threads, holes and metals."""

from __future__ import annotations

from pydantic import Field

from service.api.schemas import Cited, Noticed, Shape
from service.api.schemas.rivets import RivetRowShape


class PublishedShape(Cited):
    """A published thread dimension."""

    value: str
    printed_slip: bool
    believed: str | None
    difference: str | None = Field(description="Published less formula, rounded to nine places.")


class ThreadFigureShape(Shape):
    """A dimension by formula, and the published rows for it."""

    quantity: str
    thread_class: str
    limit: str
    by_formula: str | None
    unit: str
    published: list[PublishedShape]


class ThreadAnswer(Noticed):
    """A thread: what the formulas give beside what is published."""

    thread: str
    series: str
    form: str
    major_diameter: str
    threads_per_inch: int
    pitch: str
    figures: list[ThreadFigureShape]
    not_computed: list[str]


class HoleShape(Cited):
    """A hole that a row suggests for a fastener, and the room it leaves."""

    fastener: str
    fit: str
    drill: str
    diameter: str
    limit: str
    unit: str
    clearance_low: str | None
    clearance_high: str | None


class DrillShape(Cited):
    """A drill near the size."""

    designation: str
    kind: str
    diameter: str
    over_nominal: str


class HoleNoteShape(Cited):
    """What to know about holes."""

    topic: str
    text: str
    value: str
    unit: str


class HolesAnswer(Noticed):
    """Holes for a fastener."""

    fastener: str
    nominal_diameter: str
    shank_low: str | None
    shank_high: str | None
    holes: list[HoleShape]
    rivet_holes: list[RivetRowShape] = Field(description="For a rivet: drills, holes, shop heads and countersinks.")
    letter_drill_rule: str
    drills: list[DrillShape]
    notes: list[HoleNoteShape]


class ContactReasonShape(Cited):
    """A row that spoke of two metals."""

    verdict: str
    condition: str
    counted: bool = Field(description="False when its condition was not stated.")


class GalvanicAnswer(Noticed):
    """Two metals in contact."""

    a: str
    b: str
    verdict: str
    reasons: list[ContactReasonShape]
    anode: str | None = Field(description="Which corrodes, by the sea-water series; null when a metal is not in it.")
    metals: list[str] = Field(description="Names the rows use.")
