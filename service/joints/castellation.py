"""A castellated nut on a drilled shank in its stack: whether the cotter hole stands in the slots, and how to bring it there.

Along the axis it is judged at worst case, by the tables or by what was measured on the parts in hand. Around the axis
it is not known on paper where the nut stops; what a change of washers does to that is told as :class:`Clocking`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from service.joints.assembly import Assembly, quantity, span_of, stack_of, why_absent, word
from service.joints.findings import Figure, JointFinding, NotJudged, from_rule_row
from service.joints.formulas.clocking import SLOTS, CastellatedNut, Clocking, choose_pack, clamped_range, slot_fit
from service.joints.formulas.stack import Shank, Span, Stack, total
from service.mating.clauses import Effect
from service.mating.rules import RuleBook
from service.parts.part import Part
from service.quantity import decimal_text

_INCH: Final = "[in_i]"
_TOPIC: Final = "cotter hole in the slots"
#: the rule on a pin that stands too high, and the one on a hole that lies below the slots
_TOO_HIGH, _TOO_LOW = "cotter-pin.castellation", "cotter-pin.slots"
_SIZES: Final = ("shank_hole_from_point", "slot_bottom_height", "height")


@dataclass(slots=True)
class Castellation:
    """What was found about hole and slots."""

    findings: list[JointFinding] = field(default_factory=list)
    figures: list[Figure] = field(default_factory=list)
    clocking: list[Clocking] = field(default_factory=list)
    not_judged: list[NotJudged] = field(default_factory=list)


def judge_castellation(assembly: Assembly, rules: RuleBook) -> Castellation:
    """Hole against slots of a castellated nut on a drilled shank; nothing for any other set or without a stack."""
    found = Castellation(clocking=list(_clocking(assembly)))
    nut, bolt, stack = assembly.nut, assembly.fastener, stack_of(assembly)
    if nut is None or bolt is None or stack is None:
        return found
    if word(nut, "castellated") != "yes" or word(bolt, "shank_drilled") != "yes":
        return found
    unknown = list(_unknown(assembly, bolt, nut, found))
    pin = _pin_diameter(assembly.cotter_pin)
    if pin is None:
        why = (
            "no cotter pin was given" if assembly.cotter_pin is None else "no row gives the diameter of the cotter pin"
        )
        found.not_judged.append(NotJudged(_TOPIC, why))
    shank = assembly.shank
    if shank is not None and (shank.length - stack.clamped).high <= 0:
        words = "The bolt ends before it reaches the nut."
        found.findings.append(from_rule_row(rules, _TOO_LOW, "excludes", words, [bolt.number, nut.number]))
    elif unknown:
        words = "Not judged on paper: see that the hole stands in the slots inside the torque range."
        row = from_rule_row(rules, _TOO_HIGH, "conditions", words, [bolt.number, nut.number], None, unknown)
        found.findings.append(row)
    elif pin is not None and shank is not None:
        _judge(assembly, shank, stack, pin, rules, found)
    return found


def _unknown(assembly: Assembly, bolt: Part, nut: Part, found: Castellation) -> Iterator[str]:
    for name in _SIZES:
        if assembly.size(name) is None:
            part = bolt if name == "shank_hole_from_point" else nut
            found.not_judged.append(NotJudged(_TOPIC, why_absent(part, name)))
            yield f"{name} of {part.number}"


def _judge(assembly: Assembly, shank: Shank, stack: Stack, pin: Fraction, rules: RuleBook, found: Castellation) -> None:
    from_point, bottom, height = (assembly.size(name) for name in _SIZES)
    assert from_point is not None
    assert bottom is not None
    assert height is not None
    nut = CastellatedNut(bottom, height)
    fit = slot_fit(stack, shank, from_point, pin, nut)
    found.figures += [
        Figure("cotter_hole", fit.centre, _INCH, "from the nut's bearing face to the centre of the cotter hole"),
        Figure("pin_above_slot_bottom", fit.above_bottom, _INCH, "below zero the pin meets the nut under its slots"),
        Figure("pin_below_top", fit.below_top, _INCH, "below zero more than half the pin stands above the nut"),
    ]
    parts = [p.number for p in (assembly.fastener, assembly.nut, assembly.cotter_pin) if p is not None]
    change = _change(stack, clamped_range(stack, shank, from_point, pin, nut))
    for rule, margin, words in (
        (_TOO_LOW, fit.above_bottom, "below the bottom of the slots"),
        (_TOO_HIGH, fit.below_top, "above the top of the nut"),
    ):
        if margin.low < 0:
            effect: Effect = "excludes" if margin.high < 0 else "conditions"
            sure = "Here" if margin.high < 0 else "At worst case"
            text = f"{sure} {decimal_text(-margin.low, 4)} in {words}; {change}"
            found.findings.append(from_rule_row(rules, rule, effect, text, parts))


def _change(stack: Stack, closing: Span | None) -> str:
    """What to do about the washers so that the pin always fits."""
    if closing is None:
        return "at these tolerances no pack fits for certain: measure the parts."
    less, more = closing.low - stack.clamped.low, closing.high - stack.clamped.high
    if less > 0:
        return f"{_range(less, more)} more under the nut would bring it there."
    return f"{_range(-more, -less)} less under the nut, or a longer bolt, would bring it there."


def _range(least: Fraction, most: Fraction) -> str:
    return f"{decimal_text(max(least, Fraction(0)), 4)} to {decimal_text(most, 4)} in"


def _pin_diameter(pin: Part | None) -> Fraction | None:
    for name in ("shank_diameter", "nominal_diameter"):
        value = quantity(pin, name)
        if value is not None:
            return span_of(value).high
    return None


def _clocking(assembly: Assembly) -> Iterator[Clocking]:
    """How changing the washers under a castellated nut turns its slots, from where they stand now."""
    nut, shank = assembly.nut, assembly.shank
    if nut is None or shank is None or word(nut, "castellated") != "yes" or not assembly.under_nut:
        return
    heights: dict[str, Fraction] = {}
    for washer in assembly.under_nut:
        family, codes = washer.family, washer.designation.codes
        for other in _same_size(washer):
            value = family.value("thickness", other)
            if value is not None and isinstance(value.exact, Fraction) and other != codes:
                heights[family.format(other)] = value.exact
        value = quantity(washer, "thickness")
        if value is None:
            return
        heights[washer.number] = value.number
    present = total(span_of(v) for w in assembly.under_nut if (v := quantity(w, "thickness")) is not None).low
    different = {height: name for name, height in sorted(heights.items(), reverse=True)}
    packs = [(name, height) for height, name in different.items()]
    packs += [(f"{a} and {b}", x + y) for i, (a, x) in enumerate(packs) for b, y in packs[i:]]
    yield from choose_pack(Fraction(0), present, packs, shank.pitch, SLOTS)


def _same_size(washer: Part) -> Iterator[tuple[str, ...]]:
    """Numbers of the washer's family that differ in the one piece that its thickness form hangs on."""
    family, codes = washer.family, washer.designation.codes
    facet = family.facets.by_attribute.get("thickness_form")
    for index in facet.slots if facet is not None else ():
        for code in family.slots[index].codes:
            other = (*codes[:index], code, *codes[index + 1 :])
            same = family.value("nominal_diameter", other)
            mine = washer.value("nominal_diameter")
            if same is not None and mine is not None and same.exact == mine.exact and family.not_made(other) is None:
                yield other
