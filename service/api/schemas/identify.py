"""Shapes of what is seen of a part in the hand, and of what it may be."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from service.api.schemas import Cited, Noticed, Shape
from service.api.schemas.joints import ZERO, NotNegative, Positive
from service.tables.rows import Kind

VerdictWord = Literal["for", "against", "says nothing"]


class ReadingAsked(Shape):
    """A caliper or micrometer reading."""

    quantity: Annotated[str, Field(max_length=60, examples=["nominal_diameter"])] = Field(
        description="An attribute that is a length; see the table `attributes`. The diameter of a shank or a thread is `nominal_diameter`."
    )
    value: Positive
    unit: Literal["[in_i]", "mm"] = "[in_i]"
    uncertainty: NotNegative = Field(
        ZERO,
        description="How far the true size may lie from the reading, either way, same unit. Nothing is assumed where it is left out.",
    )


class IdentifyAsked(Shape):
    """What is measured and seen. At least one thing is needed."""

    kind: Kind | None = Field(None, description="Only parts of this kind.")
    readings: list[ReadingAsked] = Field([], max_length=16)
    threads_per_inch: int | None = Field(None, ge=1, le=100, description="Counted, or by a thread gauge.")
    thread: str | None = Field(None, max_length=20, examples=["1/4-28"])
    head_mark: str | None = Field(None, min_length=1, max_length=60, examples=["raised cross"])
    colour: str | None = Field(None, min_length=1, max_length=40)
    magnetic: bool | None = Field(None, description="Whether a magnet holds the part.")
    limit: int = Field(20, ge=1, le=100, description="Most candidates.")


class EvidenceShape(Cited):
    """What the tables say to one thing seen. With `says nothing` no row speaks about it, and the provenance is null."""

    about: str = Field(description="The quantity, or thread, threads_per_inch, head_mark, colour, magnetic.")
    seen: str
    verdict: VerdictWord
    attribute: str | None = Field(description="The attribute whose row speaks.")
    value: str | None
    unit: str
    display: str = Field(description="What the row gives, with its unit; the row nearest to what was seen.")
    decides: bool = Field(description="False for marks, colour and magnetism: they never decide alone.")
    remark: str


class SettledPieceShape(Shape):
    """A piece of the number that is settled, if the candidate is the part. `code` is empty where a piece is absent."""

    slot: str
    code: str
    meaning: str


class CandidateFoundShape(Shape):
    """A basic number with the pieces that carry a size."""

    number: str = Field(description="With an ellipsis for every run of pieces that stays open.")
    example: str = Field(description="The first number of the group that is made; not the answer.")
    family: str
    kind: str
    title: str
    status: Literal["active", "superseded", "inactive", "unknown"]
    pieces: list[SettledPieceShape]
    open: list[str] = Field(description="The pieces that stay open.")
    standing: Literal["agrees", "contradicted", "undecided"]
    evidence: list[EvidenceShape]


class LeavesShape(Shape):
    """A value, and the candidates it leaves."""

    value: str
    display: str
    numbers: list[str]


class NextMeasurementShape(Shape):
    """What to measure next."""

    quantity: str
    meaning: str
    separates: list[LeavesShape] = Field(
        description="Each value the leading candidates can have, and which of them it would leave."
    )


class IdentifyAnswer(Noticed):
    """Candidates, those that agree first. A candidate is never an identification: an unmarked part stays unidentified."""

    candidates: list[CandidateFoundShape]
    more: bool = Field(description="Whether there are more candidates than `limit`.")
    next_measurement: NextMeasurementShape | None = Field(
        description="The cheapest further quantity among those that tell most leading candidates apart; null when no row tells them apart."
    )
    warnings: list[str]
