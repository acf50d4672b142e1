"""What is wanted of a part: one condition on one attribute, and how near a value comes to it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from service.catalogue.values import Value
from service.designation.encode import Encoder, Exact
from service.quantity import decimal_text


@dataclass(frozen=True, slots=True)
class Want:
    """One attribute and what its value must be: one of ``words`` (or flags), or a quantity from ``low`` to ``high``, both included."""

    attribute: str
    words: frozenset[str] = frozenset()
    low: Fraction | None = None
    high: Fraction | None = None

    def meets(self, value: Value) -> bool:
        """Whether a value is what is wanted. An absent value never is."""
        exact = value.exact
        if isinstance(exact, Fraction):
            return (self.low is None or exact >= self.low) and (self.high is None or exact <= self.high)
        return exact is not None and exact.casefold() in self.words

    def distance(self, exact: Exact) -> Fraction:
        """How far a quantity lies outside what is wanted, in its unit; 0 for a word, which has no distance."""
        if not isinstance(exact, Fraction):
            return Fraction(0)
        if self.low is not None and exact < self.low:
            return self.low - exact
        if self.high is not None and exact > self.high:
            return exact - self.high
        return Fraction(0)

    @property
    def text(self) -> str:
        """The condition as it leaves the service: ``0.5``, ``0.5..0.75``, ``..0.75``, ``steel|stainless``."""
        if self.words:
            return "|".join(sorted(self.words))
        low = "" if self.low is None else decimal_text(self.low)
        high = "" if self.high is None else decimal_text(self.high)
        return low if low == high else f"{low}..{high}"


def words_of(encoder: Encoder, attribute: str) -> tuple[str, ...]:
    """Every word that some row gives the attribute, in order."""
    families = [f for f in encoder.catalogue.families.values() if attribute in f.facets.by_attribute]
    values = (value.exact for family in families for value, _ in encoder.table(family, attribute))
    return tuple(sorted({exact for exact in values if isinstance(exact, str)}))
