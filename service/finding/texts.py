"""Part numbers in free text: a line, a bag label, a logbook entry, a whole parts list.

The text is read once from front to back. A number begins where a prefix of the tables stands before a digit; the reader decides what it is.
Shorthand behind a number (``AN3-22A,26A``; ``AN960-416, -416L``) is written out from the number it follows, and stays unresolved where that
gives no number or several.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from service.catalogue.catalogue import Catalogue
from service.designation import explain
from service.designation.reader import Reader
from service.designation.reading import Designation, Outcome, Refusal
from service.designation.spelling import LONGEST
from service.finding import barcodes, quantities
from service.finding.barcodes import Payload

Origin = Literal["written out", "shorthand", "bar code"]

#: prefixes of standards that look like part numbers whether or not a table here holds the family
PLAUSIBLE: Final = frozenset({"AN", "AND", "MS", "NAS", "NASM"})

_DASH: Final = "-\u2010-\u2015\u2212\uff0d_"
_PIECE: Final = rf"[A-Za-z0-9]+(?:[{_DASH}./][A-Za-z0-9]+)*"
#: what parts the members of a shorthand list
_GAP: Final = re.compile(r"[ \t]*(?:,[ \t]*(?:and\b|or\b|&)?|/|&|\band\b|\bor\b)[ \t]*", re.IGNORECASE)
_MEMBER: Final = re.compile(
    rf"(?P<dash>[{_DASH}])?(?P<body>[A-Za-z]{{0,3}}\d+[A-Za-z0-9]*(?:[{_DASH}][A-Za-z0-9]+)*)(?![A-Za-z0-9]|[{_DASH}./]\w)"
)
_TAIL: Final = re.compile(r"[A-Za-z]*(?P<digits>\d+)(?P<letters>[A-Za-z]*)\Z")
_SHAPE: Final = re.compile(r"(?P<digits>\d+)(?P<letters>[A-Za-z]*)\Z")
_MULTIPLE: Final = re.compile(r"(?<=[A-Za-z0-9])[xX]\d{1,4}\Z")
#: a measure behind digits makes them no part number (AN 8-12 VOLT LAMP), a measure or a count no further piece of one (12 May, 4 ea)
_UNITS: Final = (
    "in|inch|inches|ft|feet|foot|mm|cm|m|lbs?|oz|gal|psi|volts?|v|vdc|amps?|amperes?|watts?|w|ohms?|"
    "hours?|hrs?|days?|weeks?|months?|years?|yrs?|minutes?|min|deg|degrees?|percent|pages?|jan|january|feb|february|mar|march|apr|april|may|june?|july?|"
    "aug|august|sept?|september|oct|october|nov|november|dec|december"
)
_MEASURED: Final = re.compile(rf"[ \t]*-?[ \t]*(?:(?:{_UNITS})\b|[%\u00b0])", re.IGNORECASE)
_COUNTED: Final = re.compile(
    rf"[ \t]*-?[ \t]*(?:(?:x|ea|each|pcs?|pieces?|off|required|req'?d|per|{_UNITS})\b|[×%\u00b0])|(?<=\d)[\"'](?!\w)",
    re.IGNORECASE,
)
_WORD_NEXT: Final = re.compile(r"[ \t]+(?!(?:and|or|thru|through|to|with)\b)[a-z]{2,}", re.IGNORECASE)
#: a letter apart from its number: "AN4-12 A"; a size apart: "AN960 416"
_APART: Final = re.compile(r"[ \t]+(?P<word>-?[A-Za-z0-9]+(?:-[A-Za-z0-9]+)*)(?![A-Za-z0-9]|[-./]\w)")


@dataclass(frozen=True, slots=True)
class Mention:
    """A part number in a text: its place (``text[start:end] == as_written``), how it was read, and the quantity stated."""

    start: int
    end: int
    as_written: str
    read_as: str
    origin: Origin
    outcome: Outcome
    quantity: int | None = None
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Unread:
    """A place that looks like a part number, or a bar-code element, and is not understood."""

    start: int
    end: int
    as_written: str
    reason: str


@dataclass(frozen=True, slots=True)
class TextRead:
    """Everything found in a text, in order, and the bar-code payloads it holds."""

    mentions: tuple[Mention, ...]
    unread: tuple[Unread, ...]
    payloads: tuple[Payload, ...]


class TooMany(Exception):
    """The text holds more numbers than one call may ask for."""


class TextReader:
    """Reads texts against one catalogue."""

    def __init__(self, catalogue: Catalogue, reader: Reader) -> None:
        self.catalogue, self.reader = catalogue, reader

    @cached_property
    def _start(self) -> re.Pattern[str]:
        held = {basic.rstrip("0123456789") for basic in self.catalogue.by_basic}
        prefixes = "|".join(sorted((re.escape(p) for p in held | PLAUSIBLE), key=len, reverse=True))
        # lower case is taken only where the digits touch: "an 8 ft rope" is no part
        return re.compile(
            rf"(?:(?<![A-Za-z0-9])(?<![A-Za-z0-9][{_DASH}.])|(?<=\d[xX×]))"
            rf"(?:(?:(?i:{prefixes})[{_DASH}]?|(?:{prefixes})[ \t])(?=\d){_PIECE})"
        )

    def read(self, text: str, most: int = 1000) -> TextRead:
        """Every part number in a text; the work grows with its length, not faster. TooMany when ``most`` is exceeded, nothing else."""
        known: dict[str, Outcome] = {}
        payloads = tuple(barcodes.payloads(text))
        found: list[Mention | Unread] = []
        for one in self._in_order(text, payloads, known):
            found.append(one)
            if len(found) > most:
                raise TooMany
        return TextRead(
            tuple(m for m in found if isinstance(m, Mention)),
            tuple(u for u in found if isinstance(u, Unread)),
            payloads,
        )

    def _in_order(
        self, text: str, payloads: tuple[Payload, ...], known: dict[str, Outcome]
    ) -> Iterator[Mention | Unread]:
        begin = 0
        for payload in payloads:
            yield from self._plain(text, begin, payload.start, known)
            yield from self._payload(text, payload, known)
            begin = payload.end
        yield from self._plain(text, begin, len(text), known)

    def _outcome(self, number: str, known: dict[str, Outcome]) -> Outcome:
        outcome = known.get(number)
        if outcome is None:
            outcome = known[number] = self.reader.read(number)
        return outcome

    def _payload(self, text: str, payload: Payload, known: dict[str, Outcome]) -> Iterator[Mention | Unread]:
        lot = payload.first("lot")
        parts = [element for element in payload.elements if element.means == "part"]
        for element in parts:
            outcome = self._outcome(element.value, known)
            if isinstance(outcome, Refusal) and outcome.outcome in {"not-covered", "unreadable"}:
                yield Unread(element.start, element.end, element.value, outcome.detail)
            else:
                one = len(parts) == 1
                yield Mention(
                    element.start, element.end, element.value, element.value, "bar code", outcome,
                    payload.quantity if one else None, lot.value if lot is not None and one else None,
                )  # fmt: skip
        for start, end in payload.unread:
            yield Unread(start, end, text[start:end], "a data element with an identifier that is not read here")

    def _plain(self, text: str, begin: int, stop: int, known: dict[str, Outcome]) -> Iterator[Mention | Unread]:
        at = floor = begin
        while True:
            token = self._start.search(text, at, stop)
            if token is None:
                return
            first = self._first(text, token, stop, known)
            if first is None:
                at = token.end()
                continue
            if isinstance(first, Unread):
                yield first
                at = floor = first.end
                continue
            count = quantities.before(text, first.start, floor)
            at = first.end
            if count is None:
                count, at = quantities.after(text, at, stop)
                listed = list(self._shorthand(text, first, at, stop, known))
            else:
                listed = list(self._shorthand(text, first, at, stop, known))
                # in front of a whole list it may be meant for each or for all together: then it is nobody's
                count = None if listed else count
            yield _counted(first, count)
            yield from listed
            for mention in listed:
                at = quantities.after(text, mention.end, stop)[1] if isinstance(mention, Mention) else mention.end
            at = floor = min(at, stop)

    def _first(self, text: str, token: re.Match[str], stop: int, known: dict[str, Outcome]) -> Mention | Unread | None:
        """What a token is: the longest reading of it, with the piece apart behind it where only both together are a number."""
        start = token.start()
        spaced = " " in token[0] or "\t" in token[0]
        if len(token[0]) > LONGEST:
            return Unread(start, token.end(), token[0], explain.too_long(token[0]).detail)
        refused: Refusal | None = None
        for end in _ends(token[0], start):
            written = text[start:end]
            outcome = self._outcome(written, known)
            if spaced and _MEASURED.match(text, end, stop):
                return None  # AN 8-12 VOLT LAMP: an article and a measure
            if isinstance(outcome, Designation):
                return Mention(
                    start, end, written, written, "written out", self._whole(outcome, text, end, stop, known)
                )
            refused = refused or outcome
        apart = _APART.match(text, token.end(), stop)
        if apart is not None and _COUNTED.match(text, apart.end(), stop):
            apart = None  # AN310 4 ea: a count, no size
        if apart is not None and apart.end() - start <= LONGEST and any(c.isdigit() for c in apart["word"]):
            written = text[start : apart.end()]
            outcome = self._outcome(written, known)
            if isinstance(outcome, Designation) and outcome.spelling != "corrected":
                return Mention(start, apart.end(), written, written, "written out", outcome)
        # a space or small letters: words, unless a family that is held and a piece behind its basic number are named
        if refused is None:
            return None
        loose = spaced or not token[0][:2].isupper()
        if loose and (refused.family is None or not re.search(rf"\d[A-Za-z]*[{_DASH}][A-Za-z]*\d", token[0])):
            return None
        end = token.end()
        if refused.outcome in {"not-covered", "unreadable"}:
            return Unread(start, end, token[0], refused.detail)
        return Mention(start, end, token[0], token[0], "written out", refused)

    def _whole(self, outcome: Designation, text: str, end: int, stop: int, known: dict[str, Outcome]) -> Outcome:
        """The outcome, unless a capital letter apart behind it would make another number of it: then both are candidates."""
        letter = re.compile(r"[ \t]([A-Z]{1,2})(?=[ \t]*(?:[\r\n,;(]|\Z))").match(text, end, stop)
        if letter is None:
            return outcome
        longer = self._outcome(outcome.number + letter[1], known)
        if isinstance(longer, Designation) and longer.spelling == "exact":
            return explain.ambiguous(outcome.asked + letter[0], [outcome.number, longer.number])
        return outcome

    def _shorthand(
        self, text: str, first: Mention, at: int, stop: int, known: dict[str, Outcome]
    ) -> Iterator[Mention | Unread]:
        """The members of a list that begins with a whole number; each is written out from the last one that was read."""
        base = first.outcome.number if isinstance(first.outcome, Designation) else first.read_as
        while True:
            gap = _GAP.match(text, at, stop)
            member = _MEMBER.match(text, gap.end(), stop) if gap is not None else None
            if member is None or self._start.match(text, member.start(), stop):
                return
            written = member[0]
            alike = bool(member["dash"]) or _like_tail(base, written, text, member.end(), stop)
            if not alike and not (written.isdecimal() and len(written) > 2):
                return
            outcomes = {n: self._outcome(n, known) for n in _written_out(base, written)}
            made = {
                o.number: (n, o)
                for n, o in outcomes.items()
                if isinstance(o, Designation) and o.spelling != "corrected"
            }
            if not outcomes or (not alike and not made):
                return
            if not alike:
                reason = f"may be short for {', '.join(made)}, or a figure of another kind: the dash is missing"
                yield Unread(member.start(), member.end(), written, reason)
                at = member.end()
                continue
            if len(made) == 1:
                read_as, outcome = next(iter(made.values()))
                base = outcome.number
                mention = Mention(member.start(), member.end(), written, read_as, "shorthand", outcome)
            elif made:
                read_as = next(iter(outcomes))
                mention = Mention(
                    member.start(), member.end(), written, read_as, "shorthand", explain.ambiguous(written, list(made))
                )
            else:
                read_as, refusal = next(iter(outcomes.items()))
                if not isinstance(refusal, Refusal) or refusal.outcome in {"not-covered", "unreadable"}:
                    yield Unread(
                        member.start(), member.end(), written, f"read as {read_as} it is no number of the tables"
                    )
                    at = member.end()
                    continue
                mention = Mention(member.start(), member.end(), written, read_as, "shorthand", refusal)
            count, at = quantities.after(text, member.end(), stop)
            yield _counted(mention, count)


def _counted(mention: Mention, count: int | None) -> Mention:
    return Mention(
        mention.start,
        mention.end,
        mention.as_written,
        mention.read_as,
        mention.origin,
        mention.outcome,
        count,
        mention.lot,
    )


def _ends(token: str, start: int) -> Iterator[int]:
    """Where a number may end inside a token: its end, before an ``x4``, or at a stroke or full stop; never at a dash."""
    yield start + len(token)
    multiple = _MULTIPLE.search(token)
    if multiple is not None:
        yield start + multiple.start()
    for place in range(len(token) - 1, 0, -1):
        if token[place] in "/.":
            yield start + place


def _like_tail(base: str, written: str, text: str, end: int, stop: int) -> bool:
    """Whether a member without its dash is written like the end of the number before it, and is no count and no size."""
    if written[0].isalpha():
        return _same_letters(base, written)
    tail, member = _TAIL.search(base), _SHAPE.match(written)
    if tail is None or member is None:
        return False
    if _COUNTED.match(text, end, stop):
        return False
    if not tail["letters"] and not member["letters"]:
        # "AN3-10, 12 bolts": bare digits before a word count something
        return len(tail["digits"]) == len(member["digits"]) and not _WORD_NEXT.match(text, end, stop)
    if not member["letters"]:
        return False
    return abs(len(tail["digits"]) - len(member["digits"])) <= 1


def _same_letters(base: str, written: str) -> bool:
    """Whether the member begins with the letters that its piece of the base begins with."""
    letters = re.match(r"[A-Za-z]+", written)
    pieces = re.findall(r"\d([A-Za-z]+)(?=\d)", base)
    return letters is not None and letters[0].upper() in pieces


def _written_out(base: str, written: str) -> list[str]:
    """The numbers a member may stand for: the base with as many of its last pieces exchanged as the member has."""
    plain = re.sub(rf"[{_DASH}]", "-", written)
    stem = base.split("-")
    count = plain.lstrip("-").count("-") + 1
    found: list[str] = []
    if len(stem) > count:
        found.append("-".join(stem[:-count]) + "-" + plain.lstrip("-"))
    elif len(stem) == 1 and plain.startswith("-"):
        found.append(base + plain)
    head = re.match(r"[A-Z]+\d+", base)
    if head is not None and not plain.startswith("-"):
        letters = re.match(r"[A-Z]*", base[head.end() :])
        own = plain[0].isalpha()
        if own or len(stem) == 1:
            found.append(head[0] + ("" if own or letters is None else letters[0]) + plain)
    elif head is not None and len(stem) == 1:
        found.append(head[0] + plain)
    return list(dict.fromkeys(found))
