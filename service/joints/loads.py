"""A load on a fastener against what the rows say it carries: shear on its shank, tension, and both together.

The load is pounds-force for one fastener. A limit load is multiplied by the factor stated with it; the rows give
ultimate loads. What bears on the plates, and what the nut carries, is not judged here.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from service.catalogue.values import Value
from service.joints.assembly import quantity
from service.joints.formulas.strength import interaction, margin
from service.parts.part import Part

Kind = Literal["shear", "tension"]


@dataclass(frozen=True, slots=True)
class Load:
    """What one fastener must carry. ``basis`` says what the figures are; ``factor`` multiplies them."""

    basis: Literal["limit", "ultimate"]
    shear: Fraction = Fraction(0)
    tension: Fraction = Fraction(0)
    shear_planes: int = 1
    factor: Fraction = Fraction(1)

    def __post_init__(self) -> None:
        if min(self.shear, self.tension) < 0 or self.shear + self.tension == 0:
            raise ValueError("a load has shear or tension above zero")
        if self.factor < 1 or self.shear_planes not in {1, 2}:
            raise ValueError("a factor is at least 1, and a shank is cut in 1 or 2 planes")

    @property
    def word(self) -> Literal["shear", "tension", "both"]:
        """The load as the rules speak of it."""
        return "both" if self.shear and self.tension else "shear" if self.shear else "tension"


@dataclass(frozen=True, slots=True)
class Carried:
    """One kind of load: what is needed with its factor, and the row's ultimate load over all planes; pounds-force."""

    kind: Kind
    needed: Fraction
    allowed: Fraction
    value: Value

    @property
    def margin(self) -> Fraction:
        """Margin of safety, allowed / needed - 1."""
        return margin(self.allowed, self.needed)


@dataclass(frozen=True, slots=True)
class Carrying:
    """What a fastener carries of a load. ``unknown`` names the kinds that no row gives; ``together`` is at most 1 where
    shear and tension are carried at once (NASA TM-106943 eq. 56), None where only one is asked."""

    by_kind: tuple[Carried, ...]
    unknown: tuple[Kind, ...]
    together: Fraction | None

    @property
    def holds(self) -> bool:
        """Whether every kind is known and carried, alone and together."""
        alone = not self.unknown and all(entry.margin >= 0 for entry in self.by_kind)
        return alone and (self.together is None or self.together <= 1)

    @property
    def share(self) -> Fraction:
        """The largest share of a row's load that is needed; above 1 the fastener is too weak."""
        return max((entry.needed / entry.allowed for entry in self.by_kind), default=Fraction(0))


def carrying(fastener: Part, load: Load) -> Carrying:
    """What the rows say of a fastener under a load."""
    known: list[Carried] = []
    unknown: list[Kind] = []
    kinds: tuple[tuple[Kind, Fraction, int], ...] = (
        ("shear", load.shear, load.shear_planes),
        ("tension", load.tension, 1),
    )
    for kind, asked, planes in kinds:
        if not asked:
            continue
        value = quantity(fastener, f"{kind}_load")
        if value is None:
            unknown.append(kind)
        else:
            known.append(Carried(kind, asked * load.factor, value.number * planes, value))
    together = None
    if len(known) == 2:
        ratios = {entry.kind: entry.needed / entry.allowed for entry in known}
        together = interaction(ratios["tension"], ratios["shear"])
    return Carrying(tuple(known), tuple(unknown), together)
