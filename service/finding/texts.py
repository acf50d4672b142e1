"""Part numbers in free text: where each stands, what it says, how many are asked for, and what was left unread.

A stretch of text is a candidate only when it begins with letters that begin a basic number of the tables and goes on with digits. What the reader then
cannot resolve stays unresolved. A quantity counts only where it is stated as one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from service.catalogue.catalogue import Catalogue
from service.designation.reader import Reader
from service.designation.reading import Designation, Outcome, Refusal
from service.finding.barcodes import Payload, payloads
from service.finding.shorthand import next_item

Where = Literal["text", "shorthand", "barcode"]

_DASH: Final = "-\u2010-\u2015\u2212_"
_UNITS: Final = "in|inch|inches|ft|feet|foot|mm|cm|m|v|volts?|amps?|a|hours?|hrs?|days?|years?|yrs?|oz|lbs?|gal|psi|ohms?|watts?|w|min|minutes?|pages?|deg|degrees?"
_MONTHS: Final = "jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec"
_COUNT: Final = "ea|each|pcs?|pieces?|off|reqd|req'd|required|places|plcs?"
#: what follows a number that only looks like a piece of a part number
_MEASURED: Final = re.compile(rf"[ \t]*(?:(?:{_UNITS}|{_COUNT})\b|[\"'%\u00b0]|(?:{_MONTHS})[a-z]*\b|[/:]\d)", re.IGNORECASE)
_MORE: Final = re.compile(rf"[ \t]*[{_DASH}]?[ \t]*(?P<piece>(?:[A-Za-z]{{1,2}})?\d[A-Za-z0-9{_DASH}]*)")
_BEFORE: Final = re.compile(
    rf"(?:(?<![\w.,/-])(?P<n>\d{{1,5}})[ \t]*(?:(?:{_COUNT})\b\.?|[x\u00d7])[ \t]*(?:of[ \t]+)?"
    rf"|\((?P<p>\d{{1,5}})\)[ \t]*|\b(?:qty|quantity)\b\.?[ \t]*[:=]?[ \t]*(?P<q>\d{{1,5}})[ \t,;:]*)\Z",
    re.IGNORECASE,
)
_AFTER: Final = re.compile(
    rf"[ \t]*[,;:]?[ \t]*(?:\((?:qty\.?[ \t]*)?(?P<p>\d{{1,5}})(?:[ \t]*(?:{_COUNT})\.?)?\)|[x\u00d7][ \t]?(?P<x>\d{{1,5}})\b"
    rf"|(?P<n>\d{{1,5}})[ \t]*(?:(?:{_COUNT})\b\.?|[x\u00d7](?![\w]))|\(?(?:qty|quantity)\b\.?[ \t]*[:=]?[ \t]*(?P<q>\d{{1,5}})\b\)?)",
    re.IGNORECASE,
)
#: how far before a number its quantity may begin
_NEAR: Final = 24
_WORD: Final = re.compile(r"\w")


@dataclass(frozen=True, slots=True)
class Found:
    """A part number found: its place [start, end) in characters, as written, the full number it was read as, what the reader made of it, how many."""

    start: int
    end: int
    written: str
    read_as: str
    outcome: Outcome
    where: Where = "text"
    quantity: int | None = None
    quantity_span: tuple[int, int] | None = None
    lot: str | None = None


@dataclass(slots=True)
class Reading:
    """A text read: the numbers in order, the payloads, and the places of words that nothing here understands."""

    found: list[Found] = field(default_factory=list)
    payloads: list[Payload] = field(default_factory=list)
    unread: list[tuple[int, int]] = field(default_factory=list)


class TooMany(Exception):
    """The text holds more numbers than one call may ask for."""


class TextReader:
    """Reads free text against one catalogue."""

    def __init__(self, catalogue: Catalogue, reader: Reader) -> None:
        self.reader = reader
        letters = {basic.rstrip("0123456789") for basic in catalogue.by_basic}
        # documents of the renumbered series keep their own longer letters on labels
        self._letters = "|".join(sorted({*letters, *("NASM" for one in letters if one == "NAS")}, key=len, reverse=True))
        self._head = re.compile(
            rf"(?<![A-Za-z0-9{_DASH}.])(?P<letters>{self._letters})(?P<gap>[ {_DASH}]?)(?P<digits>\d+)", re.IGNORECASE
        )
        self._begun = re.compile(rf"(?:{self._letters})[ {_DASH}]?\d", re.IGNORECASE)
        self._contiguous = re.compile(rf"(?:[A-Za-z0-9]|[{_DASH}](?=[A-Za-z0-9])|(?<=\d)\.(?=\d))*")

    def read(self, text: str, most: int) -> Reading:
        """Every part number of a text. TooMany when there are more than ``most``."""
        result = Reading()
        at = 0
        for payload in payloads(text):
            self._plain(text, at, payload.start, result, most)
            self._payload(text, payload, result)
            at = payload.end
        self._plain(text, at, len(text), result, most)
        if len(result.found) > most:
            raise TooMany
        result.unread += _gaps(text, result)
        result.unread.sort()
        return result

    def _payload(self, text: str, payload: Payload, result: Reading) -> None:
        result.payloads.append(payload)
        result.unread += payload.unread
        lot, count = payload.first("lot"), payload.first("quantity")
        parts = [element for element in payload.elements if element.means == "part"]
        for part in parts:
            span = (count.start, count.end) if count is not None and len(parts) == 1 else None
            result.found.append(
                Found(
                    part.start, part.end, text[part.start : part.end], part.value, self.reader.read(part.value), "barcode",
                    payload.quantity if span else None, span, lot.value if lot is not None and len(parts) == 1 else None,
                )
            )  # fmt: skip

    def _plain(self, text: str, at: int, stop: int, result: Reading, most: int) -> None:
        taken = at  # what lies before was used: a number, or the quantity of one
        while len(result.found) <= most:
            head = self._head.search(text, at, stop)
            if head is None:
                return
            found = self._number(text, head, stop)
            if found is None:
                at = head.end()
                continue
            chain = self._list(text, found, taken, stop)
            result.found += chain
            spans = [chain[-1].end, *(f.quantity_span[1] for f in chain if f.quantity_span)]
            at = taken = max(spans)

    def _number(self, text: str, head: re.Match[str], stop: int) -> Found | None:
        """The number that begins at ``head``, or None where the words only look like one."""
        start = head.start()
        match = self._contiguous.match(text, start if not head["gap"] else head.start("digits"), stop)
        end = match.end() if match is not None else head.end()
        outcome = self.reader.read(text[start:end])
        spaced = head["gap"] == " "
        capital = head["letters"].isupper()
        if isinstance(outcome, Refusal) and (capital or not spaced):
            longer = self._across_a_gap(text, start, end, stop)
            if longer is not None:
                end, outcome = longer
        if spaced and not (capital and self._sure(text, head, end, outcome, stop)):
            return None
        if isinstance(outcome, Refusal) and not self._worth_telling(text[start:end], head, outcome):
            return None
        if isinstance(outcome, Designation) and outcome.spelling == "corrected" and not capital:
            return None
        return Found(start, end, text[start:end], text[start:end], outcome)

    def _across_a_gap(self, text: str, start: int, end: int, stop: int) -> tuple[int, Outcome] | None:
        """The number with one piece more behind a space, where that piece is no measure or count and the whole then reads."""
        more = _MORE.match(text, end, stop)
        if more is None or _MEASURED.match(text, more.end(), stop):
            return None
        outcome = self.reader.read(text[start : more.end()])
        if isinstance(outcome, Designation) and outcome.spelling != "corrected":
            return more.end(), outcome
        return None

    def _sure(self, text: str, head: re.Match[str], end: int, outcome: Outcome, stop: int) -> bool:
        """Letters and digits parted by a space: a number only when it reads without correction and is no measure (AN 8 INCH HOSE)."""
        if _MEASURED.match(text, end, stop) or not re.search(r"[^\d ]", text[head.start("digits") : end]):
            return False
        return isinstance(outcome, Designation) and outcome.spelling != "corrected"

    def _worth_telling(self, written: str, head: re.Match[str], refusal: Refusal) -> bool:
        """Whether an unresolved stretch is a part number at all: capitals, and a family held or the shape of a number."""
        if not head["letters"].isupper():
            return False
        if refusal.family is not None or refusal.outcome == "ambiguous":
            return True
        tail = written[head.end() - head.start() :]
        return len(head["digits"]) >= 3 or tail[:1] in set("-\u2010\u2011\u2012\u2013\u2014\u2212")

    def _list(self, text: str, first: Found, taken: int, stop: int) -> list[Found]:
        """The number and those of the list behind it that gives only the pieces that change.

        A count before a list, or one behind the whole of it, may be meant for each or for all: it is nobody's. Counts in a list are.
        """
        chain, before = [first], first.outcome
        while isinstance(before, Designation):
            counted = _behind(text, chain[-1], stop)
            at = counted.quantity_span[1] if counted.quantity_span else counted.end
            item = next_item(self.reader, text, at, before, stop, _MEASURED, self._begun)
            if item is None:
                break
            start, end, read_as, outcome = item
            chain[-1] = counted
            chain.append(Found(start, end, text[start:end], read_as, outcome, "shorthand"))
            before = outcome if isinstance(outcome, Designation) else before
        if len(chain) == 1:
            return [_counted(text, first, taken, stop)]
        if any(one.quantity is not None for one in chain):
            chain[-1] = _behind(text, chain[-1], stop)
        return chain


def _counted(text: str, found: Found, taken: int, stop: int) -> Found:
    """``found`` with its quantity, stated before it or behind it."""
    low = max(taken, found.start - _NEAR)
    before = _BEFORE.search(text[low : found.start])
    if before is not None:
        digits = before["n"] or before["p"] or before["q"]
        return replace(found, quantity=int(digits), quantity_span=(low + before.start(), low + before.end()))
    return _behind(text, found, stop)


def _behind(text: str, found: Found, stop: int) -> Found:
    """``found`` with the quantity that stands right behind it, if one does."""
    after = _AFTER.match(text, found.end, stop)
    if after is None:
        return found
    digits = after["p"] or after["x"] or after["n"] or after["q"]
    return replace(found, quantity=int(digits), quantity_span=after.span())


def _gaps(text: str, result: Reading) -> list[tuple[int, int]]:
    """The stretches with words in them that no number, quantity or payload covers."""
    covered = [(f.start, f.end) for f in result.found] + [f.quantity_span for f in result.found if f.quantity_span]
    covered += [(p.start, p.end) for p in result.payloads]
    gaps, at = [], 0
    for start, end in [*sorted(covered), (len(text), len(text))]:
        piece = text[at:start] if start > at else ""
        if _WORD.search(piece):
            lead = len(piece) - len(piece.lstrip())
            gaps.append((at + lead, at + len(piece.rstrip())))
        at = max(at, end)
    return gaps
