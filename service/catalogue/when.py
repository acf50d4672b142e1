"""The condition of a row: which pieces of the number it holds for.

``basic=AN4 length=3..7 shank=(none)|A`` : every clause must hold; ``|`` lists codes; ``a..b`` is a range of a number slot. An
empty condition always holds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from service.catalogue.slots import SlotSpec


@dataclass(frozen=True, slots=True)
class When:
    """A compiled condition: for each slot index the codes that satisfy it."""

    tests: tuple[tuple[int, frozenset[str]], ...]

    def holds(self, codes: Sequence[str]) -> bool:
        """Whether a number with these codes, one a slot, meets the condition."""
        for index, allowed in self.tests:  # noqa: SIM110 - a loop: this is asked more often than anything else
            if codes[index] not in allowed:
                return False
        return True

    def without(self, slot: int) -> When:
        """The condition as far as the other slots decide it."""
        return When(tuple((index, allowed) for index, allowed in self.tests if index != slot))

    @property
    def slots(self) -> frozenset[int]:
        """The slot indices the condition asks about."""
        return frozenset(index for index, _ in self.tests)

    @property
    def specificity(self) -> int:
        """More clauses, and fewer codes in them, make a more specific condition."""
        return sum(1_000_000 - len(allowed) for _, allowed in self.tests)


ALWAYS = When(())


def compile_when(text: str, slots: Mapping[str, tuple[int, SlotSpec]]) -> When:
    """Compile ``text`` for a family with these slots; ValueError names the clause that makes no sense there."""
    tests: dict[int, frozenset[str]] = {}
    for clause in text.split():
        name, equals, wanted = clause.partition("=")
        if not equals or not wanted:
            raise ValueError(f"{clause!r} is not slot=code")
        if name not in slots:
            raise ValueError(f"no slot {name!r}; there are {', '.join(slots)}")
        index, spec = slots[name]
        if index in tests:
            raise ValueError(f"slot {name!r} is asked twice")
        tests[index] = frozenset(code for part in wanted.split("|") for code in _codes(part, spec))
    return When(tuple(sorted(tests.items())))


def _codes(part: str, spec: SlotSpec) -> list[str]:
    if part in spec.codes:
        return [part]
    low, dots, high = part.partition("..")
    if dots and spec.numeric:
        bottom, top = float(low), float(high)
        found = [code for code in spec.codes if bottom <= float(code) <= top]
        if found:
            return found
    raise ValueError(f"slot {spec.name!r} has no code {part!r}")
