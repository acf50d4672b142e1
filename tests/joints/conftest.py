"""What the tests of joints share: a checker over all rows, and one joint whose every size is known."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from service.api.desk import Desk
from service.joints.assembly import Assembly, Layer
from service.joints.checking import Checker
from service.joints.formulas.stack import exactly, toleranced
from service.parts.part import Part

Named = Callable[..., Part]


@pytest.fixture(scope="session")
def checker(desk: Desk) -> Checker:
    return Checker(desk.catalogue, desk.rules)


@pytest.fixture
def joint(part: Named) -> Assembly:
    """Plates .400 +- .010 and .100, a washer of .032 under the head and one of .063 under the nut; grip .500, length .900,
    nut .250 high, all measured."""
    return Assembly(
        part("AN4-7A"),
        (part("AN960-416L"),),
        (part("AN960-416"),),
        part("MS21045-4"),
        stack=(
            Layer(toleranced(Fraction("0.4"), Fraction(1, 100), Fraction(1, 100)), "aluminium"),
            Layer(exactly(Fraction("0.1")), "aluminium"),
        ),
        measured={
            "grip_length": exactly(Fraction("0.5")),
            "length": exactly(Fraction("0.9")),
            "height": exactly(Fraction("0.25")),
        },
        joint={"rotates": "no", "load": "tension", "temperature": Fraction(100)},
    )
