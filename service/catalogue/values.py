"""A value with its provenance: what the tables say, in which row, from which source, how far to be trusted."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from service.quantity import decimal_text, inch_fraction, with_unit
from service.tables.rows import TRUST, Attribute, Cited


@dataclass(frozen=True, slots=True)
class Citation:
    """The row a statement comes from, that row's source and locator, and how far it can be trusted."""

    row: str
    source: str
    locator: str
    basis: str
    note: str

    @classmethod
    def of(cls, row: Cited) -> Citation:
        """The citation a table row carries."""
        return cls(row.row, row.source_id, row.locator, row.basis.value, row.note)

    @property
    def trust(self) -> int:
        """Place in the order of trust, 0 the strongest."""
        return TRUST[self.basis]


@dataclass(frozen=True, slots=True)
class Value:
    """One attribute of one part.

    ``exact`` is a Fraction in ``unit`` for a quantity, the words for a word, ``yes`` or ``no`` for a flag, and None where the
    tables state that no source gives it: then ``reason`` says why and ``citation`` is None. ``others`` are the values
    of rows that say something else about the same attribute, less preferred; nothing that disagrees is hidden.
    """

    attribute: str
    exact: Fraction | str | None
    unit: str
    printed: str
    display: str
    limit: str = ""
    plus: Fraction | None = None
    minus: Fraction | None = None
    citation: Citation | None = None
    reason: str = ""
    others: tuple[Value, ...] = ()

    @property
    def text(self) -> str | None:
        """The value as it leaves the service: a decimal string for a quantity."""
        return decimal_text(self.exact) if isinstance(self.exact, Fraction) else self.exact

    @property
    def number(self) -> Fraction:
        """The quantity; TypeError where this is no quantity."""
        if not isinstance(self.exact, Fraction):
            raise TypeError(f"{self.attribute} is no quantity: {self.exact!r}")
        return self.exact

    def at_least(self, basis: str) -> Value:
        """This value if its basis is ``basis`` or stronger, else the first other one that is, else an absent value that says why."""
        limit = TRUST[basis]
        said = [v for v in (self, *self.others) if v.citation is not None and v.citation.trust <= limit]
        if said:
            rest = tuple(said[1:])
            return said[0] if said[0] is self and rest == self.others else replace(said[0], others=rest)
        if self.citation is None:
            return self
        strongest = min((v.citation for v in (self, *self.others) if v.citation is not None), key=lambda c: c.trust)
        reason = f"nothing at {basis} or better; the strongest row is {strongest.basis}"
        return Value(self.attribute, None, self.unit, "", "", reason=reason)

    @property
    def least(self) -> Fraction:
        """The smallest size the tolerance allows."""
        return self.number - (self.minus or 0)

    @property
    def greatest(self) -> Fraction:
        """The largest size the tolerance allows."""
        return self.number + (self.plus or 0)


def display_of(attribute: Attribute, exact: Fraction | str, printed: str, limit: str) -> str:
    """``exact`` as a person at the counter reads it: the printed form with its unit, or the flag's words."""
    if attribute.form == "flag":
        return attribute.yes_words if exact == "yes" else attribute.no_words
    text = with_unit(printed, attribute.unit)
    if isinstance(exact, Fraction) and attribute.unit == "[in_i]" and "/" not in printed:
        fraction = inch_fraction(exact)
        if fraction and "/" in fraction:
            text = f"{text} ({fraction})"
    return f"{text} {limit}" if limit else text
