"""Plate nuts: the thread to scale, and by proportion the base with its lugs and rivet holes as the number's style has them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.drawings.elements import ASSUMED, AXIS, Point, turned
from service.drawings.heads import cross
from service.drawings.known import Known, Size
from service.drawings.marking import Drafted
from service.drawings.nuts import bore

ZERO: Final = Fraction(0)
#: sizes in thread diameters, drafting habit only: half the body, a rivet hole, from the thread to a rivet, the same reduced
_BODY: Final = Fraction(95, 100)
_HOLE: Final = Fraction(2, 5)
_REACH: Final = Fraction(9, 5)
_REDUCED: Final = Fraction(3, 2)
#: the base's thickness and the whole height, in thread diameters
BASE: Final = Fraction(1, 5)
HEIGHT: Final = Fraction(4, 5)


@dataclass(frozen=True, slots=True)
class Lugs:
    """Where the rivets of a base stand, mm from the thread's axis, in the plan."""

    rivets: tuple[Point, ...]
    style: str

    @property
    def sides(self) -> tuple[int, ...]:
        """The sides of the axis on which a section along the lugs shows one: -1 above, 1 below."""
        return tuple(s for s in (-1, 1) if any((x if y == 0 else y) * s > 0 for x, y in self.rivets))


def lugs_of(known: Known, diameter: Fraction) -> Lugs:
    """The lugs of a style, by proportion; none where the style leaves open which."""
    style = known.word("plate_style")
    reach = diameter * (_REDUCED if "reduced" in style else _REACH)
    if " or " in style or not style:
        known.note(f"lugs ({style}) not drawn: the number leaves them open" if style else "lugs not in the tables")
        return Lugs((), style)
    if "two-lug" in style:
        return Lugs(((-reach, ZERO), (reach, ZERO)), style)
    if "one-lug" in style:
        return Lugs(((reach, ZERO), (reach + diameter, ZERO)), style)
    return Lugs(((reach, ZERO), (ZERO, reach)), style)


def views(known: Known) -> list[Drafted]:
    """Plan and side of a plate nut; nothing where no size is known."""
    diameter = known.size("nominal_diameter", "nominal diameter")
    if diameter is None:
        return []
    lugs = lugs_of(known, diameter.mm)
    known.note("base, lugs, rivet spacing and height not in the tables: outline only")
    known.outlines("base, lugs, rivet spacing, height")
    return [_plan(known, diameter, lugs), _side(diameter, lugs)]


def _plan(known: Known, diameter: Size, lugs: Lugs) -> Drafted:
    view = Drafted()
    size, body = diameter.mm, diameter.mm * _BODY
    for x, y in lugs.rivets:
        view.circle((x, y), size * _HOLE / 2, ASSUMED)
    for along, down in sorted({(_sign(x), _sign(y)) for x, y in lugs.rivets}):
        far = max(abs(x) + abs(y) for x, y in lugs.rivets if x * along > 0 or y * down > 0)
        view.shape([_at(along, down, *point) for point in _lug(body, far, size)], ASSUMED, closed=False)
    view.circle((ZERO, ZERO), body, ASSUMED)
    if "countersunk" in lugs.style:
        view.circle((ZERO, ZERO), size * Fraction(4, 5), ASSUMED)
    if "floating" in lugs.style:
        wide = body * Fraction(6, 5)
        view.shape([(-wide, -body), (wide, -body), (wide, body), (-wide, body)], ASSUMED)
    bore(known, view, diameter)
    cross(view, body)
    return view.finish()


def _sign(length: Fraction) -> int:
    return (length > 0) - (length < 0)


def _lug(body: Fraction, far: Fraction, size: Fraction) -> list[Point]:
    """A lug's outline along the x axis, from the body and back to it."""
    x, y = turned(body, 50)
    tip = size * Fraction(45, 100)
    return [(x, -y), (far, -tip), (far + tip, -tip / 2), (far + tip, tip / 2), (far, tip), (x, y)]


def _at(along: int, down: int, x: Fraction, y: Fraction) -> Point:
    return (x * along, y) if along else (y, x * down)


def _side(diameter: Size, lugs: Lugs) -> Drafted:
    view = Drafted()
    size = diameter.mm
    draw_side(view, ZERO, size, lugs)
    view.line((Fraction(-3), ZERO), (size * HEIGHT + 3, ZERO), AXIS)
    return view.finish()


def draw_side(
    view: Drafted, at: Fraction, size: Fraction, lugs: Lugs, near: Fraction = ZERO, height: Fraction | None = None
) -> None:
    """A plate nut from the side, its base on the line x = ``at``; nothing within ``near`` mm of the axis.

    ``height`` is the whole height in mm where it is known, else it is drawn by proportion.
    """
    body, base, high = size * _BODY, at + size * BASE, at + (height or size * HEIGHT)
    far = max((abs(x) + abs(y) for x, y in lugs.rivets), default=ZERO) + size * Fraction(45, 100)
    for side in (-1, 1):
        rim = far if side in lugs.sides else body * Fraction(6, 5)
        view.shape(
            [(at, side * near), (at, side * rim), (base, side * rim), (base, side * body)], ASSUMED, closed=False
        )
        view.shape(
            [(base, side * body), (high, side * body * Fraction(4, 5)), (high, side * near)], ASSUMED, closed=False
        )
    for x, y in lugs.rivets:
        level = x if y == 0 else y
        view.line((at - 2, level), (base + 2, level), AXIS)
    if "floating" in lugs.style:
        for side in (-1, 1):
            view.line((base, side * body * Fraction(6, 5)), (base + size / 4, side * body * Fraction(6, 5)), ASSUMED)
