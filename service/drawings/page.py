"""The sheet: heading, views, words, and the bar that proves the scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from service.drawings.elements import (
    BODY,
    FAULT_INK,
    INCH,
    OUTLINE,
    SMALL,
    THIN,
    View,
    number,
    plain,
    width_of,
    wrapped,
)

Ground = Literal["clear", "paper"]

#: fits a narrow phone at true scale
NARROWEST: Final = Fraction(86)
MARGIN: Final = Fraction(4)
APART: Final = Fraction(9)
HEADING: Final = Fraction(42, 10)


@dataclass(frozen=True, slots=True)
class Words:
    """What a sheet says beside its lines.

    ``faults`` are marked and ``held`` says what is outline only: both stand in the picture, at the size of its dimensions.
    ``values`` and ``notes`` are small print, ``cautions`` stand last.
    """

    heading: str
    subject: str
    values: Sequence[str] = ()
    notes: Sequence[str] = ()
    faults: Sequence[str] = ()
    cautions: Sequence[str] = ()
    held: Sequence[str] = ()


def sheet(views: Sequence[View], words: Words, ground: Ground) -> bytes:
    """The drawing as an SVG document: millimetres, to true scale.

    ``clear`` has no ground and takes its ink from the page it stands in; ``paper`` is black on white and looks the same anywhere.
    """
    page = View()
    beside = sum((v.width for v in views), Fraction(0)) + APART * max(len(views) - 1, 0)
    widest = max((v.width for v in views), default=Fraction(0))
    heading = width_of(words.heading, HEADING) * Fraction(11, 10)
    width = max(NARROWEST, widest, heading, beside if beside <= NARROWEST else widest)
    y = _heading(page, words, width)
    y = _views(page, views, width, y, beside <= width)
    y = _in_the_picture(page, words, width, y + BODY)
    y = _bar(page, y + BODY * Fraction(3, 2))
    _paragraphs(page, words, width, y + BODY * 2)
    return _document(page, words, ground, width)


def _heading(page: View, words: Words, width: Fraction) -> Fraction:
    y = HEADING
    page.text((Fraction(0), y), words.heading, HEADING, bold=True)
    for line in wrapped(words.subject, width):
        y += BODY * Fraction(3, 2)
        page.text((Fraction(0), y), line)
    return y + BODY * 2


def _views(page: View, views: Sequence[View], width: Fraction, y: Fraction, beside: bool) -> Fraction:
    """Place the views: on one axis where they fit, else one below the other, the last view first. Returns where they end."""
    if beside and views:
        total = sum((v.width for v in views), Fraction(0)) + APART * (len(views) - 1)
        x, axis = max((width - total) / 2, Fraction(0)), y - min(v.top for v in views)
        for view in views:
            page.place(view, x - view.left, axis)
            x += view.width + APART
        return axis + max(v.bottom for v in views)
    for view in reversed(views):
        page.place(view, (width - view.width) / 2 - view.left, y - view.top)
        y += view.height + BODY
    return y


def _bar(page: View, y: Fraction) -> Fraction:
    """A bar one inch long, with eighths, and what it is for."""
    zero = Fraction(0)
    page.shape([(zero, y - 2), (zero, y), (INCH, y), (INCH, y - 2)], OUTLINE, closed=False)
    page.lines([((INCH * i / 8, y), (INCH * i / 8, y - (Fraction(3, 2) if i == 4 else 1))) for i in range(1, 8)], THIN)
    page.text((INCH + 2, y - Fraction(4, 10)), "1 inch (25.4 mm). True scale", BODY)
    page.text((INCH + 2, y + BODY), "when this bar measures that.", BODY)
    return y + BODY


def _in_the_picture(page: View, words: Words, width: Fraction, y: Fraction) -> Fraction:
    """What is wrong and what is outline only, at the size of the dimensions. Returns where it ends."""
    zero = Fraction(0)
    for lines, ink, bold in ((words.faults, FAULT_INK, True), (words.held, "currentColor", False)):
        for line in lines:
            for piece in wrapped(line, width * Fraction(9, 10) if bold else width):
                y += BODY * Fraction(14, 10)
                page.text((zero, y), piece, ink=ink, bold=bold)
            y += BODY / 3
    return y


def _paragraphs(page: View, words: Words, width: Fraction, y: Fraction) -> None:
    for lines in (words.values, words.notes):
        for line in lines:
            for piece in wrapped(line, width, SMALL):
                page.text((Fraction(0), y), piece, SMALL)
                y += SMALL * Fraction(14, 10)
        y += SMALL / 2 if lines else 0
    for line in words.cautions:
        for piece in wrapped(line, width, SMALL):
            page.text((Fraction(0), y), piece, SMALL)
            y += SMALL * Fraction(14, 10)


def _document(page: View, words: Words, ground: Ground, width: Fraction) -> bytes:
    left, top = page.left - MARGIN, page.top - MARGIN
    wide, high = max(page.right, width) + MARGIN - left, page.height + 2 * MARGIN
    said = [words.subject, *words.faults, *words.held, *words.values, *words.notes, *words.cautions]
    box = f"{number(left)} {number(top)} {number(wide)} {number(high)}"
    paper = f'<rect x="{number(left)}" y="{number(top)}" width="{number(wide)}" height="{number(high)}" fill="#fff"/>'
    ink = ' color="#000"' if ground == "paper" else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(wide)}mm" height="{number(high)}mm" viewBox="{box}" role="img"{ink} '
        f'font-family="sans-serif" stroke-linejoin="round"><title>{plain(words.heading)}, drawn to true scale</title>'
        f"<desc>{plain('. '.join(line.rstrip('.') for line in said))}.</desc>{paper if ground == 'paper' else ''}"
        f"{''.join(page.elements)}</svg>\n"
    ).encode()
