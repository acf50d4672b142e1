"""Bolts, screws, rivets and pins: a head, a shank, sometimes a thread, sometimes holes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from service.drawings import heads
from service.drawings.elements import ASSUMED, AXIS, OUTLINE, THIN, Pen
from service.drawings.known import Known, Size
from service.drawings.marking import Drafted

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Shaft:
    """A shank as it is drawn, mm from where the length is measured. ``thread_from`` is None where there is no thread to draw."""

    head: heads.Head
    diameter: Size
    length: Size
    grip: Size | None
    thread_from: Fraction | None
    thread_known: bool
    depth: Fraction


def shaft_of(known: Known, default_style: str = "") -> Shaft | None:
    """The shank of a part, None where the tables give no diameter to draw it by."""
    diameter = known.diameter()
    if diameter is None:
        return None
    head = heads.head_of(known, known.word("head_style") or default_style, diameter.mm)
    if known.part.family.kind == "taper_pin":
        known.note("taper not in the tables: drawn straight, outline only")
        known.outlines("taper (drawn straight)")
    grip = known.size("grip_length", "grip")
    length = _length(known, diameter.mm, head, grip)
    depth = known.thread_depth()
    start, sure = _thread(known, head, length, grip) if depth is not None else (None, False)
    return Shaft(head, diameter, length, grip, start, sure, depth or ZERO)


def _length(known: Known, diameter: Fraction, head: heads.Head, grip: Size | None) -> Size:
    held = known.size("length", "length")
    if held is not None:
        return held
    nominal = known.size("nominal_length", "length the dash counts")
    if nominal is not None:
        known.note("length not in the tables: outline drawn as long as the dash counts")
        known.outlines("length (drawn as the dash counts)")
        return Size(nominal.mm, None)
    if grip is not None:
        thread = known.size("thread_length", "thread length")
        return known.outline("length", grip.mm + (thread.mm if thread else diameter * Fraction(3, 2)), "length")
    most = known.size("grip_length_max", "largest grip")
    if most is not None:
        known.size("grip_length_min", "smallest grip")
        return known.outline("length", most.mm + diameter * Fraction(3, 2), "length")
    return known.outline("length", (head.height.mm if head.flush else ZERO) + diameter * 4, "length")


def _thread(known: Known, head: heads.Head, length: Size, grip: Size | None) -> tuple[Fraction, bool]:
    """Where the thread begins and whether the tables say so."""
    first = head.height.mm if head.flush else ZERO
    if known.flag("full_thread") or (head.form == "none" and known.part.family.kind == "screw"):
        return first, True
    thread = known.size("thread_length", "thread length")
    if grip is not None and grip.mm < length.mm:
        return max(grip.mm, first), True
    if thread is not None and thread.mm < length.mm:
        return max(length.mm - thread.mm, first), length.value is not None
    known.note("where the thread begins is not in the tables: thread lines dashed")
    known.outlines("start of the thread")
    return first, False


def draw_shaft(view: Drafted, shaft: Shaft) -> None:
    """Head, shank, thread and axis."""
    heads.side(view, shaft.head, shaft.diameter.mm)
    radius, end = shaft.diameter.mm / 2, shaft.length.mm
    begin = shaft.head.height.mm if shaft.head.flush else ZERO
    start = shaft.thread_from
    sure = begin if shaft.length.value is None else end
    if shaft.grip is not None:
        sure = max(sure, min(shaft.grip.mm, end))
    bevel = min(shaft.depth, end - begin) if start is not None else ZERO
    body = end - bevel
    if sure < end:
        view.lines(
            [((begin, s * radius), (sure, s * radius)) for s in (-1, 1)] if sure > begin else [], shaft.diameter.pen
        )
        view.shape(
            [
                (sure, -radius),
                (body, -radius),
                (end, bevel - radius),
                (end, radius - bevel),
                (body, radius),
                (sure, radius),
            ],
            ASSUMED,
            False,
        )
    else:
        path = [
            (begin, -radius),
            (body, -radius),
            (end, bevel - radius),
            (end, radius - bevel),
            (body, radius),
            (begin, radius),
        ]
        view.shape(path, shaft.diameter.pen, closed=False)
    if shaft.head.form == "none":
        view.line((ZERO, -radius), (ZERO, radius), shaft.length.pen)
    if start is not None:
        _draw_thread(view, shaft, start, end, radius)
    view.line((shaft.head.left - 3, ZERO), (end + 3, ZERO), AXIS)


def _draw_thread(view: Drafted, shaft: Shaft, start: Fraction, end: Fraction, radius: Fraction) -> None:
    """The plain convention: the thread's root as a thin line, its end as a thick one."""
    root = radius - shaft.depth
    pen: Pen = THIN if shaft.thread_known else Pen("0.18", "0.8 0.6")
    view.lines([((start, s * root), (end, s * root)) for s in (-1, 1)], pen)
    if shaft.thread_known and start > ZERO:
        view.line((start, -radius), (start, radius), OUTLINE)


def views(known: Known, default_style: str = "") -> list[Drafted]:
    """A part with a shank: its head from the end, and the whole of it from the side."""
    shaft = shaft_of(known, default_style)
    if shaft is None:
        return []
    view = Drafted()
    draw_shaft(view, shaft)
    mark_shaft(known, view, shaft)
    holes(known, view, shaft)
    head = heads.end(known, shaft.head, shaft.diameter.mm, known.word("drive"))
    return [found for found in (head, view.finish()) if found is not None]


def mark_shaft(known: Known, view: Drafted, shaft: Shaft) -> None:
    """Dimensions of length, grip and thread; leaders to diameter and thread."""
    radius = shaft.diameter.mm / 2
    tip = (shaft.length.mm, -radius)
    from_head = (ZERO, -shaft.head.half) if shaft.head.form != "eye" else (ZERO, -radius)
    if shaft.length.value is not None:
        view.measure(from_head, tip, shaft.length.words("length"))
    if shaft.grip is not None:
        view.measure(from_head, (shaft.grip.mm, -radius), shaft.grip.words("grip"))
    thread = known.size("thread_length", "thread length")
    if thread is not None and shaft.thread_from is not None and shaft.thread_from + thread.mm == shaft.length.mm:
        view.measure((shaft.thread_from, -radius), tip, thread.words("thread"))
    if shaft.head.height.value is not None and shaft.head.height.value.unit == "[in_i]" and shaft.head.form != "eye":
        ends = sorted([ZERO, shaft.head.left if not shaft.head.flush else shaft.head.height.mm])
        view.measure(
            (ends[0], -shaft.head.half),
            (ends[1], -radius if shaft.head.flush else -shaft.head.half),
            shaft.head.height.words("head"),
        )
    begin = shaft.head.height.mm if shaft.head.flush else ZERO
    plain = shaft.thread_from if shaft.thread_from is not None and shaft.thread_from > begin else shaft.length.mm
    view.point_out((begin + (plain - begin) * Fraction(2, 5), radius), shaft.diameter.words("⌀"))
    if shaft.thread_from is not None:
        share = (
            Fraction(1, 4) if plain < shaft.length.mm else Fraction(3, 5)
        )  # clear of a cotter hole and of the other leader
        words = " ".join(filter(None, (known.word("thread"), known.word("thread_series"), known.word("thread_class"))))
        view.point_out((shaft.thread_from + (shaft.length.mm - shaft.thread_from) * share, radius), f"thread {words}")


def head_hole(known: Known, view: Drafted, shaft: Shaft) -> None:
    """The lockwire hole in the head, where it is drilled."""
    if known.flag("head_drilled") and shaft.head.form != "none":
        hole = known.size("head_hole_diameter", "lockwire hole")
        size = hole or known.outline("lockwire hole", shaft.diameter.mm / 6, "head_hole_diameter")
        known.note("place of the lockwire hole not in the tables: outline only")
        known.outlines("place of the lockwire hole")
        centre = (shaft.head.left / 2 if not shaft.head.flush else shaft.head.height.mm / 4, ZERO)
        view.circle(centre, size.mm / 2, ASSUMED)
        view.point_out((centre[0], size.mm / 2), size.words("lockwire hole"))


def holes(known: Known, view: Drafted, shaft: Shaft) -> None:
    """Lockwire hole in the head and cotter hole in the shank, where they are drilled."""
    head_hole(known, view, shaft)
    if known.flag("shank_drilled"):
        hole = known.size("shank_hole_diameter", "cotter hole")
        size = hole or known.outline("cotter hole", shaft.diameter.mm / 4, "shank_hole_diameter")
        place = known.or_outline(
            "shank_hole_from_point", "place of the cotter hole", shaft.diameter.mm / 2 + size.mm / 2
        )
        centre = (shaft.length.mm - place.mm, ZERO)
        view.circle(centre, size.mm / 2, OUTLINE if hole and place.value and shaft.length.value else ASSUMED)
        view.point_out((centre[0], size.mm / 2), size.words("cotter hole"))
        if place.value is not None and shaft.length.value is not None:
            view.measure(
                (centre[0], -size.mm / 2), (shaft.length.mm, -shaft.diameter.mm / 2), place.words("hole to end")
            )
