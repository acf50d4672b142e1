"""The shape of the rows that joint and rivet calculations read: one number a row, each with its own source.

Columns are text like every other table's; the pure functions in ``service.joints`` parse what they use.
"""

from __future__ import annotations

from typing import ClassVar

from service.tables.rows import Cited, Word


class Drill(Cited):
    """Drill sizes by designation."""

    about: ClassVar[str] = "drill sizes by designation"
    kind: str
    designation: Word
    fraction: str
    diameter: Word
    unit: Word


class FastenerHole(Cited):
    """Holes suggested for a fastener, with the fit."""

    about: ClassVar[str] = "holes suggested for a fastener, with the fit"
    thread_or_basic: Word
    fit: Word
    drill: str
    diameter: Word
    unit: Word
    limit: str


class HoleNote(Cited):
    """What to know about holes."""

    about: ClassVar[str] = "what to know about holes"
    topic: Word
    text: Word
    value: str
    unit: str


class Galvanic(Cited):
    """Metals beside each other, by document."""

    about: ClassVar[str] = "metals beside each other, by document"
    kind: Word
    a: Word
    b: str
    verdict: str
    condition: str


class Material(Cited):
    """Material properties."""

    about: ClassVar[str] = "material properties"
    material: Word
    form: str
    quantity: Word
    limit: str
    value: Word
    unit: str


class Practice(Cited):
    """Published joint practices as numbers: protrusion, grip, clocking."""

    about: ClassVar[str] = "published joint practices as numbers: protrusion, grip, clocking"
    topic: Word
    practice: Word
    applies_to: str
    #: clauses in the language of rules: for such a set the practice does not speak
    excepted: str
    quantity: str
    limit: str
    value: str
    unit: str
    rule: str


class PreloadFactor(Cited):
    """Nut factors and scatter, with their conditions."""

    about: ClassVar[str] = "nut factors and scatter, with their conditions"
    quantity: Word
    condition: str
    low: str
    high: str
    unit: str


class PrevailingTorque(Cited):
    """Minimum prevailing torque of self-locking nuts, by document."""

    about: ClassVar[str] = "minimum prevailing torque of self-locking nuts, by document"
    document: str
    thread: str
    series: str
    nominal_size: str
    nut: str
    minimum: Word
    unit: Word
    meaning: str


class ThreadValue(Cited):
    """Published thread dimensions."""

    about: ClassVar[str] = "published thread dimensions"
    thread: Word
    series: str
    quantity: Word
    thread_class: str
    limit: str
    value: Word
    unit: str
    printed_slip: str
    believed: str


class TorqueNote(Cited):
    """Column heads, footnotes and cautions of the torque tables."""

    about: ClassVar[str] = "column heads, footnotes and cautions of the torque tables"
    document: str
    topic: Word
    nut_load: str
    range: str
    text: str
    value: str
    unit: str


class Torque(Cited):
    """Tightening torques as printed, by document, never blended."""

    about: ClassVar[str] = "tightening torques as printed, by document, never blended"
    document: str
    thread: Word
    series: str
    part: str
    nut_load: str
    range: str
    low: str
    high: str
    unit: Word
    estimated: str
    printed_slip: str
    believed_low: str
    believed_high: str
    fastener: str
    finish: str
    condition: str


class SpliceCell(Cited):
    """Rivets or bolts per inch of width, cell by cell."""

    about: ClassVar[str] = "rivets or bolts per inch of width, cell by cell"
    table: Word
    sheet_thickness: Word
    rivet_diameter_or_bolt: Word
    count_per_inch: Word
    believed: str
    calculated: str
    governing: str
    printed_slip: str


class SpliceMaterial(Cited):
    """The sheet materials of each splice table."""

    about: ClassVar[str] = "the sheet materials of each splice table"
    table: Word
    material: Word
    alloy: str
    temper: str
    cladding: str
    form: str


class SpliceTableNote(Cited):
    """Assumptions, factors and methods of the splice tables."""

    about: ClassVar[str] = "assumptions, factors and methods of the splice tables"
    table: Word
    topic: Word
    subject: str
    value: str
    unit: str
    text: str


class SheetMaterial(Cited):
    """Sheet properties for rivet calculations."""

    about: ClassVar[str] = "sheet properties for rivet calculations"
    material: Word
    quantity: Word
    condition: str
    value: Word
    unit: str


class RivetStrength(Cited):
    """Rivet shear and sheet bearing, with the area basis."""

    about: ClassVar[str] = "rivet shear and sheet bearing, with the area basis"
    alloy: str
    material_code: str
    diameter: str
    quantity: Word
    value: Word
    unit: Word
    area_basis: str
    stress: str
    sheet_thickness: str
    rank: str


class RivetHole(Cited):
    """Drills, holes, shop heads, countersinks by rivet diameter."""

    about: ClassVar[str] = "drills, holes, shop heads, countersinks by rivet diameter"
    rivet_type: str
    diameter: Word
    quantity: Word
    value: Word
    unit: str
    rank: str


class BlindRivetGrip(Cited):
    """Grips and holes of blind rivet numbers."""

    about: ClassVar[str] = "grips and holes of blind rivet numbers"
    rivet_number: Word
    diameter: str
    quantity: Word
    value: Word
    unit: str


class RivetBoltSubstitution(Cited):
    """A bolt in place of a rivet, battle damage repair only."""

    about: ClassVar[str] = "a bolt in place of a rivet, battle damage repair only"
    rivet: Word
    diameter: str
    quantity: Word
    value: Word
    unit: str


class RivetRule(Cited):
    """Rivet rules with their limits."""

    about: ClassVar[str] = "rivet rules with their limits"
    topic: Word
    applies_to: str
    effect: Word
    quantity: str
    comparison: str
    limit: str
    unit: str
    formula: str
    text: Word
