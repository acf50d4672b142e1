"""Torque: rows by document, what to set on the wrench, and an estimate of preload beside the table."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any

from fastapi import Query
from pydantic import Field

from service.api.desk import Desk
from service.api.problems import Problem
from service.api.ready import JSON, Answer, Body, Operation, parse_json
from service.api.schemas.joints import PreloadAnswer, PreloadAsked, SettingAnswer, SettingAsked, TorquesAnswer
from service.api.v1.parts import BasisQuery
from service.api.wire import cited
from service.catalogue.values import Citation
from service.joints.formulas.preload import preload as preload_of
from service.joints.formulas.preload import preload_band
from service.joints.formulas.threads import Thread, parse_thread
from service.joints.formulas.torque import CastellatedWindow, TorqueRange, convert_torque
from service.joints.tightening import (
    GENERAL,
    INCH_POUNDS,
    Estimate,
    Recommended,
    TorqueTables,
    Wrench,
    column_for,
    estimates,
    implied_factor,
    setting,
)
from service.quantity import decimal_text, parse_number, with_unit
from service.tables.joint_rows import Torque, TorqueNote
from service.tables.rows import Cited

_NOTES_FOR_A_SETTING = (
    "precedence",
    "drag",
    "threads",
    "lubricated",
    "adapter",
    "castellated",
    "head",
    "pull",
    "wrench",
)
ROUNDING = (
    "The two ends of a range are rounded inwards, low up and high down, so that the rounded range never reaches outside "
    "the exact one; a single value is rounded half to even."
)
#: decimals that a wrench of each unit can be set to, where the caller names none
PLACES = {
    "[in_i].[lbf_av]": 0,
    "[in_i].[oz_av].[g]": 0,
    "kgf.cm": 0,
    "[ft_i].[lbf_av]": 1,
    "N.m": 1,
    "kgf.m": 2,
}
WARNING = (
    "An estimate. K is no property of a thread: plating, lubricant, wear and speed change it, and the torque table "
    "follows no single K. Use the aircraft's own torque values; never work a torque out from this."
)


class TorquesQuery(BasisQuery):
    """Which rows."""

    thread: str = Field(description="Thread: 1/4-28, 10-32.", max_length=20)
    nut: str | None = Field(None, description="A nut's number, or `tension` or `shear`.", max_length=200)
    document: str | None = Field(None, description="Only this document.", max_length=60)


def operations(desk: Desk) -> list[Operation]:
    """The operations on torque."""

    @lru_cache(maxsize=8)
    def tables(basis: str) -> TorqueTables:
        return TorqueTables(desk.catalogue, basis)

    def nut_of(nut: str | None, basis: str) -> tuple[str, str]:
        """Canonical nut (or empty) and the column it reads. Raises Problem for a number that is no nut."""
        if nut is None or nut in {"tension", "shear"}:
            return "", nut or ""
        part = desk.part(nut, basis)
        value = part.value("load_class")
        column = column_for(str(value.exact)) if value is not None else ""
        if part.family.kind not in {"nut", "plate_nut"} or not column:
            reason = f"{part.number} ({part.family.title}) reads no column of the torque table; say tension or shear"
            raise Problem("bad-parameter", reason, {"parameters": [{"name": "nut", "reason": reason}]})
        return part.number, column

    def list_torques(query: Annotated[TorquesQuery, Query()]) -> Answer:
        known = tables(query.basis)
        thread = canonical_thread(query.thread)
        nut, load = nut_of(query.nut, query.basis)
        rows = known.rows(thread, load, query.document or "")
        if nut:
            rows = [row for row in rows if not row.part or row.part == nut]
        documents = dict.fromkeys(row.document for row in rows)
        members = {
            "thread": thread,
            "nut": nut,
            "nut_load": load,
            "documents": [
                {
                    "document": document,
                    "rows": [row_members(row, known) for row in rows if row.document == document],
                    "notes": [note_members(note) for note in known.about(document)],
                }
                for document in documents
            ],
            "general_notes": [note_members(note) for note in known.about("")],
            "threads": list(known.threads),
        }
        return Answer(desk.writer.noticed(members))

    def range_for(
        asked: SettingAsked | PreloadAsked, document: str, known: TorqueTables, basis: str, unit: str = INCH_POUNDS
    ) -> tuple[TorqueRange, Recommended | None]:
        """The maker's own range, given in ``unit``, else one document's; in-lb. Raises Problem when there is neither."""
        if asked.torque is not None:
            if asked.torque.low is not None and asked.torque.low > asked.torque.high:
                raise bad_body("torque/low", "not above the high end")
            low = None if asked.torque.low is None else convert_torque(asked.torque.low, unit, INCH_POUNDS)
            return TorqueRange(low, convert_torque(asked.torque.high, unit, INCH_POUNDS)), None
        if asked.thread is None or asked.nut is None:
            raise bad_body("torque", "give a torque, or a thread and a nut")
        _, load = nut_of(asked.nut, basis)
        thread = canonical_thread(asked.thread)
        try:
            found = known.recommended(thread, load, document)
        except ValueError as error:
            raise bad_body("document", str(error)) from None
        if found is None or found.row.unit != INCH_POUNDS:
            raise bad_body("thread", f"{document} has no row for {thread} and {load} nuts")
        return found.range, found

    def set_torque(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: SettingAsked = parse_json(SettingAsked, body.data)
        known = tables(query.basis)
        given, drag = asked.given_unit, convert_torque(asked.drag, asked.given_unit, INCH_POUNDS)
        torque, found = range_for(asked, asked.document, known, query.basis, given)
        maximum = None if asked.maximum is None else convert_torque(asked.maximum, given, INCH_POUNDS)
        places = asked.places if asked.places is not None else PLACES[asked.unit]
        if maximum is None and found is not None and found.maximum is not None:
            maximum = parse_number(found.maximum.high)
        wrench = Wrench(asked.wrench_length, asked.adapter_length, asked.adapter_degrees)
        try:
            worked = setting(torque, maximum, drag, asked.drag_practice, wrench, asked.castellated, asked.unit, places)
        except ValueError as error:
            raise bad_body("", str(error)) from None
        notes = [*known.about(asked.document if found else ""), *known.about("")]
        members = {
            "basis_row": None if found is None else row_members(found.row, known),
            "maximum_row": None if found is None or found.maximum is None else row_members(found.maximum, known),
            "torque": range_members(worked.torque, INCH_POUNDS),
            "with_drag": range_members(worked.with_drag, INCH_POUNDS),
            "effective_length": decimal_text(worked.high.effective_length, 6),
            "adapter_effect": worked.high.effect,
            "reading": range_members(worked.reading, INCH_POUNDS),
            "set_to": range_members(worked.rounded, asked.unit),
            "rounding": ROUNDING,
            "castellated": window_members(worked.window, INCH_POUNDS),
            "castellated_set_to": window_members(worked.window_rounded, asked.unit),
            "notes": [note_members(note) for note in notes if note.document or note.topic in _NOTES_FOR_A_SETTING],
        }
        return Answer(desk.writer.noticed(members))

    def estimate_preload(body: Body, query: Annotated[BasisQuery, Query()]) -> Answer:
        asked: PreloadAsked = parse_json(PreloadAsked, body.data)
        known = tables(query.basis)
        if asked.scatter >= 1:
            raise bad_body("scatter", "below 1")
        text = canonical_thread(asked.thread)
        thread = thread_of(text)
        torque, found = range_for(asked, GENERAL, known, query.basis)
        factors = [
            row
            for row in known.factors
            if row.quantity == "nut_factor" and (asked.condition is None or asked.condition in row.condition)
        ]
        listed = [estimate_members(e) for e in estimates(torque, thread, factors, asked.scatter, asked.relaxation)]
        if asked.nut_factor is not None:
            listed.append(_own_estimate(asked, torque, thread))
        warning = known.warning()
        members = {
            "estimate": True,
            "thread": text,
            "torque": range_members(torque, INCH_POUNDS),
            "basis_row": None if found is None else row_members(found.row, known),
            "implied_nut_factor": None if found is None else row_members(found.row, known)["implied_nut_factor"],
            "estimates": listed,
            "scatter": decimal_text(asked.scatter),
            "relaxation": decimal_text(asked.relaxation),
            "warning": WARNING,
            "warnings": [] if warning is None else [note_members(warning)],
        }
        return Answer(desk.writer.noticed(members))

    numbers = ("not-made", "not-covered", "ambiguous", "unreadable")
    return [
        Operation(
            "GET", "/v1/torques", "list-torques", "Torques for a thread, by document", list_torques, TorquesAnswer,
            problems=(*numbers, "bad-parameter"), examples=({"query": {"thread": "1/4-28", "nut": "AN310-4"}},),
            tag="joints",
            description="Rows as printed, each document by itself and never blended, with column heads, footnotes and "
            "cautions. A suspected slip keeps its printed value and is flagged.",
        ),
        Operation(
            "POST", "/v1/torques/setting", "set-torque", "What to set on the wrench", set_torque, SettingAnswer,
            consumes=(JSON,), body=SettingAsked, problems=(*numbers, "bad-body"),
            examples=({"body": Body(JSON, b'{"thread": "1/4-28", "nut": "AN310-4", "drag": 8, "wrench_length": 10, '
                                          b'"adapter_length": 1.5, "castellated": true, "unit": "N.m", "places": 1}')},),
            tag="joints",
            description="Recommended range, running drag added, the reading with an adapter at any angle, the window of a "
            "castellated nut, other units with the rounding stated. Torques are given in `given_unit`, shown step by step in in-lb and set in "
            "`unit`. Lengths in inches, or both in any one unit.",
        ),
        Operation(
            "POST", "/v1/torques/preload", "estimate-preload", "An estimate of preload", estimate_preload, PreloadAnswer,
            consumes=(JSON,), body=PreloadAsked, problems=(*numbers, "bad-body"),
            examples=({"body": Body(JSON, b'{"thread": "3/8-24", "nut": "tension", "condition": "cadmium"}')},),
            tag="joints",
            description="T = K D F with each document's K and a stated scatter. An estimate beside the table, marked as one; "
            "the table follows no single K.",
        ),
    ]  # fmt: skip


def bad_body(at: str, reason: str) -> Problem:
    """A problem with one member of a body."""
    return Problem("bad-body", f"{at}: {reason}" if at else reason, {"faults": [{"at": at, "reason": reason}]})


def canonical_thread(text: str) -> str:
    """A thread as the tables write it: no ``#``, no ``No.``, no series word, no spaces."""
    return thread_and_series(text)[0]


def thread_and_series(text: str) -> tuple[str, str]:
    """A thread as the tables write it, and the series word written behind it (``1/4-28 UNJF-3A``); empty where none is."""
    words = [*text.replace("#", "").replace("No.", "").split(), "", ""]
    return words[0], words[1].partition("-")[0].upper()


def thread_of(text: str, series: str = "") -> Thread:
    """A thread by its designation. Raises Problem when it is none."""
    try:
        return parse_thread(text, series)
    except ValueError as error:
        raise Problem("bad-parameter", str(error), {"parameters": [{"name": "thread", "reason": str(error)}]}) from None


def row_members(row: Torque, tables: TorqueTables) -> dict[str, Any]:
    """A torque row as it leaves the service; the implied nut factor only where a column head states a stress."""
    heads = [n for n in tables.about(row.document) if n.topic == "column"]
    head = next((n for n in heads if (n.nut_load, n.range) == (row.nut_load, row.range)), None)
    factor = implied_factor(row, parse_number(head.value)) if head is not None and row.high else None
    return {
        "document": row.document,
        "thread": row.thread,
        "series": row.series,
        "part": row.part,
        "nut_load": row.nut_load,
        "range": row.range,
        "low": row.low or None,
        "high": row.high or None,
        "unit": row.unit,
        "estimated": row.estimated == "yes",
        "printed_slip": row.printed_slip == "yes",
        "believed_low": row.believed_low or None,
        "believed_high": row.believed_high or None,
        "fastener": row.fastener,
        "finish": row.finish,
        "condition": row.condition,
        "implied_nut_factor": None if factor is None else decimal_text(factor, 3),
        **cited_row(row),
    }


def cited_row(row: Cited) -> dict[str, Any]:
    """The provenance members of a table row."""
    return cited(Citation.of(row))


def note_members(note: TorqueNote) -> dict[str, Any]:
    """A note as it leaves the service."""
    return {
        "document": note.document,
        "topic": note.topic,
        "nut_load": note.nut_load,
        "range": note.range,
        "text": note.text,
        "value": note.value,
        "unit": note.unit,
        **cited_row(note),
    }


def range_members(torque: TorqueRange, unit: str) -> dict[str, Any]:
    """A range as it leaves the service."""
    low = None if torque.low is None else decimal_text(torque.low, 6)
    high = decimal_text(torque.high, 6)
    shown = with_unit(f"{low} to {high}" if low is not None else f"at most {high}", unit)
    return {"low": low, "high": high, "unit": unit, "display": shown}


def window_members(window: CastellatedWindow | None, unit: str) -> dict[str, Any] | None:
    """A castellated window as it leaves the service."""
    if window is None:
        return None
    ends = (window.start, window.aim, window.limit)
    start, aim, limit = (decimal_text(value, 6) for value in ends)
    return {"start": start, "aim": aim, "limit": limit, "unit": unit}


def estimate_members(estimate: Estimate) -> dict[str, Any]:
    """An estimate as it leaves the service, in whole pounds-force."""
    return {
        "condition": estimate.factor.condition,
        "factor_low": estimate.factor.low,
        "factor_high": estimate.factor.high,
        **_pounds(estimate.band.nominal, estimate.band.low, estimate.band.high),
        "least_with_scatter": decimal_text(estimate.with_scatter.low, 0),
        "most_with_scatter": decimal_text(estimate.with_scatter.high, 0),
        **cited_row(estimate.factor),
    }


def _own_estimate(asked: PreloadAsked, torque: TorqueRange, thread: Thread) -> dict[str, Any]:
    assert asked.nut_factor is not None
    factor = asked.nut_factor
    low = preload_of(torque.high if torque.low is None else torque.low, factor, thread.diameter)
    high = preload_of(torque.high, factor, thread.diameter)
    return {
        "condition": "stated by the caller",
        "factor_low": decimal_text(factor),
        "factor_high": decimal_text(factor),
        **_pounds((low + high) / 2, low, high),
        "least_with_scatter": decimal_text(preload_band(low, asked.scatter, asked.relaxation).low, 0),
        "most_with_scatter": decimal_text(preload_band(high, asked.scatter, asked.relaxation).high, 0),
        **cited(None),
    }


def _pounds(nominal: Fraction, least: Fraction, most: Fraction) -> dict[str, str]:
    return {
        "nominal": decimal_text(nominal, 0),
        "least": decimal_text(least, 0),
        "most": decimal_text(most, 0),
        "unit": "[lbf_av]",
    }
