"""A small writer of SVG elements in millimetres.

Presentation attributes only: no style sheet, no script, no ids, so that a drawing can stand in any page under a strict
content policy, twice if need be. Ink is ``currentColor``. Numbers are written with at most three decimals, so the same
calls give the same bytes everywhere. A :class:`View` knows the box of what was drawn in it; pages are laid out from that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal
from xml.sax.saxutils import escape

from service.quantity import decimal_text

Anchor = Literal["start", "middle", "end"]
Point = tuple[Fraction, Fraction]

#: millimetres in an inch, by definition
INCH: Final = Fraction(254, 10)
#: width of an average letter of a plain sans-serif face, in letter heights; generous, because faces differ
LETTER: Final = Fraction(54, 100)
#: a red that is told from white and from black paper alike; never the only sign of a fault
FAULT_INK: Final = "#e03131"
#: words in the picture: capitals 2.3 mm high, 12 px on a telephone's glass
BODY: Final = Fraction(32, 10)
#: the second line of a dimension: the worst case under the nominal
LESSER: Final = Fraction(28, 10)
#: the small print under the picture: where each size comes from, cautions, release
SMALL: Final = Fraction(24, 10)


@dataclass(frozen=True, slots=True)
class Pen:
    """A kind of line: width in mm, dashes, ink."""

    width: str
    dashes: str = ""
    ink: str = "currentColor"


#: the line kinds of plain drafting: what can be seen, what explains, what is assumed, the axis
OUTLINE: Final = Pen("0.4")
THIN: Final = Pen("0.18")
ASSUMED: Final = Pen("0.25", "1 0.6")
AXIS: Final = Pen("0.18", "5 1 1 1")
FAULTY: Final = Pen("0.3", ink=FAULT_INK)


def mm(inches: Fraction) -> Fraction:
    """Inches as millimetres."""
    return inches * INCH


def number(value: Fraction | int) -> str:
    """A coordinate as it is written: at most three decimals, no exponent."""
    return decimal_text(Fraction(value), 3)


def turned(radius: Fraction, degrees: Fraction | int) -> Point:
    """The point at ``radius`` and ``degrees`` from the x axis, to a millionth of a radius."""
    angle = math.radians(float(degrees))
    return radius * Fraction(round(math.cos(angle) * 10**6), 10**6), radius * Fraction(
        round(math.sin(angle) * 10**6), 10**6
    )


def width_of(words: str, size: Fraction = BODY) -> Fraction:
    """About how wide ``words`` stand, mm."""
    return len(words) * size * LETTER


def wrapped(words: str, width: Fraction, size: Fraction = BODY) -> list[str]:
    """``words`` in lines that stand within ``width`` mm; a single long word is left whole."""
    lines: list[str] = []
    line = ""
    for word in words.split():
        longer = f"{line} {word}" if line else word
        if line and width_of(longer, size) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines


def plain(words: str) -> str:
    """``words`` as XML text: somebody else's text may hold anything."""
    return escape("".join(letter if letter.isprintable() else " " for letter in words))


class View:
    """Lines, circles and words in one frame, and the box they fill. y grows downwards."""

    def __init__(self) -> None:
        self.elements: list[str] = []
        self.left = self.right = self.top = self.bottom = Fraction(0)

    @property
    def width(self) -> Fraction:
        """Width of the box, mm."""
        return self.right - self.left

    @property
    def height(self) -> Fraction:
        """Height of the box, mm."""
        return self.bottom - self.top

    def reach(self, *points: Point) -> None:
        """Make the box hold ``points``."""
        for x, y in points:
            self.left, self.right = min(self.left, x), max(self.right, x)
            self.top, self.bottom = min(self.top, y), max(self.bottom, y)

    def line(self, start: Point, end: Point, pen: Pen) -> None:
        """A straight line."""
        self.reach(start, end)
        (x1, y1), (x2, y2) = start, end
        self.elements.append(f'<path d="M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}"{_stroke(pen)}/>')

    def lines(self, pairs: Sequence[tuple[Point, Point]], pen: Pen) -> None:
        """Many straight lines as one element."""
        for pair in pairs:
            self.reach(*pair)
        data = "".join(f"M{number(a)} {number(b)}L{number(c)} {number(d)}" for (a, b), (c, d) in pairs)
        if data:
            self.elements.append(f'<path d="{data}"{_stroke(pen)}/>')

    def shape(self, points: Sequence[Point], pen: Pen, closed: bool = True) -> None:
        """Straight lines through ``points``, back to the first when ``closed``."""
        self.reach(*points)
        data = "L".join(f"{number(x)} {number(y)}" for x, y in points)
        self.elements.append(f'<path d="M{data}{"Z" if closed else ""}"{_stroke(pen)}/>')

    def curve(self, start: Point, bends: Sequence[tuple[Point, Point]], pen: Pen) -> None:
        """Quadratic curves from ``start``: each a control point and an end."""
        self.reach(start, *(point for bend in bends for point in bend))
        data = "".join(f"Q{number(a)} {number(b)} {number(c)} {number(d)}" for (a, b), (c, d) in bends)
        self.elements.append(f'<path d="M{number(start[0])} {number(start[1])}{data}"{_stroke(pen)}/>')

    def arc(self, centre: Point, radius: Fraction, first: int, last: int, pen: Pen) -> None:
        """An arc from ``first`` to ``last`` degrees, clockwise on paper."""
        self.reach((centre[0] - radius, centre[1] - radius), (centre[0] + radius, centre[1] + radius))
        (x1, y1), (x2, y2) = turned(radius, first), turned(radius, last)
        large = 1 if last - first > 180 else 0
        start = f"M{number(centre[0] + x1)} {number(centre[1] + y1)}"
        end = f"{number(centre[0] + x2)} {number(centre[1] + y2)}"
        self.elements.append(f'<path d="{start}A{number(radius)} {number(radius)} 0 {large} 1 {end}"{_stroke(pen)}/>')

    def circle(self, centre: Point, radius: Fraction, pen: Pen) -> None:
        """A circle."""
        self.reach((centre[0] - radius, centre[1] - radius), (centre[0] + radius, centre[1] + radius))
        where = f'cx="{number(centre[0])}" cy="{number(centre[1])}" r="{number(radius)}"'
        self.elements.append(f"<circle {where}{_stroke(pen)}/>")

    def filled(self, points: Sequence[Point], ink: str) -> None:
        """A small filled shape: an arrow head, the end of a leader."""
        self.reach(*points)
        data = "L".join(f"{number(x)} {number(y)}" for x, y in points)
        self.elements.append(f'<path d="M{data}Z" fill="{ink}"/>')

    def text(
        self,
        at: Point,
        words: str,
        size: Fraction = BODY,
        anchor: Anchor = "start",
        ink: str = "currentColor",
        bold: bool = False,
    ) -> None:
        """One line of words on the baseline at ``at``."""
        wide = width_of(words, size) * (Fraction(11, 10) if bold else 1)
        start = at[0] - {"start": Fraction(0), "middle": wide / 2, "end": wide}[anchor]
        self.reach((start, at[1] - size), (start + wide, at[1] + size / 4))
        more = "" if anchor == "start" else f' text-anchor="{anchor}"'
        more += ' font-weight="bold"' if bold else ""
        where = f'x="{number(at[0])}" y="{number(at[1])}" font-size="{number(size)}"'
        self.elements.append(f'<text {where}{more} fill="{ink}">{plain(words)}</text>')

    def place(self, other: View, x: Fraction, y: Fraction) -> None:
        """Put another view in this one, its origin at (x, y)."""
        self.reach((other.left + x, other.top + y), (other.right + x, other.bottom + y))
        self.elements.append(f'<g transform="translate({number(x)} {number(y)})">{"".join(other.elements)}</g>')


def _stroke(pen: Pen) -> str:
    dashes = f' stroke-dasharray="{pen.dashes}"' if pen.dashes else ""
    return f' fill="none" stroke="{pen.ink}" stroke-width="{pen.width}"{dashes}'


def hatch(
    view: View, left: Fraction, top: Fraction, right: Fraction, bottom: Fraction, rising: bool, step: Fraction
) -> None:
    """Section lines at 45 degrees across a rectangle; neighbours slope opposite ways."""
    hatch_shape(view, [(left, top), (right, top), (right, bottom), (left, bottom)], rising, step)


def hatch_shape(view: View, points: Sequence[Point], rising: bool, step: Fraction) -> None:
    """Section lines at 45 degrees across the shape with corners ``points``, hollows left free."""
    slope = -1 if rising else 1
    heights = [y - slope * x for x, y in points]
    pairs: list[tuple[Point, Point]] = []
    level = min(heights) + step / 2
    while level < max(heights):
        crossed = sorted(_crossings(points, heights, level))
        pairs += [
            ((a, level + slope * a), (b, level + slope * b)) for a, b in zip(crossed[::2], crossed[1::2], strict=False)
        ]
        level += step
    view.lines(pairs, THIN)


def _crossings(points: Sequence[Point], heights: Sequence[Fraction], level: Fraction) -> list[Fraction]:
    """Where the line of section lines at ``level`` crosses the edges of a shape, by x."""
    found = []
    for here, (x, _) in enumerate(points):
        there = (here + 1) % len(points)
        first, last = heights[here] - level, heights[there] - level
        if (first < 0) != (last < 0):
            found.append(x + (points[there][0] - x) * first / (first - last))
    return found
