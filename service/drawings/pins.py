"""Cotter pins, and the plain fallback for what has no shape in the tables."""

from __future__ import annotations

from fractions import Fraction

from service.drawings.elements import ASSUMED, OUTLINE, THIN
from service.drawings.heads import cross
from service.drawings.known import Known
from service.drawings.marking import Drafted
from service.drawings.nuts import bore

ZERO = Fraction(0)


def cotter(known: Known) -> list[Drafted]:
    """A cotter pin: two half-round legs and a loop, whose size no table gives."""
    diameter = known.size("shank_diameter", "shank diameter") or known.size("nominal_diameter", "nominal diameter")
    known.size("hole_diameter", "hole it goes through")
    if diameter is None:
        return []
    length = known.or_outline("length", "length", diameter.mm * 8)
    known.note("eye not in the tables: outline only")
    known.outlines("eye")
    view = Drafted()
    radius, eye, end = diameter.mm / 2, diameter.mm * Fraction(9, 10), length.mm
    tall = eye * Fraction(3, 2)
    left = -eye * Fraction(11, 4)
    loop = (((-eye, -tall), (left / 2 - eye / 4, -tall)), ((left, -tall), (left, ZERO)))
    back = (((left, tall), (left / 2 - eye / 4, tall)), ((-eye, tall), (ZERO, radius)))
    view.curve((ZERO, -radius), [*loop, *back], ASSUMED)
    view.circle((left / 2, ZERO), eye * Fraction(2, 3), ASSUMED)
    view.shape([(ZERO, -radius), (end, -radius), (end, radius), (ZERO, radius)], length.pen, closed=False)
    view.line((ZERO, ZERO), (end, ZERO), THIN)
    if length.value is not None:
        view.measure((ZERO, -radius), (end, -radius), length.words("length"))
    view.point_out((end * Fraction(2, 5), radius), diameter.words("⌀"))
    tip = Drafted()
    tip.circle((ZERO, ZERO), radius, diameter.pen)
    tip.line((-radius, ZERO), (radius, ZERO), THIN)
    return [view.finish(), tip.finish()]


def plain(known: Known) -> list[Drafted]:
    """What the tables give of a part whose shape they do not: one diameter to scale, or nothing."""
    known.note("shape not in the tables: only what is dimensioned is to scale")
    thread = known.size("nominal_diameter", "nominal diameter")
    view = Drafted()
    if thread is not None:
        if known.word("thread"):
            bore(known, view, thread)
        else:
            view.circle((ZERO, ZERO), thread.mm / 2, OUTLINE)
            view.point_out((ZERO, thread.mm / 2), thread.words("for ⌀"))
        cross(view, thread.mm / 2)
        return [view.finish()]
    tube = known.size("tube_outside_diameter", "tube outside diameter")
    if tube is None:
        return []
    view.circle((ZERO, ZERO), tube.mm / 2, OUTLINE)
    cross(view, tube.mm / 2)
    view.point_out((ZERO, tube.mm / 2), tube.words("tube ⌀"))
    return [view.finish()]


def wire(known: Known) -> list[Drafted]:
    """A piece of wire, as long as it likes."""
    size = known.size("wire_diameter", "wire diameter")
    if size is None:
        return []
    view = Drafted()
    reach, radius = Fraction(30), size.mm / 2
    view.lines([((ZERO, s * radius), (reach, s * radius)) for s in (-1, 1)], THIN)
    view.point_out((reach / 3, radius), size.words("⌀"))
    known.note("cut to any length")
    return [view.finish()]
