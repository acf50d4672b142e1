"""What a drawing may take from a part: a size from the tables, or an outline that says that it is none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from service.catalogue.values import Value
from service.drawings.elements import ASSUMED, OUTLINE, Pen, mm
from service.joints.formulas.threads import external_minor_diameter, parse_thread
from service.parts.part import Part
from service.quantity import decimal_text


@dataclass(frozen=True, slots=True)
class Size:
    """A length on paper, mm, and the value it comes from; without one it is an outline only."""

    mm: Fraction
    value: Value | None

    @property
    def pen(self) -> Pen:
        """The line it is drawn with."""
        return OUTLINE if self.value is not None else ASSUMED

    def words(self, name: str = "") -> str:
        """The value as printed, after ``name``."""
        return f"{name} {self.value.display}".strip() if self.value is not None else name


#: no size was measured
_NOTHING: Final[Mapping[str, Value]] = MappingProxyType({})


class Known:
    """A part as a drawing reads it. What was used and what was missing are kept for the words under the drawing.

    ``measured`` are sizes taken from the part in hand: each stands instead of the tables'.
    """

    def __init__(self, part: Part, measured: Mapping[str, Value] = _NOTHING) -> None:
        self.part = part
        self.measured = measured
        self.used: dict[str, tuple[str, Value]] = {}
        self.notes: list[str] = []
        #: what is drawn although its size is not held, in words for the picture itself
        self.outlined: list[str] = []

    def value(self, attribute: str) -> Value | None:
        """A value that says something, or None."""
        found = self.measured.get(attribute) or self.part.value(attribute)
        return found if found is not None and found.exact is not None else None

    def word(self, attribute: str) -> str:
        """A word or flag; empty where the tables are silent."""
        found = self.value(attribute)
        return found.exact if found is not None and isinstance(found.exact, str) else ""

    def flag(self, attribute: str) -> bool:
        """Whether the tables say yes."""
        return self.word(attribute) == "yes"

    def size(self, attribute: str, words: str) -> Size | None:
        """A length from the tables; None where they give none. What is given is listed under the drawing."""
        found = self.value(attribute)
        if found is None or not isinstance(found.exact, Fraction) or found.exact <= 0:
            return None
        self.used[attribute] = (words, found)
        return Size(mm(found.exact), found)

    def or_outline(self, attribute: str, words: str, outline: Fraction) -> Size:
        """A length from the tables, else ``outline`` mm with a note that it is an outline only."""
        return self.size(attribute, words) or self.outline(words, outline, attribute)

    def outline(self, words: str, outline: Fraction, attribute: str = "") -> Size:
        """A length that is drawn by proportion, with a note that says so."""
        held = self.part.family.value(attribute, self.part.designation.codes) if attribute else None
        why = "below the basis asked for" if held is not None and held.exact is not None else "not in the tables"
        self.note(f"{words} {why}: outline only")
        self.outlines(words)
        return Size(outline, None)

    def outlines(self, words: str) -> None:
        """Name something whose size is not held and that is therefore drawn in outline only."""
        if words not in self.outlined:
            self.outlined.append(words)

    def note(self, words: str) -> None:
        """Words that go under the drawing, once."""
        if words not in self.notes:
            self.notes.append(words)

    def forget(self) -> None:
        """Start the notes anew, for a part that is drawn in another way than was tried."""
        self.notes.clear()
        self.outlined.clear()

    def diameter(self) -> Size | None:
        """The diameter a part is drawn by: that of the shank, else the nominal one, else any."""
        names = {
            "shank_diameter": "shank diameter",
            "nominal_diameter": "nominal diameter",
            "wire_diameter": "wire diameter",
            "outside_diameter": "outside diameter",
        }
        return next((size for name, words in names.items() if (size := self.size(name, words))), None)

    def thread_diameter(self) -> Fraction | None:
        """Major diameter of the thread, mm, as its designation says; None where there is none that can be read."""
        try:
            return mm(parse_thread(self.word("thread"), self.word("thread_series")).diameter)
        except ValueError:
            return None

    def thread_depth(self) -> Fraction | None:
        """Depth of the external thread, mm, by the Unified formulas; None for what has no thread that can be read."""
        try:
            thread = parse_thread(self.word("thread"), self.word("thread_series"))
        except ValueError:
            return None
        return mm(thread.diameter - external_minor_diameter(thread)) / 2

    def lines(self) -> list[str]:
        """Every value that was drawn, with its tolerance and how far it can be trusted."""
        return [shown(words, value) for words, value in self.used.values()]


def shown(words: str, value: Value) -> str:
    """A value in a line of its own: its name, as printed, its tolerance, its basis."""
    basis = f" ({value.citation.basis})" if value.citation is not None else ""
    return f"{words}: {value.display}{tolerance(value)}{basis}"


def tolerance(value: Value) -> str:
    """The tolerance after a value, empty where the tables give none."""
    if value.plus is None and value.minus is None:
        return ""
    plus, minus = value.plus or Fraction(0), value.minus or Fraction(0)
    if plus == minus:
        return f" ±{decimal_text(plus)}"
    return f" +{decimal_text(plus)} −{decimal_text(minus)}"
