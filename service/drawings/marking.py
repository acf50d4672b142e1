"""Dimensions above a view and leaders below it, laid out so that no words stand on words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.drawings.elements import ASSUMED, BODY, FAULT_INK, FAULTY, THIN, Pen, Point, View, width_of

ARROW: Final = Fraction(2)
GAP: Final = Fraction(1)
ROW: Final = Fraction(5)


@dataclass(frozen=True, slots=True)
class Dimension:
    """A length along the axis from ``start`` to ``end``, with the words that stand at its line."""

    start: Point
    end: Point
    words: str
    fault: bool = False
    assumed: bool = False

    @property
    def span(self) -> Fraction:
        """How long it is on paper, mm."""
        return self.end[0] - self.start[0]


@dataclass(frozen=True, slots=True)
class Leader:
    """Words below the view that point at ``at``."""

    at: Point
    words: str
    fault: bool = False


class Drafted(View):
    """A view with dimensions and leaders."""

    def __init__(self) -> None:
        super().__init__()
        self.dimensions: list[Dimension] = []
        self.leaders: list[Leader] = []

    def measure(self, start: Point, end: Point, words: str, fault: bool = False, assumed: bool = False) -> None:
        """Ask for a dimension; it is drawn by :meth:`finish`."""
        first, last = sorted((start, end))
        self.dimensions.append(Dimension(first, last, words, fault, assumed))

    def point_out(self, at: Point, words: str, fault: bool = False) -> None:
        """Ask for a leader; it is drawn by :meth:`finish`."""
        self.leaders.append(Leader(at, words, fault))

    def finish(self) -> Drafted:
        """Draw what was asked for: the short dimensions next to the part, the long ones outside, leaders right to left."""
        base, floor = self.top - ROW, self.bottom + ROW
        beyond = max((d.end[0] for d in self.dimensions), default=Fraction(0))
        rows: list[list[tuple[Fraction, Fraction]]] = []
        for dimension in sorted(self.dimensions, key=lambda d: (d.span, d.start)):
            inside = width_of(dimension.words) <= dimension.span
            end = (
                dimension.end[0] if inside else max(beyond, dimension.end[0]) + ARROW + GAP + width_of(dimension.words)
            )
            start = dimension.start[0] - (0 if dimension.span > 3 * ARROW else 2 * ARROW)
            level = _free(rows, start, end)
            _draw(self, dimension, base - level * ROW, inside, beyond)
        for level, leader in enumerate(sorted(self.leaders, key=lambda one: -one.at[0])):
            _lead(self, leader, floor + level * BODY * Fraction(3, 2))
        return self


def _free(rows: list[list[tuple[Fraction, Fraction]]], start: Fraction, end: Fraction) -> int:
    """The first row where nothing stands between ``start`` and ``end``; it is taken."""
    for level, taken in enumerate(rows):
        if all(end <= left or right <= start for left, right in taken):
            taken.append((start, end))
            return level
    rows.append([(start, end)])
    return len(rows) - 1


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
        view.text(((x1 + x2) / 2, y - GAP), dimension.words, BODY, "middle", ink, dimension.fault)
    else:
        view.text((right + GAP / 2, y + BODY * Fraction(35, 100)), dimension.words, BODY, "start", ink, dimension.fault)


def arrow(view: View, tip: Point, along: int, ink: str) -> None:
    """An arrow head at ``tip`` that points along the x axis, to the right when ``along`` is 1."""
    x, y = tip
    wide = ARROW / 6
    view.filled([(x, y), (x - along * ARROW, y - wide), (x - along * ARROW, y + wide)], ink)


def _lead(view: View, leader: Leader, y: Fraction) -> None:
    ink = FAULT_INK if leader.fault else "currentColor"
    pen = Pen("0.18", ink=ink)
    (x, start), foot = leader.at, y - BODY * Fraction(35, 100)
    bend = x + (foot - start) / 6
    path: Sequence[Point] = (leader.at, (bend, foot), (bend + GAP, foot))
    view.shape(path, pen, closed=False)
    dot = Fraction(3, 10)
    view.filled([(x - dot, start), (x, start - dot), (x + dot, start), (x, start + dot)], ink)
    view.text((bend + 2 * GAP, y), leader.words, BODY, "start", ink, leader.fault)
