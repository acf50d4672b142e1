"""A hole in its joint: the shank in it, the drill that the rows allow for it, and what must bear on the plate around it."""

from __future__ import annotations

from dataclasses import dataclass, field

from service.catalogue.values import Citation
from service.joints.assembly import Assembly, quantity, span_of, why_absent
from service.joints.findings import Figure, JointFinding, NotJudged, from_rule_row
from service.joints.formulas.holes import fit
from service.joints.formulas.stack import Span
from service.joints.sizes import Holes
from service.mating.clauses import Effect
from service.mating.rules import RuleBook
from service.parts.part import Part
from service.quantity import decimal_text, parse_number

#: the fits of hole rows that say how large the hole of an ordinary joint may be
_ORDINARY = frozenset({"general", "practice"})
#: what reaches over the hole, with the width by which it does
_WIDTHS = ("outside_diameter", "washer_face_diameter", "width_across_flats", "head_diameter")


@dataclass(slots=True)
class HoleFit:
    """What was found about the hole."""

    findings: list[JointFinding] = field(default_factory=list)
    figures: list[Figure] = field(default_factory=list)
    not_judged: list[NotJudged] = field(default_factory=list)


def judge_hole(assembly: Assembly, rules: RuleBook, holes: Holes) -> HoleFit:
    """The hole that was given against shank, rows and bearing faces; nothing where none was given."""
    found = HoleFit()
    hole, fastener = assembly.hole, assembly.fastener
    if hole is None or fastener is None:
        return found
    shank = quantity(fastener, "shank_diameter")
    if shank is None:
        found.not_judged.append(NotJudged("fit in the hole", why_absent(fastener, "shank_diameter")))
    else:
        room = fit(hole, span_of(shank))
        found.figures.append(Figure("hole_clearance", room, "[in_i]", "hole less shank; below zero is interference"))
        if room.low < 0:
            words = f"The shank is up to {decimal_text(-room.low, 4)} in larger than the hole: only for a drawn fit."
            found.findings.append(from_rule_row(rules, "hole.light-drive", "conditions", words, [fastener.number]))
    _judge_size(fastener, hole, rules, holes, found)
    for name, parts in (
        ("under the head", assembly.under_head[-1:] or (fastener,)),
        ("under the nut", assembly.under_nut[:1] or (() if assembly.nut is None else (assembly.nut,))),
    ):
        _judge_bearing(name, parts, hole, rules, found)
    return found


def _judge_size(fastener: Part, hole: Span, rules: RuleBook, holes: Holes, found: HoleFit) -> None:
    """A hole over the largest that a row allows for an ordinary joint, where some row does."""
    rows = [entry.row for entry in holes.suggested(fastener) if entry.row.fit in _ORDINARY]
    if not rows:
        found.not_judged.append(NotJudged("size of the hole", f"no row gives the hole for {fastener.number}"))
        return
    row = max(rows, key=lambda entry: parse_number(entry.diameter))
    most = parse_number(row.diameter)
    if hole.high > most:
        always = hole.low > most
        words = (
            f"The hole is {'' if always else 'up to '}{decimal_text(hole.high - most, 4)} in over drill {row.drill} "
            f"({decimal_text(most, 4)} in)."
        )
        found.findings.append(
            from_rule_row(rules, "hole.general", "conditions", words, [fastener.number], Citation.of(row))
        )


def _judge_bearing(side: str, parts: tuple[Part, ...], hole: Span, rules: RuleBook, found: HoleFit) -> None:
    """Whether what lies next to the plates reaches over the hole."""
    for part in parts:
        width = next((span_of(v) for name in _WIDTHS if (v := quantity(part, name)) is not None), None)
        if width is None:
            found.not_judged.append(NotJudged(f"bearing {side}", f"no row gives the width of {part.number}"))
        elif width.low <= hole.high:
            effect: Effect = "excludes" if width.high <= hole.low else "conditions"
            words = f"{part.number} {side} is {decimal_text(width.low, 4)} in wide, the hole up to {decimal_text(hole.high, 4)} in."
            found.findings.append(from_rule_row(rules, "hole.bearing", effect, words, [part.number]))
