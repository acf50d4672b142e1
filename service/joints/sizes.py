"""What the formulas give for a thread beside what is published, and the holes that rows suggest for a fastener."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.joints.assembly import quantity, span_of
from service.joints.formulas.holes import Drill, first_above, fit
from service.joints.formulas.stack import Span, exactly
from service.joints.formulas.threads import (
    Thread,
    allowance,
    external_limits,
    external_minor_diameter,
    internal_limits,
    internal_minor_diameter,
    minor_area,
    parse_thread,
    pitch_diameter,
    stress_area,
)
from service.parts.part import Part
from service.quantity import parse_number
from service.tables.joint_rows import Drill as DrillRow
from service.tables.joint_rows import FastenerHole, HoleNote, ThreadValue
from service.tables.rows import TRUST

_INCH, _SQUARE_INCH = "[in_i]", "[in_i]2"
_Formula = Callable[[Thread], Fraction]


def _allowance_2a(thread: Thread) -> Fraction:
    return allowance(thread, "2A")


#: (quantity, class, limit) -> formula and unit, in the order shown
FORMULAS: Final[dict[tuple[str, str, str], tuple[_Formula, str]]] = {
    ("major_diameter", "", ""): (lambda t: t.diameter, _INCH),
    ("pitch_diameter", "", ""): (pitch_diameter, _INCH),
    ("minor_diameter_internal", "", ""): (internal_minor_diameter, _INCH),
    ("minor_diameter_external", "", ""): (external_minor_diameter, _INCH),
    ("stress_area", "", ""): (stress_area, _SQUARE_INCH),
    ("minor_area", "", ""): (minor_area, _SQUARE_INCH),
    ("allowance", "2A", ""): (_allowance_2a, _INCH),
    ("major_diameter", "2A", "max"): (lambda t: external_limits(t, "2A").major_max, _INCH),
    ("major_diameter", "2A", "min"): (lambda t: external_limits(t, "2A").major_min, _INCH),
    ("pitch_diameter", "2A", "max"): (lambda t: external_limits(t, "2A").pitch_max, _INCH),
    ("pitch_diameter", "2A", "min"): (lambda t: external_limits(t, "2A").pitch_min, _INCH),
    ("pitch_diameter", "3A", "max"): (lambda t: external_limits(t, "3A").pitch_max, _INCH),
    ("pitch_diameter", "3A", "min"): (lambda t: external_limits(t, "3A").pitch_min, _INCH),
    ("minor_diameter_internal", "2B", "min"): (lambda t: internal_limits(t).minor_min, _INCH),
    ("minor_diameter_internal", "2B", "max"): (lambda t: internal_limits(t).minor_max, _INCH),
    ("pitch_diameter", "2B", "min"): (lambda t: internal_limits(t).pitch_min, _INCH),
    ("pitch_diameter", "2B", "max"): (lambda t: internal_limits(t).pitch_max, _INCH),
}


@dataclass(frozen=True, slots=True)
class ThreadFigure:
    """A dimension by formula (None with the reason where the formula cannot be used) and its published rows."""

    quantity: str
    thread_class: str
    limit: str
    unit: str
    by_formula: Fraction | None
    why_not: str
    published: tuple[ThreadValue, ...]


def published(catalogue: Catalogue, designation: str, basis: str) -> list[ThreadValue]:
    """The published rows for a thread at one basis or better."""
    rows = catalogue.package.of(ThreadValue)
    return [row for row in rows if row.thread == designation and TRUST[row.basis] <= TRUST[basis]]


def series_of(rows: list[ThreadValue]) -> str:
    """The series word of the published rows; empty when there are none or they do not agree."""
    words = {row.series for row in rows if row.series}
    return words.pop() if len(words) == 1 else ""


def thread_figures(thread: Thread, rows: list[ThreadValue]) -> Iterator[ThreadFigure]:
    """Every dimension that a formula or a row gives."""
    for (name, thread_class, limit), (formula, unit) in FORMULAS.items():
        said = tuple(r for r in rows if (r.quantity, r.thread_class, r.limit) == (name, thread_class, limit))
        try:
            value, why_not = formula(thread), ""
        except ValueError as error:
            value, why_not = None, str(error)
        yield ThreadFigure(name, thread_class, limit, unit, value, why_not, said)


@dataclass(frozen=True, slots=True)
class HoleSuggestion:
    """A row's hole and the room it leaves around the shank; None when no row gives the shank."""

    row: FastenerHole
    room: Span | None


@dataclass(frozen=True, slots=True)
class NearDrill:
    """A drill row and how far it is over the nominal diameter."""

    row: DrillRow
    over: Fraction


class Holes:
    """The rows on holes at one basis or better."""

    def __init__(self, catalogue: Catalogue, basis: str) -> None:
        limit = TRUST[basis]
        self._holes = [row for row in catalogue.package.of(FastenerHole) if TRUST[row.basis] <= limit]
        self._drills = [row for row in catalogue.package.of(DrillRow) if TRUST[row.basis] <= limit]
        self.notes = [row for row in catalogue.package.of(HoleNote) if TRUST[row.basis] <= limit]

    def suggested(self, fastener: Part) -> list[HoleSuggestion]:
        """Rows for the fastener's basic number or thread."""
        thread = fastener.value("thread")
        names = {fastener.designation.codes[0], str(thread.exact) if thread is not None else ""}
        value = quantity(fastener, "shank_diameter")
        shank = None if value is None else span_of(value)
        return [
            HoleSuggestion(row, None if shank is None else fit(exactly(parse_number(row.diameter)), shank))
            for row in self._holes
            if row.thread_or_basic in names
        ]

    def letter(self, fastener: Part) -> Drill | None:
        """The drill of the circular's letter rule (AC 43.13-1B 7-39), or None where no row says that it holds."""
        value = quantity(fastener, "nominal_diameter")
        if value is None or all(entry.row.fit != "general" for entry in self.suggested(fastener)):
            return None
        letters = [Drill(r.designation, parse_number(r.diameter)) for r in self._drills if r.kind == "letter"]
        return first_above(value.number, letters)

    def near(self, diameter: Fraction, within: Fraction = Fraction(1, 50)) -> list[NearDrill]:
        """Drills from the nominal diameter up to ``within`` above it, smallest first."""
        found = [NearDrill(row, parse_number(row.diameter) - diameter) for row in self._drills]
        return sorted((d for d in found if 0 <= d.over <= within), key=lambda d: d.over)


def read_thread(text: str, rows: list[ThreadValue], series: str = "") -> Thread:
    """The thread of a designation with the series asked, else that of the published rows. ValueError when it is none."""
    return parse_thread(text, series or series_of(rows))
