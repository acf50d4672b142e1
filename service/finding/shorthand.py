"""Shorthand lists: ``AN3-22A,26A,41A`` names three numbers, ``AN960-10, -416, -416L`` too. Each item is the number before it with its last pieces replaced."""

from __future__ import annotations

import re
from typing import Final

from service.catalogue.slots import NONE
from service.designation.reader import Reader
from service.designation.reading import Designation, Outcome

_DASH: Final = "-\u2010-\u2015\u2212"
_ITEM: Final = re.compile(
    rf"(?P<gap>[ \t]*(?:[,;&/+]|\band\b|\bor\b)[ \t]*(?:(?:and|or)\b[ \t]*)?)(?P<dash>[{_DASH}]?)(?P<piece>[A-Za-z0-9]+(?:[{_DASH}][A-Za-z0-9]+|\.\d+)*)",
    re.IGNORECASE,
)
_JOINS: Final = re.compile(r"[ \t]*(?:and|or|thru|through|to)\b", re.IGNORECASE)
_WORD_NEXT: Final = re.compile(r"[ \t]+[A-Za-z]{2,}")


def next_item(
    reader: Reader,
    text: str,
    at: int,
    before: Designation,
    stop: int,
    measured: re.Pattern[str],
    begun: re.Pattern[str],
) -> tuple[int, int, str, Outcome] | None:
    """The next item of a list behind a number: (start, end, read as, outcome), or None where the list ends.

    ``measured`` tells a measure or count that follows, ``begun`` a new number.
    """
    item = _ITEM.match(text, at, stop)
    if item is None or begun.match(text, item.start("piece"), stop):
        return None
    piece, start = item["piece"], item.start("dash")
    bare = piece.isdecimal() and not item["dash"]
    if not any(c.isdigit() for c in piece) or measured.match(text, item.end(), stop):
        return None
    if bare and _WORD_NEXT.match(text, item.end(), stop) and not _JOINS.match(text, item.end(), stop):
        return None  # "AN4-12, 8 hours later": a word behind bare digits makes them a count of something
    outcome = _replaced(reader, before, piece, dashed=bool(item["dash"]), alike=bare)
    if outcome is not None:
        return start, item.end(), outcome.number, outcome
    if not item["dash"]:
        return None
    read_as = f"{before.codes[0]}-{piece}"
    return start, item.end(), read_as, reader.read(read_as)


def _replaced(reader: Reader, before: Designation, piece: str, dashed: bool, alike: bool) -> Designation | None:
    """The number before with its last pieces replaced, as many of its pieces kept as can be; None when no reading is a number that exists."""
    codes, family = before.codes, before.family
    piece = re.sub(f"[{_DASH}]", "-", piece).upper()
    for kept in range(len(codes) - 1, 0, -1):
        if codes[kept] == NONE:
            continue  # nothing stood there: the item replaces pieces, it does not add to them
        stem = family.format((*codes[:kept], *(NONE,) * (len(codes) - kept)))
        tail = "".join(c for c in codes[kept:] if c != NONE)
        if alike and (len(piece) != len(tail) or not tail.isdecimal()):
            continue
        if piece[0].isdigit() != codes[kept][0].isdigit():
            continue
        for joint in ("", "-") if not dashed else ("-", ""):
            found = reader.read(stem + joint + piece)
            if isinstance(found, Designation) and _kept(found, before, kept):
                return found
    return None


def _kept(found: Designation, before: Designation, kept: int) -> bool:
    """Whether a reading has the pieces that were kept, and was not mended out of other ones."""
    return found.spelling != "corrected" and found.family is before.family and found.codes[:kept] == before.codes[:kept]
