"""Two metals in contact: their groups, the verdict of the group pair, the rules that name them, and which one corrodes.

Everything said comes from rows handed in; this module only looks them up, both ways round, and keeps the harshest
verdict. A metal may stand in two groups (one list prints 400-series stainless in both III and IV): then every pair is
judged.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Final, Literal

Verdict = Literal["unknown", "compatible", "protect", "isolate", "caution", "prohibited"]

#: Mildest first. ``unknown`` is below all: any row that says something outranks it.
_HARSHNESS: Final[dict[Verdict, int]] = {
    "unknown": 0,
    "compatible": 1,
    "protect": 2,
    "caution": 3,
    "isolate": 4,
    "prohibited": 5,
}


@dataclass(frozen=True, slots=True)
class GroupMember:
    """A metal and the group one list puts it in."""

    metal: str
    group: str
    row: str


@dataclass(frozen=True, slots=True)
class GroupPair:
    """The verdict of a list on two of its groups."""

    first: str
    second: str
    verdict: Verdict
    row: str


@dataclass(frozen=True, slots=True)
class PairRule:
    """A document's word on two named metals; ``condition`` is empty when it always holds."""

    first: str
    second: str
    verdict: Verdict
    condition: str
    row: str


@dataclass(frozen=True, slots=True)
class SeriesPlace:
    """A metal's place in a galvanic series, 1 the most active (the anode)."""

    place: int
    metal: str
    row: str


@dataclass(frozen=True, slots=True)
class Reason:
    """A row that spoke, what it said, and whether it counted."""

    row: str
    verdict: Verdict
    condition: str
    #: False when the row's condition was not among those the caller stated, so that it could not be judged
    counted: bool


@dataclass(frozen=True, slots=True)
class Contact:
    """The harshest verdict that counted, and every row that spoke, harshest first."""

    verdict: Verdict
    reasons: tuple[Reason, ...]


def groups_of(metal: str, members: Iterable[GroupMember]) -> tuple[str, ...]:
    """The groups ``metal`` stands in, in the order of ``members``; empty when it stands in none."""
    return tuple(dict.fromkeys(member.group for member in members if member.metal == metal))


def judge_contact(
    first: str,
    second: str,
    members: Collection[GroupMember],
    pairs: Collection[GroupPair],
    rules: Collection[PairRule] = (),
    conditions: Collection[str] = (),
) -> Contact:
    """What the rows say of ``first`` touching ``second``, whichever way round.

    A rule with a condition counts when ``conditions`` contains that condition word for word; otherwise it is listed
    as not counted, so that the caller can ask. A plated part is judged by its plating: hand in the plating's name.
    The verdict is ``unknown`` when no row counted, even for a metal against itself.
    """
    reasons = {
        Reason(pair.row, pair.verdict, "", True)
        for left in groups_of(first, members)
        for right in groups_of(second, members)
        for pair in pairs
        if {pair.first, pair.second} == {left, right}
    }
    reasons |= {
        Reason(rule.row, rule.verdict, rule.condition, not rule.condition or rule.condition in conditions)
        for rule in rules
        if {rule.first, rule.second} == {first, second}
    }
    ordered = tuple(sorted(reasons, key=lambda reason: (-_HARSHNESS[reason.verdict], reason.row)))
    verdict: Verdict = next((reason.verdict for reason in ordered if reason.counted), "unknown")
    return Contact(verdict, ordered)


def anode(first: str, second: str, series: Collection[SeriesPlace]) -> str | None:
    """Which of two metals corrodes: the one with the lower place. None when one is absent or the places overlap.

    A series may list a metal twice; the answer stands only when every place of one lies below every place of the other.
    """
    of_first = [place.place for place in series if place.metal == first]
    of_second = [place.place for place in series if place.metal == second]
    if not of_first or not of_second:
        return None
    if max(of_first) < min(of_second):
        return first
    return second if max(of_second) < min(of_first) else None
