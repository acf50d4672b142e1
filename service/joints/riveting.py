"""A riveted joint from rows: diameter, length, hole, heads, spacing, strength and count, each document by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.designation.encode import Encoder, Wanted, one_of
from service.joints.formulas.rivets import (
    LengthRounding,
    computed_length,
    next_diameter,
    standard_length,
    target_diameter,
)
from service.joints.formulas.splice import CountOrder, PerInch, bolts_per_inch, rivets_per_inch, splice_count
from service.joints.practices import Practices
from service.quantity import parse_number
from service.tables.joint_rows import (
    Practice,
    RivetHole,
    RivetStrength,
    SpliceCell,
    SpliceMaterial,
    SpliceTableNote,
)
from service.tables.rows import TRUST

#: what a joint is, and the practice quantity that carries its factor; ``full`` takes the whole count
FACTORS: Final = {"full": "", "stringer": "stringer_factor", "frame": "frame_factor", "single-lap": "single_lap_factor"}


@dataclass(frozen=True, slots=True)
class Length:
    """A length by one rounding practice, and the numbers of that length."""

    practice: Practice
    length: Fraction
    numbers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Count:
    """Rivets on each side of a joint by one order of rounding, from the printed cell and from the worked one."""

    practice: Practice
    printed: int
    worked: int | None


@dataclass(frozen=True, slots=True)
class Splice:
    """A cell of a splice table: as printed, as believed where print slipped, as worked, and the counts."""

    cell: SpliceCell
    material: SpliceMaterial
    worked: PerInch | None
    assumptions: tuple[SpliceTableNote, ...]
    factor: Practice | None
    counts: tuple[Count, ...]


class RivetTables:
    """The rivet rows of a catalogue at one basis or better."""

    def __init__(self, catalogue: Catalogue, encoder: Encoder, basis: str) -> None:
        limit = TRUST[basis]
        self._catalogue, self._encoder = catalogue, encoder
        self.practices = Practices(catalogue, basis)
        self._holes = [row for row in catalogue.package.of(RivetHole) if TRUST[row.basis] <= limit]
        self._strengths = [row for row in catalogue.package.of(RivetStrength) if TRUST[row.basis] <= limit]
        self._cells = [row for row in catalogue.package.of(SpliceCell) if TRUST[row.basis] <= limit]
        self._notes = [row for row in catalogue.package.of(SpliceTableNote) if TRUST[row.basis] <= limit]
        self._materials = [row for row in catalogue.package.of(SpliceMaterial) if TRUST[row.basis] <= limit]

    @property
    def diameters(self) -> tuple[Fraction, ...]:
        """Diameters that some hole row of solid rivets has, smallest first."""
        return tuple(sorted({parse_number(row.diameter) for row in self._holes if row.rivet_type == "solid"}))

    @property
    def sheet_materials(self) -> tuple[str, ...]:
        """Sheet materials that a splice table names."""
        return tuple(dict.fromkeys(row.material for row in self._materials))

    def diameter(self, sheets: Sequence[Fraction]) -> Fraction | None:
        """The smallest diameter made that is not below three times the thickest sheet; None when there is none."""
        return next_diameter(target_diameter(max(sheets)), self.diameters)

    def lengths(self, grip: Fraction, diameter: Fraction, families: Sequence[str], code: str) -> list[Length]:
        """The length by each published rounding, with the numbers of these families and alloy code."""
        computed = computed_length(grip, diameter)
        found = []
        for row in self.practices.rows("rivet_rounding"):
            rounding: LengthRounding = "nearest" if row.practice == "nearest" else "next-above"
            length = standard_length(computed, rounding, parse_number(row.value))
            found.append(Length(row, length, tuple(self.numbers(diameter, length, families, code))))
        return found

    def numbers(self, diameter: Fraction, length: Fraction, families: Sequence[str], code: str) -> Iterator[str]:
        """Rivet numbers of a diameter, length and alloy code."""
        wanted: dict[str, Wanted] = {"nominal_diameter": one_of(diameter), "length": one_of(length)}
        for name in families:
            family: FamilySpec = self._catalogue.families[name]
            fixed = {i: frozenset({code}) for i, spec in enumerate(family.slots) if spec.name == "material"}
            for codes in self._encoder.numbers(family, wanted, fixed):
                yield family.format(codes)

    def holes(self, diameter: Fraction, flush: bool) -> list[RivetHole]:
        """Drills, holes and shop heads of a diameter; with ``flush``, countersinks and dimples too."""
        rows = [
            row
            for row in self._holes
            if parse_number(row.diameter) == diameter and "blind" not in row.rivet_type.split()[:1]
        ]
        rows += [
            row
            for row in self._holes
            if row.rivet_type == "blind and solid flush" and parse_number(row.diameter) == diameter
        ]
        if not flush:
            rows = [row for row in rows if "countersink" not in row.quantity and "dimple" not in row.quantity]
        return sorted(rows, key=lambda row: (row.quantity, row.rank or "9"))

    def strengths(self, diameter: Fraction, code: str, sheets: Sequence[Fraction] = ()) -> list[RivetStrength]:
        """Shear and bearing rows of a diameter and alloy code, and the areas they were worked on; bearing rows for one
        thickness of sheet only where such a sheet is in the pack."""
        return [
            row
            for row in self._strengths
            if row.material_code in {"", code}
            and (not row.diameter or parse_number(row.diameter) == diameter)
            and (not row.sheet_thickness or parse_number(row.sheet_thickness) in sheets)
        ]

    def splices(
        self, material: str, thickness: Fraction, diameter: Fraction, width: Fraction | None, joint: str
    ) -> list[Splice]:
        """Cells of every table that names the sheet material, for this thickness and rivet; counts when there is a width.

        ValueError for a kind of joint that no factor is for.
        """
        if joint not in FACTORS:
            raise ValueError(f"a joint is one of {', '.join(FACTORS)}")
        found = []
        for named in self._materials:
            if named.material != material:
                continue
            for cell in self._cells:
                size = cell.rivet_diameter_or_bolt
                if cell.table != named.table or not size[0].isdigit() or parse_number(size) != diameter:
                    continue
                if parse_number(cell.sheet_thickness) == thickness:
                    found.append(self._splice(cell, named, width, joint))
        return found

    def _splice(self, cell: SpliceCell, material: SpliceMaterial, width: Fraction | None, joint: str) -> Splice:
        worked, used = self.worked(cell)
        factor = next((row for row in self.practices.rows("splice_factor") if row.quantity == FACTORS[joint]), None)
        share = parse_number(factor.value) if factor is not None else Fraction(1)
        counts = []
        for row in self.practices.rows("splice_order") if width is not None else ():
            order: CountOrder = "width-first" if row.practice == "width-first" else "factor-first"
            assert width is not None
            printed = splice_count(parse_number(cell.count_per_inch), width, share, order)
            by_worked = None if worked is None else splice_count(worked.needed, width, share, order)
            counts.append(Count(row, printed, by_worked))
        return Splice(cell, material, worked, used, factor, tuple(counts))

    def worked(self, cell: SpliceCell) -> tuple[PerInch | None, tuple[SpliceTableNote, ...]]:
        """A cell from first principles and the notes it was worked from; None when a ratio or the hole is missing.

        A ratio that the cells fit stands before the printed one (``believed`` in the notes).
        """
        notes = {note.subject: note for note in self._notes if note.table == cell.table and note.value}
        bearing = notes.get("bearing_ratio_believed") or notes.get("bearing_ratio")
        shear = notes.get("shear_ratio") or notes.get("shear_ratio_believed")
        thickness = parse_number(cell.sheet_thickness)
        if not cell.rivet_diameter_or_bolt[0].isdigit():
            tensile, load = notes.get("sheet_tensile"), notes.get("bolt_single_shear")
            if bearing is None or tensile is None or load is None:
                return None, ()
            bolt = bolts_per_inch(
                thickness,
                Fraction(3, 16),
                parse_number(tensile.value),
                parse_number(load.value),
                parse_number(bearing.value),
            )
            return bolt, (bearing, tensile, load)
        hole = self._nominal_hole(parse_number(cell.rivet_diameter_or_bolt))
        if bearing is None or shear is None or hole is None:
            return None, ()
        worked = rivets_per_inch(thickness, hole, parse_number(shear.value), parse_number(bearing.value))
        return worked, (bearing, shear)

    def _nominal_hole(self, diameter: Fraction) -> Fraction | None:
        rows = [
            row
            for row in self._holes
            if row.rivet_type == "solid" and row.quantity == "hole_nominal" and parse_number(row.diameter) == diameter
        ]
        return parse_number(min(rows, key=lambda row: row.rank or "9").value) if rows else None
