"""Bar-code payloads: data identifiers (ANSI MH10.8.2) in an ISO/IEC 15434 format 06 envelope, or bare on a label.

Identifiers read, from-memory of the identifier list: ``1P`` item as its supplier numbers it, ``P`` item as its customer numbers it, ``1T`` and ``T`` lot
or traceability number, ``Q`` quantity. Every other element is left unread, with its place.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

#: separators as the standard's control characters, or as the symbols that terminals show for them
_RECORD: Final = "(?:\x1e|\u241e|<RS>)"
_GROUP: Final = "(?:\x1d|\u241d|<GS>)"
_END: Final = "(?:\x04|\u2404|<EOT>)"
_ENVELOPE: Final = re.compile(
    rf"\[\)>{_RECORD}06{_GROUP}(?P<body>[^\x04\u2404\n]*?)(?:{_RECORD}(?:{_END})?|{_END}|(?=\n)|\Z)"
)
_ELEMENT: Final = re.compile(r"(?P<name>1P|1T|P|T|Q)(?P<value>.+)\Z", re.DOTALL)
_BARE: Final = re.compile(r"(?<!\S)(?P<name>1P|1T|Q)(?P<value>[A-Za-z0-9./-]+)(?!\S)")
_MEANS: Final = {"1P": "part", "P": "part", "1T": "lot", "T": "lot", "Q": "quantity"}


@dataclass(frozen=True, slots=True)
class Element:
    """One data element: its identifier, what it means (part, lot, quantity), its value and the value's place in the text."""

    name: str
    means: str
    value: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Payload:
    """One bar-code payload and its place; ``unread`` are the places of elements that are not understood."""

    start: int
    end: int
    elements: tuple[Element, ...]
    unread: tuple[tuple[int, int], ...]
    enveloped: bool

    def first(self, means: str) -> Element | None:
        """The first element with a meaning."""
        return next((element for element in self.elements if element.means == means), None)

    @property
    def quantity(self) -> int | None:
        """The quantity, where it is a whole number."""
        found = self.first("quantity")
        return int(found.value) if found is not None and found.value.isascii() and found.value.isdigit() else None


def payloads(text: str) -> Iterator[Payload]:
    """Every payload in a text: envelopes, and labels that carry a bare ``1P`` with its neighbours."""
    end = 0
    for found in _ENVELOPE.finditer(text):
        yield from _bare(text, end, found.start())
        yield _enveloped(text, found)
        end = found.end()
    yield from _bare(text, end, len(text))


def _enveloped(text: str, found: re.Match[str]) -> Payload:
    elements: list[Element] = []
    unread: list[tuple[int, int]] = []
    begin, stop = found.span("body")
    bounds = [
        begin,
        *(p for gap in re.finditer(_GROUP, text[begin:stop]) for p in (begin + gap.start(), begin + gap.end())),
        stop,
    ]
    for start, end in zip(bounds[::2], bounds[1::2], strict=True):
        piece = _ELEMENT.match(text[start:end])
        if piece is not None and (piece["name"] != "Q" or piece["value"].isdecimal()):
            at = start + piece.start("value")
            elements.append(Element(piece["name"], _MEANS[piece["name"]], piece["value"], at, end))
        elif end > start:
            unread.append((start, end))
    return Payload(found.start(), found.end(), tuple(elements), tuple(unread), enveloped=True)


def _bare(text: str, begin: int, stop: int) -> Iterator[Payload]:
    """Labels without an envelope: each ``1P`` and the ``1T`` and ``Q`` that follow it with nothing else between."""
    group: list[Element] = []
    for found in _BARE.finditer(text, begin, stop):
        element = Element(found["name"], _MEANS[found["name"]], found["value"], found.start("value"), found.end())
        touching = bool(group) and not text[group[-1].end : found.start()].strip()
        if element.name == "1P":
            if group:
                yield _label(group)
            group = [element] if any(c.isdigit() for c in element.value) else []
        elif touching and not any(e.name == element.name for e in group) and _counts(element):
            group.append(element)
    if group:
        yield _label(group)


def _counts(element: Element) -> bool:
    """Whether an element that is a quantity is a number."""
    return element.name != "Q" or element.value.isdecimal()


def _label(group: list[Element]) -> Payload:
    return Payload(group[0].start - len(group[0].name), group[-1].end, tuple(group), (), enveloped=False)
