"""From a stack to complete sets of hardware: which bolts close it, with which washers where, under which nuts.

A bolt closes a stack when, at worst-case tolerance, no thread stands in the plates, the nut clamps before it meets the
shank, and enough of the bolt is left for the nut. Among the packs of washers that do this the one with the fewest
washers is taken. Sets are ranked by the order of the families, then the shorter bolt, fewer washers, fewer cautions, and
the order in which the mate rows offer the nut. Every set has been put through the check like anyone else's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.designation.encode import Encoder, Wanted, one_of
from service.designation.reading import Designation
from service.joints.assembly import Assembly, quantity, shank_of, span_of, word
from service.joints.checking import Check, Checker
from service.joints.closing import (
    Choice,
    Closed,
    Margins,
    Miss,
    Pack,
    Selection,
    Short,
    Wish,
    attribute,
    close,
    packs_of,
    preference,
    variant_key,
    washers_of,
)
from service.joints.findings import JointFinding
from service.joints.stack import Shank, total
from service.mating.clauses import Exact
from service.mating.mates import Candidate, Mates
from service.parts.part import Part
from service.quantity import decimal_text

#: how far around the stack a grip is looked at, so that a near miss can be named
_AROUND: Final = Fraction(1, 8)
#: answers of the mate rows that are kept, for one joint and variant of a bolt each
_MOST_KNOWN: Final = 1024
#: sets of a tier that are checked beyond those asked for, so that fewer cautions can come first
_LOOK_PAST: Final = 4
_Tier = tuple[int, Fraction, int]


class Selector:
    """Selects sets from one catalogue."""

    def __init__(self, catalogue: Catalogue, encoder: Encoder, mates: Mates, checker: Checker) -> None:
        self._catalogue, self._encoder, self._mates, self._checker = catalogue, encoder, mates, checker
        self._places = {id_: place for place, id_ in enumerate(catalogue.families)}
        self._known: dict[tuple[object, ...], list[Candidate]] = {}

    def select(self, wish: Wish) -> Selection:
        """Ranked complete sets for a wish. ValueError when the wish has no stack, or neither thread nor diameter."""
        if not wish.stack or not (wish.thread or wish.diameter):
            raise ValueError("a stack, and a thread or a diameter, are needed")
        search = _Search(self, wish)
        misses: list[Miss] = []
        tiers: dict[_Tier, list[Closed]] = {}
        bolts = 0
        for bolt, shank in self._bolts(wish):
            bolts += 1
            closed = search.close(bolt, shank)
            if isinstance(closed, Miss):
                misses.append(closed)
            else:
                washers = len(closed.head) + len(closed.nut)
                tiers.setdefault((self._places[bolt.family.id], shank.length.high, washers), []).append(closed)
        choices: list[Choice] = []
        for tier in sorted(tiers):
            if len(choices) >= wish.limit:
                break
            choices += search.choices(tiers[tier], choices[-1] if choices else None, wish.limit - len(choices))
        near = sorted(misses, key=lambda miss: (miss.by, miss.number))[:6]
        ruled_out = tuple(search.ruled_out.values())
        nothing = "" if choices else _why_nothing(bolts, bool(tiers), near, search)
        return Selection(tuple(choices), sum(map(len, tiers.values())), bolts, ruled_out, tuple(near), nothing)

    @property
    def checker(self) -> Checker:
        """The check that every set must pass."""
        return self._checker

    def offered(self, bolt: Part, wish: Wish, *roles: str) -> list[Candidate]:
        """What the mate rows offer for a bolt in these roles, without what is to be avoided."""
        joint = _joint(wish)
        # the rows speak of size, metal and drilling, never of length: one answer serves all lengths
        key = (variant_key(bolt), roles, tuple(sorted(joint.items())))
        found = self._known.get(key)
        if found is None:
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            found = self._known[key] = self._mates.in_roles(bolt, joint, frozenset(roles))
        return [c for c in found if c.number not in wish.avoid and c.part.family.id not in wish.avoid]

    def _bolts(self, wish: Wish) -> Iterator[tuple[Part, Shank]]:
        """Bolts whose grip lies around the stack, one for each length and variant of each family."""
        plates = total(layer.thickness for layer in wish.stack)
        reach = _AROUND + Fraction(1, 16) * (wish.most_under_head + wish.most_under_nut)
        for family in self._catalogue.families.values():
            if family.kind != "bolt" or family.id in wish.avoid:
                continue
            if wish.bolt_families and family.id not in wish.bolt_families:
                continue
            seen: set[tuple[object, ...]] = set()
            for codes in self._encoder.numbers(
                family, _wanted(family, wish, plates.low - _AROUND, plates.high + reach)
            ):
                bolt = _part(family, codes, self._checker.basis)
                shank = shank_of(bolt)
                if shank is None or bolt.number in wish.avoid:
                    continue
                key = (*variant_key(bolt), shank.grip.low, shank.length.low)
                if key not in seen:
                    seen.add(key)
                    yield bolt, shank


class _Search:
    """One selection under way: what bolts of a variant share is worked out once, and only when it is needed."""

    def __init__(self, selector: Selector, wish: Wish) -> None:
        self._selector, self._wish = selector, wish
        self._packs: dict[tuple[object, ...], tuple[Pack, ...]] = {}
        self._nuts: dict[tuple[object, ...], list[tuple[Candidate, tuple[str, ...]]]] = {}
        self._pins: dict[tuple[object, ...], Part | None] = {}
        self._shanks: dict[tuple[int, Shank], tuple[Pack, Margins] | Short] = {}
        self.ruled_out: dict[str, Candidate] = {}
        self.failed: dict[str, str] = {}

    def packs(self, bolt: Part) -> tuple[Pack, ...]:
        """Washers under head and under nut, fewest and lowest first: the preferred washer and its thin form."""
        # washers hang on the bolt's size and metal, not on its family, but for what the rules say of its strength
        key = tuple(attribute(bolt, name) for name in ("thread", "material_group", "finish_group", "tensile_strength"))
        if key not in self._packs:
            offered = self._selector.offered(bolt, self._wish, "washer", "large_area_washer", "thin_washer")
            self._packs[key] = tuple(packs_of(washers_of(offered, bolt), self._wish))
        return self._packs[key]

    def close(self, bolt: Part, shank: Shank) -> Closed | Miss:
        """The bolt with the washers that make it close the stack, or why it does not; the same for equal shanks."""
        packs = self.packs(bolt)
        key = (id(packs), shank)
        if key not in self._shanks:
            self._shanks[key] = close(shank, packs, self._wish, self._selector.checker.practices)
        found = self._shanks[key]
        if isinstance(found[0], Pack):
            return Closed(bolt, shank, found[0].head, found[0].nut, found[1])
        return Miss(bolt.number, found[1], found[0])

    def nuts(self, bolt: Part) -> list[tuple[Candidate, tuple[str, ...]]]:
        """The preferred nut of each family, with the other numbers of that family, best first."""
        key = variant_key(bolt)
        if key not in self._nuts:
            role = "castellated_nut" if word(bolt, "shank_drilled") == "yes" else "nut"
            families: dict[str, list[Candidate]] = {}
            for candidate in self._selector.offered(bolt, self._wish, role):
                if self._wish.nut_families and candidate.part.family.id not in self._wish.nut_families:
                    continue
                if candidate.verdict == "excluded":
                    self.ruled_out[candidate.number] = candidate
                else:
                    families.setdefault(candidate.part.family.id, []).append(candidate)
            best = [sorted(entries, key=lambda c: preference(c, bolt)) for entries in families.values()]
            best.sort(key=lambda entries: preference(entries[0], bolt))
            self._nuts[key] = [(entries[0], tuple(c.number for c in entries[1:])) for entries in best]
        return self._nuts[key]

    def pin(self, bolt: Part) -> Part | None:
        """The preferred cotter pin of a drilled bolt; None for another bolt and where no row offers one."""
        key = variant_key(bolt)
        if key not in self._pins:
            offered = (
                self._selector.offered(bolt, self._wish, "cotter_pin") if word(bolt, "shank_drilled") == "yes" else []
            )
            fit = [c for c in offered if c.verdict != "excluded"]
            self._pins[key] = min(fit, key=lambda c: preference(c, bolt)).part if fit else None
        return self._pins[key]

    def choices(self, tier: list[Closed], before: Choice | None, most: int) -> list[Choice]:
        """Sets of one tier (same family, length and number of washers) that pass the check, best first."""
        entries = [
            (preference(nut, closed.bolt), closed, nut, others)
            for closed in tier
            for nut, others in self.nuts(closed.bolt)
            if word(closed.bolt, "shank_drilled") != "yes" or self.pin(closed.bolt) is not None
        ]
        entries.sort(key=lambda entry: (entry[2].order, entry[0], entry[1].bolt.number))
        passed: list[tuple[int, int, Choice]] = []
        for _, closed, nut, others in entries:
            if len(passed) >= most + _LOOK_PAST:
                break
            assembly = Assembly(
                closed.bolt,
                closed.head,
                closed.nut,
                nut.part,
                cotter_pin=self.pin(closed.bolt),
                stack=self._wish.stack,
                joint=self._wish.joint,
                measured=self._wish.measured,
            )
            check = self._selector.checker.check(assembly)
            open_question = self._open_question(check)
            if open_question is not None:
                self.failed[open_question.rule] = open_question.text
            elif check.verdict in {"compatible", "compatible_with_conditions"}:
                cautions = sum(finding.severity == "caution" for finding in check.findings)
                order = int(nut.order)
                passed.append((cautions, order, Choice(assembly, check, closed.margins, cautions, order, others)))
            elif check.verdict == "incompatible":
                self.failed[check.findings[0].rule] = check.findings[0].text
            else:
                self.failed |= {entry.what: f"{entry.why}." for entry in check.not_judged if entry.vital}
        passed.sort(key=lambda entry: (entry[0], entry[1]))
        ranked: list[Choice] = []
        for _, _, choice in passed[:most]:
            lost = "" if before is None else _why_behind(before, choice)
            before = replace(choice, lost=lost)
            ranked.append(before)
        return ranked

    def _open_question(self, check: Check) -> JointFinding | None:
        """A rule that would exclude the set but for an attribute that no row gives: such a set may be checked, it is not
        offered. Limits of temperature are left to the check, where a plating's limit may stand in for the part's own."""
        rows = self._selector.checker.rules.by_id
        for finding in check.findings:
            row = rows.get(finding.rule)
            if finding.unknown and finding.topic != "temperature" and row is not None and row.effect == "excludes":
                return finding
        return None


def _joint(wish: Wish) -> Mapping[str, Exact]:
    """The joint with the material of the outer plates, where they are of one and it was not stated otherwise."""
    outer = {layer.material for layer in (wish.stack[0], wish.stack[-1])}
    if "material" in wish.joint or len(outer) != 1 or "" in outer:
        return wish.joint
    return {**wish.joint, "material": outer.pop()}


def _wanted(family: FamilySpec, wish: Wish, low: Fraction, high: Fraction) -> dict[str, Wanted]:
    wanted: dict[str, Wanted] = {"grip_length": _between(low, high)}
    if wish.thread:
        wanted["thread"] = one_of(wish.thread)
    elif wish.diameter is not None:
        wanted["nominal_diameter"] = one_of(wish.diameter)
    if "head_drilled" in family.facets.by_attribute:
        wanted["head_drilled"] = one_of("no")
    if wish.materials:
        wanted["material_group"] = one_of(*wish.materials)
    if wish.drilled is not None:
        wanted["shank_drilled"] = one_of("yes" if wish.drilled else "no")
    return wanted


def _between(low: Fraction, high: Fraction) -> Callable[[Value], bool]:
    return lambda value: isinstance(value.exact, Fraction) and low <= value.exact <= high


def _part(family: FamilySpec, codes: tuple[str, ...], basis: str) -> Part:
    number = family.format(codes)
    return Part(Designation(number, family, codes, number), basis)


def _why_nothing(bolts: int, closing: bool, near: list[Miss], search: _Search) -> str:
    if not bolts:
        return "No bolt in the tables has this thread, a grip near this stack, and rows for grip and length."
    if not closing and near:
        first = near[0]
        by = decimal_text(first.by, 4)
        return f"Nothing closes this stack at worst case. Nearest: {first.number}, {first.constraint} by {by} in."
    if search.failed:
        return "Bolts close the stack, but no set passes the check: " + " ".join(
            list(dict.fromkeys(search.failed.values()))[:6]
        )
    if search.ruled_out:
        rules = dict.fromkeys(f.text for c in search.ruled_out.values() for f in c.findings if f.effect == "excludes")
        return "Bolts close the stack, but the rules exclude every nut offered for them: " + " ".join(rules)
    return "Bolts close the stack, but no row offers a nut, or a cotter pin, for them."


def _why_behind(before: Choice, after: Choice) -> str:
    """The first criterion in which a set is behind the one before it."""
    a, b = before.assembly, after.assembly
    assert a.fastener is not None and b.fastener is not None and a.nut is not None and b.nut is not None  # noqa: PT018
    if a.fastener.family.id != b.fastener.family.id:
        return f"the family {b.fastener.family.id} comes after {a.fastener.family.id} in the tables"
    lengths = [span_of(v).high for p in (a.fastener, b.fastener) if (v := quantity(p, "length")) is not None]
    if lengths[0] != lengths[1]:
        return f"the bolt is longer by {decimal_text(lengths[1] - lengths[0], 4)} in"
    washers = [len(s.under_head) + len(s.under_nut) for s in (a, b)]
    if washers[0] != washers[1]:
        return f"{washers[1]} washers against {washers[0]}"
    if before.cautions != after.cautions:
        return f"{after.cautions} cautions against {before.cautions}"
    if before.order != after.order:
        return f"{b.nut.number} is offered after {a.nut.number} (order {after.order} against {before.order})"
    return f"as good as {a.fastener.number} with {a.nut.number}; listed after it by metal or number"
