"""What reading a number gives: a Designation, or a Refusal that teaches.

::

    Outcome
    |-- Designation  decoded       the number names one part
    `-- Refusal
        |-- not-made       well written, but no such number is made (AN4-18A: eighths run 0 to 7)
        |-- not-covered    a number of a family that the tables do not hold
        |-- ambiguous      more than one reading; the candidates are listed, none is chosen
        `-- unreadable     not written in the grammar of any family held
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.catalogue.family import FamilySpec
from service.catalogue.values import Citation

RefusedAs = Literal["not-made", "not-covered", "ambiguous", "unreadable"]
Spelling = Literal["exact", "reformatted", "corrected"]


@dataclass(frozen=True, slots=True)
class Correction:
    """One change that turned what was typed into the canonical number."""

    found: str
    read: str
    reason: str


@dataclass(frozen=True, slots=True)
class Designation:
    """A number read: its family, one code a slot, and how far the spelling had to be mended."""

    number: str
    family: FamilySpec
    codes: tuple[str, ...]
    asked: str
    spelling: Spelling = "exact"
    corrections: tuple[Correction, ...] = ()


@dataclass(frozen=True, slots=True)
class Piece:
    """The piece that could not be read: where it stands in the cleaned text, and what was expected there."""

    text: str
    start: int
    slot: str
    caption: str
    expected: str


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a number cannot be answered, and what exists nearby."""

    outcome: RefusedAs
    asked: str
    title: str
    detail: str
    family: str | None = None
    piece: Piece | None = None
    neighbours: tuple[str, ...] = ()
    candidates: tuple[str, ...] = ()
    citation: Citation | None = None


Outcome = Designation | Refusal
