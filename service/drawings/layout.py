"""A joint laid out along its axis in mm, from under the head, the way ``service.joints.formulas.stack`` counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from service.catalogue.values import Value
from service.drawings import flats, nuts, plate_nuts, shanks
from service.drawings.elements import mm
from service.drawings.heads import CORNERS
from service.drawings.joint import Joint, Plate, inches, worst
from service.drawings.known import Known, Size
from service.joints.assembly import stack_of
from service.joints.formulas.stack import Span, Stack
from service.parts.part import Part

ZERO: Final = Fraction(0)
#: how far the plates are drawn beyond what bears on them, mm
_BEYOND: Final = Fraction(6)
#: heads by the kind of fastener where its number names none
_HEADS: Final = {"clevis_pin": "flat", "taper_pin": "headless", "dowel_pin": "headless"}


@dataclass(frozen=True, slots=True)
class Layer:
    """A washer, a plate or the nut in the drawing: where it lies along the axis, half its width, whether its thickness is known.

    ``bore`` is half the hole in a washer, ``form`` the form of a lock washer's teeth.
    """

    start: Fraction
    end: Fraction
    rim: Fraction
    sure: bool
    words: str
    bore: Fraction = ZERO
    form: str = ""


@dataclass(frozen=True, slots=True)
class Nut:
    """How the nut is drawn beside where it lies: its slots from the bearing face, its lugs, its collar."""

    part: Part
    diameter: Size
    slots: tuple[Size, Size] | None = None
    lugs: plate_nuts.Lugs | None = None
    insert: bool = False
    height: Fraction | None = None


class Assembly:
    """A joint laid out along its axis, mm, with what has to be said of its parts."""

    def __init__(self, joint: Joint, shaft: shanks.Shaft, known: Known) -> None:
        self.joint, self.shaft, self.known = joint, shaft, known
        self.notes: list[str] = []
        self.values: list[str] = []
        #: by number, what is drawn without its size being held; by ``left_out``, what could not be drawn and why
        self.outlined: dict[str, list[str]] = {}
        self.left_out: list[str] = []
        self.outline(joint.fastener, *known.outlined)
        self.faulty = {fault.dimension for fault in joint.faults if fault.kind == "fault"}
        self.stack: Stack | None = stack_of(joint.assembly)
        self.head_washers, at = self._washers(joint.under_head, ZERO)
        self.plates_from = at
        rims = [self.shaft.head.half, self.shaft.diameter.mm, *(washer.rim for washer in self.head_washers)]
        self.plates_to = at + sum((mm(plate.thickness) for plate in joint.plates), ZERO)
        self.nut_washers, self.clamped = self._washers(joint.under_nut, self.plates_to)
        self.sure = all(layer.sure for layer in (*self.head_washers, *self.nut_washers))
        self.shape: Nut | None = None
        self.nut = self._nut(joint.holding, self.clamped) if joint.holding is not None else None
        self._reach()
        rims += [layer.rim for layer in (*self.nut_washers, *([self.nut] if self.nut else []))]
        self.plates = self._plates(joint.plates, at, max(rims) + _BEYOND)

    def _reach(self) -> None:
        """A fastener whose length is nowhere held is drawn through the nut: its outline must not look too short."""
        if self.shaft.length.value is None and self.known.value("nominal_length") is None:
            far = (self.nut.end if self.nut is not None else self.clamped) + self.shaft.diameter.mm / 2
            self.shaft = replace(self.shaft, length=Size(max(self.shaft.length.mm, far), None))

    @property
    def hole(self) -> Fraction:
        """Half the hole in the plates: as given, else the shank's."""
        return self.shaft.diameter.mm / 2 if self.joint.hole is None else mm(self.joint.hole.value) / 2

    def _washers(self, parts: Sequence[Part], at: Fraction) -> tuple[list[Layer], Fraction]:
        layers = []
        for part in parts:
            known = Known(part)
            found = flats.sizes(known)
            self._take(part, known)
            if found is None:
                self.notes.append(f"{part.number}: no size in the tables, left out of the drawing")
                self.left_out.append(f"{part.number}, no size held")
                layers.append(Layer(at, at, ZERO, False, part.number))
                continue
            self.outline(part, *known.outlined)
            inside, outside, thick = found
            form = known.word("tooth_form")
            if form:
                self.outline(part, "split" if form == "split" else "teeth")
            kind = f", {form}{'' if form == 'split' else ' teeth'}" if form else ""
            words = f"{thick.words(part.number)}{kind}{'' if thick.value else ', thickness not held'}"
            bore = inside.mm / 2 if inside.mm < outside.mm else ZERO
            layers.append(Layer(at, at + thick.mm, outside.mm / 2, thick.value is not None, words, bore, form))
            at += thick.mm
        return layers, at

    def _plates(self, plates: Sequence[Plate], at: Fraction, rim: Fraction) -> list[Layer]:
        layers = []
        for place, plate in enumerate(plates, 1):
            end = at + mm(plate.thickness)
            words = [f"plate {place}: {inches(plate.thickness)}", worst(plate.span)]
            said = ", ".join(filter(None, words))
            layers.append(Layer(at, end, rim, True, f"{said} {plate.material}".strip()))
            at = end
        return layers

    def _nut(self, part: Part, at: Fraction) -> Layer | None:
        known = Known(part, self.joint.measured_on("nut"))
        diameter = known.size("nominal_diameter", "nominal diameter")
        if diameter is None:
            self.notes.append(f"{part.number}: no size in the tables, left out of the drawing")
            self.left_out.append(f"{part.number}, no size held")
            return None
        layer = (self._plate_nut if part.family.kind == "plate_nut" else self._plain_nut)(part, known, diameter, at)
        self.outline(part, *known.outlined)
        self._take(part, known)
        return layer

    def _plain_nut(self, part: Part, known: Known, diameter: Size, at: Fraction) -> Layer:
        flats_, height = nuts.width_of_nut(known, diameter.mm), nuts.height_of(known, diameter.mm)
        slots = nuts.slots_of(known, diameter.mm, height.mm) if known.flag("castellated") else None
        insert = known.word("locking") == "insert"
        self.shape = Nut(part, diameter, slots, None, insert)
        held = height.value is not None
        words = [
            part.number,
            "" if held else "height not held",
            "" if not slots or slots[1].value else "slots not held",
        ]
        rim = flats_.mm * CORNERS / 2 if not nuts.winged(known) else diameter.mm
        return Layer(at, at + height.mm, rim, held, ", ".join(filter(None, words)))

    def _plate_nut(self, part: Part, known: Known, diameter: Size, at: Fraction) -> Layer:
        height = known.or_outline("height", "height", diameter.mm * plate_nuts.HEIGHT)
        lugs = plate_nuts.lugs_of(known, diameter.mm)
        known.outlines("base and lugs")
        self.shape = Nut(part, diameter, None, lugs, False, height.mm)
        words = [f"plate nut {part.number}", lugs.style, "" if height.value else "height not held"]
        rim = diameter.mm
        return Layer(at, at + height.mm, rim, height.value is not None, ", ".join(filter(None, words)))

    def outline(self, part: Part, *words: str) -> None:
        """Note what of a part is drawn although its size is not held."""
        held = self.outlined.setdefault(part.number, [])
        held += [one for one in words if one not in held]

    def _take(self, part: Part, known: Known) -> None:
        self.notes += [f"{part.number}: {note}" for note in known.notes]
        line = f"{part.number}: {'; '.join(known.lines())}"
        if known.used and line not in self.values:
            self.values.append(line)

    @property
    def past(self) -> tuple[Fraction, str] | None:
        """Where the length past the nut is measured from and what it is called; None where a thickness in it is missing."""
        if not self.sure or self.shaft.length.value is None:
            return None
        if self.nut is not None and self.nut.sure:
            return self.nut.end, "past the nut"
        return self.clamped, "past nut face"

    @property
    def past_span(self) -> Span | None:
        """The same length at worst case, inches."""
        length = self.joint.assembly.size("length")
        if self.past is None or length is None or self.stack is None:
            return None
        left = length - self.stack.clamped
        if self.nut is None or not self.nut.sure:
            return left
        height = self.joint.assembly.size("height")
        return None if height is None else left - height

    @property
    def cotter_hole(self) -> tuple[Fraction, Value | None] | None:
        """Where the cotter hole's centre lies along the axis and the value that says so; None where none is drilled."""
        if not self.known.flag("shank_drilled"):
            return None
        place = self.known.size("shank_hole_from_point", "place of the cotter hole")
        if place is not None and self.shaft.length.value is not None:
            return self.shaft.length.mm - place.mm, place.value
        return None


def laid_out(joint: Joint) -> Assembly | None:
    """A joint laid out; None where the tables give no diameter to draw the fastener by."""
    known = Known(joint.fastener, joint.measured_on("fastener"))
    shaft = shanks.shaft_of(known, _HEADS.get(joint.fastener.family.kind, ""))
    return None if shaft is None else Assembly(joint, shaft, known)
