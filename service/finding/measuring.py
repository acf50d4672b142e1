"""Evidence about a part in the hand: a caliper reading, a thread, a mark, and what the rows of the tables say to it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal

from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.designation.encode import Encoder, Partial
from service.quantity import decimal_text

Verdict = Literal["for", "against", "says nothing"]
#: what a row says to a piece of evidence; None where it says nothing
Judge = Callable[[Value], bool | None]

DIAMETER: Final = "nominal_diameter"
#: a caliper on a shank reads the shank, a caliper on a thread reads its major diameter; both are called the diameter
STANDS_FOR: Final[Mapping[str, tuple[str, ...]]] = {DIAMETER: ("shank_diameter", "thread_major_diameter")}

MAGNETIC: Final = frozenset({"steel"})
NOT_MAGNETIC: Final = frozenset({"aluminium", "brass", "copper", "titanium"})
#: 300-class steels are usually not magnetic, hardened and cold-worked ones are: only "not magnetic" speaks for stainless
USUALLY_NOT: Final = frozenset({"stainless"})
MAGNET_SAYS: Final = "common-practice: a magnet holds carbon and alloy steel, not aluminium, brass, copper or titanium; 300-class stainless usually not"

_MARK_IDLE: Final = frozenset({"raised", "recessed", "indented", "or", "and", "a", "the", "on", "of", "head", "mark"})
#: a worn asterisk looks like a cross, and the other way round: judged alike
_MARK_SAME: Final[Mapping[str, str]] = {
    "cross": "asterisk", "double": "two", "dashes": "dash", "dots": "dot", "one": "single", "dimpled": "dimple",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reading:
    """A measured size in inches with its uncertainty, also in inches."""

    quantity: str
    value: Fraction
    uncertainty: Fraction = Fraction(0)

    def distance(self, value: Value) -> Fraction:
        """How far the reading lies from the size a row gives, in inches."""
        return abs(self.value - value.number) if isinstance(value.exact, Fraction) else Fraction(0)

    @property
    def text(self) -> str:
        """The reading in words."""
        return f"{decimal_text(self.value)} ± {decimal_text(self.uncertainty)} in"


def limits(value: Value) -> tuple[Fraction | None, Fraction | None]:
    """The sizes a row allows: its tolerance, or one end open where it gives a maximum or a minimum only."""
    size = value.number
    low = size - value.minus if value.minus is not None else None if value.limit == "max" else size
    high = size + value.plus if value.plus is not None else None if value.limit == "min" else size
    return low, high


@dataclass(frozen=True)
class Test:
    """A piece of evidence: what was seen, the attributes whose rows speak about it, and how they are judged."""

    name: str
    seen: str
    attributes: tuple[str, ...]
    judge: Judge
    #: an appearance never decides alone
    appearance: bool = False
    reading: Reading | None = None
    note: str = ""


def size_test(reading: Reading, least_thread: Mapping[Fraction, Fraction], outside: bool) -> Test:
    """The test a reading makes. ``least_thread`` is the smallest major diameter of a made thread, by nominal diameter, and is heard
    where the caliper can lie on a thread (``outside``)."""

    def judge(value: Value) -> bool | None:
        if not isinstance(value.exact, Fraction):
            return None
        low, high = limits(value)
        if outside and value.attribute == DIAMETER and low is not None:
            low = min(low, least_thread.get(value.exact, low))
        return (low is None or greatest >= low) and (high is None or least <= high)

    least, greatest = reading.value - reading.uncertainty, reading.value + reading.uncertainty
    attributes = (reading.quantity, *STANDS_FOR.get(reading.quantity, ()))
    return Test(reading.quantity, reading.text, attributes, judge, reading=reading)


def thread_test(thread: str) -> Test:
    """The thread as a gauge or a bag names it."""
    return Test("thread", thread, ("thread",), lambda value: value.exact == thread)


def pitch_test(threads_per_inch: int) -> Test:
    """Threads per inch, counted or gauged."""
    ending = str(threads_per_inch)

    def judge(value: Value) -> bool | None:
        _, dash, last = str(value.exact).rpartition("-")
        return last == ending if dash and last.isdigit() else None

    return Test("threads_per_inch", ending, ("thread",), judge)


def mark_words(text: str) -> frozenset[str]:
    """The words of a head mark that tell it from others."""
    words = "".join(c if c.isalnum() else " " for c in text.lower()).split()
    return frozenset(_MARK_SAME.get(word, word) for word in words if word not in _MARK_IDLE)


def mark_test(mark: str) -> Test:
    """A mark seen on the head."""
    asked = mark_words(mark)
    return Test("head_mark", mark, ("head_mark",), lambda value: asked <= mark_words(str(value.exact)), appearance=True)


def colour_test(colour: str) -> Test:
    """A colour seen."""
    asked = colour.strip().casefold()
    return Test("colour", colour, ("colour",), lambda value: str(value.exact).casefold() == asked, appearance=True)


def magnet_test(magnetic: bool) -> Test:
    """Whether a magnet holds it."""

    def judge(value: Value) -> bool | None:
        group = value.exact
        if group in MAGNETIC:
            return magnetic
        if group in NOT_MAGNETIC:
            return not magnetic
        return True if group in USUALLY_NOT and not magnetic else None

    seen = "magnetic" if magnetic else "not magnetic"
    return Test("magnetic", seen, ("material_group",), judge, appearance=True, note=MAGNET_SAYS)


@dataclass(frozen=True, slots=True)
class Row:
    """A value with the codes of the pieces it hangs on."""

    value: Value
    partial: Partial


#: rows by the basic number they hold for; None: for every basic number of the family
ByBasic = Mapping[str | None, list[Row]]


@dataclass
class Said:
    """What a family's rows say to one piece of evidence: rows that agree, and the basic numbers that rows speak about at all."""

    hits: dict[str | None, list[Row]] = field(default_factory=lambda: defaultdict(list))
    heard: set[str | None] = field(default_factory=set)

    def speaks(self, basic: str) -> bool:
        """Whether any row speaks about numbers with this basic number."""
        return None in self.heard or basic in self.heard

    def agreeing(self, basic: str) -> list[Row]:
        """The rows that agree, for one basic number."""
        return [*self.hits.get(basic, ()), *self.hits.get(None, ())]


class Gauge:
    """Asks the tables about evidence, one family at a time. Rows are kept sorted by value, so each value is judged once."""

    def __init__(self, encoder: Encoder) -> None:
        self.encoder = encoder
        self._sorted: dict[tuple[str, str, str], list[tuple[Value, ByBasic]]] = {}

    def rows(self, family: FamilySpec, attribute: str, basis: str) -> list[tuple[Value, ByBasic]]:
        """The rows of one attribute, equal values together; empty where the family has none that is good enough."""
        key = (family.id, attribute, basis)
        known = self._sorted.get(key)
        if known is None:
            grouped: dict[object, tuple[Value, dict[str | None, list[Row]]]] = {}
            facet = family.facets.by_attribute.get(attribute)
            for value, codes in self.encoder.table(family, attribute) if facet is not None else ():
                heard = value.at_least(basis)
                if facet is None or heard.exact is None:
                    continue
                partial = dict(zip(facet.slots, codes, strict=True))
                same = grouped.setdefault(
                    (heard.exact, heard.plus, heard.minus, heard.limit), (heard, defaultdict(list))
                )
                same[1][partial.get(0)].append(Row(heard, partial))
            known = self._sorted[key] = list(grouped.values())
        return known

    def asked(self, family: FamilySpec, test: Test, basis: str) -> Said:
        """What the family's rows say to a piece of evidence."""
        said = Said()
        for attribute in test.attributes:
            for value, by_basic in self.rows(family, attribute, basis):
                verdict = test.judge(value)
                if verdict is None:
                    continue
                said.heard.update(by_basic)
                if verdict:
                    for basic, rows in by_basic.items():
                        said.hits[basic] += rows
        return said

    def compatible(self, family: FamilySpec, attribute: str, partial: Partial, basis: str) -> list[Value]:
        """The values of an attribute that numbers with these pieces can have."""
        return [
            value
            for value, by_basic in self.rows(family, attribute, basis)
            if any(agree(row.partial, partial) for key in (partial.get(0), None) for row in by_basic.get(key, ()))
        ]


def agree(first: Partial, second: Partial) -> bool:
    """Whether two choices of pieces can belong to one number."""
    return all(second.get(index, code) == code for index, code in first.items())


def joined(lists: Iterable[list[Row]], most: int = 500) -> list[Partial]:
    """Every way to choose one row of each list so that all choices belong to one number; at most ``most`` at any step."""
    found: list[Partial] = [{}]
    for rows in sorted(lists, key=len):
        step: dict[tuple[tuple[int, str], ...], Partial] = {}
        for partial in found:
            if len(step) >= most:
                break
            for row in rows:
                if agree(row.partial, partial):
                    both = {**partial, **row.partial}
                    step[tuple(sorted(both.items()))] = both
                    if len(step) >= most:
                        break
        found = list(step.values())
        if not found:
            return []
    return found
