"""Clues about a part in the hand: a reading with its uncertainty, a thread, a mark, a colour, a magnet; and what each says of a value."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Final, Literal

from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Citation, Value
from service.quantity import decimal_text

Verdict = Literal["for", "allowed", "doubtful", "against", "silent"]
#: outside the tables' size by no more than this many uncertainties is doubt, beyond it is evidence against
DOUBT: Final = 3
_TPI: Final = re.compile(r"-(\d+)\Z")
_MATERIAL_RULE: Final = re.compile(r"(?P<kind>\w+)\.material_group = (?P<word>[\w-]+) and joint\.nonmagnetic = yes")
#: forms of one word in descriptions of a mark
_SAME: Final = {
    "two": "double",
    "one": "single",
    "dashes": "dash",
    "dots": "dot",
    "crosses": "cross",
    "triangles": "triangle",
}


@dataclass(frozen=True, slots=True)
class Said:
    """What one clue says of one value."""

    verdict: Verdict
    value: Value | None
    text: str
    by: Fraction | None = None
    citation: Citation | None = None


@dataclass(frozen=True, slots=True)
class Clue:
    """One thing observed. ``attribute`` is the attribute it speaks about; a mark, a colour or a magnet is ``weak``."""

    attribute: str
    observed: str
    form: Literal["reading", "thread", "pitch", "mark", "word", "magnet"]
    number: Fraction | None = None
    uncertainty: Fraction = Fraction(0)

    @property
    def weak(self) -> bool:
        """Whether the clue must not decide by itself."""
        return self.form in {"mark", "word", "magnet"}

    def of(self, value: Value | None, kind: str, magnets: Magnets) -> Said:
        """What the clue says of a part of a kind whose attribute has this value."""
        if value is None or value.exact is None:
            return Said("silent", None, f"no row gives {self.attribute}")
        if self.form == "reading" and isinstance(value.exact, Fraction):
            return _measured(self, value)
        if self.form == "magnet":
            return magnets.say(self.observed == "yes", value, kind)
        words = str(value.exact)
        if self.form == "pitch":
            found = _TPI.search(words)
            same = found is not None and Fraction(found[1]) == self.number
        elif self.form == "mark":
            same = _mark(self.observed) <= _mark(words)
        else:
            same = words.casefold() == self.observed.casefold()
        return Said(
            "for" if same else "against",
            value,
            f"{words} {'agrees' if same else 'does not agree'} with {self.observed}",
            citation=value.citation,
        )


def _mark(words: str) -> frozenset[str]:
    return frozenset(_SAME.get(word, word) for word in re.findall(r"[a-z0-9]+", words.casefold()))


def _measured(clue: Clue, value: Value) -> Said:
    reading, u = clue.number or Fraction(0), clue.uncertainty
    low = None if value.limit == "max" else value.least
    high = None if value.limit == "min" else value.greatest
    outside = Fraction(0)
    if low is not None and reading < low:
        outside = low - reading
    elif high is not None and reading > high:
        outside = reading - high
    size = f"{decimal_text(reading, 6)} ± {decimal_text(u, 6)} against {value.display}"
    if outside <= u:
        if value.limit:
            return Said("allowed", value, f"{size}: only a limit is given, and it is kept", Fraction(0), value.citation)
        return Said("for", value, f"{size}: agrees", outside, value.citation)
    verdict: Verdict = "doubtful" if outside <= DOUBT * u else "against"
    return Said(verdict, value, f"{size}: outside by {decimal_text(outside, 6)}", outside, value.citation)


class Magnets:
    """What a magnet means, from the rules that ask for nonmagnetic parts: a material they rule out or put a condition on draws a magnet."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue

    @cached_property
    def _draws(self) -> Mapping[tuple[str, str], tuple[bool, Citation, str]]:
        found: dict[tuple[str, str], tuple[bool, Citation, str]] = {}
        for rule in self._catalogue.rules:
            match = _MATERIAL_RULE.fullmatch(rule.when.strip())
            if match is not None and rule.effect in {"excludes", "conditions", "fits"}:
                found[match["kind"], match["word"]] = (rule.effect != "fits", Citation.of(rule), rule.text)
        return found

    def say(self, drawn: bool, value: Value, kind: str) -> Said:
        """Whether the magnet speaks for a material of a kind of part; silent where no rule says what it means."""
        known = self._draws.get((kind, str(value.exact)))
        if known is None:
            return Said("silent", value, f"no source read says what a magnet means for {value.exact} here")
        draws, citation, text = known
        return Said("for" if draws == drawn else "against", value, text, citation=citation)
