"""Two parts side by side: every attribute of either, and the difference where both are known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from service.catalogue.values import Value
from service.parts.part import Part

Sameness = Literal["same", "different", "unknown"]


@dataclass(frozen=True, slots=True)
class Comparison:
    """One attribute of two parts. ``difference`` is second minus first, for quantities that are both known."""

    attribute: str
    first: Value | None
    second: Value | None
    sameness: Sameness
    difference: Fraction | None


def side_by_side(first: Part, second: Part, order: Iterable[str]) -> list[Comparison]:
    """Every attribute either part has, in vocabulary order. An attribute that one side lacks is ``unknown``, never ``same``."""
    ours, theirs = first.attributes, second.attributes
    return [_compare(name, ours.get(name), theirs.get(name)) for name in order if name in ours or name in theirs]


def _compare(name: str, a: Value | None, b: Value | None) -> Comparison:
    if a is None or b is None or a.exact is None or b.exact is None:
        return Comparison(name, a, b, "unknown", None)
    if isinstance(a.exact, Fraction) and isinstance(b.exact, Fraction):
        difference = b.exact - a.exact
        same = difference == 0 and (a.plus, a.minus, a.limit) == (b.plus, b.minus, b.limit)
        return Comparison(name, a, b, "same" if same else "different", difference)
    return Comparison(name, a, b, "same" if a.exact == b.exact else "different", None)
