"""What people type, made plain before the grammar sees it: case, dashes, spaces, prefixes, look-alike characters."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations, product
from typing import Final

from service.designation.reading import Correction

#: longest text that can be a part number; anything longer is refused unread
LONGEST: Final = 40

_DASHES: Final = re.compile("[\u2010-\u2015\u2212\ufe58\ufe63\uff0d_]")
_GAPS: Final = re.compile(r"[\s.]*-[\s-]*|\s+")
_PREFIX: Final = re.compile(r"^(?:P/?N|PART\s*(?:NO|NUMBER)?)\b[\s.:#-]*")
_HEAD_DASH: Final = re.compile(r"^([A-Z]+)-(?=\d)")
_QUOTES: Final = " \t\r\n\"'`,;:()[]"

#: characters that are mistaken for each other on bags and worn parts
LOOKALIKES: Final = {
    "O": "0", "Q": "0", "0": "O", "I": "1", "L": "1", "|": "1", "1": "IL", "S": "5", "5": "S", "B": "8", "8": "B", "Z": "2", "2": "Z",
}  # fmt: skip


def tidy(text: str) -> str:
    """Upper case, one kind of dash, spaces as dashes, no label words: the form the grammar reads."""
    plain = _DASHES.sub("-", text.strip(_QUOTES)).upper()
    plain = _PREFIX.sub("", plain).strip(_QUOTES)
    plain = _GAPS.sub("-", plain).strip("-")
    return _HEAD_DASH.sub(r"\1", plain)


def basic_as_filed(head: str) -> tuple[str, ...]:
    """The basic numbers that a document's own number may stand for: NASM sheets keep the old prefix on the part."""
    if head.startswith("NASM"):
        return ("MS" + head[4:], "AN" + head[4:])
    return ()


def lookalikes(text: str, most: int = 2, limit: int = 120) -> Iterator[tuple[int, str, tuple[Correction, ...]]]:
    """``text`` with up to ``most`` look-alike characters exchanged, fewest changes first, with the corrections made."""
    places = [i for i, char in enumerate(text) if char in LOOKALIKES]
    made = 0
    for count in range(1, most + 1):
        for chosen in combinations(places, count):
            for swap in product(*(LOOKALIKES[text[i]] for i in chosen)):
                made += 1
                if made > limit:
                    return
                chars = list(text)
                for i, char in zip(chosen, swap, strict=True):
                    chars[i] = char
                corrections = tuple(
                    Correction(text[i], char, f"{text[i]} and {char} look alike")
                    for i, char in zip(chosen, swap, strict=True)
                )
                yield count, "".join(chars), corrections
