"""Heads: what stands at the left end of a bolt, screw, rivet or pin, from the side and from the end.

Proportions stand in where the tables are silent; they are drafting habit, give an outline only, and the drawing says so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from service.drawings import head_marks
from service.drawings.elements import ASSUMED, AXIS, OUTLINE, THIN, Pen, Point, turned
from service.drawings.known import Known, Size
from service.drawings.marking import Drafted

Form = Literal["hexagon", "twelve-point", "cone", "dome", "cylinder", "eye", "none"]

#: two over the square root of three: across corners of a hexagon one across flats
CORNERS: Final = Fraction(1154701, 10**6)

#: word in a head style -> form, and width and height in shank diameters where the tables give none; the first match counts
_FORMS: Final[tuple[tuple[str, Form, Fraction, Fraction], ...]] = (
    ("countersunk", "cone", Fraction(2), Fraction(1, 2)),
    ("twelve-point", "twelve-point", Fraction(3, 2), Fraction(1)),
    ("thin", "hexagon", Fraction(7, 4), Fraction(2, 5)),
    ("hexagon", "hexagon", Fraction(7, 4), Fraction(3, 5)),
    ("headless", "none", Fraction(1), Fraction(0)),
    ("eye", "eye", Fraction(5, 2), Fraction(5, 2)),
    ("socket", "cylinder", Fraction(3, 2), Fraction(1)),
    ("cylindrical", "cylinder", Fraction(3, 2), Fraction(1)),
    ("fillister", "cylinder", Fraction(8, 5), Fraction(3, 5)),
    ("washer", "dome", Fraction(9, 4), Fraction(1, 2)),
    ("truss", "dome", Fraction(9, 4), Fraction(1, 2)),
    ("brazier", "dome", Fraction(9, 4), Fraction(2, 5)),
    ("flat", "cylinder", Fraction(9, 5), Fraction(2, 5)),
    ("tinners", "cylinder", Fraction(9, 5), Fraction(2, 5)),
    ("", "dome", Fraction(9, 5), Fraction(3, 5)),
)


@dataclass(frozen=True, slots=True)
class Head:
    """A head: its form, its height along the axis, its width across flats or diameter, and half its width seen from the side."""

    form: Form
    height: Size
    width: Size
    half: Fraction

    @property
    def flush(self) -> bool:
        """Whether the head lies within the length."""
        return self.form == "cone"

    @property
    def left(self) -> Fraction:
        """Where the head begins; 0 is where the length is measured from."""
        return Fraction(0) if self.form in {"cone", "none"} else -self.height.mm

    @property
    def pen(self) -> Pen:
        """Dashed where height or width is an outline only."""
        return ASSUMED if ASSUMED in (self.height.pen, self.width.pen) else OUTLINE


def head_of(known: Known, style: str, shank: Fraction) -> Head:
    """The head of a part with a shank of ``shank`` mm."""
    form, wide, high = next((form, wide, high) for word, form, wide, high in _FORMS if word in style)
    if form == "none":
        return Head(form, Size(Fraction(0), None), Size(shank, None), shank / 2)
    if form in {"hexagon", "twelve-point"}:
        width = known.or_outline("width_across_flats", "head width across flats", shank * wide)
        height = known.or_outline("head_height", "head height", shank * high)
        return Head(form, height, width, width.mm * CORNERS / 2)
    if form == "cone":
        width = known.size("head_diameter", "head diameter") or known.or_outline(
            "head_diameter_sharp",
            "head diameter to the sharp corner" if known.value("head_diameter_sharp") else "head diameter",
            shank * wide,
        )
        return Head(form, _cone_height(known, width, shank), width, width.mm / 2)
    width = known.or_outline("head_diameter", "eye diameter" if form == "eye" else "head diameter", shank * wide)
    if form == "eye":
        return Head(form, Size(width.mm, width.value), width, width.mm / 2)
    height = known.or_outline("head_height", "head height", shank * high)
    return Head(form, height, width, width.mm / 2)


def _cone_height(known: Known, width: Size, shank: Fraction) -> Size:
    """The height of a countersunk head: from the tables, else what its diameter and angle make of it."""
    held = known.size("head_height", "head height")
    if held is not None:
        return held
    angle = known.value("head_angle")
    half = angle.number / 2 if angle is not None and isinstance(angle.exact, Fraction) else Fraction(50)
    slope = Fraction(round(math.tan(math.radians(float(half))) * 10**6), 10**6)
    height = max((width.mm - shank) / 2 / slope, shank / 8)
    if angle is None or width.value is None:
        return known.outline("head height", height, "head_height")
    known.note("head height worked out from the head's diameter and angle")
    return Size(height, angle)


def side(view: Drafted, head: Head, shank: Fraction) -> None:
    """The head from the side, its bearing face at x = 0, or its top there when it is flush."""
    pen, half, height, radius = head.pen, head.half, head.height.mm, shank / 2
    if head.form in {"hexagon", "twelve-point"}:
        bevel = min(height / 4, (half - head.width.mm / 2) * Fraction(3, 2))
        top = head.width.mm / 2
        view.shape(_bevelled(-height, half, top, bevel), pen)
        faces = (half / 2,) if head.form == "hexagon" else (half / 4, half * Fraction(7, 10))
        view.lines(
            [((-height, s * y), (Fraction(0), s * y)) for y in faces for s in (-1, 1)], pen if pen is ASSUMED else THIN
        )
        view.line((Fraction(0), -half), (Fraction(0), half), head.width.pen)
    elif head.form == "cone":
        view.shape([(height, -radius), (Fraction(0), -half), (Fraction(0), half), (height, radius)], pen, closed=False)
    elif head.form == "dome":
        rim = height / 4
        crown = half * Fraction(6, 10)
        view.shape([(-rim, half), (Fraction(0), half), (Fraction(0), -half), (-rim, -half)], pen, closed=False)
        bends = [
            ((-height, -half * Fraction(95, 100)), (-height, -crown / 2)),
            ((-height, Fraction(0)), (-height, crown / 2)),
        ]
        view.curve((-rim, -half), [*bends, ((-height, half * Fraction(95, 100)), (-rim, half))], pen)
    elif head.form == "cylinder":
        view.shape([(-height, -half), (Fraction(0), -half), (Fraction(0), half), (-height, half)], pen)
    elif head.form == "eye":
        view.circle((-half, Fraction(0)), half, pen)
        view.circle((-half, Fraction(0)), half / 2, ASSUMED)


def _bevelled(left: Fraction, half: Fraction, top: Fraction, bevel: Fraction) -> list[Point]:
    zero = Fraction(0)
    return [(left, -top), (left + bevel, -half), (zero, -half), (zero, half), (left + bevel, half), (left, top)]


def polygon(radius: Fraction, corners: int, start: int) -> list[Point]:
    """Corners of a regular polygon, the first at ``start`` degrees."""
    return [turned(radius, start + Fraction(360 * i, corners)) for i in range(corners)]


def end(known: Known, head: Head, shank: Fraction, drive: str) -> Drafted | None:
    """The head from its end, None where there is none to see."""
    if head.form in {"none", "eye"}:
        return None
    view = Drafted()
    pen, half, flats = head.width.pen, head.half, head.width.mm
    zero = Fraction(0)
    if head.form == "hexagon":
        view.shape(polygon(half, 6, 90), pen)
        view.circle((zero, zero), flats / 2 * Fraction(97, 100), THIN)
    elif head.form == "twelve-point":
        view.shape(polygon(half, 6, 90), pen)
        view.shape(polygon(half, 6, 60), pen)
    else:
        view.circle((zero, zero), half, pen)
    _drive(known, view, drive, flats, shank)
    cross(view, half)
    head_marks.draw(known, view, flats, bool(drive))
    if head.width.value is not None:
        reach = flats / 2
        name = "across flats" if head.form in {"hexagon", "twelve-point"} else "head ⌀"
        view.measure((-reach, zero), (reach, zero), head.width.words(name))
    return view.finish()


def cross(view: Drafted, radius: Fraction) -> None:
    """The two centre lines of a round view."""
    far, zero = radius + 2, Fraction(0)
    view.line((-far, zero), (far, zero), AXIS)
    view.line((zero, -far), (zero, far), AXIS)


def _drive(known: Known, view: Drafted, drive: str, width: Fraction, shank: Fraction) -> None:
    """Slot, recess or socket; their sizes are seldom in the tables, so they are dashed."""
    zero = Fraction(0)
    if "hexagon socket" in drive or "internal wrenching" in drive:
        socket = known.or_outline("socket_size", "socket size", shank * Fraction(3, 4))
        view.shape(polygon(socket.mm * CORNERS / 2, 6, 90), socket.pen)
        return
    reach, wide = width * Fraction(3, 10), max(shank / 8, Fraction(3, 10))
    if "slot" in drive and "recess" not in drive:
        reach = width / 2
        view.lines([((-reach, s * wide), (reach, s * wide)) for s in (-1, 1)], ASSUMED)
    elif "cruciform" in drive or "cross" in drive:
        arm = [(wide, -reach), (wide, -wide), (reach, -wide), (reach, wide), (wide, wide), (wide, reach)]
        view.shape([*arm, *((-x, -y) for x, y in arm)], ASSUMED)
    elif "recess" in drive:
        view.circle((zero, zero), reach, ASSUMED)
    else:
        return
    known.note(f"{drive}: drawn by convention, size not in the tables")
    known.outlines(drive.replace("slotted", "slot").replace("recessed", "recess"))
