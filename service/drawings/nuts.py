"""Nuts: the hexagon from the end, and the nut from the side with its slots."""

from __future__ import annotations

from fractions import Fraction

from service.drawings.elements import ASSUMED, AXIS, OUTLINE, THIN, Pen
from service.drawings.heads import CORNERS, cross, polygon
from service.drawings.known import Known, Size
from service.drawings.marking import Drafted

ZERO = Fraction(0)


def hexagonal(known: Known) -> bool:
    """Whether the tables say enough to draw a hexagon or a double one: a width across flats, or the word."""
    title = known.part.family.title
    return (
        known.value("width_across_flats") is not None
        or "hexagon" in title
        or known.flag("castellated")
        or twelve_pointed(known)
    )


def twelve_pointed(known: Known) -> bool:
    """Whether the nut is turned by a twelve-point wrench."""
    return "twelve-point" in known.word("drive")


def winged(known: Known) -> bool:
    """Whether the nut has wings to be turned by hand."""
    return "wing" in known.part.family.title.split()


def height_of(known: Known, diameter: Fraction) -> Size:
    """The height of a nut; an outline in proportion to the thread where the tables have none."""
    thin = known.word("height_form") in {"thin", "low"}
    return known.or_outline("height", "nut height", diameter * (Fraction(3, 5) if thin else Fraction(7, 8)))


def width_of_nut(known: Known, diameter: Fraction) -> Size:
    """Width across flats, worked back from the corners where only those are known."""
    held = known.size("width_across_flats", "width across flats")
    if held is not None:
        return held
    corners = known.size("width_across_corners", "width across corners")
    if corners is not None:
        known.note("width across flats not in the tables: worked back from the corners")
        return Size(corners.mm / CORNERS, None)
    return known.outline("width across flats", diameter * Fraction(8, 5), "width_across_flats")


def views(known: Known) -> list[Drafted]:
    """End and side of a nut; nothing where neither hexagon nor wings are in the tables, or no size."""
    diameter = known.size("nominal_diameter", "nominal diameter")
    if diameter is not None and winged(known):
        return _wing(known, diameter)
    if diameter is None or not hexagonal(known):
        return []
    flats, height = width_of_nut(known, diameter.mm), height_of(known, diameter.mm)
    return [_end(known, diameter, flats), _side(known, diameter, flats, height)]


def bore(known: Known, view: Drafted, diameter: Size) -> None:
    """A nut's thread from the end: the minor diameter whole, the major one as three quarters of a thin circle."""
    depth = known.thread_depth()
    view.circle((ZERO, ZERO), diameter.mm / 2 - (depth or ZERO), OUTLINE)
    if depth is not None:
        view.arc((ZERO, ZERO), diameter.mm / 2, 0, 270, THIN)
    words = " ".join(filter(None, (known.word("thread"), known.word("thread_series"), known.word("thread_class"))))
    view.point_out((ZERO, diameter.mm / 2), f"thread {words}" if words else diameter.words("for ⌀"))


def _end(known: Known, diameter: Size, flats: Size) -> Drafted:
    view = Drafted()
    half = flats.mm * CORNERS / 2
    view.shape(polygon(half, 6, 90), flats.pen)
    if twelve_pointed(known):
        view.shape(polygon(half, 6, 60), flats.pen)
    view.circle((ZERO, ZERO), flats.mm / 2 * Fraction(97, 100), THIN)
    bore(known, view, diameter)
    cross(view, half)
    if flats.value is not None:
        view.measure((-flats.mm / 2, ZERO), (flats.mm / 2, ZERO), flats.words("across flats"))
    return view.finish()


def _side(known: Known, diameter: Size, flats: Size, height: Size) -> Drafted:
    view = Drafted()
    half = flats.mm * CORNERS / 2
    pen: Pen = ASSUMED if ASSUMED in (flats.pen, height.pen) else OUTLINE
    high, bevel = height.mm, min(height.mm / 5, half - flats.mm / 2)
    top = flats.mm / 2
    outline = [
        (bevel, -half),
        (ZERO, -top),
        (ZERO, top),
        (bevel, half),
        (high - bevel, half),
        (high, top),
        (high, -top),
        (high - bevel, -half),
    ]
    slotted = known.flag("castellated")
    bottom = _slots(known, view, half, diameter.mm, high) if slotted else high
    view.shape(outline, pen)
    view.lines([((ZERO, s * half / 2), (bottom, s * half / 2)) for s in (-1, 1)], pen if pen is ASSUMED else THIN)
    if known.word("locking") == "insert":
        collar = high * Fraction(3, 4)
        view.line((collar, -half), (collar, half), ASSUMED)
        known.note("insert shown by a dashed line, size not in the tables")
        known.outlines("insert")
    view.line((Fraction(-3), ZERO), (high + 3, ZERO), AXIS)
    if height.value is not None:
        view.measure((ZERO, -half), (high, -half), height.words("height"))
    return view.finish()


def _wing(known: Known, diameter: Size) -> list[Drafted]:
    """A wing nut: its thread to scale, collar and wings by proportion."""
    known.note("collar and wings not in the tables: outline only")
    known.outlines("collar, wings, height")
    size = diameter.mm
    collar, reach, high, thick = size, size * Fraction(5, 2), size * Fraction(9, 5), size / 4
    end, side = Drafted(), Drafted()
    end.circle((ZERO, ZERO), collar, ASSUMED)
    for s in (-1, 1):
        end.shape([(s * collar, -thick), (s * reach, -thick), (s * reach, thick), (s * collar, thick)], ASSUMED, False)
    bore(known, end, diameter)
    cross(end, collar)
    low = size * Fraction(9, 10)
    side.shape([(ZERO, -collar), (low, -collar * 4 / 5), (low, collar * 4 / 5), (ZERO, collar)], ASSUMED)
    for s in (-1, 1):
        side.shape(
            [
                (low / 3, s * collar),
                (high * 3 / 4, s * reach),
                (high, s * reach),
                (high, s * collar * 8 / 5),
                (low, s * collar * 4 / 5),
            ],
            ASSUMED,
            False,
        )
    side.line((Fraction(-3), ZERO), (high + 3, ZERO), AXIS)
    return [end.finish(), side.finish()]


def slots_of(known: Known, diameter: Fraction, high: Fraction) -> tuple[Size, Size]:
    """Width of the slots of a castellated nut, and how far their bottom stands above the bearing face."""
    width = known.or_outline("slot_width", "slot width", diameter / 4)
    return width, known.or_outline("slot_bottom_height", "slot depth", high * Fraction(3, 5))


def _slots(known: Known, view: Drafted, half: Fraction, diameter: Fraction, high: Fraction) -> Fraction:
    """Slots in the three faces that are seen; returns where they end, from the bearing face."""
    width, bottom = slots_of(known, diameter, high)
    pen = OUTLINE if width.value is not None and bottom.value is not None else ASSUMED
    reach = width.mm / 2
    for centre, foreshortened in ((-half * Fraction(3, 4), 2), (ZERO, 1), (half * Fraction(3, 4), 2)):
        low, up = centre - reach / foreshortened, centre + reach / foreshortened
        view.shape([(high, low), (bottom.mm, low), (bottom.mm, up), (high, up)], pen, closed=False)
    return bottom.mm
