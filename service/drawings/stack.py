"""The drawing of a joint: head, washers, plates cut open, washers, nut, and what stands out of it.

The joint is drawn at the sizes the tables print or somebody measured, along the bolt's axis from under the head. The worst
case of each length stands beside it. Verdicts are not made here: a fault comes in as a dimension and the words that say
what is wrong.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from service.catalogue.values import Value
from service.drawings import pins, section, shanks
from service.drawings.elements import mm
from service.drawings.joint import DIMENSIONS, Fault, Given, Joint, Plate, inches, worst
from service.drawings.known import Known, Size
from service.drawings.layout import Assembly, Layer, laid_out
from service.drawings.marking import Drafted
from service.drawings.page import Ground, Words, sheet
from service.drawings.part import Stamp, not_held, small_print
from service.joints.assembly import quantity, span_of
from service.joints.formulas.holes import fit
from service.joints.formulas.stack import Span, total
from service.quantity import decimal_text

__all__ = ["DIMENSIONS", "Assembly", "Fault", "Given", "Joint", "Layer", "Plate", "draw_joint", "inches", "worst"]
ZERO: Final = Fraction(0)
_INCH: Final = mm(Fraction(1))


def draw_joint(joint: Joint, stamp: Stamp, ground: Ground = "clear") -> bytes:
    """``joint`` as a true-scale SVG."""
    ordered = sorted(joint.faults, key=lambda fault: fault.kind != "fault")
    faults = [fault.sentence for fault in ordered if fault.kind == "fault"]
    held = [fault.sentence for fault in ordered if fault.kind == "caution"]
    held += [f"Not drawn: {one}" for one in joint.unread]
    heading = " + ".join([joint.fastener.number, *([joint.holding.number] if joint.holding else [])])
    assembly = laid_out(joint)
    if assembly is None:
        held.append("No diameter in the tables: nothing can be drawn to scale.")
        words = Words(heading, "joint", [], [], faults, stamp.lines, held)
        return sheet(pins.plain(Known(joint.fastener)), words, ground)
    view = _drawn(assembly)
    notes = [f"{joint.fastener.number}: {note}" for note in assembly.known.notes] + assembly.notes
    values = [*_parts(assembly), *assembly.known.lines(), *assembly.values, *_hole(assembly), *_worked_out(assembly)]
    count = len(joint.plates)
    subject = f"joint of {count} plate{'' if count == 1 else 's'}, cut open, nominal sizes"
    held += [f"Not drawn: {'; '.join(assembly.left_out)}."] if assembly.left_out else []
    held += not_held([f"{number} {', '.join(words)}" for number, words in assembly.outlined.items() if words], "; ")
    return sheet([view], Words(heading, subject, values, small_print(notes), faults, stamp.lines, held), ground)


def _parts(assembly: Assembly) -> list[str]:
    """The pack in words, from the head on."""
    joint = assembly.joint
    words = [
        joint.fastener.number,
        *(layer.words for layer in (*assembly.head_washers, *assembly.plates, *assembly.nut_washers)),
        *(part.number for part in (joint.holding, joint.cotter_pin, joint.lockwire) if part is not None),
    ]
    return ["From the head on: " + "; ".join(words)]


def _hole(assembly: Assembly) -> list[str]:
    """The hole and the room around the shank at worst case, or that no hole was given."""
    given = assembly.joint.hole
    if given is None:
        return ["hole not given: drawn as wide as the shank"]
    lines = [f"hole: {_with_worst(inches(given.value), given.span)}"]
    shank = quantity(assembly.joint.fastener, "shank_diameter")
    if shank is None:
        return [*lines, "room around the shank: not worked out, the shank diameter is missing"]
    room = fit(given.span, span_of(shank))
    return [*lines, f"room around the shank: {worst(room) or inches(room.low)}{'' if room.low == room.high else ' in'}"]


def _decimal(length: Fraction) -> str:
    """A sum in words: decimal inches only, because the words stand beside a dimension."""
    return f"{decimal_text(length, 4)} in"


def _with_worst(words: str, span: Span | None) -> str:
    return f"{words}, {said} in" if (said := worst(span)) else words


def _worked_out(assembly: Assembly) -> list[str]:
    """Lengths that are sums, nominal and at worst case."""
    plates = total(plate.span for plate in assembly.joint.plates)
    lines = [f"plates together: {_with_worst(inches((assembly.plates_to - assembly.plates_from) / _INCH), plates)}"]
    if assembly.sure and assembly.stack is not None:
        lines.append(f"from head to nut face: {_with_worst(inches(assembly.clamped / _INCH), assembly.stack.clamped)}")
    else:
        lines.append("from head to nut face: not worked out, a thickness is missing")
    past = assembly.past
    if assembly.joint.holding is not None and (past is None or assembly.nut is None or not assembly.nut.sure):
        lines.append("protrusion past the nut: not worked out, a height, thickness or length is missing")
    elif past is not None:
        name = past[1] if assembly.shaft.length.mm >= past[0] else f"{past[1]} (below zero: short of it)"
        lines.append(f"{name}: {_with_worst(inches((assembly.shaft.length.mm - past[0]) / _INCH), assembly.past_span)}")
    return lines


def _drawn(assembly: Assembly) -> Drafted:
    view = Drafted()
    radius = assembly.shaft.diameter.mm / 2
    for place, layer in enumerate((*assembly.head_washers, *assembly.nut_washers)):
        if layer.end > layer.start:
            section.washer(view, layer, radius, bool(place % 2))
            view.point_out(((layer.start + layer.end) / 2, layer.rim), layer.words)
    for place, layer in enumerate(assembly.plates):
        section.plate(view, layer, assembly, bool(place % 2))
        view.point_out(((layer.start + layer.end) / 2, layer.rim), layer.words)
    _point_out_hole(view, assembly)
    if assembly.nut is not None and assembly.shape is not None:
        section.nut(view, assembly.nut, assembly.shape, radius)
        middle = (assembly.nut.start * 2 + assembly.nut.end) / 3
        view.point_out((middle, assembly.nut.rim), assembly.nut.words)
    shanks.draw_shaft(view, assembly.shaft)
    section.cotter_hole(view, assembly)
    section.cotter_pin(view, assembly)
    section.lockwire(view, assembly)
    head = assembly.shaft.head
    view.point_out(
        (min(head.left * 3 / 4, ZERO), head.half if head.form != "eye" else radius), assembly.joint.fastener.number
    )
    _dimensions(view, assembly, radius)
    return view.finish()


def _point_out_hole(view: Drafted, assembly: Assembly) -> None:
    given, last = assembly.joint.hole, assembly.plates[-1]
    if given is None:
        return
    fault = "hole" in assembly.faulty
    words = f"hole ⌀ {_with_worst(inches(given.value), given.span)}"
    at = last.end - (last.end - last.start) / 5
    view.point_out((at, assembly.hole), f"{words} FAULT" if fault else words, fault)


def _dimensions(view: Drafted, assembly: Assembly, radius: Fraction) -> None:
    """Every length along the axis that is known, its worst case below it, what is wrong marked in words."""
    shaft, faulty, engine = assembly.shaft, assembly.faulty, assembly.joint.assembly
    top = max(layer.rim for layer in assembly.plates)
    from_head, tip = (ZERO, -shaft.head.half), (shaft.length.mm, -radius)

    def mark(
        name: str, start: tuple[Fraction, Fraction], end: tuple[Fraction, Fraction], words: str, span: Span | None
    ) -> None:
        fault = name in faulty
        view.measure(start, end, f"{words} FAULT" if fault else words, fault, False, worst(span))

    if shaft.grip is not None and shaft.grip.value is not None:
        mark("grip", from_head, (shaft.grip.mm, -radius), shaft.grip.words("grip"), engine.size("grip_length"))
    if shaft.length.value is not None:
        mark("length", from_head, tip, shaft.length.words("length"), engine.size("length"))
    if "thread" in faulty:
        _thread_in_hole(view, assembly, radius)
    plates = total(plate.span for plate in assembly.joint.plates)
    length = assembly.plates_to - assembly.plates_from
    mark("plates", (assembly.plates_from, -top), (assembly.plates_to, -top), f"plates {inches(length / _INCH)}", plates)
    clamped = assembly.stack.clamped if assembly.stack is not None else None
    if assembly.sure and (assembly.clamped > length or "clamped" in faulty):
        mark(
            "clamped", from_head, (assembly.clamped, -top), f"head to nut {_decimal(assembly.clamped / _INCH)}", clamped
        )
    nut = assembly.nut
    if nut is not None and nut.sure and (assembly.joint.measured.get("height") or "nut_height" in faulty):
        words = f"nut {inches((nut.end - nut.start) / _INCH)}"
        mark("nut_height", (nut.start, -nut.rim), (nut.end, -nut.rim), words, engine.size("height"))
    past = assembly.past
    if past is not None and past[0] != shaft.length.mm:
        start, name = past
        beyond = (shaft.length.mm - start) / _INCH
        said = f"{name} {_decimal(beyond)}" if beyond > 0 else f"short by {_decimal(-beyond)}"
        span = assembly.past_span
        below = Span(-span.high, -span.low) if span is not None and span.high <= 0 else span
        mark("protrusion", (start, -(nut.rim if nut else radius)), tip, said, below)
    _cotter_hole(view, assembly, radius)


def _thread_in_hole(view: Drafted, assembly: Assembly, radius: Fraction) -> None:
    """The thread that stands in the plates, marked as wrong; the whole thread where the grip does not say where it begins."""
    shaft = assembly.shaft
    if shaft.thread_from is None:
        return
    start, end = shaft.thread_from, min(shaft.length.mm, assembly.plates_to)
    words = f"thread in hole {_decimal((end - start) / _INCH)}"
    if start >= end:
        end, words = shaft.length.mm, "thread"
    view.measure((start, -radius), (end, -radius), f"{words} FAULT", True)


def _cotter_hole(view: Drafted, assembly: Assembly, radius: Fraction) -> None:
    """From the nut's face to the cotter hole; for a pin without a nut, from the pack to the near edge of the hole."""
    place, fault = assembly.cotter_hole, "cotter_hole" in assembly.faulty
    if place is None or not assembly.sure or (assembly.joint.cotter_pin is None and not fault):
        return
    at, start, words = place[0], assembly.clamped, "nut face to hole"
    if assembly.joint.holding is None:
        size: Size | None = assembly.known.size("shank_hole_diameter", "cotter hole")
        if size is None:
            return
        at, words = at - size.mm / 2, "end play"
    if at == start:
        return
    length = (at - start) / _INCH
    said = f"{words} {_decimal(length)}" if length > 0 else f"hole {_decimal(-length)} inside the pack"
    view.measure(
        (start, -radius), (at, -radius), f"{said} FAULT" if fault else said, fault, False, worst(_hole_span(assembly))
    )


def _hole_span(assembly: Assembly) -> Span | None:
    """What :func:`_cotter_hole` dimensions, at worst case, inches."""
    engine, stack = assembly.joint.assembly, assembly.stack
    length, from_point = engine.size("length"), engine.size("shank_hole_from_point")
    if stack is None or length is None or from_point is None:
        return None
    centre = length - from_point - stack.clamped
    hole: Value | None = quantity(assembly.joint.fastener, "shank_hole_diameter")
    if assembly.joint.holding is not None or hole is None:
        return centre
    return centre - span_of(hole).scaled(Fraction(1, 2))
