"""A castellated nut over a drilled shank: does the hole lie in the slots, and how washers turn the slots to meet it.

Along the axis it is a matter of lengths (:func:`slot_fit`). Around the axis it is a matter of chance: where a nut
stops is not known on paper. But what a change of washers does to that angle is known (:func:`slot_shift`): a pack
thicker by d stops the nut d/pitch turns earlier. So a mechanic who is some fraction of a slot short can be told which
pack brings it nearest (:func:`choose_pack`).

Lengths are inches, angles fractions of the step from one slot to the next, all Fractions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from service.joints.formulas.stack import Outcome, Shank, Span, Stack, exactly, outcome

#: Slots of a castellated hexagon nut, one a flat: 60 degrees apart (TM 55-1520-240-23-1 task 1-13 note 5).
SLOTS: Final = 6


@dataclass(frozen=True, slots=True)
class CastellatedNut:
    """Heights above the nut's bearing face: bottom of the slots, and the top of the castellations."""

    slot_bottom: Span
    height: Span


@dataclass(frozen=True, slots=True)
class SlotFit:
    """Where the hole stands in the nut. Both margins must not be negative.

    ``above_bottom``: from the slot's bottom to the lower edge of the pin. ``below_top``: from the centre of the pin
    to the top of the castellations, since a maintenance manual lets at most half the pin stand above (aircraft-mm-c
    20-70).
    """

    centre: Span
    above_bottom: Span
    below_top: Span

    @property
    def outcome(self) -> Outcome:
        """Whether a pin fits always, in part of the tolerance, or never."""
        both = {outcome(self.above_bottom), outcome(self.below_top)}
        return "never" if "never" in both else "within-tolerance" if "within-tolerance" in both else "always"


@dataclass(frozen=True, slots=True)
class Clocking:
    """A pack of washers and what it does: how far the slots move, and what is left to turn to the next slot."""

    pack: str
    shift: Fraction
    remaining: Fraction


def slot_fit(stack: Stack, shank: Shank, hole_from_end: Span, pin: Fraction, nut: CastellatedNut) -> SlotFit:
    """Where the cotter hole lies in the slots at worst case.

    ``hole_from_end`` is from the bolt's point to the hole's centre, ``pin`` the cotter pin's diameter. ValueError
    when the pin has none.
    """
    if pin <= 0:
        raise ValueError(f"a cotter pin has a diameter above zero: {pin}")
    centre = shank.length - hole_from_end - stack.clamped
    lower_edge = centre.shifted(-pin / 2)
    return SlotFit(centre, lower_edge - nut.slot_bottom, nut.height - centre)


def clamped_range(stack: Stack, shank: Shank, hole_from_end: Span, pin: Fraction, nut: CastellatedNut) -> Span | None:
    """Clamped thicknesses at which the pin always fits; None when tolerances leave none.

    Compare with ``stack.clamped``: the difference is the washer height to add or take away. ``stack`` gives only its
    spread.
    """
    spread = stack.clamped.high - stack.clamped.low
    hole = shank.length - hole_from_end
    least = hole.high - nut.height.low
    most = hole.low - pin / 2 - nut.slot_bottom.high
    return Span(least, most) if most - least >= spread else None


def slot_shift(thicker_by: Fraction, pitch: Fraction, slots: int = SLOTS) -> Fraction:
    """How much further there is to turn to the next slot when the pack is ``thicker_by``, as a fraction of a slot
    step in [0, 1).

    ValueError when the pitch or the number of slots is not above zero.
    """
    if pitch <= 0 or slots <= 0:
        raise ValueError(f"pitch and slots must be above zero: {pitch}, {slots}")
    return thicker_by / pitch * slots % 1


def turn_to_next_slot(remaining: Fraction, slots: int = SLOTS) -> Fraction:
    """``remaining`` slot steps in degrees."""
    return remaining * Fraction(360, slots)


def choose_pack(
    remaining: Fraction, present: Fraction, packs: Sequence[tuple[str, Fraction]], pitch: Fraction, slots: int = SLOTS
) -> tuple[Clocking, ...]:
    """Packs of washers by how little is left to turn, for a nut that stops ``remaining`` of a step short of a slot.

    ``present`` is the height of the pack now in place, ``packs`` are names and heights to try (the present one may be
    among them). Each answer assumes nominal heights and the same tightness; the first is the nearest. ValueError
    unless 0 <= remaining < 1.
    """
    if not 0 <= remaining < 1:
        raise ValueError(f"what is left to turn is a fraction of one step: {remaining}")
    choices = []
    for name, height in packs:
        shift = slot_shift(height - present, pitch, slots)
        choices.append(Clocking(name, shift, (remaining + shift) % 1))
    return tuple(sorted(choices, key=lambda choice: (choice.remaining, choice.pack)))


def nominal_nut(slot_bottom: Fraction, height: Fraction) -> CastellatedNut:
    """A nut whose sheet gives no tolerance for its slots."""
    return CastellatedNut(exactly(slot_bottom), exactly(height))
