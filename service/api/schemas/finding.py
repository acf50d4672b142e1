"""Shapes of questions and answers about parts whose number is not known, or not yet whole, or lost in a text."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from service.api.schemas import Attribute, Cited, Noticed, NumberProblem, OutcomeWord, Shape
from service.api.schemas.joints import NotNegative, NumberIn, Positive
from service.tables.rows import Kind

Name = Annotated[str, Field(max_length=60)]


class LeftOutShape(Shape):
    """Families that were left out because no row says what an attribute is there."""

    attribute: str
    families: list[str]
    reason: str


class FoundShape(Shape):
    """A number that meets what is wanted, with the values that were asked about."""

    number: str
    family: str
    kind: str
    description: str
    attributes: dict[str, Attribute]


class SearchAnswer(Noticed):
    """A page of numbers. What could not be searched is said."""

    items: list[FoundShape]
    next: str | None = Field(description="Cursor of the next page; null on the last.")
    total: int = Field(description="Numbers that meet the question, on all pages.")
    left_out: list[LeftOutShape]
    partly_known: list[LeftOutShape] = Field(description="Families searched only as far as rows give the attribute.")


class RangeWanted(Shape):
    """From ``min`` to ``max``, both included; one of them may be left out."""

    min: NumberIn | None = None
    max: NumberIn | None = None


class EncodeAsked(Shape):
    """A requirement: attributes and what they must be."""

    kind: Kind | None = None
    family: Name | None = Field(None, description="A family, or one of its basic numbers.")
    attributes: dict[Name, bool | RangeWanted | Annotated[str, Field(max_length=200)] | float | list[Annotated[str, Field(max_length=200)]]] = Field(
        min_length=1, max_length=20,
        description="A value, a list of words any of which will do, or {min, max}. Quantities in the unit of the attribute; fractions as text.",
    )  # fmt: skip
    limit: int = Field(100, ge=1, le=500, description="Most numbers in the answer.")
    misses: int = Field(20, ge=0, le=100, description="Most near misses in the answer.")


class NearMissShape(Shape):
    """A number that fails on exactly one attribute; one number for each value that rules out."""

    number: str
    family: str
    kind: str
    description: str
    attribute: str = Field(description="The only attribute that fails.")
    wanted: str
    value: Attribute | None = Field(description="What it is instead; null where no row of the family gives it.")
    by: str | None = Field(description="How far a quantity misses, in its unit.")
    reason: str


class EncodeAnswer(Noticed):
    """Every number that meets a requirement, up to the limit stated, and what nearly meets it."""

    numbers: list[FoundShape]
    total: int
    limit: int
    more: bool = Field(description="Whether there are more numbers than the limit.")
    near_misses: list[NearMissShape]
    near_misses_in_all: int
    left_out: list[LeftOutShape]
    partly_known: list[LeftOutShape]


class CompletionShape(Cited):
    """A way on from what was typed."""

    text: str = Field(description="The canonical text as far as this piece.")
    family: str
    kind: str
    title: str
    slot: str
    code: str
    caption: str
    meaning: str
    complete: bool = Field(description="The text is a whole number.")
    open: bool = Field(description="More pieces may follow.")


class CompleteAnswer(Noticed):
    """Completions by one piece."""

    prefix: str
    items: list[CompletionShape]
    total: int
    more: bool


class ReadingAsked(Shape):
    """A caliper reading."""

    quantity: Name = Field(description="A length among the attributes; see the table `attributes`.")
    value: Positive
    unit: Literal["[in_i]", "mm"] = "[in_i]"
    uncertainty: NotNegative = Field(description="Half the width of what the reading may be, same unit. It is not assumed.")


class IdentifyAsked(Shape):
    """What can be seen and measured of a part."""

    readings: list[ReadingAsked] = Field([], max_length=20)
    thread: str | None = Field(None, max_length=20, examples=["1/4-28"], description="By a thread gauge.")
    threads_per_inch: int | None = Field(None, ge=1, le=100)
    head_mark: str | None = Field(None, max_length=80, examples=["raised cross"])
    colour: str | None = Field(None, max_length=40)
    magnetic: bool | None = Field(None, description="Whether a magnet sticks.")
    kind: Kind | None = None
    limit: int = Field(10, ge=1, le=50)


class SaidShape(Cited):
    """What one clue says of a candidate."""

    clue: str
    observed: str
    verdict: Literal["for", "allowed", "doubtful", "against", "silent"]
    value: str | None
    text: str


class OpenPieceShape(Shape):
    """A piece of the number that the clues leave open."""

    slot: str
    caption: str
    codes: list[str] = Field(description="At most 40.")
    possible: int


class FixedPieceShape(Shape):
    """A piece of the number that the clues settle, if the candidate is the part."""

    slot: str
    code: str
    meaning: str


class IdentifiedShape(Shape):
    """Numbers of one basic number about which every clue says the same."""

    rank: int
    basic: str
    family: str
    kind: str
    title: str
    example: str = Field(description="One number of the group.")
    numbers: int = Field(description="How many numbers the group holds.")
    score: int = Field(description="Only for the order: for 4, allowed 1, doubtful -2, against -12; a mark, colour or magnet counts a quarter.")
    fixed: list[FixedPieceShape]
    open: list[OpenPieceShape]
    evidence: list[SaidShape]


class ShowsShape(Shape):
    """What a measurement would show, and for which numbers."""

    value: str
    numbers: list[str]


class NextShape(Shape):
    """The next measurement, least trouble first."""

    attribute: str
    meaning: str
    how: str
    separates: int = Field(description="Pairs of leading candidates told apart, of `pairs`.")
    pairs: int
    shows: list[ShowsShape]


class IdentifyAnswer(Noticed):
    """Ranked candidates; never a decision by marks alone."""

    candidates: list[IdentifiedShape]
    total: int
    decided: bool = Field(description="One basic number alone agrees with every clue and at least two of them are no marks.")
    statement: str
    next_measurement: NextShape | None
    not_asked: int = Field(description="Families that have none of the attributes measured.")


class TextAsked(Shape):
    """A text."""

    text: str = Field(min_length=1, max_length=100_000)


class UnreadShape(Shape):
    """A stretch that nothing here understands; [start, end) in characters."""

    start: int
    end: int
    text: str


class TextPartShape(Shape):
    """A part number in a text; spans are [start, end) in characters."""

    start: int
    end: int
    written: str
    read_as: str
    where: Literal["text", "shorthand", "barcode"]
    number: str | None = Field(description="The canonical number; null when it does not resolve.")
    outcome: OutcomeWord
    spelling: Literal["exact", "reformatted", "corrected"] | None
    family: str | None
    description: str | None
    quantity: int | None = Field(description="Where the text states one.")
    quantity_span: list[int] | None
    lot: str | None
    candidates: list[str] = Field(description="The readings of an ambiguous number; none is chosen.")
    problem: NumberProblem | None


class ElementShape(Shape):
    """A data element of a bar code."""

    identifier: str
    means: Literal["part", "lot", "quantity"]
    value: str
    start: int
    end: int


class PayloadShape(Shape):
    """A bar-code payload, taken apart."""

    start: int
    end: int
    enveloped: bool
    elements: list[ElementShape]
    part: str | None
    lot: str | None
    quantity: int | None
    unread: list[UnreadShape]


class TextAnswer(Noticed):
    """A text read: the numbers in order, the bar codes, what was left unread."""

    characters: int
    parts: list[TextPartShape]
    barcodes: list[PayloadShape]
    unread: list[UnreadShape]
    counts: dict[str, int]


