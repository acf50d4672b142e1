"""The drawing of a joint: head, washers, plates cut open, washers, nut, and what stands out of it.

The joint is drawn at the sizes the tables print, along the bolt's axis from under the head, the way ``service.joints.formulas.stack``
counts. Washers and nut are cut open like the plates, so that the end of the grip can be seen wherever it lies. Verdicts
are not made here: a fault comes in as a dimension and the words that say what is wrong.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from service.drawings import flats, nuts, pins, shanks
from service.drawings.elements import ASSUMED, OUTLINE, THIN, Pen, hatch, mm
from service.drawings.heads import CORNERS
from service.drawings.known import Known
from service.drawings.marking import Drafted
from service.drawings.page import Ground, Words, sheet
from service.drawings.part import Stamp
from service.parts.part import Part
from service.quantity import decimal_text, inch_fraction

ZERO = Fraction(0)

#: dimensions of the drawing that a fault may name; a fault on another one is said in words only
DIMENSIONS = ("grip", "length", "thread", "plates", "clamped", "nut_height", "protrusion")


@dataclass(frozen=True, slots=True)
class Plate:
    """A plate: thickness in inches, and its material in words."""

    thickness: Fraction
    material: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """A dimension that is wrong, and why, in words."""

    dimension: str
    words: str


@dataclass(frozen=True, slots=True)
class Joint:
    """What is put together, washers and plates in order from the head on."""

    fastener: Part
    plates: tuple[Plate, ...]
    under_head: tuple[Part, ...] = ()
    under_nut: tuple[Part, ...] = ()
    nut: Part | None = None
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class Layer:
    """A washer, a plate or the nut in the drawing: where it lies along the axis, half its width, whether its thickness is known."""

    start: Fraction
    end: Fraction
    rim: Fraction
    sure: bool
    words: str


class Assembly:
    """A joint laid out along its axis, mm."""

    def __init__(self, joint: Joint, shaft: shanks.Shaft, known: Known) -> None:
        self.joint, self.shaft, self.known = joint, shaft, known
        self.notes: list[str] = []
        self.values: list[str] = []
        self.faulty = {fault.dimension for fault in joint.faults}
        at = shaft.head.height.mm * 0
        self.head_washers, at = self._washers(joint.under_head, at)
        self.plates_from = at
        self.plates, at = self._plates(joint.plates, at)
        self.plates_to = at
        self.nut_washers, at = self._washers(joint.under_nut, at)
        self.clamped = at
        self.sure = all(layer.sure for layer in (*self.head_washers, *self.nut_washers))
        self.nut = self._nut(joint.nut, at) if joint.nut is not None else None

    def _washers(self, parts: Sequence[Part], at: Fraction) -> tuple[list[Layer], Fraction]:
        layers = []
        for part in parts:
            known = Known(part)
            found = flats.sizes(known)
            self._take(part, known)
            if found is None:
                self.notes.append(f"{part.number}: no size in the tables, left out of the drawing")
                layers.append(Layer(at, at, ZERO, False, part.number))
                continue
            _, outside, thick = found
            layers.append(Layer(at, at + thick.mm, outside.mm / 2, thick.value is not None, thick.words(part.number)))
            at += thick.mm
        return layers, at

    def _plates(self, plates: Sequence[Plate], at: Fraction) -> tuple[list[Layer], Fraction]:
        layers = []
        rim = max([self.shaft.head.half, self.shaft.diameter.mm, *(w.rim for w in self.head_washers)]) + 6
        for place, plate in enumerate(plates, 1):
            end = at + mm(plate.thickness)
            words = f"plate {place}: {inches(plate.thickness)} {plate.material}".strip()
            layers.append(Layer(at, end, rim, True, words))
            at = end
        return layers, at

    def _nut(self, part: Part, at: Fraction) -> Layer | None:
        known = Known(part)
        diameter = known.size("nominal_diameter", "nominal diameter")
        if diameter is None:
            self.notes.append(f"{part.number}: no size in the tables, left out of the drawing")
            return None
        flats_, height = nuts.width_of_nut(known, diameter.mm), nuts.height_of(known, diameter.mm)
        self._take(part, known)
        return Layer(at, at + height.mm, flats_.mm * CORNERS / 2, height.value is not None, part.number)

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
        return self.clamped, "from nut face to end"


def draw_joint(joint: Joint, stamp: Stamp, ground: Ground = "clear") -> bytes:
    """``joint`` as a true-scale SVG."""
    known = Known(joint.fastener)
    shaft = shanks.shaft_of(known)
    faults = [f"FAULT, {fault.dimension.replace('_', ' ')}: {fault.words}" for fault in joint.faults]
    heading = " + ".join([joint.fastener.number, *([joint.nut.number] if joint.nut else [])])
    if shaft is None:
        words = Words(
            heading, "joint", [], ["No diameter in the tables: nothing can be drawn to scale."], faults, stamp.lines
        )
        return sheet(pins.plain(known), words, ground)
    assembly = Assembly(joint, shaft, known)
    view = _drawn(assembly)
    notes = [f"{joint.fastener.number}: {note}" for note in known.notes] + assembly.notes
    if any("outline" in note or "dashed" in note for note in notes):
        notes.append("Dashed lines are proportion, not data: do not measure them.")
    values = [*_parts(assembly), *known.lines(), *assembly.values, *_worked_out(assembly)]
    unique = list(dict.fromkeys(f"{note.rstrip('.')}." for note in notes))
    count = len(joint.plates)
    subject = f"joint of {count} plate{'' if count == 1 else 's'}, cut open along the axis, at the sizes printed"
    return sheet([view], Words(heading, subject, values, unique, faults, stamp.lines), ground)


def inches(value: Fraction) -> str:
    """A length in words: decimal, and the fraction where it is one."""
    fraction = inch_fraction(value)
    text = f"{decimal_text(value, 4)} in"
    return f"{text} ({fraction})" if fraction and "/" in fraction else text


def _parts(assembly: Assembly) -> list[str]:
    """The pack in words, from the head on."""
    joint = assembly.joint
    words = [
        joint.fastener.number,
        *(layer.words for layer in assembly.head_washers),
        *(layer.words for layer in assembly.plates),
    ]
    words += [layer.words for layer in assembly.nut_washers] + ([joint.nut.number] if joint.nut else [])
    return ["From the head on: " + "; ".join(words)]


def _worked_out(assembly: Assembly) -> list[str]:
    """Lengths that are sums of what is printed; tolerances are not in them."""
    lines = [f"plates together: {inches((assembly.plates_to - assembly.plates_from) / mm(Fraction(1)))}"]
    if assembly.sure:
        lines.append(f"from head to nut face: {inches(assembly.clamped / mm(Fraction(1)))} (tolerances not counted)")
    else:
        lines.append("from head to nut face: not worked out, a thickness is missing")
    if assembly.joint.nut is not None and (assembly.past is None or assembly.nut is None or not assembly.nut.sure):
        lines.append("protrusion past the nut: not worked out, a height, thickness or length is missing")
    return lines


def _drawn(assembly: Assembly) -> Drafted:
    view = Drafted()
    radius = assembly.shaft.diameter.mm / 2
    for layer in (*assembly.head_washers, *assembly.nut_washers):
        if layer.end > layer.start:
            _cut(view, layer, radius)
            view.point_out(((layer.start + layer.end) / 2, layer.rim), layer.words)
    for place, layer in enumerate(assembly.plates):
        _plate(view, layer, assembly.shaft, bool(place % 2))
        view.point_out(((layer.start + layer.end) / 2, layer.rim), layer.words)
    if assembly.nut is not None:
        _nut(view, assembly.nut, radius)
    shanks.draw_shaft(view, assembly.shaft)
    shanks.holes(assembly.known, view, assembly.shaft)
    _dimensions(view, assembly, radius)
    return view.finish()


def _cut(view: Drafted, layer: Layer, radius: Fraction) -> None:
    """A washer cut open: above and below the shank."""
    pen = OUTLINE if layer.sure else ASSUMED
    for near, far in ((-radius, -layer.rim), (radius, layer.rim)):
        view.shape([(layer.start, near), (layer.end, near), (layer.end, far), (layer.start, far)], pen)


def _plate(view: Drafted, layer: Layer, shaft: shanks.Shaft, rising: bool) -> None:
    """A plate cut open and broken off above and below; a flush head lies in it."""
    step = min(Fraction(2), max(layer.end - layer.start, Fraction(1, 2)))
    radius, half = shaft.diameter.mm / 2, shaft.head.half
    sunk = min(max(shaft.head.height.mm if shaft.head.flush else ZERO, layer.start), layer.end)
    for sign in (-1, 1):
        far = sign * layer.rim
        for x in (layer.start, layer.end):
            wide = half if shaft.head.flush and x == ZERO else radius
            view.line((x, sign * wide), (x, far), OUTLINE)
        for left, right, inner in ((layer.start, sunk, half), (sunk, layer.end, radius)):
            if left < right:
                near = sign * inner
                hatch(view, left, min(near, far), right, max(near, far), rising, step)
        third = (layer.end - layer.start) / 4
        middle = (layer.start + layer.end) / 2
        wave = [((layer.start + third, far - 1), (middle, far)), ((layer.end - third, far + 1), (layer.end, far))]
        view.curve((layer.start, far), wave, THIN)


def _nut(view: Drafted, layer: Layer, radius: Fraction) -> None:
    pen: Pen = OUTLINE if layer.sure else ASSUMED
    bevel = min((layer.end - layer.start) / 5, layer.rim / 8)
    for sign in (-1, 1):
        near, far = sign * radius, sign * layer.rim
        chamfer = sign * bevel
        outline = [
            (layer.start, near),
            (layer.start, far - chamfer),
            (layer.start + bevel, far),
            (layer.end - bevel, far),
        ]
        view.shape([*outline, (layer.end, far - chamfer), (layer.end, near)], pen)
    view.point_out(
        (layer.end - bevel * 2, layer.rim), f"{layer.words}" if layer.sure else f"{layer.words}, height assumed"
    )


def _dimensions(view: Drafted, assembly: Assembly, radius: Fraction) -> None:
    shaft, faulty = assembly.shaft, assembly.faulty
    top = max(layer.rim for layer in assembly.plates)
    head, tip = (ZERO, -shaft.head.half), (shaft.length.mm, -radius)

    def mark(name: str, start: tuple[Fraction, Fraction], end: tuple[Fraction, Fraction], words: str) -> None:
        fault = name in faulty
        view.measure(start, end, f"{words} FAULT" if fault else words, fault)

    if shaft.grip is not None:
        mark("grip", head, (shaft.grip.mm, -radius), shaft.grip.words("grip"))
    if shaft.length.value is not None:
        mark("length", head, tip, shaft.length.words("length"))
    if shaft.thread_from is not None and shaft.thread_known and "thread" in faulty:
        thread = assembly.known.size("thread_length", "thread length")
        mark("thread", (shaft.thread_from, -radius), tip, thread.words("thread") if thread else "thread")
    total = (assembly.plates_to - assembly.plates_from) / mm(Fraction(1))
    mark("plates", (assembly.plates_from, -top), (assembly.plates_to, -top), f"plates {inches(total)}")
    if assembly.sure and assembly.clamped > assembly.plates_to - assembly.plates_from:
        mark("clamped", head, (assembly.clamped, -top), f"head to nut {inches(assembly.clamped / mm(Fraction(1)))}")
    nut = assembly.nut
    if nut is not None and nut.sure and "nut_height" in faulty:
        mark(
            "nut_height",
            (nut.start, -nut.rim),
            (nut.end, -nut.rim),
            f"nut {inches((nut.end - nut.start) / mm(Fraction(1)))}",
        )
    past = assembly.past
    if past is not None and past[0] != shaft.length.mm:
        start, words = past
        length = (shaft.length.mm - start) / mm(Fraction(1))
        said = f"{words} {inches(length)}" if length > 0 else f"short of it by {inches(-length)}"
        mark("protrusion", (start, -(nut.rim if nut else radius)), tip, said)
