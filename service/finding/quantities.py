"""How many: the quantity that a line of text states beside a part number, in the ways a parts list or a bag writes it."""

from __future__ import annotations

import re
from typing import Final

_COUNT: Final = r"(\d{1,6})"
_PIECES: Final = r"(?:(?:ea|each|pcs?|pieces?|off|reqd?|req'd|required)\b\.?)"
_QTY: Final = r"(?:\b(?:qty|quantity)\b\.?[ \t]*[:=]?[ \t]*)"
_APART: Final = "[ \\t,:;|\u2013\u2014-]*"

#: directly behind the number: x4; (4), (4 ea); qty 4; 4 ea; 4 x where nothing is multiplied behind it
_AFTER: Final = re.compile(
    rf"[ \t]*[x×*][ \t]*{_COUNT}(?![\w./-])"
    rf"|[ \t,]*\([ \t]*{_QTY}?(?:[x×][ \t]*)?{_COUNT}[ \t]*{_PIECES}?[ \t]*\)"
    rf"|{_APART}\(?{_QTY}{_COUNT}(?![\w./])\)?"
    rf"|{_APART}(?<![\w.]){_COUNT}[ \t]*{_PIECES}"
    rf"|[ \t]+{_COUNT}[ \t]*[x×](?=[ \t]*(?:[\r\n;,]|\Z))",
    re.IGNORECASE,
)
#: directly in front of it: 4 x; 4 ea, 4 ea of; (4); qty 4
_BEFORE: Final = re.compile(
    rf"(?<![\w./-]){_COUNT}[ \t]*(?:[x×]|{_PIECES}(?:[ \t]+of\b)?)[ \t]*[:,-]?[ \t]*\Z"
    rf"|\([ \t]*{_COUNT}[ \t]*{_PIECES}?[ \t]*\)[ \t]*\Z"
    rf"|{_QTY}{_COUNT}[ \t]*{_PIECES}?[ \t]*[x×,:;-]?[ \t]*\Z",
    re.IGNORECASE,
)
#: how far in front of a number its quantity may begin
_REACH: Final = 32


def before(text: str, start: int, floor: int) -> int | None:
    """The quantity that ends where a number starts; nothing in front of ``floor`` is looked at."""
    found = _BEFORE.search(text[max(floor, start - _REACH) : start])
    return _count(found) if found is not None else None


def after(text: str, end: int, stop: int) -> tuple[int | None, int]:
    """The quantity that begins where a number ends, and where its words end; (None, end) where there is none."""
    found = _AFTER.match(text, end, stop)
    return (None, end) if found is None else (_count(found), found.end())


def _count(found: re.Match[str]) -> int:
    return next(int(group) for group in found.groups() if group is not None)
