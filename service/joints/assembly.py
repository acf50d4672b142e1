"""A set of hardware as it stands in a joint: which part where, what is clamped, what was said about the joint."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from service.catalogue.values import Value
from service.joints.formulas.stack import Shank, Span, Stack, exactly
from service.joints.formulas.threads import parse_thread
from service.mating.clauses import Exact
from service.parts.part import Part

#: kinds of part that may stand in each place
PLACES: Final[Mapping[str, frozenset[str]]] = {
    "fastener": frozenset({"bolt", "screw", "clevis_pin", "taper_pin"}),
    "under_head": frozenset({"washer", "lock_washer"}),
    "under_nut": frozenset({"washer", "lock_washer"}),
    "nut": frozenset({"nut"}),
    "plate_nut": frozenset({"plate_nut"}),
    "cotter_pin": frozenset({"cotter_pin"}),
    "lockwire": frozenset({"lockwire"}),
}


#: what may be measured on the parts in hand and stand instead of the tables', and the place of the part it belongs to
MEASURABLE: Final[Mapping[str, str]] = {
    "grip_length": "fastener",
    "length": "fastener",
    "shank_hole_from_point": "fastener",
    "height": "nut",
    "slot_bottom_height": "nut",
}


@dataclass(frozen=True, slots=True)
class Layer:
    """A plate of the stack, from the head on. ``material`` is a word of the condition ``material`` or empty."""

    thickness: Span
    material: str = ""


@dataclass(frozen=True, slots=True)
class Assembly:
    """The set. Every part has been decoded; what could not be is left out and reported by whoever decoded it."""

    fastener: Part | None = None
    under_head: tuple[Part, ...] = ()
    under_nut: tuple[Part, ...] = ()
    nut: Part | None = None
    plate_nut: Part | None = None
    cotter_pin: Part | None = None
    lockwire: Part | None = None
    stack: tuple[Layer, ...] = ()
    hole: Span | None = None
    joint: Mapping[str, Exact] = field(default_factory=dict)
    #: measured drag of a nut that is used again, inch-pounds
    reused_nut_drag: Fraction | None = None
    #: sizes measured on the parts in hand, inches, by attribute: each stands instead of the tables' (see MEASURABLE)
    measured: Mapping[str, Span] = field(default_factory=dict)

    @property
    def holding(self) -> Part | None:
        """The nut or the plate nut."""
        return self.nut or self.plate_nut

    def size(self, attribute: str) -> Span | None:
        """A size of :data:`MEASURABLE`: the measured one, else the tables'; None where neither is known."""
        if attribute in self.measured:
            return self.measured[attribute]
        part = self.fastener if MEASURABLE[attribute] == "fastener" else self.holding
        value = quantity(part, attribute)
        return None if value is None else span_of(value)

    @property
    def shank(self) -> Shank | None:
        """The lengths of the fastener, or None when its grip, length or thread is not known."""
        grip, length = self.size("grip_length"), self.size("length")
        return None if self.fastener is None else _shank(self.fastener, grip, length)

    def single(self) -> dict[str, Part]:
        """The parts of which there is one, by kind."""
        parts = (self.fastener, self.nut, self.plate_nut, self.cotter_pin, self.lockwire)
        return {part.family.kind: part for part in parts if part is not None}

    def every(self) -> Iterator[Part]:
        """All parts, head side first."""
        for part in (self.fastener, *self.under_head, *self.under_nut, self.nut, self.plate_nut, self.cotter_pin):
            if part is not None:
                yield part
        if self.lockwire is not None:
            yield self.lockwire


def quantity(part: Part | None, attribute: str) -> Value | None:
    """A quantity of a part, or None when no row gives it."""
    value = part.value(attribute) if part is not None else None
    return value if value is not None and isinstance(value.exact, Fraction) else None


def word(part: Part, attribute: str) -> str:
    """An attribute that is a word, or empty."""
    value = part.value(attribute)
    return value.exact if value is not None and isinstance(value.exact, str) else ""


def why_absent(part: Part, attribute: str) -> str:
    """Why a part has no such value."""
    value = part.value(attribute)
    return value.reason if value is not None and value.reason else f"no row gives the {attribute} of {part.number}"


def span_of(value: Value) -> Span:
    """A value with its tolerance. A printed maximum or minimum stands as it is: its other end is not known."""
    return exactly(value.number) if value.limit else Span(value.least, value.greatest)


def shank_of(fastener: Part) -> Shank | None:
    """The lengths of a bolt by the tables, or None when a row for grip, length or thread is missing."""
    return Assembly(fastener).shank


def _shank(fastener: Part, grip: Span | None, length: Span | None) -> Shank | None:
    thread = fastener.value("thread")
    if grip is None or length is None or thread is None or not isinstance(thread.exact, str):
        return None
    try:
        pitch = parse_thread(thread.exact).pitch
    except ValueError:
        return None
    return Shank(grip, length, pitch)


def stack_of(assembly: Assembly) -> Stack | None:
    """The stack with its washers, or None without plates or when a washer's thickness is unknown."""
    if not assembly.stack:
        return None
    sides: list[tuple[Span, ...]] = []
    for washers in (assembly.under_head, assembly.under_nut):
        values = [quantity(washer, "thickness") for washer in washers]
        if any(value is None for value in values):
            return None
        sides.append(tuple(span_of(value) for value in values if value is not None))
    return Stack(tuple(layer.thickness for layer in assembly.stack), sides[0], sides[1])
