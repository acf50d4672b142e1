"""Part numbers: one, or many at once."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from typing import Annotated

from fastapi import Path, Query
from pydantic import Field

from service.api.desk import Desk
from service.api.problems import Problem
from service.api.ready import CSV, JSON, TEXT, Answer, Body, Operation, QueryModel, parse_json
from service.api.schemas import BasisWord, BatchAnswer, BatchAsked, PartAnswer
from service.designation.reading import Outcome, Refusal
from service.parts.part import Part

Number = Annotated[
    str,
    Path(description="A part number as it stands on a bag, a drawing or a part.", max_length=200, examples=["AN4-12A"]),
]

#: attributes that have a column of their own in CSV answers
CSV_ATTRIBUTES = (
    "nominal_diameter", "thread", "grip_length", "length", "inside_diameter", "outside_diameter", "thickness", "head_drilled",
    "shank_drilled", "material", "finish", "locking", "max_temperature",
)  # fmt: skip


class BasisQuery(QueryModel):
    """How weak a row the caller accepts."""

    basis: BasisWord = Field(
        "from-memory",
        description="Weakest basis accepted. Values below it come back null with the reason. "
        "Strongest first: published, secondary, derived, common-practice, from-memory.",
    )


def operations(desk: Desk) -> list[Operation]:
    """The operations on part numbers."""

    def decode_part(number: Number, query: Annotated[BasisQuery, Query()]) -> Answer:
        return Answer(desk.writer.part(desk.part(number, query.basis)))

    def decode_parts(body: Body, query: Annotated[BasisQuery, Query()], media: str) -> Answer:
        outcomes = [desk.reader.read(number) for number in asked_numbers(body, desk.settings.batch_limit)]
        if media == CSV:
            return Answer(as_csv(outcomes, query.basis, desk.catalogue.digest), CSV)
        return Answer(desk.writer.batch(outcomes, query.basis))

    return [
        Operation(
            "GET", "/v1/parts/{number}", "decode-part", "What a part number says", decode_part, PartAnswer,
            problems=("not-made", "not-covered", "ambiguous", "unreadable"),
            examples=({"number": "AN4-12A"}, {"number": "AN4-18A"}),
            description="Takes the number apart and gives every attribute with the row, source and basis it comes from. "
            "A number that cannot be answered is a problem that names the piece that failed and the nearest numbers that exist.",
        ),
        Operation(
            "POST", "/v1/parts/decode", "decode-parts", "What many part numbers say", decode_parts, BatchAnswer,
            produces=(JSON, CSV), consumes=(JSON, TEXT, CSV), body=BatchAsked, problems=("bad-body", "too-many"),
            examples=({"body": Body(JSON, b'{"numbers": ["AN365-428A", "AN4-18A"]}')},),
            description="Answers keep the order asked; a number that cannot be read is a result of its own, never a failed call. "
            "`text/plain` takes a number a line, `text/csv` a header with a column `number`, or the numbers in the first column.",
        ),
    ]  # fmt: skip


def asked_numbers(body: Body, limit: int) -> list[str]:
    """The numbers of a batch, in order. Raises Problem."""
    if body.media == JSON:
        listed: list[str] = list(parse_json(BatchAsked, body.data).numbers)
        if len(listed) > limit:
            raise Problem("too-many", f"{len(listed)} numbers; a batch may hold {limit}.", {"limit": limit})
        return listed
    try:
        text = body.data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Problem("bad-body", f"The body is not UTF-8: byte {error.start}.", {"faults": []}) from None
    numbers = text.splitlines() if body.media == TEXT else _first_column(text)
    numbers = [number.strip() for number in numbers if number.strip()]
    if not numbers:
        raise Problem("bad-body", "The body holds no number.", {"faults": []})
    if len(numbers) > limit:
        raise Problem("too-many", f"{len(numbers)} numbers; a batch may hold {limit}.", {"limit": limit})
    return numbers


def _first_column(text: str) -> list[str]:
    rows = [row for row in csv.reader(io.StringIO(text)) if row]
    if not rows:
        return []
    names = [cell.strip().lower() for cell in rows[0]]
    if "number" in names:
        column = names.index("number")
        return [row[column] if column < len(row) else "" for row in rows[1:]]
    return [row[0] for row in rows]


def as_csv(outcomes: Iterable[Outcome], basis: str, release: str) -> bytes:
    """Outcomes as CSV: one line a number, the common attributes in columns of their own, lengths in inches."""
    sheet = io.StringIO(newline="")
    writer = csv.writer(sheet, lineterminator="\r\n")
    writer.writerow(
        [
            "asked",
            "outcome",
            "number",
            "spelling",
            "family",
            "kind",
            "description",
            *CSV_ATTRIBUTES,
            "neighbours",
            "detail",
            "release",
        ]
    )
    for outcome in outcomes:
        if isinstance(outcome, Refusal):
            near = " ".join(outcome.neighbours or outcome.candidates)
            cells = [
                outcome.asked,
                outcome.outcome,
                "",
                "",
                outcome.family or "",
                "",
                "",
                *("" for _ in CSV_ATTRIBUTES),
                near,
                outcome.detail,
            ]
        else:
            part = Part(outcome, basis)
            values = [part.value(name) for name in CSV_ATTRIBUTES]
            cells = [
                outcome.asked, "decoded", part.number, outcome.spelling, part.family.id, part.family.kind, part.description,
                *((v.text or "") if v is not None else "" for v in values), "", "",
            ]  # fmt: skip
        writer.writerow([_plain(cell) for cell in cells] + [release])
    return sheet.getvalue().encode()


def _plain(cell: str) -> str:
    """A cell that a spreadsheet will not take for a formula: what was asked is somebody else's text."""
    return "'" + cell if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell
