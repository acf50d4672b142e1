"""What parts weigh, as far as their rows give a shape and a material's row a density: estimates, never a part's own mass.

A washer is a ring. A bolt is its grip at the shank's diameter, its thread at the pitch diameter and a hexagon prism for
the head. Chamfers, fillets, holes and slots are left in. Nuts, cotter pins and the rest have no shape in the tables
that could be weighed. Masses are pounds.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Citation
from service.joints.assembly import quantity, why_absent, word
from service.joints.formulas.areas import circle_area, ring_area
from service.joints.formulas.threads import parse_thread, pitch_diameter
from service.parts.part import Part
from service.quantity import parse_number
from service.tables.joint_rows import Material
from service.tables.rows import TRUST

#: the ``form`` of material rows whose density stands for a whole group of materials
GROUP: Final = "material group, for an estimate"
#: area of a hexagon over the square of its width across flats: half the root of 3, to 20 digits
_HEXAGON: Final = Fraction("0.86602540378443864676")
_RING: Final = ("outside_diameter", "inside_diameter", "thickness")
_BOLT: Final = ("shank_diameter", "grip_length", "length", "width_across_flats", "head_height")


@dataclass(frozen=True, slots=True)
class Weighed:
    """A part and its mass, pounds; None with the reason where it cannot be worked out."""

    number: str
    mass: Fraction | None
    why_not: str = ""
    density: Citation | None = None


class Masses:
    """Weighs parts by the density rows of one catalogue at one basis or better."""

    def __init__(self, catalogue: Catalogue, basis: str) -> None:
        self._density = {
            row.material: row
            for row in catalogue.package.of(Material)
            if row.quantity == "density" and row.form == GROUP and TRUST[row.basis] <= TRUST[basis]
        }

    def weigh(self, parts: Iterable[Part]) -> list[Weighed]:
        """Each part with its mass or the reason why it has none."""
        return [self._one(part) for part in parts]

    def _one(self, part: Part) -> Weighed:
        group = word(part, "material_group")
        row = self._density.get(group)
        if row is None:
            return Weighed(part.number, None, f"no density row for {group or 'its material'}")
        shape = {"washer": _RING, "bolt": _BOLT}.get(part.family.kind)
        if shape is None:
            kind = part.family.kind.replace("_", " ")
            return Weighed(part.number, None, f"the rows do not give the shape of a {kind}")
        sizes = [quantity(part, name) for name in shape]
        missing = [why_absent(part, name) for name, value in zip(shape, sizes, strict=True) if value is None]
        if missing:
            return Weighed(part.number, None, missing[0])
        numbers = [value.number for value in sizes if value is not None]
        volume = _ring(*numbers) if shape is _RING else _bolt(word(part, "thread"), *numbers)
        return Weighed(part.number, volume * parse_number(row.value), density=Citation.of(row))


def _ring(outside: Fraction, inside: Fraction, thickness: Fraction) -> Fraction:
    return ring_area(outside, inside) * thickness


def _bolt(thread: str, shank: Fraction, grip: Fraction, length: Fraction, flats: Fraction, head: Fraction) -> Fraction:
    threaded = circle_area(pitch_diameter(parse_thread(thread))) * max(length - grip, Fraction(0))
    return circle_area(shank) * grip + threaded + _HEXAGON * flats**2 * head
