"""A joint as it is asked to be drawn: parts, plates and hole with their tolerances, what was measured, what is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal

from service.catalogue.values import Value
from service.joints import assembly as joints
from service.joints.formulas.stack import Span, toleranced
from service.parts.part import Part
from service.quantity import decimal_text, inch_fraction

#: dimensions of the drawing that a fault may name; a fault on another one is said in words only
DIMENSIONS: Final = (
    "grip", "length", "thread", "plates", "clamped", "nut_height", "protrusion", "hole", "cotter_hole",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Given:
    """A size somebody gave, inches, with the magnitudes of its tolerance."""

    value: Fraction
    plus: Fraction = Fraction(0)
    minus: Fraction = Fraction(0)

    @property
    def span(self) -> Span:
        """Its least and greatest."""
        return toleranced(self.value, self.plus, self.minus)

    def as_value(self, attribute: str) -> Value:
        """The size as a value that stands in the place of the tables'; it has no citation."""
        text = f"{decimal_text(self.value, 4)} in measured"
        return Value(attribute, self.value, "[in_i]", text, text, plus=self.plus, minus=self.minus)


@dataclass(frozen=True, slots=True)
class Plate:
    """A plate: thickness in inches, its material in words, the magnitudes of its tolerance."""

    thickness: Fraction
    material: str = ""
    plus: Fraction = Fraction(0)
    minus: Fraction = Fraction(0)

    @property
    def span(self) -> Span:
        """The least and greatest thickness."""
        return toleranced(self.thickness, self.plus, self.minus)


@dataclass(frozen=True, slots=True)
class Fault:
    """A dimension that is wrong, or must be looked at, and why, in words."""

    dimension: str
    words: str
    kind: Literal["fault", "caution"] = "fault"

    @property
    def sentence(self) -> str:
        """The fault as the drawing says it."""
        return f"{self.kind.upper()}, {self.dimension.replace('_', ' ')}: {self.words}"


@dataclass(frozen=True, slots=True)
class Joint:
    """What is put together, washers and plates in order from the head on.

    ``measured`` are sizes of the parts in hand by attribute (:data:`service.joints.assembly.MEASURABLE`); ``unread`` says of
    numbers that could not be read what they are: they are not drawn, and the drawing says so.
    """

    fastener: Part
    plates: tuple[Plate, ...]
    under_head: tuple[Part, ...] = ()
    under_nut: tuple[Part, ...] = ()
    nut: Part | None = None
    faults: tuple[Fault, ...] = ()
    plate_nut: Part | None = None
    cotter_pin: Part | None = None
    lockwire: Part | None = None
    hole: Given | None = None
    measured: Mapping[str, Given] = field(default_factory=dict)
    unread: tuple[str, ...] = ()

    @property
    def holding(self) -> Part | None:
        """The nut or the plate nut."""
        return self.nut or self.plate_nut

    @property
    def assembly(self) -> joints.Assembly:
        """The joint as the joint engine counts it, for worst cases."""
        return joints.Assembly(
            fastener=self.fastener,
            under_head=self.under_head,
            under_nut=self.under_nut,
            nut=self.nut,
            plate_nut=self.plate_nut,
            cotter_pin=self.cotter_pin,
            lockwire=self.lockwire,
            stack=tuple(joints.Layer(plate.span) for plate in self.plates),
            hole=None if self.hole is None else self.hole.span,
            measured={name: size.span for name, size in self.measured.items()},
        )

    def measured_on(self, place: Literal["fastener", "nut"]) -> dict[str, Value]:
        """What was measured on the part in a place, as values."""
        sizes = self.measured.items()
        return {name: size.as_value(name) for name, size in sizes if joints.MEASURABLE[name] == place}


def inches(value: Fraction) -> str:
    """A length in words: decimal, and the fraction where it is one."""
    fraction = inch_fraction(value)
    text = f"{decimal_text(value, 4)} in"
    return f"{text} ({fraction})" if fraction and "/" in fraction else text


def worst(span: Span | None) -> str:
    """The worst case in words, least to greatest in inches; empty where there is no tolerance."""
    if span is None or span.low == span.high:
        return ""
    return f"{decimal_text(span.low, 4)} to {decimal_text(span.high, 4)}"
