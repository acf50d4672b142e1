"""A set in its stack at worst case: figures, what each document's practice says of them, and what has no row."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from service.catalogue.values import Citation
from service.joints.assembly import Assembly, quantity, span_of, stack_of, why_absent, word
from service.joints.findings import Figure, JointFinding, NotJudged, PracticeResult, from_rule_row
from service.joints.formulas.stack import (
    Shank,
    Span,
    Stack,
    judge_excess,
    judge_protrusion,
    judge_thread_in_hole,
    nut_clearance,
    protrusion,
    thread_in_hole,
    total,
)
from service.joints.practices import InHole, Practices, Protruding
from service.mating.clauses import Effect, Setting
from service.mating.rules import RuleBook
from service.parts.part import Part
from service.quantity import decimal_text, parse_number
from service.tables.joint_rows import Practice

INCH: Final = "[in_i]"
#: thicknesses of washers are printed to the thousandth
_PRINTED: Final = Fraction(1, 1000)
#: the document whose limit is a fault when broken; the other documents' limits are cautions beside it
_GOVERNING: Final = "circular"


@dataclass(slots=True)
class Geometry:
    """What the stack gave."""

    figures: list[Figure] = field(default_factory=list)
    practices: list[PracticeResult] = field(default_factory=list)
    findings: list[JointFinding] = field(default_factory=list)
    not_judged: list[NotJudged] = field(default_factory=list)

    def figure(self, name: str, value: Span, meaning: str, unit: str = INCH) -> None:
        """Note a figure."""
        self.figures.append(Figure(name, value, unit, meaning))


def judge_stack(assembly: Assembly, rules: RuleBook, practices: Practices) -> Geometry:
    """The geometry of a set with a stack; washers are judged without one too."""
    found = Geometry()
    _judge_washers(assembly, rules, practices, found)
    if not assembly.stack:
        found.not_judged.append(NotJudged("grip and protrusion", "no stack was given"))
        return found
    fastener = assembly.fastener
    if fastener is None:
        found.not_judged.append(NotJudged("grip and protrusion", "no fastener that can be read", vital=True))
        return found
    plates = total(layer.thickness for layer in assembly.stack)
    found.figure("plates", plates, "the plates together")
    shank, stack = assembly.shank, stack_of(assembly)
    if stack is None:
        for washer in (*assembly.under_head, *assembly.under_nut):
            if quantity(washer, "thickness") is None:
                found.not_judged.append(NotJudged("grip and protrusion", why_absent(washer, "thickness"), vital=True))
        return found
    found.figure("clamped", stack.clamped, "from under the head to the bearing face of the nut")
    if fastener.family.kind == "clevis_pin":
        _judge_pin(assembly, fastener, stack, rules, found)
        return found
    if shank is None:
        for name in _unknown_lengths(assembly, fastener):
            found.not_judged.append(NotJudged("grip and protrusion", why_absent(fastener, name), vital=True))
        return found
    _judge_grip(assembly, stack, shank, rules, practices, found)
    _judge_protrusion(assembly, stack, shank, rules, practices, found)
    for washer in (*assembly.under_head, *assembly.under_nut):
        value = quantity(washer, "thickness")
        if value is not None and value.plus is None and value.minus is None:
            why = f"no row gives a tolerance for {washer.number}; its nominal thickness was used"
            if NotJudged("washer tolerance", why) not in found.not_judged:
                found.not_judged.append(NotJudged("washer tolerance", why))
    return found


def _unknown_lengths(assembly: Assembly, fastener: Part) -> Iterator[str]:
    for name in ("grip_length", "length"):
        if assembly.size(name) is None:
            yield name
    if not word(fastener, "thread"):
        yield "thread"


def _judge_pin(assembly: Assembly, pin: Part, stack: Stack, rules: RuleBook, found: Geometry) -> None:
    """A clevis pin: the cotter hole must clear the pack, and the pin has that much end play."""
    sizes = {name: assembly.size(name) for name in ("length", "shank_hole_from_point")}
    hole = quantity(pin, "shank_hole_diameter")
    for name, known in (*sizes.items(), ("shank_hole_diameter", hole)):
        if known is None:
            found.not_judged.append(NotJudged("grip of the clevis pin", why_absent(pin, name), vital=True))
    length, from_point = sizes.values()
    if length is None or from_point is None or hole is None:
        return
    edge = length - from_point - span_of(hole).scaled(Fraction(1, 2))
    play = edge - stack.clamped
    found.figure("length", length, "length under the head")
    found.figure("end_play", play, "from the pack to the edge of the cotter hole; below zero the hole is covered")
    if play.low < 0:
        never = play.high < 0
        words = (
            f"{'Here' if never else 'At worst case'} the pack reaches {_inches(-play.low)} past the edge of the hole."
        )
        found.findings.append(
            from_rule_row(rules, "clevis-pin.length", "excludes" if never else "conditions", words, [pin.number])
        )


def _inches(value: Fraction) -> str:
    return f"{decimal_text(value, 4)} in"


def _from_to(span: Span) -> str:
    return _inches(span.low) if span.low == span.high else f"{decimal_text(span.low, 4)} to {_inches(span.high)}"


def _judge_grip(
    assembly: Assembly, stack: Stack, shank: Shank, rules: RuleBook, practices: Practices, found: Geometry
) -> None:
    assert assembly.fastener is not None
    bolt = assembly.fastener.number
    clearance, inside = nut_clearance(stack, shank), thread_in_hole(stack, shank)
    found.figure("grip", shank.grip, "plain shank under the head")
    found.figure("length", shank.length, "length under the head")
    found.figure("nut_clearance", clearance, "from the end of the grip to the nut; below zero the nut meets the shank")
    found.figure("thread_in_hole", inside, "thread inside the plates; below zero the grip reaches past them")
    nut = [part.number for part in (assembly.holding,) if part is not None]
    if clearance.low < 0:
        always = clearance.high < 0
        words = (
            f"The grip reaches {_inches(-clearance.high)} or more past the pack: the nut stops on the shank before it clamps."
            if always
            else f"At worst case the grip reaches {_inches(-clearance.low)} past the pack; measure, or add a washer."
        )
        found.findings.append(
            from_rule_row(rules, "grip.runout", "excludes" if always else "conditions", words, [bolt, *nut])
        )
    shear = assembly.joint.get("load") in {"shear", "both"}
    results = []
    for entry in practices.in_hole:
        judged = judge_thread_in_hole(stack, shank, shear, entry.practice)
        row = _deciding_row(entry, stack, shear, judged.limit)
        result = PracticeResult(
            "thread_in_hole",
            judged.practice,
            row.applies_to,
            judged.outcome,
            judged.limit,
            judged.margin,
            INCH,
            row.rule,
            Citation.of(row),
        )
        results.append(result)
    found.practices += results
    broken_by_all = bool(results) and all(result.outcome == "never" for result in results)
    for result in results:
        if result.outcome != "always":
            effect: Effect = "excludes" if broken_by_all else "conditions"
            sure = "leaves" if result.outcome == "never" else "may leave"
            left = f"up to {_inches(inside.high)}" if inside.low < 0 else _from_to(inside)
            words = f"This joint {sure} {left} of thread in the hole; allowed here {_inches(result.limit)}."
            found.findings.append(from_rule_row(rules, result.rule, effect, words, [bolt], result.citation))


def _deciding_row(entry: InHole, stack: Stack, shear: bool, limit: Fraction) -> Practice:
    if shear and entry.shear is not None:
        return entry.shear
    thin = entry.practice.none_up_to is not None and stack.plates[-1].low <= entry.practice.none_up_to
    return entry.thin if limit == 0 and thin and entry.thin is not None else entry.row


def _judge_protrusion(
    assembly: Assembly, stack: Stack, shank: Shank, rules: RuleBook, practices: Practices, found: Geometry
) -> None:
    assert assembly.fastener is not None
    nut = assembly.holding
    bolt = assembly.fastener.number
    left = shank.length - stack.clamped
    setting = Setting(assembly.single(), assembly.joint)
    speaking = [entry for entry in practices.protrusion if entry.speaks_of(setting)]
    found.figure("past_pack", left, "bolt past the bearing face of the nut: room for the nut and what shows beyond it")
    for entry in speaking:
        if entry.practice.threads_max is not None:
            continue
        least = max(entry.practice.threads_min * shank.pitch, entry.practice.length_min)
        found.figure(
            f"highest_nut.{entry.row.practice.replace(' ', '_')}",
            Span(left.low - least, left.low - least),
            f"highest nut that still shows what the {entry.row.practice} practice asks ({_inches(least)}), at worst case",
        )
    if nut is None:
        found.not_judged.append(NotJudged("protrusion", "no nut was given"))
        return
    height = assembly.size("height")
    if height is None:
        _ask_for_height(assembly, shank, left, rules, speaking, found)
        return
    past = protrusion(stack, shank, height)
    found.figure("protrusion", past, "bolt past the outer face of the nut")
    found.figure("threads_showing", past.scaled(1 / shank.pitch), "the same in threads", "1")
    for entry in speaking:
        excess = entry.practice.threads_max is not None
        judged = (
            judge_excess(past, shank.pitch, entry.practice)
            if excess
            else judge_protrusion(past, shank.pitch, entry.practice)
        )
        if judged is None:
            continue
        row = entry.row
        rule = row.rule or row.row
        found.practices.append(
            PracticeResult(
                "protrusion",
                row.practice,
                row.applies_to,
                judged.outcome,
                judged.limit,
                judged.margin,
                INCH,
                rule,
                Citation.of(row),
            )
        )
        if judged.outcome == "always" or not row.rule:
            continue
        never = judged.outcome == "never"
        effect: Effect = "notes" if excess else "conditions"
        if not excess and row.practice == _GOVERNING and never:
            effect = "excludes"
        elif not excess and row.practice != _GOVERNING and not never:
            effect = "notes"
        kind = "at most" if excess else "at least"
        words = f"Shows {_from_to(past)}; {row.practice} practice: {kind} {_inches(judged.limit)}."
        found.findings.append(from_rule_row(rules, row.rule, effect, words, [bolt, nut.number], Citation.of(row)))


def _ask_for_height(
    assembly: Assembly, shank: Shank, left: Span, rules: RuleBook, speaking: list[Protruding], found: Geometry
) -> None:
    """Without the nut's height the bolt can still be too short for any nut; else it is left to the eye."""
    nut = assembly.holding
    assert nut is not None
    assert assembly.fastener is not None
    found.not_judged.append(NotJudged("protrusion", why_absent(nut, "height")))
    for entry in speaking:
        if entry.row.practice != _GOVERNING or not entry.row.rule:
            continue
        least = entry.practice.threads_min * shank.pitch
        room = left.low - least
        parts = [assembly.fastener.number, nut.number]
        effect: Effect = "excludes" if left.high - least <= 0 else "conditions"
        ends = (
            f"{_from_to(left)} past the pack"
            if left.low >= 0
            else f"up to {_inches(-left.low)} short of the pack's end"
        )
        height = (
            f"up to {_inches(room)} high it shows" if room > 0 else "at worst case no nut is low enough that it shows"
        )
        words = (
            f"The bolt ends {ends}: no nut leaves a thread showing."
            if effect == "excludes"
            else f"Height of {nut.number} not held: look at the joint, or measure the nut; {height} enough{' at worst case' if room > 0 else ''}."
        )
        found.findings.append(
            from_rule_row(
                rules, entry.row.rule, effect, words, parts, Citation.of(entry.row), [f"height of {nut.number}"]
            )
        )


def _judge_washers(assembly: Assembly, rules: RuleBook, practices: Practices, found: Geometry) -> None:
    heads, nuts = assembly.under_head, assembly.under_nut
    heights: list[Span] = []
    for name, washers in (("washers_under_head", heads), ("washers_under_nut", nuts)):
        values = [quantity(washer, "thickness") for washer in washers]
        if washers and all(value is not None for value in values):
            height = total(span_of(value) for value in values if value is not None)
            heights.append(height)
            found.figure(name, height, f"{len(washers)} together")
    numbers = [washer.number for washer in (*heads, *nuts)]
    if not numbers:
        return
    for row, words in _washer_limits(practices, len(nuts), len(numbers), total(heights)):
        # the circular's sentence on height is from memory and the counts are single makers' rules: never a fault
        effect: Effect = "conditions" if row.practice == _GOVERNING else "notes"
        found.findings.append(from_rule_row(rules, row.rule, effect, words, numbers, Citation.of(row)))


def _washer_limits(practices: Practices, under_nut: int, in_all: int, height: Span) -> Iterator[tuple[Practice, str]]:
    for row in practices.rows("washers"):
        most = parse_number(row.value)
        # a washer of 1/16 is printed .063: two of them are 1/8, not more
        if row.quantity == "height" and height.low - in_all * _PRINTED / 2 > most:
            yield row, f"Here {_from_to(height)}."
        elif row.quantity == "under_nut" and under_nut > most:
            yield row, f"Here {under_nut} under the nut."
        elif row.quantity == "in_all" and in_all > most:
            yield row, f"Here {in_all} in all."
