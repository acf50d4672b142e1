"""The pieces of a joint cut open along the axis: washers, plates with their hole, nut, cotter pin, lockwire.

Plates and washers are hatched, neighbours opposite ways; bolt, nut and pin are not, as is usual for what is cut lengthwise.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from service.drawings import plate_nuts, shanks
from service.drawings.elements import ASSUMED, OUTLINE, THIN, Pen, Point, hatch_shape
from service.drawings.known import Known, Size
from service.drawings.layout import Assembly, Layer, Nut
from service.drawings.marking import Drafted

ZERO: Final = Fraction(0)
SIDES: Final = (-1, 1)


def washer(view: Drafted, layer: Layer, radius: Fraction, rising: bool) -> None:
    """A washer cut open, above and below the shank; the edge of a lock washer shows its teeth or its split."""
    pen = OUTLINE if layer.sure else ASSUMED
    near = max(layer.bore, radius)
    for side in SIDES:
        corners = [
            (layer.start, side * near),
            (layer.end, side * near),
            (layer.end, side * layer.rim),
            (layer.start, side * layer.rim),
        ]
        view.shape(corners, pen)
        if layer.form in {"", "split"}:
            hatch_shape(view, corners, rising, Fraction(1))
    if layer.form == "split":
        middle, lean = (near + layer.rim) / 2, (layer.end - layer.start) / 3
        for shift in (-lean, lean):
            view.line((layer.start, -middle + shift - lean), (layer.end, -middle + shift + lean), ASSUMED)
    elif layer.form:
        _teeth(view, layer, near)


def _teeth(view: Drafted, layer: Layer, near: Fraction) -> None:
    """The twisted teeth of a lock washer from its edge: at the bore, at the rim, or both."""
    band = (layer.rim - near) * Fraction(45, 100)
    bands = [(near, near + band)] if "internal" in layer.form else []
    if "external" in layer.form or "countersunk" in layer.form:
        bands.append((layer.rim - band, layer.rim))
    steps = 4
    for low, high in bands:
        for side in SIDES:
            points: list[Point] = []
            for step in range(steps + 1):
                x = layer.start if step % 2 else layer.end
                points.append((x, side * (low + (high - low) * step / steps)))
            view.shape(points, ASSUMED, closed=False)


def plate(view: Drafted, layer: Layer, assembly: Assembly, rising: bool) -> None:
    """A plate cut open and broken off above and below; its hole is drawn as given, a flush head lies in it."""
    head, hole = assembly.shaft.head, assembly.hole
    step = min(Fraction(2), max(layer.end - layer.start, Fraction(1, 2)))
    sunk = head.height.mm if head.flush else ZERO

    def edge(x: Fraction) -> Fraction:
        return max(hole, head.half - (head.half - hole) * x / sunk) if x < sunk else hole

    levels = sorted({layer.start, layer.end, *([sunk] if layer.start < sunk < layer.end else [])})
    for side in SIDES:
        far = side * layer.rim
        inner = [(x, side * edge(x)) for x in levels]
        view.lines([((x, side * edge(x)), (x, far)) for x in (layer.start, layer.end)], OUTLINE)
        if hole > assembly.shaft.diameter.mm / 2 or sunk > layer.start:
            view.shape(inner, OUTLINE, closed=False)
        hatch_shape(view, [*inner, (layer.end, far), (layer.start, far)], rising, step)
        third, middle = (layer.end - layer.start) / 4, (layer.start + layer.end) / 2
        wave = [((layer.start + third, far - 1), (middle, far)), ((layer.end - third, far + 1), (layer.end, far))]
        view.curve((layer.start, far), wave, THIN)


def nut(view: Drafted, layer: Layer, shape: Nut, radius: Fraction) -> None:
    """A nut or plate nut above and below the shank, with its slots or its collar."""
    if shape.lugs is not None:
        plate_nuts.draw_side(view, layer.start, shape.diameter.mm, shape.lugs, radius, shape.height)
        return
    pen: Pen = OUTLINE if layer.sure else ASSUMED
    bevel = min((layer.end - layer.start) / 5, layer.rim / 8)
    for side in SIDES:
        near, far, chamfer = side * radius, side * layer.rim, side * bevel
        foot = [(layer.start, near), (layer.start, far - chamfer), (layer.start + bevel, far)]
        view.shape([*foot, (layer.end - bevel, far), (layer.end, far - chamfer), (layer.end, near)], pen)
    if shape.slots is not None:
        _slots(view, layer, shape.slots, radius)
    elif shape.insert:
        collar = layer.start + (layer.end - layer.start) * Fraction(3, 4)
        view.lines([((collar, s * radius), (collar, s * layer.rim)) for s in SIDES], ASSUMED)


def _slots(view: Drafted, layer: Layer, slots: tuple[Size, Size], radius: Fraction) -> None:
    """The slots the cut goes through, and those of the two faces beside it."""
    width, bottom = slots
    pen = OUTLINE if width.value is not None and bottom.value is not None and layer.sure else ASSUMED
    at = layer.start + bottom.mm
    view.lines([((at, s * radius), (at, s * layer.rim)) for s in SIDES], pen)
    reach = min(width.mm / 4, (layer.rim - radius) / 4)
    middle = (radius + layer.rim) / 2
    for side in SIDES:
        low, high = side * (middle - reach), side * (middle + reach)
        view.lines([((at, low), (layer.end, low)), ((at, high), (layer.end, high))], pen)


def cotter_pin(view: Drafted, assembly: Assembly) -> None:
    """The cotter pin through the shank's hole, its eye above, its legs bent below; said in words where it cannot be drawn."""
    part = assembly.joint.cotter_pin
    if part is None:
        return
    known = Known(part)
    size = known.size("shank_diameter", "shank diameter") or known.size("nominal_diameter", "nominal diameter")
    if size is None or not assembly.known.flag("shank_drilled"):
        why = (
            "its size is not held" if size is None else f"the shank of {assembly.joint.fastener.number} is not drilled"
        )
        assembly.left_out.append(f"cotter pin {part.number}, {why}")
        return
    at, sure = _pin_place(assembly, size.mm)
    rim = assembly.shaft.diameter.mm / 2
    if assembly.nut is not None and assembly.nut.start <= at <= assembly.nut.end:
        rim = max(rim, assembly.nut.rim)
    _pin(view, at, size.mm, rim + 1, OUTLINE if sure else ASSUMED)
    assembly.values.append(f"{part.number}: {'; '.join(known.lines())}")
    assembly.outline(part, "eye and legs")
    place = "" if sure else ", place of its hole not held"
    view.point_out((at, rim + 1), f"cotter pin {part.number} {size.words('⌀')}{place}")


def _pin_place(assembly: Assembly, size: Fraction) -> tuple[Fraction, bool]:
    """Where the pin goes through along the axis, and whether the tables or a measurement say so."""
    held = assembly.cotter_hole
    if held is not None:
        return held[0], True
    nut_, shape, end = assembly.nut, assembly.shape, assembly.shaft.length.mm
    if nut_ is not None and shape is not None and shape.slots is not None:
        return (nut_.start + shape.slots[1].mm + nut_.end) / 2, False
    return end - assembly.shaft.diameter.mm / 2 - size / 2, False


def _pin(view: Drafted, at: Fraction, size: Fraction, reach: Fraction, pen: Pen) -> None:
    half = size / 2
    view.lines([((at + s * half, -reach), (at + s * half, reach)) for s in SIDES], pen)
    view.circle((at, -reach - size * Fraction(4, 5)), size * Fraction(4, 5), ASSUMED)
    for side in SIDES:
        away = side * size * Fraction(5, 2)
        bend = [((at + side * half, reach + size), (at + away, reach + size * Fraction(6, 5)))]
        view.curve((at + side * half, reach), bend, ASSUMED)
        view.curve((at, reach), [((at, reach + size * 2), (at + away, reach + size * Fraction(6, 5)))], ASSUMED)


def lockwire(view: Drafted, assembly: Assembly) -> None:
    """A twist of lockwire from the head's hole, with its words; in words only where the head has none."""
    part = assembly.joint.lockwire
    if part is None:
        return
    known, head = Known(part), assembly.shaft.head
    size = known.size("wire_diameter", "wire diameter")
    words = f"lockwire {part.number} {'' if size is None else size.words('⌀')}".strip()
    if known.used:
        assembly.values.append(f"{part.number}: {'; '.join(known.lines())}")
    if not assembly.known.flag("head_drilled") or head.form == "none":
        where = "through the shank's hole" if assembly.known.flag("shank_drilled") else "no hole in the head for it"
        assembly.left_out.append(f"{words}, {where}")
        return
    start, wave, swing = (head.left / 2, -head.half), Fraction(2), Fraction(8, 10)
    for side in SIDES:
        bends: list[tuple[Point, Point]] = []
        x, y = start
        for _turn in range(4):
            bends.append(((x - wave / 2 + swing * side, y - wave / 2), (x - wave / 2, y - wave)))
            x, y, side = x - wave / 2, y - wave, -side
        view.curve(start, bends, THIN)
    view.point_out((head.left / 2, head.half), f"{words} through the head, its run not drawn")


def cotter_hole(view: Drafted, assembly: Assembly) -> None:
    """The cotter hole facing the reader, where no pin goes through it, and the lockwire hole in the head."""
    shaft = assembly.shaft
    if assembly.joint.cotter_pin is None:
        shanks.holes(assembly.known, view, shaft)
        return
    shanks.head_hole(assembly.known, view, shaft)
