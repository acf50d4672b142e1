"""The mark on a head, as the tables name it: drawn by convention, because no table gives its size or place."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from service.drawings.elements import THIN, Point, View, turned
from service.drawings.known import Known
from service.drawings.marking import Drafted

ZERO: Final = Fraction(0)


def draw(known: Known, view: Drafted, width: Fraction, aside: bool) -> None:
    """Draw the head's mark into its end view, ``aside`` of a slot or recess, with its words; nothing where there is none.

    A letter is not drawn, it could not be read at this scale: its words point at its place.
    """
    word = known.word("head_mark")
    if not word or word == "plain" or word.startswith("blank"):
        return
    size = width * Fraction(1, 5)
    centre = (ZERO, -width * Fraction(3, 10)) if aside else (ZERO, ZERO)
    _shape(view, word, centre, size)
    known.note("head mark drawn by convention, its size and place are not in the tables")
    view.point_out((centre[0] + size / 2, centre[1]), f"mark: {word}")


def _shape(view: View, word: str, centre: Point, size: Fraction) -> None:
    x, y = centre
    first = word.split(" or ", maxsplit=1)[0]
    if "triangle" in first:
        view.shape([(x + a, y + b) for a, b in (turned(size, angle) for angle in (-90, 30, 150))], THIN)
    elif "dash" in first:
        many = any(count in first for count in ("two", "double"))
        for level in (-size / 3, size / 3) if many else (ZERO,):
            view.shape(_bar(x, y + level, size), THIN)
    elif "cross" in first:
        view.lines([((x - size, y), (x + size, y)), ((x, y - size), (x, y + size))], THIN)
    elif "ring" in first:
        view.circle(centre, size, THIN)
    elif "dimple" in first or "teat" in first:
        view.circle(centre, size * Fraction(2, 5), THIN)


def _bar(x: Fraction, y: Fraction, size: Fraction) -> list[Point]:
    high = size / 6
    return [(x - size, y - high), (x + size, y - high), (x + size, y + high), (x - size, y + high)]
