"""A bolt through a pack: where the shank ends, what thread stands in the hole, what shows past the nut, at worst case.

The joint is measured from under the bolt head along its axis:

    head | washers under the head | plates | washers under the nut | nut | protrusion
         0                                  ^ plate end             ^ clamped

Every thickness is a :class:`Span`, so every answer is one: its ends are what the tolerances allow at worst, and an
:data:`Outcome` says whether a limit is met always, in part of the tolerance, or never. Lengths are inches as
Fractions. Limits come from the rows of one document each, as a practice; what two documents say differently is two
judgements.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Outcome = Literal["always", "within-tolerance", "never"]

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Span:
    """Least and greatest value of a dimension."""

    low: Fraction
    high: Fraction

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise ValueError(f"the least value {self.low} is above the greatest {self.high}")

    def __add__(self, other: Span) -> Span:
        return Span(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Span) -> Span:
        return Span(self.low - other.high, self.high - other.low)

    def shifted(self, by: Fraction) -> Span:
        """The same span moved by ``by``."""
        return Span(self.low + by, self.high + by)

    def scaled(self, by: Fraction) -> Span:
        """The span in another unit, such as threads instead of inches; ``by`` is above zero."""
        return Span(self.low * by, self.high * by)


def exactly(value: Fraction) -> Span:
    """A dimension without tolerance, or one whose tolerance no source gives."""
    return Span(value, value)


def toleranced(value: Fraction, plus: Fraction = _ZERO, minus: Fraction = _ZERO) -> Span:
    """``value`` with tolerance magnitudes. ValueError when one is negative."""
    if plus < 0 or minus < 0:
        raise ValueError(f"tolerances are magnitudes, not {plus} and {minus}")
    return Span(value - minus, value + plus)


def total(spans: Iterable[Span]) -> Span:
    """Worst-case sum; 0 for nothing."""
    return sum(spans, exactly(_ZERO))


def outcome(margin: Span) -> Outcome:
    """Whether a margin that must not be negative holds."""
    if margin.low >= 0:
        return "always"
    return "never" if margin.high < 0 else "within-tolerance"


@dataclass(frozen=True, slots=True)
class Stack:
    """What lies between head and nut, thicknesses from the head on."""

    plates: tuple[Span, ...]
    head_washers: tuple[Span, ...] = ()
    nut_washers: tuple[Span, ...] = ()

    def __post_init__(self) -> None:
        if not self.plates:
            raise ValueError("a joint holds at least one plate")
        if any(part.low < 0 for part in (*self.plates, *self.head_washers, *self.nut_washers)):
            raise ValueError("a thickness is not negative")

    @property
    def plate_end(self) -> Span:
        """From under the head to the nut-side face of the last plate."""
        return total(self.head_washers) + total(self.plates)

    @property
    def clamped(self) -> Span:
        """From under the head to the bearing face of the nut."""
        return self.plate_end + total(self.nut_washers)


@dataclass(frozen=True, slots=True)
class Shank:
    """A bolt's lengths from under the head.

    ``runout`` is the incomplete thread behind the grip that a nut must not reach (TM 55-1520-240-23-1 task 1-13 item
    4); no sheet read gives it, so it is 0 unless the caller knows better.
    """

    grip: Span
    length: Span
    pitch: Fraction
    runout: Fraction = _ZERO

    def __post_init__(self) -> None:
        if self.pitch <= 0 or self.runout < 0:
            raise ValueError(f"pitch must be above zero and run-out at least 0: {self.pitch}, {self.runout}")


@dataclass(frozen=True, slots=True)
class ProtrusionPractice:
    """What one document wants to see past the nut: whole threads, or a length; and at most how many threads."""

    name: str
    threads_min: Fraction = _ZERO
    length_min: Fraction = _ZERO
    threads_max: Fraction | None = None


@dataclass(frozen=True, slots=True)
class BearingPractice:
    """How many threads one document lets stand in the hole, and where it lets none."""

    name: str
    threads_max: Fraction
    #: none in a nut-side plate this thin or thinner
    none_up_to: Fraction | None = None
    none_in_shear: bool = False
    #: only in a nut-side plate that no other plate exceeds
    only_in_thickest: bool = False


@dataclass(frozen=True, slots=True)
class Judgement:
    """A practice's limit against the joint. ``margin`` is in inches and must not be negative."""

    practice: str
    outcome: Outcome
    margin: Span
    #: the least (protrusion) or the most (thread in the hole) that the practice allows, inches
    limit: Fraction


@dataclass(frozen=True, slots=True)
class GripWindow:
    """Grips that close a joint whatever the tolerances do. None does when ``low`` is above ``high``."""

    low: Fraction
    high: Fraction

    @property
    def short_by(self) -> Fraction:
        """By how much the tolerances overrun the window; 0 when some grip closes."""
        return max(self.low - self.high, _ZERO)

    def admits(self, grip: Span) -> bool:
        """Whether all of ``grip`` lies in the window."""
        return self.low <= grip.low and grip.high <= self.high


def nut_clearance(stack: Stack, shank: Shank) -> Span:
    """From the end of the usable thread to the nut's face. Below zero the nut runs onto the shank before it clamps."""
    return (stack.clamped - shank.grip).shifted(-shank.runout)


def thread_in_hole(stack: Stack, shank: Shank) -> Span:
    """Length of thread inside the plates; below zero the grip reaches past them by that much."""
    return stack.plate_end - shank.grip


def protrusion(stack: Stack, shank: Shank, nut_height: Span) -> Span:
    """Length of bolt past the nut's outer face; below zero the bolt ends inside the nut."""
    return shank.length - stack.clamped - nut_height


def judge_protrusion(past_nut: Span, pitch: Fraction, practice: ProtrusionPractice) -> Judgement:
    """Whether enough shows past the nut: the greater of the practice's threads and its length.

    Known examples: one thread (AC 43.13-1B 7-37), two (NAVEDTRA 14014 ch. 5), a flat end 1/32 in (TM 55-1520-240-23-1
    task 1-13 item 5).
    """
    wanted = max(practice.threads_min * pitch, practice.length_min)
    margin = past_nut.shifted(-wanted)
    return Judgement(practice.name, outcome(margin), margin, wanted)


def judge_excess(past_nut: Span, pitch: Fraction, practice: ProtrusionPractice) -> Judgement | None:
    """Whether too much shows past the nut; None when the practice has no such limit."""
    if practice.threads_max is None:
        return None
    most = practice.threads_max * pitch
    margin = Span(most - past_nut.high, most - past_nut.low)
    return Judgement(practice.name, outcome(margin), margin, most)


def allowed_in_hole(stack: Stack, pitch: Fraction, shear: bool, practice: BearingPractice) -> Fraction:
    """Length of thread that ``practice`` lets stand in the hole, at worst case.

    The nut-side plate decides, because the thread ends there. A plate that may be as thin as the limit counts as
    thin. Thread may not reach past that plate into the next one where the practice confines it to the thickest.
    """
    nut_side = stack.plates[-1]
    if shear and practice.none_in_shear:
        return _ZERO
    if practice.none_up_to is not None and nut_side.low <= practice.none_up_to:
        return _ZERO
    most = practice.threads_max * pitch
    if practice.only_in_thickest:
        if any(other.high > nut_side.low for other in stack.plates[:-1]):
            return _ZERO
        most = min(most, nut_side.low)
    return most


def judge_thread_in_hole(stack: Stack, shank: Shank, shear: bool, practice: BearingPractice) -> Judgement:
    """Whether no more thread than ``practice`` allows stands in the hole; ``shear``: the joint is loaded in shear."""
    most = allowed_in_hole(stack, shank.pitch, shear, practice)
    inside = thread_in_hole(stack, shank)
    margin = Span(most - inside.high, most - inside.low)
    return Judgement(practice.name, outcome(margin), margin, most)


def grip_window(stack: Stack, thread_allowed: Fraction, runout: Fraction = _ZERO) -> GripWindow:
    """Grips that at worst case leave no more than ``thread_allowed`` in the hole and do not stop the nut."""
    return GripWindow(stack.plate_end.high - thread_allowed, stack.clamped.low - runout)


def shortest_that_closes(
    shanks: Iterable[Shank],
    stack: Stack,
    nut_height: Span,
    practice: ProtrusionPractice,
    thread_allowed: Fraction = _ZERO,
) -> Shank | None:
    """The shortest bolt whose grip is in the window and that always shows enough past the nut; None if none does."""
    closing = [
        shank
        for shank in shanks
        if grip_window(stack, thread_allowed, shank.runout).admits(shank.grip)
        and judge_protrusion(protrusion(stack, shank, nut_height), shank.pitch, practice).outcome == "always"
    ]
    return min(closing, key=lambda shank: (shank.length.high, shank.grip.high), default=None)


def washer_choices(heights: Sequence[Span], most: int, ceiling: Fraction | None = None) -> tuple[tuple[Span, ...], ...]:
    """Every way to lay up to ``most`` washers of the given heights under the nut, lowest pack first, none included.

    ``ceiling`` drops packs that may be higher. How many washers and what height are allowed is the practice of
    whoever is followed: no government limit was read.
    """
    packs = (pack for count in range(most + 1) for pack in itertools.combinations_with_replacement(heights, count))
    kept = [pack for pack in packs if ceiling is None or total(pack).high <= ceiling]
    return tuple(sorted(kept, key=lambda pack: (total(pack).high, len(pack), total(pack).low)))
