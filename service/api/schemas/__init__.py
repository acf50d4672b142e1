"""The shapes of answers, for the OpenAPI document and for the tests that hold the answers to them.

Answers are written as bytes from fragments that were worked out once (``service.api.wire``); these models describe them and validate them
in tests. They are not in the way of an answer.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

BasisWord = Literal["published", "secondary", "derived", "common-practice", "from-memory"]
OutcomeWord = Literal["decoded", "not-made", "not-covered", "ambiguous", "unreadable"]
NOTICE = (
    "Reference data, not approved data. The aircraft's own maintenance manual, parts catalogue and airworthiness directives govern; "
    "local rules apply; a licensed mechanic decides."
)


class Shape(BaseModel):
    """Base of every shape: closed, so that an answer with a surprise fails its test."""

    model_config = ConfigDict(extra="forbid")


class Cited(Shape):
    """Where a statement comes from and how far it can be trusted."""

    row: str | None = Field(description="Key of the table row.")
    source: str | None = Field(description="source_id of the document; see /v1/sources.")
    locator: str | None = Field(description="Where in the document.")
    basis: BasisWord | None = Field(
        description="Strongest first: published, secondary, derived, common-practice, from-memory."
    )
    note: str | None = Field(description="What to know about the row: corrections, confidence, conflicts.")


class Attribute(Cited):
    """One attribute of a part. ``value`` is null where no source gives it or none that is good enough: ``reason`` says which."""

    value: str | None = Field(description="Decimal string for a quantity, words for a word, yes or no for a flag.")
    unit: str = Field(description="UCUM unit; empty for words and flags.")
    display: str = Field(description="As a person reads it, with its unit.")
    limit: Literal["", "max", "min"]
    plus: str | None = Field(description="Tolerance upwards, same unit.")
    minus: str | None = Field(description="Tolerance downwards, same unit.")
    reason: str = Field(description="Why the value is null.")
    others: list[Attribute] = Field(description="What other rows say where they disagree, less preferred.")


class Segment(Cited):
    """A piece of the number and what it says. ``text`` is empty where a piece is absent."""

    text: str
    slot: str
    caption: str
    meaning: str | None
    reason: str


class CorrectionShape(Shape):
    """A change that turned what was asked into the canonical number."""

    found: str
    read: str
    reason: str


class MisreadingShape(Cited):
    """A popular misreading that would mislead here, and the right reading."""

    wrong: str
    right: str


class CautionShape(Cited):
    """A caution that goes out with the part."""

    text: str


class PartShape(Shape):
    """A part: what the number says, piece by piece, and every attribute with its row and source."""

    number: str = Field(description="The canonical number.")
    asked: str
    spelling: Literal["exact", "reformatted", "corrected"]
    corrections: list[CorrectionShape]
    family: str
    kind: str
    title: str
    description: str
    status: Literal["active", "superseded", "inactive", "unknown"]
    superseded_by: str
    segments: list[Segment]
    attributes: dict[str, Attribute]
    misreadings: list[MisreadingShape]
    cautions: list[CautionShape]
    sources: list[str]


class Answer(Shape):
    """What every answer carries."""

    release: str = Field(description="SHA-256 of the tables and grammar that answered.")


class Noticed(Answer):
    """An answer about hardware: it says what it is not."""

    notice: str


class PartAnswer(PartShape, Noticed):
    """A decoded part."""


class PieceShape(Shape):
    """The piece of a number that could not be read."""

    text: str
    start: int
    slot: str
    caption: str
    expected: str


class ProblemShape(BaseModel):
    """Problem details (RFC 9457)."""

    model_config = ConfigDict(extra="allow")
    type: str
    title: str
    status: int
    detail: str
    instance: str | None = None
    release: str


class NumberProblem(ProblemShape):
    """A number that cannot be answered, and what exists nearby."""

    outcome: OutcomeWord
    asked: str
    reason: str
    family: str | None
    piece: PieceShape | None
    neighbours: list[str]
    candidates: list[str]
    row: str | None
    source: str | None


class BatchResult(Shape):
    """One number of a batch, in the place it was asked."""

    asked: str
    outcome: OutcomeWord
    part: PartShape | None
    problem: NumberProblem | None


class BatchAnswer(Noticed):
    """The results of a batch, in the order asked."""

    results: list[BatchResult]


class BatchAsked(Shape):
    """Numbers to decode."""

    numbers: Annotated[
        list[Annotated[str, Field(max_length=200)]],
        Field(min_length=1, json_schema_extra={"maxItems": 1000}, examples=[["AN4-12A", "AN365-428A"]]),
    ]


class FindingShape(Cited):
    """A rule that speaks about a set of parts."""

    rule: str
    topic: str
    effect: Literal["excludes", "conditions", "notes", "fits"]
    text: str
    unstated: list[str] = Field(description="Joint conditions that were not stated and on which the rule depends.")
    unknown: list[str] = Field(description="Attributes no row gives and on which the rule depends.")


class CandidateShape(Shape):
    """A number that may stand in a role beside the part asked about."""

    role: str
    number: str = Field(description="A number; with `any_of`, an ellipsis stands for any length or count.")
    any_of: bool
    variants: list[str] = Field(description="Numbers of the same family about which exactly the same is said.")
    family: str
    kind: str
    description: str
    verdict: Literal["fits", "conditional", "excluded"]
    findings: list[FindingShape]
    mate: Cited = Field(description="The row that offers this candidate.")


class MatesAnswer(Noticed):
    """What mates with a part, ranked; what was ruled out is listed with the rule that ruled it out."""

    number: str
    kind: str
    description: str
    joint: dict[str, str] = Field(description="What was stated about the joint.")
    candidates: list[CandidateShape]
    counts: dict[str, int]
    cautions: list[CautionShape]


class HopShape(Cited):
    """One row of a chain of relations."""

    from_number: str
    to_number: str
    relation: str
    direction: str
    conditions: str


class ComparisonShape(Shape):
    """One attribute of two parts, side by side."""

    attribute: str
    first: str | None
    second: str | None
    first_display: str
    second_display: str
    unit: str
    sameness: Literal["same", "different", "unknown"]
    difference: str | None = Field(description="second minus first, for quantities.")


class RelativeShape(Shape):
    """A related number: the relation is the weakest of its chain, the basis too."""

    number: str
    family: str
    description: str
    relation: str
    basis: BasisWord
    statement: str
    hops: list[HopShape]
    comparison: list[ComparisonShape]


class RelativesAnswer(Noticed):
    """Numbers related to a part, the strongest relation first."""

    number: str
    description: str
    order_of_trust: list[str]
    relatives: list[RelativeShape]
    cautions: list[CautionShape]


class RelationAnswer(Noticed):
    """Two numbers: how rows relate them, and every attribute side by side."""

    first: str
    second: str
    order_of_trust: list[str]
    relation: str | None = Field(description="Null when no row relates the two in this direction.")
    statement: str
    chains: list[RelativeShape]
    comparison: list[ComparisonShape]
    cautions: list[CautionShape]


class ReleaseAnswer(Noticed):
    """The release of the tables that answers."""

    version: str
    families: int
    rows: dict[str, int]
    bases: dict[str, int]


class PageAnswer(Answer):
    """A page of items."""

    items: list[dict[str, Any]]
    next: str | None = Field(description="Cursor of the next page; null on the last.")


class FamilyShape(Cited):
    """A family: its pattern, its pieces, examples."""

    family: str
    kind: str
    title: str
    status: str
    superseded_by: str
    pattern: str
    examples: list[str]
    basics: list[str]


class CodeShape(Cited):
    """A code of a slot."""

    code: str
    meaning: str


class SlotShape(Cited):
    """A piece of a family's number."""

    slot: str
    caption: str
    joint: str
    reading: str
    optional: bool
    expected: str
    codes: list[CodeShape]
    aliases: dict[str, str]


class FamilyAnswer(FamilyShape, Noticed):
    """A family in full."""

    slots: list[SlotShape]
    attributes: list[str]
    misreadings: list[MisreadingShape]
    cautions: list[CautionShape]


class FamiliesAnswer(Answer):
    """A page of families."""

    items: list[FamilyShape]
    next: str | None


class TableShape(Shape):
    """A table of the release."""

    name: str
    about: str
    columns: list[str]
    rows: int
    key: str


class TablesAnswer(Answer):
    """The tables of the release."""

    items: list[TableShape]
    next: str | None


class HealthAnswer(Shape):
    """Whether the process lives, or is ready."""

    status: Literal["live", "ready"]
    release: str
