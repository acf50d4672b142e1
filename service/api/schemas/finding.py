"""Shapes of questions and answers about parts whose number is not known, or not yet whole, or lost in a text."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated

from pydantic import Field, StrictBool

from service.api.schemas import Attribute, Cited, Noticed, Shape
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
