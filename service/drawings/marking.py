"""Dimensions above a view and leaders below it, laid out so that no words stand on words and no line runs through them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.drawings.elements import (
    ASSUMED,
    BODY,
    FAULT_INK,
    FAULTY,
    LESSER,
    THIN,
    Pen,
    Point,
    View,
    width_of,
    wrapped,
)

ARROW: Final = Fraction(2)
GAP: Final = Fraction(1)
#: from one dimension line to the next, and what a second line of words below the line takes
ROW: Final = Fraction(54, 10)
SECOND: Final = Fraction(32, 10)
#: views are kept this narrow where their words allow it, so that a sheet fits a narrow telephone
COMFORT: Final = Fraction(84)


@dataclass(frozen=True, slots=True)
class Dimension:
    """A length along the axis from ``start`` to ``end``, with the words at its line; a second line stands below it."""

    start: Point
    end: Point
    words: str
    fault: bool = False
    assumed: bool = False
    below: str = ""

    @property
    def span(self) -> Fraction:
        """How long it is on paper, mm."""
        return self.end[0] - self.start[0]

    @property
    def wide(self) -> Fraction:
        """How wide its words stand, mm."""
        bold = Fraction(11, 10) if self.fault else Fraction(1)
        return max(width_of(self.words) * bold, width_of(self.below, LESSER) * bold)


@dataclass(frozen=True, slots=True)
class Leader:
    """Words below the view that point at ``at``."""

    at: Point
    words: str
    fault: bool = False


@dataclass(slots=True)
class _Row:
    """Dimensions that stand at one height: where words and lines already are, and whether some have a second line."""

    taken: list[tuple[Fraction, Fraction]]
    held: list[tuple[Dimension, bool]]

    @property
    def depth(self) -> Fraction:
        """What the row needs below its line, mm."""
        return SECOND if any(dimension.below for dimension, _ in self.held) else Fraction(0)


class Drafted(View):
    """A view with dimensions and leaders."""

    def __init__(self) -> None:
        super().__init__()
        self.dimensions: list[Dimension] = []
        self.leaders: list[Leader] = []

    def measure(
        self, start: Point, end: Point, words: str, fault: bool = False, assumed: bool = False, below: str = ""
    ) -> None:
        """Ask for a dimension; it is drawn by :meth:`finish`."""
        first, last = sorted((start, end))
        self.dimensions.append(Dimension(first, last, words, fault, assumed, below))

    def point_out(self, at: Point, words: str, fault: bool = False) -> None:
        """Ask for a leader; it is drawn by :meth:`finish`."""
        self.leaders.append(Leader(at, words, fault))

    def finish(self) -> Drafted:
        """Draw what was asked for: the short dimensions next to the part, the long ones outside, leaders right to left."""
        floor = self.bottom + BODY * Fraction(3, 2)
        beyond = max((d.end[0] for d in self.dimensions), default=Fraction(0))
        y = self.top - GAP
        for row in self._rows(beyond):
            y -= row.depth + GAP
            for dimension, inside in row.held:
                _draw(self, dimension, y, inside, beyond)
            y -= ROW - GAP + row.depth / 4
        foot: Fraction | None = None
        for leader in sorted(self.leaders, key=lambda one: -one.at[0]):
            foot = leader.at[0] if foot is None else min(leader.at[0], foot - GAP)
            floor = _lead(self, leader, foot, floor)
        return self

    def _rows(self, beyond: Fraction) -> list[_Row]:
        """The dimensions in rows, the one next to the part first."""
        rows: list[_Row] = []
        for dimension in sorted(self.dimensions, key=lambda d: (d.span, d.start)):
            inside = self._fits(dimension)
            start = dimension.start[0] - (0 if dimension.span > 3 * ARROW else 2 * ARROW)
            end = dimension.end[0] if inside else max(beyond, dimension.end[0]) + ARROW + GAP + dimension.wide
            row = next((row for row in rows if all(end <= a or b <= start for a, b in row.taken)), None)
            if row is None:
                row = _Row([], [])
                rows.append(row)
            row.taken.append((start, end))
            row.held.append((dimension, inside))
        return rows

    def _fits(self, dimension: Dimension) -> bool:
        """Whether the words stand within the dimension and clear of the lines that lead up to the others."""
        if dimension.wide > dimension.span:
            return False
        middle, half = (dimension.start[0] + dimension.end[0]) / 2, dimension.wide / 2
        ends = (point[0] for other in self.dimensions for point in (other.start, other.end))
        return not any(middle - half < x < middle + half for x in ends)


def _draw(view: View, dimension: Dimension, y: Fraction, inside: bool, beyond: Fraction) -> None:
    pen, ink = (FAULTY, FAULT_INK) if dimension.fault else (ASSUMED if dimension.assumed else THIN, "currentColor")
    (x1, y1), (x2, y2) = dimension.start, dimension.end
    side = THIN if not dimension.fault else Pen("0.18", ink=FAULT_INK)
    view.lines([((x1, y1 - GAP), (x1, y - GAP)), ((x2, y2 - GAP), (x2, y - GAP))], side)
    roomy = dimension.span > 3 * ARROW
    left = x1 if roomy else x1 - 2 * ARROW
    right = x2 if inside else max(beyond, x2) + ARROW + GAP / 2
    view.line((left, y), (x2, y), pen)
    if not inside:
        view.line((x2, y), (right, y), side)
    point = 1 if roomy else -1
    arrow(view, (x1, y), -point, ink)
    arrow(view, (x2, y), point, ink)
    if inside:
        middle = (x1 + x2) / 2
        view.text((middle, y - GAP), dimension.words, BODY, "middle", ink, dimension.fault)
        if dimension.below:
            view.text((middle, y + LESSER), dimension.below, LESSER, "middle", ink, dimension.fault)
        return
    sunk = BODY * Fraction(35, 100) if not dimension.below else -GAP / 2
    view.text((right + GAP / 2, y + sunk), dimension.words, BODY, "start", ink, dimension.fault)
    if dimension.below:
        view.text((right + GAP / 2, y + LESSER), dimension.below, LESSER, "start", ink, dimension.fault)


def arrow(view: View, tip: Point, along: int, ink: str) -> None:
    """An arrow head at ``tip`` that points along the x axis, to the right when ``along`` is 1."""
    x, y = tip
    wide = ARROW / 6
    view.filled([(x, y), (x - along * ARROW, y - wide), (x - along * ARROW, y + wide)], ink)


def _lead(view: View, leader: Leader, foot: Fraction, y: Fraction) -> Fraction:
    """Draw a leader whose words stand from ``y`` on, beside ``foot``; returns where the next one may stand."""
    ink = FAULT_INK if leader.fault else "currentColor"
    pen = Pen("0.18", ink=ink)
    (x, start), line = leader.at, y - BODY * Fraction(35, 100)
    view.shape([leader.at, (foot, line), (foot + GAP, line)], pen, closed=False)
    dot = Fraction(3, 10)
    view.filled([(x - dot, start), (x, start - dot), (x + dot, start), (x, start + dot)], ink)
    room = max(view.right, view.left + COMFORT) - foot - 3 * GAP
    for piece in wrapped(leader.words, max(room, COMFORT / 3)):
        view.text((foot + 2 * GAP, y), piece, BODY, "start", ink, leader.fault)
        y += BODY * Fraction(135, 100)
    return y + BODY * Fraction(15, 100)
