"""Torque rows by document, what goes with them, and a setting worked out from one document's row. Never a blend."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.joints.formulas.preload import PreloadBand, implied_nut_factor, preload_band, preload_from_torques
from service.joints.formulas.threads import Thread, parse_thread, stress_area
from service.joints.formulas.torque import (
    CastellatedWindow,
    DragPractice,
    TorqueRange,
    WrenchSetting,
    add_drag,
    castellated_window,
    convert_torque,
    round_range,
    round_setting,
    wrench_setting,
)
from service.quantity import parse_number
from service.tables.joint_rows import PreloadFactor, Torque, TorqueNote
from service.tables.rows import TRUST

#: the general table, used where the maker gives no torque
GENERAL: Final = "ac43.13-1b-table-7-1"
INCH_POUNDS: Final = "[in_i].[lbf_av]"
#: which column a nut's load class reads
_COLUMN: Final = {"tension": "tension", "shear": "shear"}


@dataclass(frozen=True, slots=True)
class Recommended:
    """One document's rows for a thread and a column: the range and, where it is printed, the maximum."""

    row: Torque
    maximum: Torque | None

    @property
    def range(self) -> TorqueRange:
        """The recommended range as printed."""
        return range_of(self.row)


def range_of(row: Torque) -> TorqueRange:
    """A row's range as printed, in its own unit. ValueError when it gives no high end."""
    return TorqueRange(parse_number(row.low) if row.low else None, parse_number(row.high))


def column_for(load_class: str) -> str:
    """The column of the general table that a nut's load class reads; empty when it has none."""
    return _COLUMN.get(load_class, "")


def _told_apart(row: Torque) -> str:
    return ", ".join(filter(None, (row.part, row.fastener, row.finish, row.condition))) or row.locator


class TorqueTables:
    """The torque rows of a catalogue at one basis or better."""

    def __init__(self, catalogue: Catalogue, basis: str) -> None:
        self.all = [row for row in catalogue.package.of(Torque) if TRUST[row.basis] <= TRUST[basis]]
        self.notes = [row for row in catalogue.package.of(TorqueNote) if TRUST[row.basis] <= TRUST[basis]]
        self.factors = [row for row in catalogue.package.of(PreloadFactor) if TRUST[row.basis] <= TRUST[basis]]

    @property
    def threads(self) -> tuple[str, ...]:
        """Every thread that some document gives a torque for, in table order."""
        return tuple(dict.fromkeys(row.thread for row in self.all))

    def rows(self, thread: str, nut_load: str = "", document: str = "") -> list[Torque]:
        """Rows for a thread; rows that name no column are kept, because they hold for whatever they name instead."""
        return [
            row
            for row in self.all
            if row.thread == thread
            and (not nut_load or row.nut_load in {"", nut_load})
            and (not document or row.document == document)
        ]

    def about(self, document: str) -> list[TorqueNote]:
        """Column heads, footnotes, cautions of one document; of no document (the empty one) what holds in general."""
        return [row for row in self.notes if row.document == document]

    def recommended(self, thread: str, nut_load: str, document: str = GENERAL) -> Recommended | None:
        """The range and maximum of one document, or None when it has no such row.

        ValueError when the document gives several ranges that differ by part, fastener, finish or condition: nobody but the asker knows which.
        """
        rows = [row for row in self.rows(thread, nut_load, document) if row.nut_load == nut_load or not row.nut_load]
        ranges = [row for row in rows if row.range == "recommended" and row.high]
        if not ranges:
            return None
        if len({(row.low, row.high, row.unit) for row in ranges}) > 1:
            told = "; ".join(f"{row.low or '-'} to {row.high}: {_told_apart(row)}" for row in ranges)
            raise ValueError(
                f"{document} gives several ranges for {thread} ({told}); choose one and give it as the torque"
            )
        return Recommended(ranges[0], next((row for row in rows if row.range == "maximum"), None))

    def warning(self) -> TorqueNote | None:
        """The note that the general table follows no single nut factor."""
        return next((note for note in self.about(GENERAL) if note.topic == "warning"), None)


@dataclass(frozen=True, slots=True)
class Wrench:
    """A wrench and its adapter, inches and degrees (0 straight on, 90 square, 180 folded back)."""

    length: Fraction
    adapter: Fraction
    degrees: Fraction


@dataclass(frozen=True, slots=True)
class Setting:
    """What to set: torque at the nut, the same with drag, the wrench's reading, the castellated window, all inch-pounds,
    and the readings in the unit asked, rounded."""

    torque: TorqueRange
    with_drag: TorqueRange
    low: WrenchSetting | None
    high: WrenchSetting
    reading: TorqueRange
    rounded: TorqueRange
    window: CastellatedWindow | None
    window_rounded: CastellatedWindow | None


def setting(
    torque: TorqueRange,
    maximum: Fraction | None,
    drag: Fraction,
    practice: DragPractice,
    wrench: Wrench,
    castellated: bool,
    unit: str,
    places: int,
) -> Setting:
    """Work a setting out. ValueError where the adapter leaves no lever, rounding leaves no range, or a castellated
    window lacks a maximum or a low end."""
    with_drag = add_drag(torque, drag, practice)

    def at_wrench(value: Fraction) -> WrenchSetting:
        return wrench_setting(value, wrench.length, wrench.adapter, wrench.degrees)

    low = None if with_drag.low is None else at_wrench(with_drag.low)
    high = at_wrench(with_drag.high)
    reading = TorqueRange(low.reading if low else None, high.reading)
    window = window_rounded = None
    if castellated:
        if maximum is None:
            raise ValueError("a castellated nut is lined up below a maximum, and no row gives one")
        window = castellated_window(torque, maximum, drag)
        ends = [
            convert_torque(at_wrench(v).reading, INCH_POUNDS, unit) for v in (window.start, window.aim, window.limit)
        ]
        inner = round_range(TorqueRange(ends[0], ends[2]), places)
        assert inner.low is not None
        window_rounded = CastellatedWindow(inner.low, round_setting(ends[1], places), inner.high)
    asked = TorqueRange(
        None if reading.low is None else convert_torque(reading.low, INCH_POUNDS, unit),
        convert_torque(reading.high, INCH_POUNDS, unit),
    )
    rounded = round_range(asked, places) if asked.low != asked.high else _one(round_setting(asked.high, places))
    return Setting(torque, with_drag, low, high, reading, rounded, window, window_rounded)


def _one(value: Fraction) -> TorqueRange:
    """A single torque as a range."""
    return TorqueRange(value, value)


@dataclass(frozen=True, slots=True)
class Estimate:
    """The preload that a torque range gives with one document's nut factor: the factor's own span, then with the
    scatter of tightening on top."""

    factor: PreloadFactor
    band: PreloadBand
    with_scatter: PreloadBand


def estimates(
    torque: TorqueRange, thread: Thread, factors: list[PreloadFactor], scatter: Fraction, relaxation: Fraction
) -> list[Estimate]:
    """An estimate for each factor row. ``torque`` is without drag; a maximum alone counts as both ends."""
    low = torque.high if torque.low is None else torque.low
    found = []
    for row in factors:
        ends = (parse_number(row.low), parse_number(row.high))
        band = preload_from_torques(low, torque.high, ends, thread.diameter)
        least = preload_band(band.low, scatter, relaxation).low
        most = preload_band(band.high, scatter, relaxation).high
        found.append(Estimate(row, band, PreloadBand(band.nominal, least, most)))
    return found


def implied_factor(row: Torque, stress: Fraction) -> Fraction | None:
    """The nut factor that the middle of a row implies at its column's stress; None when the thread cannot be read."""
    try:
        thread = parse_thread(row.thread)
    except ValueError:
        return None
    torque = range_of(row)
    middle = torque.high if torque.low is None else (torque.low + torque.high) / 2
    return implied_nut_factor(middle, stress, stress_area(thread), thread.diameter)
