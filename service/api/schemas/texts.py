"""Shapes of a text to be searched for part numbers, and of what was found."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from service.api.schemas import Noticed, NumberProblem, OutcomeWord, Shape

#: longest text of one call, in characters
LONGEST_TEXT = 200_000


class TextAsked(Shape):
    """A text."""

    text: str = Field(max_length=LONGEST_TEXT, examples=["4 ea AN3-5A, AN960-10, -10L (8)"])


class SpanShape(Shape):
    """A place in the text: [start, end) in Unicode characters."""

    start: int
    end: int
    as_written: str = Field(description="The characters from start to end.")


class MentionShape(SpanShape):
    """A part number found."""

    origin: Literal["written out", "shorthand", "bar code"]
    read_as: str = Field(description="As written; for shorthand, written out from the number it follows.")
    outcome: OutcomeWord
    number: str | None = Field(description="The canonical number; null where it does not resolve.")
    spelling: Literal["exact", "reformatted", "corrected"] | None
    family: str | None
    kind: str | None
    description: str | None
    quantity: int | None = Field(description="Only where the text states one for this number.")
    lot: str | None = Field(description="Lot or traceability number, from a bar code.")
    candidates: list[str] = Field(description="Of an ambiguous number; none is chosen.")
    problem: NumberProblem | None


class UnreadPlaceShape(SpanShape):
    """What looks like a part number, or is an element of a bar code, and is not understood."""

    reason: str


class ElementShape(SpanShape):
    """A data element; `as_written` is without its identifier."""

    identifier: str
    means: Literal["part", "lot", "quantity"]


class PayloadShape(Shape):
    """A bar-code payload taken apart."""

    start: int
    end: int
    enveloped: bool = Field(description="Whether it stands in an ISO/IEC 15434 envelope.")
    elements: list[ElementShape]
    part: str | None
    lot: str | None
    quantity: int | None


class TextAnswer(Noticed):
    """The part numbers of a text, in the order they stand in."""

    parts: list[MentionShape]
    unread: list[UnreadPlaceShape]
    payloads: list[PayloadShape]
    counts: dict[str, int] = Field(description="How many of each outcome.")
