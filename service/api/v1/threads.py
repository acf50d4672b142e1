"""Threads by formula beside print, holes for a fastener, and two metals in contact."""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Any, Literal, get_args

from fastapi import Path, Query
from pydantic import Field

from service.api.desk import Desk
from service.api.problems import Problem
from service.api.ready import Answer, Operation
from service.api.schemas.sizes import GalvanicAnswer, HolesAnswer, ThreadAnswer
from service.api.v1.parts import BasisQuery
from service.api.v1.rivets import row_members
from service.api.v1.torques import cited_row, thread_and_series
from service.joints.assembly import quantity, span_of
from service.joints.metals import Metals
from service.joints.riveting import RivetTables
from service.joints.sizes import Holes, ThreadFigure, published, read_thread, series_of, thread_figures
from service.quantity import decimal_text, parse_number
from service.tables.joint_rows import ThreadValue

Series = Literal["UNC", "UNF", "UNEF", "UNS", "UN", "8UN", "UNJC", "UNJF"]
Designation = Annotated[
    str,
    Path(
        description="A thread: 1/4-28, 10-32, 1-1/8-12. The slash may stand as it is or as %2F.",
        max_length=20,
        examples=["1/4-28"],
    ),
]


class ThreadQuery(BasisQuery):
    """Which series."""

    series: Series | None = Field(
        None, description="Series word where no published row settles it; UNJ words give the UNJ form."
    )


class HolesQuery(BasisQuery):
    """Which fastener."""

    fastener: str = Field(description="A bolt's, screw's or rivet's number.", max_length=200)


class GalvanicQuery(BasisQuery):
    """Which two metals. A plated part is judged by its plating."""

    a: str = Field(description="A metal or plating: aluminium, cadmium, stainless 300 series.", max_length=60)
    b: str = Field(description="The metal it touches.", max_length=60)
    condition: str | None = Field(
        None, description="A condition of a row, word for word, that holds here.", max_length=120
    )


def operations(desk: Desk) -> list[Operation]:
    """The operations on threads, holes and metals."""

    @lru_cache(maxsize=8)
    def metals(basis: str) -> Metals:
        return Metals.of(desk.catalogue, basis)

    @lru_cache(maxsize=8)
    def holes(basis: str) -> Holes:
        return Holes(desk.catalogue, basis)

    @lru_cache(maxsize=8)
    def rivets(basis: str) -> RivetTables:
        return RivetTables(desk.catalogue, desk.encoder, basis)

    def show_thread(designation: Designation, query: Annotated[ThreadQuery, Query()]) -> Answer:
        text, written = thread_and_series(designation)
        rows = published(desk.catalogue, text, query.basis)
        try:
            series = _series(written, query.series or "")
            thread = read_thread(text, rows, series)
        except ValueError as error:
            reason = f"{error}. Written like 1/4-28, 10-32 or 1-1/8-12."
            raise Problem("not-found", reason, {"parameters": [{"name": "designation", "reason": reason}]}) from None
        figures = list(thread_figures(thread, rows if series in {"", series_of(rows)} else []))
        members = {
            "thread": text,
            "series": thread.series,
            "form": thread.form,
            "major_diameter": decimal_text(thread.diameter),
            "threads_per_inch": thread.threads_per_inch,
            "pitch": decimal_text(thread.pitch),
            "figures": [figure_members(f) for f in figures if f.by_formula is not None or f.published],
            "not_computed": list(dict.fromkeys(f.why_not for f in figures if f.why_not)),
        }
        return Answer(desk.writer.noticed(members))

    def list_holes(query: Annotated[HolesQuery, Query()]) -> Answer:
        part = desk.part(query.fastener, query.basis)
        nominal = quantity(part, "nominal_diameter")
        if nominal is None:
            reason = f"no row gives the nominal diameter of {part.number}"
            raise Problem("bad-parameter", reason, {"parameters": [{"name": "fastener", "reason": reason}]})
        known = holes(query.basis)
        value = quantity(part, "shank_diameter")
        shank = None if value is None else span_of(value)
        letter, is_rivet = known.letter(part), part.family.kind == "rivet"
        flush = quantity(part, "head_angle") is not None
        members = {
            "fastener": part.number,
            "nominal_diameter": decimal_text(nominal.number),
            "shank_low": None if shank is None else decimal_text(shank.low),
            "shank_high": None if shank is None else decimal_text(shank.high),
            "holes": [
                {
                    "fastener": entry.row.thread_or_basic,
                    "fit": entry.row.fit,
                    "drill": entry.row.drill,
                    "diameter": decimal_text(parse_number(entry.row.diameter)),
                    "limit": entry.row.limit,
                    "unit": entry.row.unit,
                    "clearance_low": None if entry.room is None else decimal_text(entry.room.low),
                    "clearance_high": None if entry.room is None else decimal_text(entry.room.high),
                    **cited_row(entry.row),
                }
                for entry in known.suggested(part)
            ],
            "rivet_holes": [row_members(row) for row in rivets(query.basis).holes(nominal.number, flush)]
            if is_rivet
            else [],
            "letter_drill_rule": f"First letter drill above nominal: {letter.designation}, {decimal_text(letter.diameter)} in."
            if letter is not None
            else f"No row says that the letter-drill rule holds for {part.designation.codes[0]}.",
            "drills": [
                {
                    "designation": near.row.designation,
                    "kind": near.row.kind,
                    "diameter": decimal_text(parse_number(near.row.diameter)),
                    "over_nominal": decimal_text(near.over),
                    **cited_row(near.row),
                }
                for near in known.near(nominal.number)
            ],
            "notes": [
                {"topic": n.topic, "text": n.text, "value": n.value, "unit": n.unit, **cited_row(n)}
                for n in known.notes
            ],
        }
        return Answer(desk.writer.noticed(members))

    def judge_metals(query: Annotated[GalvanicQuery, Query()]) -> Answer:
        known = metals(query.basis)
        a, b = query.a.strip().lower(), query.b.strip().lower()
        names = {name.lower(): name for name in known.names}
        for parameter, metal in (("a", a), ("b", b)):
            if metal not in names:
                reason = f"{metal} is named by no row; known: {', '.join(known.names)}"
                raise Problem("bad-parameter", reason, {"parameters": [{"name": parameter, "reason": reason}]})
        first, second = names[a], names[b]
        contact = known.contact(first, second, frozenset({query.condition} if query.condition else ()))
        members = {
            "a": first,
            "b": second,
            "verdict": contact.verdict,
            "reasons": [
                {
                    "verdict": reason.verdict,
                    "condition": reason.condition,
                    "counted": reason.counted,
                    **cited_row(known.rows[reason.row]),
                }
                for reason in contact.reasons
            ],
            "anode": known.anode(first, second),
            "metals": list(known.names),
        }
        return Answer(desk.writer.noticed(members))

    numbers = ("not-made", "not-covered", "ambiguous", "unreadable")
    return [
        Operation(
            "GET",
            "/v1/threads/{designation:path}",
            "show-thread",
            "A thread by formula, beside print",
            show_thread,
            ThreadAnswer,
            problems=("not-found",),
            examples=({"designation": "1/4-28"},),
            tag="joints",
            description="Unified formulas (form, areas, limits before plating) beside the published rows, with the "
            "difference. Where a formula needs the series and no row settles it, the answer says so; ask with `series`.",
        ),
        Operation(
            "GET",
            "/v1/holes",
            "list-holes",
            "Holes for a fastener",
            list_holes,
            HolesAnswer,
            problems=(*numbers, "bad-parameter"),
            examples=({"query": {"fastener": "AN4-12A"}},),
            tag="joints",
            description="Holes that rows suggest, with the room they leave, and the drills just above the size. The "
            "letter-drill rule is given only where it holds. Reamed, close-tolerance and clevis bolts follow their drawing.",
        ),
        Operation(
            "GET",
            "/v1/galvanic",
            "judge-metals",
            "Two metals in contact",
            judge_metals,
            GalvanicAnswer,
            problems=("bad-parameter",),
            examples=({"query": {"a": "cadmium", "b": "titanium"}},),
            tag="joints",
            description="The harshest verdict of the rows that hold, every row that spoke, and which metal corrodes. A row "
            "with a condition counts only when that condition is stated.",
        ),
    ]


def _series(written: str, asked: str) -> str:
    """The series word written behind a designation, else the one asked. ValueError where they differ, or it is none."""
    if written and written not in get_args(Series):
        raise ValueError(f"no series word: {written!r}; one of {', '.join(get_args(Series))}")
    if written and asked not in {"", written}:
        raise ValueError(f"the designation says {written}, the question {asked}")
    return written or asked


def figure_members(figure: ThreadFigure) -> dict[str, Any]:
    """A thread dimension as it leaves the service."""
    return {
        "quantity": figure.quantity,
        "thread_class": figure.thread_class,
        "limit": figure.limit,
        "by_formula": None if figure.by_formula is None else decimal_text(figure.by_formula, 6),
        "unit": figure.unit,
        "published": [_published(row, figure) for row in figure.published],
    }


def _published(row: ThreadValue, figure: ThreadFigure) -> dict[str, Any]:
    value = parse_number(row.value)
    return {
        "value": row.value,
        "printed_slip": row.printed_slip == "yes",
        "believed": row.believed or None,
        "difference": None if figure.by_formula is None else decimal_text(value - figure.by_formula),
        **cited_row(row),
    }
