"""From a stack to complete sets of hardware: which bolts close it, with which washers where, under which nuts.

A bolt closes a stack when, at worst-case tolerance, no thread stands in the plates, the nut clamps before it meets the
shank, and enough of the bolt is left for the nut. Among the packs of washers that do this the one with the fewest
washers is taken. Where a load was asked, only bolts that carry it by their rows are tried, the thinnest first. Sets are
ranked by the order of the families, then the shorter bolt, fewer washers, fewer cautions, and the order in which the
mate rows offer the nut. Every set has been put through the check like anyone else's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.designation.encode import Encoder, Wanted, one_of
from service.designation.reading import Designation
from service.joints.assembly import Assembly, quantity, shank_of, span_of
from service.joints.checking import Check, Checker
from service.joints.closing import Choice, Closed, Miss, Selection, TooWeak, Wish, preference, variant_key
from service.joints.findings import JointFinding
from service.joints.formulas.stack import Shank, total
from service.joints.loads import Carrying, Load, carrying
from service.joints.offering import Offers, Search
from service.mating.mates import Mates
from service.parts.part import Part
from service.quantity import decimal_text

#: how far around the stack a grip is looked at, so that a near miss can be named
_AROUND: Final = Fraction(1, 8)
#: sets of a tier that are checked beyond those asked for, so that fewer cautions can come first
_LOOK_PAST: Final = 4
#: near misses, and bolts too weak, that are named
_MOST_NAMED: Final = 6
_Tier = tuple[int, Fraction, int]


class Selector:
    """Selects sets from one catalogue."""

    def __init__(self, catalogue: Catalogue, encoder: Encoder, mates: Mates, checker: Checker) -> None:
        self._catalogue, self._encoder, self.checker = catalogue, encoder, checker
        self._offers = Offers(mates)
        self._places = {id_: place for place, id_ in enumerate(catalogue.families)}

    def select(self, wish: Wish) -> Selection:
        """Ranked complete sets for a wish. ValueError when it has no stack, or neither thread, diameter nor load."""
        if not wish.stack or not (wish.thread or wish.diameter or wish.load):
            raise ValueError("a stack, and a thread, a diameter or a load, are needed")
        found = _Found(Search(self._offers, wish, self.checker))
        for sized in self._sizes(wish):
            self._one_size(sized, found)
            if len(found.choices) >= wish.limit:
                break
        near = sorted(found.misses, key=lambda miss: (miss.by, miss.number))[:_MOST_NAMED]
        weak = sorted(found.weak.values(), key=lambda entry: (len(entry.carrying.unknown), entry.carrying.share))
        nothing = "" if found.choices else _why_nothing(found, near, weak)
        return Selection(
            tuple(found.choices),
            found.closing,
            found.bolts,
            tuple(found.search.ruled_out.values()),
            tuple(near),
            tuple(weak[:_MOST_NAMED]),
            nothing,
        )

    def sizes(self) -> list[Fraction]:
        """Nominal diameters of the bolts in the tables, inches, smallest first."""
        tables = (
            self._encoder.table(family, "nominal_diameter")
            for family in self._catalogue.families.values()
            if family.kind == "bolt" and "nominal_diameter" in family.facets.by_attribute
        )
        return sorted({value.number for table in tables for value, _ in table})

    def _sizes(self, wish: Wish) -> Iterator[Wish]:
        """The wish for one size at a time, from the smallest up where only a load was given."""
        if wish.thread or wish.diameter:
            yield wish
            return
        for diameter in self.sizes():
            yield replace(wish, diameter=diameter)

    def _one_size(self, wish: Wish, found: _Found) -> None:
        """Adds the sets of one size, best first, as far as the wish's limit."""
        tiers: dict[_Tier, list[Closed]] = {}
        for bolt, shank in self._bolts(wish):
            carried = found.carries(bolt, wish.load)
            if carried is not None and not carried.holds:
                continue
            found.bolts += 1
            closed = found.search.close(bolt, shank)
            if isinstance(closed, Miss):
                found.misses.append(closed)
            else:
                washers = len(closed.head) + len(closed.nut)
                tier = (self._places[bolt.family.id], shank.length.high, washers)
                tiers.setdefault(tier, []).append(replace(closed, carrying=carried))
        found.closing += sum(map(len, tiers.values()))
        for tier in sorted(tiers):
            if len(found.choices) >= wish.limit:
                break
            last = found.choices[-1] if found.choices else None
            found.choices += self._choices(tiers[tier], wish, found, last)

    def _families(self, wish: Wish) -> Iterator[FamilySpec]:
        for family in self._catalogue.families.values():
            asked = not wish.bolt_families or family.id in wish.bolt_families
            if family.kind == "bolt" and asked and family.id not in wish.avoid:
                yield family

    def _bolts(self, wish: Wish) -> Iterator[tuple[Part, Shank]]:
        """Bolts whose grip lies around the stack, one for each length and variant of each family."""
        plates = total(layer.thickness for layer in wish.stack)
        reach = _AROUND + Fraction(1, 16) * (wish.most_under_head + wish.most_under_nut)
        for family in self._families(wish):
            seen: set[tuple[object, ...]] = set()
            wanted = _wanted(family, wish, plates.low - _AROUND, plates.high + reach)
            for codes in self._encoder.numbers(family, wanted):
                bolt = _part(family, codes, self.checker.basis)
                shank = shank_of(bolt)
                if shank is None or bolt.number in wish.avoid:
                    continue
                key = (*variant_key(bolt), shank.grip.low, shank.length.low)
                if key not in seen:
                    seen.add(key)
                    yield bolt, shank

    def _choices(self, tier: list[Closed], wish: Wish, found: _Found, before: Choice | None) -> list[Choice]:
        """Sets of one tier (same family, length and number of washers) that pass the check, best first."""
        most = wish.limit - len(found.choices)
        search = found.search
        entries = [
            (preference(nut, closed.bolt), closed, nut, others)
            for closed in tier
            for nut, others in search.nuts(closed.bolt)
            if not search.pinned(closed.bolt) or search.pin(closed.bolt) is not None
        ]
        entries.sort(key=lambda entry: (entry[2].order, entry[0], entry[1].bolt.number))
        passed: list[tuple[int, int, Choice]] = []
        for _, closed, nut, others in entries:
            if len(passed) >= most + _LOOK_PAST:
                break
            assembly = _assembly(closed, nut.part, search.pin(closed.bolt), wish)
            check = self.checker.check(assembly)
            open_question = self._open_question(check)
            if open_question is not None:
                found.failed[open_question.rule] = open_question.text
            elif check.verdict in {"compatible", "compatible_with_conditions"}:
                cautions, order = sum(f.severity == "caution" for f in check.findings), int(nut.order)
                choice = Choice(assembly, check, closed.margins, cautions, order, others, closed.carrying)
                passed.append((cautions, order, choice))
            elif check.verdict == "incompatible":
                found.failed[check.findings[0].rule] = check.findings[0].text
            else:
                found.failed |= {entry.what: f"{entry.why}." for entry in check.not_judged if entry.vital}
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
        rows = self.checker.rules.by_id
        for finding in check.findings:
            row = rows.get(finding.rule)
            if finding.unknown and finding.topic != "temperature" and row is not None and row.effect == "excludes":
                return finding
        return None


@dataclass(slots=True)
class _Found:
    """What a selection has found so far."""

    search: Search
    choices: list[Choice] = field(default_factory=list)
    misses: list[Miss] = field(default_factory=list)
    failed: dict[str, str] = field(default_factory=dict)
    weak: dict[tuple[object, ...], TooWeak] = field(default_factory=dict)
    bolts: int = 0
    closing: int = 0
    _carried: dict[tuple[object, ...], Carrying] = field(default_factory=dict)

    def carries(self, bolt: Part, load: Load | None) -> Carrying | None:
        """What the bolt carries of the load; the same for all lengths of a variant. None without a load."""
        if load is None:
            return None
        key = variant_key(bolt)
        if key not in self._carried:
            self._carried[key] = carried = carrying(bolt, load)
            if not carried.holds:
                self.weak[key] = TooWeak(bolt.number, carried)
        return self._carried[key]


def _assembly(closed: Closed, nut: Part, pin: Part | None, wish: Wish) -> Assembly:
    return Assembly(
        closed.bolt,
        closed.head,
        closed.nut,
        nut if wish.holding == "nut" else None,
        nut if wish.holding == "plate_nut" else None,
        pin,
        stack=wish.stack,
        joint=wish.joint,
        measured=wish.measured,
    )


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
    elif wish.holding == "plate_nut" and "shank_drilled" in family.facets.by_attribute:
        wanted["shank_drilled"] = one_of("no")
    return wanted


def _between(low: Fraction, high: Fraction) -> Callable[[Value], bool]:
    return lambda value: isinstance(value.exact, Fraction) and low <= value.exact <= high


def _part(family: FamilySpec, codes: tuple[str, ...], basis: str) -> Part:
    number = family.format(codes)
    return Part(Designation(number, family, codes, number), basis)


def _why_nothing(found: _Found, near: list[Miss], weak: list[TooWeak]) -> str:
    if not found.bolts and weak:
        return _why_weak(weak)
    if not found.bolts:
        return (
            "No bolt in the tables has this thread or diameter, a grip near this stack, and rows for grip and length."
        )
    if not found.closing and near:
        first = near[0]
        by = decimal_text(first.by, 4)
        return f"Nothing closes this stack at worst case. Nearest: {first.number}, {first.constraint} by {by} in."
    if found.failed:
        return "Bolts close the stack, but no set passes the check: " + " ".join(
            list(dict.fromkeys(found.failed.values()))[:6]
        )
    if found.search.ruled_out:
        ruled_out = found.search.ruled_out.values()
        rules = dict.fromkeys(f.text for c in ruled_out for f in c.findings if f.effect == "excludes")
        return "Bolts close the stack, but the rules exclude every nut offered for them: " + " ".join(rules)
    return "Bolts close the stack, but no row offers a nut, or a cotter pin, for them."


def _why_weak(weak: list[TooWeak]) -> str:
    """The strongest bolt that is too weak and by how much, else that no row says what the bolts carry."""
    first = weak[0]
    if first.carrying.unknown:
        kinds = " and ".join(first.carrying.unknown)
        return f"No row says what {kinds} load these bolts carry: {', '.join(entry.number for entry in weak[:3])}."
    worst = min(first.carrying.by_kind, key=lambda entry: entry.margin)
    if worst.margin >= 0:
        return f"No bolt carries shear and tension together; the strongest tried is {first.number}."
    return (
        f"No bolt near this stack carries the load. The strongest tried, {first.number}, lacks "
        f"{decimal_text(worst.needed - worst.allowed, 1)} lbf in {worst.kind}: {decimal_text(worst.needed, 1)} needed, "
        f"{decimal_text(worst.allowed, 1)} by its row."
    )


def _why_behind(before: Choice, after: Choice) -> str:
    """The first criterion in which a set is behind the one before it."""
    a, b = before.assembly, after.assembly
    nuts = a.holding, b.holding
    assert a.fastener is not None and b.fastener is not None and nuts[0] is not None and nuts[1] is not None  # noqa: PT018
    sizes = [v.number for p in (a.fastener, b.fastener) if (v := quantity(p, "nominal_diameter")) is not None]
    if len(sizes) == 2 and sizes[0] != sizes[1]:
        return f"the bolt is thicker: {decimal_text(sizes[1], 4)} in against {decimal_text(sizes[0], 4)} in"
    if a.fastener.family.id != b.fastener.family.id:
        return f"the family {b.fastener.family.id} comes after {a.fastener.family.id} in the tables"
    lengths = [span_of(v).high for p in (a.fastener, b.fastener) if (v := quantity(p, "length")) is not None]
    if lengths[0] != lengths[1]:
        return f"the bolt is longer by {decimal_text(lengths[1] - lengths[0], 4)} in"
    washers = [len(s.under_head) + len(s.under_nut) for s in (a, b)]
    if washers[0] != washers[1]:
        return f"{washers[1]} washers, {washers[0]} in the set before it"
    if before.cautions != after.cautions:
        return f"{after.cautions} cautions, {before.cautions} in the set before it"
    if before.order != after.order:
        return f"{nuts[1].number} is offered after {nuts[0].number} (order {after.order} against {before.order})"
    return f"as good as {a.fastener.number} with {nuts[0].number}; listed after it by metal or number"
