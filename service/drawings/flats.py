"""Washers and lock washers: the face, and a section through it."""

from __future__ import annotations

from fractions import Fraction

from service.drawings.elements import ASSUMED, AXIS, OUTLINE, THIN, Pen, Point, hatch, turned
from service.drawings.heads import cross
from service.drawings.known import Known, Size
from service.drawings.marking import Drafted

ZERO = Fraction(0)


def sizes(known: Known) -> tuple[Size, Size, Size] | None:
    """Inside and outside diameter and thickness; outlines in proportion where the tables have none. None without any size."""
    inside = known.size("inside_diameter", "inside diameter") or known.size("nominal_diameter", "nominal diameter")
    if inside is None:
        return None
    if inside.value is not None and inside.value.attribute == "nominal_diameter":
        known.note("inside diameter not in the tables: drawn at the nominal diameter")
        known.outlines("inside diameter")
        inside = Size(inside.mm, None)
    outside = known.or_outline("outside_diameter", "outside diameter", inside.mm * 2)
    return inside, outside, known.or_outline("thickness", "thickness", inside.mm / 5)


def views(known: Known) -> list[Drafted]:
    """Face and section of a washer; nothing where no size is known."""
    found = sizes(known)
    if found is None:
        return []
    inside, outside, thick = found
    return [_face(known, inside, outside), _section(known, inside, outside, thick)]


def _face(known: Known, inside: Size, outside: Size) -> Drafted:
    view = Drafted()
    view.circle((ZERO, ZERO), outside.mm / 2, outside.pen)
    form = known.word("tooth_form")
    if form == "split":
        _split(known, view, inside, outside)
    else:
        view.circle((ZERO, ZERO), inside.mm / 2, THIN if "internal" in form and inside.value else inside.pen)
        if form:
            _teeth(known, view, inside.mm / 2, outside.mm / 2, form)
    cross(view, outside.mm / 2)
    for size, name in ((outside, "outside ⌀"), (inside, "inside ⌀")):
        if size.value is not None:
            view.measure((-size.mm / 2, ZERO), (size.mm / 2, ZERO), size.words(name))
    return view.finish()


def _teeth(known: Known, view: Drafted, inner: Fraction, outer: Fraction, form: str) -> None:
    """Teeth between the rim and the tips; how many and how they are cut is in no table."""
    band = outer - inner
    if "internal" in form:
        view.shape(_zigzag(inner, inner + band * Fraction(45, 100)), ASSUMED)
    if "external" in form or "countersunk" in form:
        view.shape(_zigzag(outer, outer - band * Fraction(45, 100)), ASSUMED)
    known.note("number and shape of the teeth not in the tables: outline only")
    known.outlines("teeth")


def _zigzag(tip: Fraction, root: Fraction) -> list[Point]:
    points: list[Point] = []
    for tooth in range(12):
        at = 30 * tooth
        points += [turned(tip, at - 6), turned(tip, at + 6), turned(root, at + 10), turned(root, at + 20)]
    return points


def _split(known: Known, view: Drafted, inside: Size, outside: Size) -> None:
    """The gap of a spring washer: two slanting lines across the ring."""
    view.circle((ZERO, ZERO), inside.mm / 2, inside.pen)
    for inner, outer in ((-52, -60), (-47, -55)):
        view.line(turned(inside.mm / 2, inner), turned(outside.mm / 2, outer), ASSUMED)
    known.note("width of the split and free height not in the tables: outline only")
    known.outlines("split, free height")


def _section(known: Known, inside: Size, outside: Size, thick: Size) -> Drafted:
    view = Drafted()
    pen: Pen = ASSUMED if ASSUMED in (inside.pen, outside.pen, thick.pen) else OUTLINE
    rim, bore, wide = outside.mm / 2, inside.mm / 2, thick.mm
    for top, bottom in ((-rim, -bore), (bore, rim)):
        view.shape([(ZERO, top), (wide, top), (wide, bottom), (ZERO, bottom)], pen)
        hatch(view, ZERO, top, wide, bottom, True, Fraction(1))
    if known.flag("countersunk_side"):
        deep = wide / 2
        view.lines([((ZERO, s * (bore + deep)), (deep, s * bore)) for s in (-1, 1)], ASSUMED)
        known.note("size of the countersink not in the tables: outline only")
        known.outlines("countersink")
    else:
        view.lines([((x, -bore), (x, bore)) for x in (ZERO, wide)], THIN)
    view.line((Fraction(-3), ZERO), (wide + 3, ZERO), AXIS)
    if thick.value is not None:
        view.measure((ZERO, -rim), (wide, -rim), thick.words("thick"))
    return view.finish()
