"""Fittings for flared tube: the tube to scale from its end, and the fitting's form by proportion.

The form is read from the word that the tables have for it; threads are as wide as their designation says.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from service.drawings.elements import ASSUMED, AXIS, OUTLINE, THIN, Point, turned
from service.drawings.heads import CORNERS, cross
from service.drawings.known import Known, Size
from service.drawings.marking import Drafted

ZERO: Final = Fraction(0)
#: length of an arm and half the body, in thread diameters: drafting habit only
_ARM: Final = Fraction(9, 10)
_BODY: Final = Fraction(6, 10)


def views(known: Known) -> list[Drafted]:
    """The tube from its end and the form; nothing without a tube size."""
    tube = known.size("tube_outside_diameter", "tube outside diameter")
    if tube is None:
        return []
    held = known.thread_diameter()
    thread = held or tube.mm * Fraction(3, 2)
    form = known.word("fitting_form")
    views = [_end(known, tube, held)]
    if arms := _arms(form):
        views.append(_body(thread, arms, "bulkhead" in form))
    elif "nut" in form or "cap" in form:
        views.append(_hexagon(thread, "cap" in form))
    elif "sleeve" in form:
        views.append(_sleeve(tube.mm))
    if len(views) > 1:
        known.note(f"form ({form}) drawn by proportion, its lengths are not in the tables: outline only")
        known.outlines("form and lengths")
    else:
        known.note("shape not in the tables: only what is dimensioned is to scale")
    return views


def _arms(form: str) -> list[tuple[int, str]]:
    """The ends of a fitting: where each points, in degrees clockwise from the right, and whether it is flared or pipe."""
    one, other = "flare", "pipe" if "to pipe thread" in form else "flare"
    angle = re.search(r"(\d+) degree", form)
    if "elbow" in form and angle:
        return [(180, one), (int(angle[1]) - (0 if int(angle[1]) == 90 else 90), other)]
    if "tee" in form:
        run = "pipe" if "pipe thread on the run" in form else one
        side = "pipe" if "pipe thread on the side" in form else one
        return [(180, run), (0, one), (90, side)]
    if "cross" in form:
        return [(turn, one) for turn in (0, 90, 180, 270)]
    if "union" in form or "nipple" in form:
        return [(180, other), (0, one)]
    return []


def _end(known: Known, tube: Size, thread: Fraction | None) -> Drafted:
    view = Drafted()
    view.circle((ZERO, ZERO), tube.mm / 2, OUTLINE)
    outer = tube.mm / 2
    if thread is not None:
        outer = max(outer, thread / 2)
        view.arc((ZERO, ZERO), thread / 2, 0, 270, THIN)
        view.point_out((ZERO, thread / 2), f"thread {known.word('thread')}")
    cross(view, outer)
    view.measure((-tube.mm / 2, ZERO), (tube.mm / 2, ZERO), tube.words("tube ⌀"))
    return view.finish()


def _body(thread: Fraction, arms: list[tuple[int, str]], bulkhead: bool) -> Drafted:
    view = Drafted()
    half = thread * _BODY
    straight = len(arms) == 2 and {turn for turn, _ in arms} == {0, 180}
    if straight:  # the hexagon between the two ends
        view.shape(
            [(-half, -half * CORNERS), (half, -half * CORNERS), (half, half * CORNERS), (-half, half * CORNERS)],
            ASSUMED,
        )
        view.lines([((-half, s * half / 2), (half, s * half / 2)) for s in (-1, 1)], ASSUMED)
    else:
        view.circle((ZERO, ZERO), half * Fraction(5, 4), ASSUMED)
    for place, (turn, end) in enumerate(arms):
        long = bulkhead and place == len(arms) - 1
        start = half if straight else half * Fraction(11, 10)
        _arm(view, turn, end, start, thread * _ARM * (2 if long else 1), thread / 2)
        if long:
            at = start + thread * Fraction(2, 5)
            view.line(_point(turn, at, -half * CORNERS), _point(turn, at, half * CORNERS), ASSUMED)
    return view.finish()


def _arm(view: Drafted, turn: int, end: str, start: Fraction, length: Fraction, radius: Fraction) -> None:
    """One end: straight thread with the cone for the flare, or a thread that tapers."""
    tip = start + length
    if end == "pipe":
        corners = [(start, radius * Fraction(95, 100)), (tip, radius * Fraction(85, 100))]
    else:
        corners = [(start, radius), (tip - radius / 2, radius), (tip, radius * Fraction(6, 10))]
    outline = [*corners, *((along, -across) for along, across in reversed(corners))]
    view.shape([_point(turn, *corner) for corner in outline], ASSUMED, closed=False)
    view.line(_point(turn, ZERO, ZERO), _point(turn, tip + 2, ZERO), AXIS)


def _point(turn: int, along: Fraction, across: Fraction) -> Point:
    """A point ``along`` and ``across`` an arm that points at ``turn`` degrees."""
    x, y = turned(Fraction(1), turn)
    return along * x - across * y, along * y + across * x


def _hexagon(thread: Fraction, closed: bool) -> Drafted:
    """A nut or a cap from the side; a cap is closed on the right."""
    view = Drafted()
    half, length = thread * Fraction(65, 100) * CORNERS, thread * Fraction(13, 10)
    view.shape([(ZERO, -half), (length, -half), (length, half), (ZERO, half)], ASSUMED)
    view.lines([((ZERO, s * half / 2), (length, s * half / 2)) for s in (-1, 1)], ASSUMED)
    if closed:
        view.shape(
            [(length, -half / 2), (length + half / 4, -half / 4), (length + half / 4, half / 4), (length, half / 2)],
            ASSUMED,
            False,
        )
    view.line((Fraction(-3), ZERO), (length + 3, ZERO), AXIS)
    return view.finish()


def _sleeve(tube: Fraction) -> Drafted:
    """A sleeve from the side: a collar with a shoulder."""
    view = Drafted()
    outer, length = tube * Fraction(65, 100), tube * Fraction(9, 10)
    collar = outer * Fraction(6, 5)
    view.shape([(ZERO, -outer), (length, -outer), (length, outer), (ZERO, outer)], ASSUMED)
    view.shape(
        [(length, -collar), (length + tube / 3, -collar), (length + tube / 3, collar), (length, collar)], ASSUMED
    )
    view.line((Fraction(-3), ZERO), (length + tube / 3 + 3, ZERO), AXIS)
    return view.finish()
