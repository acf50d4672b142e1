"""Shapes of questions and answers about parts whose number is not known, or not yet whole, or lost in a text."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, StrictBool

from service.api.schemas import Attribute, Cited, Noticed, NumberProblem, OutcomeWord, Shape
from service.api.schemas.joints import NotNegative, Positive
from service.tables.rows import Kind

#: a size as the trade writes it: a decimal, a fraction, a whole number and a fraction
SIZE_PATTERN = r"^(?:(?:[0-9]+[ -])?[0-9]+/[1-9][0-9]*|[0-9]*\.?[0-9]+)$"
Name = Annotated[str, Field(max_length=60)]
SizeText = Annotated[str, Field(max_length=20, pattern=SIZE_PATTERN)]
SizeNumber = Annotated[Decimal, Field(allow_inf_nan=False, max_digits=20)]
WordText = Annotated[str, Field(min_length=1, max_length=80)]


class BoundsAsked(Shape):
    """A quantity between two sizes, both included; one of them may be left open."""

    min: SizeNumber | SizeText | None = None
    max: SizeNumber | SizeText | None = None


class EncodeAsked(Shape):
    """What a part must be: every attribute listed must be met."""

    kind: Kind | None = None
    family: str | None = Field(None, max_length=60, description="A family, or one basic number of it.")
    attributes: dict[
        Annotated[str, Field(max_length=60)],
        StrictBool
        | SizeNumber
        | WordText
        | Annotated[list[WordText], Field(min_length=1, max_length=20)]
        | BoundsAsked,
    ] = Field(
        min_length=1,
        max_length=20,
        description="By attribute name (see /v1/tables/attributes): a size in the attribute's unit, bounds, a word, a list of words of which "
        "one will do, or true or false.",
        examples=[{"thread": "1/4-28", "grip_length": {"min": "7/16", "max": "0.5"}, "head_drilled": True}],
    )
    limit: int = Field(100, ge=1, le=500, description="Numbers in the answer.")


class FoundShape(Shape):
    """A number that meets the question, with the values asked about."""

    number: str
    family: str
    kind: str
    description: str
    attributes: dict[str, Attribute] = Field(description="The attributes asked about and sorted by.")


class LackingShape(Shape):
    """Families about which the question cannot be answered, or not for all of their numbers."""

    attribute: str
    families: list[str]
    reason: str


class SearchShape(Shape):
    """What every search says."""

    items: list[FoundShape]
    total: int = Field(description="Numbers that meet the question, on all pages.")
    left_out: list[LackingShape] = Field(
        description="Families of that kind for which an attribute asked about is in no row that is good enough: they may still have such a part."
    )
    partly_known: list[LackingShape] = Field(
        description="Families that know an attribute for some of their numbers only; the others are not among the items."
    )


class SearchAnswer(SearchShape, Noticed):
    """A page of the numbers that meet a search."""

    next: str | None = Field(description="Cursor of the next page.")


class NearMissShape(Shape):
    """A number that fails on exactly one attribute."""

    number: str
    family: str
    kind: str
    description: str
    attribute: str
    value: Attribute = Field(description="What it is there.")
    wanted: str = Field(description="What was wanted there: a value, `low..high`, or words joined by |.")
    by: str | None = Field(description="Distance to what was wanted, in the attribute's unit; null for words.")


class EncodeAnswer(SearchShape, Noticed):
    """The numbers that meet every attribute, and those that one attribute rules out."""

    more: bool = Field(description="Whether more numbers meet it than are listed.")
    near_misses: list[NearMissShape]


class CompletionPiece(Cited):
    """The piece that a completion adds or finishes. ``meaning`` is null where no row that is good enough gives it."""

    slot: str
    text: str
    caption: str
    meaning: str | None


class CompletionShape(Shape):
    """A way on from a half-typed number."""

    text: str = Field(description="The number so far, written the canonical way.")
    number: str | None = Field(description="The canonical number, where the text is one already.")
    complete: bool
    open: bool = Field(description="Whether further pieces may follow.")
    family: str
    title: str
    piece: CompletionPiece


class CompleteAnswer(Noticed):
    """Completions of a half-typed number."""

    prefix: str
    items: list[CompletionShape]
    more: bool = Field(description="Whether more completions exist than are listed.")


class ReadingAsked(Shape):
    """A caliper reading."""

    quantity: Name = Field(description="A length among the attributes; see the table `attributes`.")
    value: Positive
    unit: Literal["[in_i]", "mm"] = "[in_i]"
    uncertainty: NotNegative = Field(
        description="Half the width of what the reading may be, same unit. It is not assumed."
    )


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
    score: int = Field(
        description="Only for the order: for 4, allowed 1, doubtful -2, against -12; a mark, colour or magnet counts a quarter."
    )
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
    decided: bool = Field(
        description="One basic number alone agrees with every clue and at least two of them are no marks."
    )
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
