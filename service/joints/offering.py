"""What the mate rows offer the bolts of one selection: packs of washers, nuts, cotter pins, and the shank that closes.

What bolts of a variant share is worked out once, and only when it is needed: the rows speak of size, metal and drilling,
never of length.
"""

from __future__ import annotations

from typing import Final

from service.joints.assembly import word
from service.joints.checking import Checker
from service.joints.closing import (
    Closed,
    Margins,
    Miss,
    Pack,
    Short,
    Wish,
    attribute,
    close,
    packs_of,
    preference,
    variant_key,
    washers_of,
)
from service.joints.formulas.stack import Shank
from service.mating.clauses import Setting
from service.mating.mates import Candidate, Mates
from service.parts.part import Part

#: answers of the mate rows that are kept, for one joint and variant of a bolt each
_MOST_KNOWN: Final = 1024
_WASHERS: Final = ("washer", "large_area_washer", "thin_washer")
_AGAINST: Final = frozenset({"excludes", "conditions"})


class Offers:
    """What the rows offer, kept over selections."""

    def __init__(self, mates: Mates) -> None:
        self._mates = mates
        self._known: dict[tuple[object, ...], list[Candidate]] = {}

    def of(self, bolt: Part, wish: Wish, roles: tuple[str, ...], material: str = "") -> list[Candidate]:
        """What the mate rows offer for a bolt in these roles on this material, without what is to be avoided."""
        joint = {**wish.joint, "material": material} if material else wish.joint
        # the rows speak of size, metal and drilling, never of length: one answer serves all lengths
        key = (variant_key(bolt), roles, tuple(sorted(joint.items())))
        found = self._known.get(key)
        if found is None:
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            found = self._known[key] = self._mates.in_roles(bolt, joint, frozenset(roles))
        return [c for c in found if c.number not in wish.avoid and c.part.family.id not in wish.avoid]


def bears_on(wish: Wish) -> tuple[str, str]:
    """The material under the head and the one under the nut, as stated for the joint or for the outer plates."""
    stated = wish.joint.get("material")
    if isinstance(stated, str):
        return stated, stated
    return wish.stack[0].material, wish.stack[-1].material


class Search:
    """One selection under way: what is offered to each variant of bolt, and what the rules excluded."""

    def __init__(self, offers: Offers, wish: Wish, checker: Checker) -> None:
        self._offers, self._wish, self._checker = offers, wish, checker
        self._bears_on = bears_on(wish)
        self._packs: dict[tuple[object, ...], tuple[Pack, ...]] = {}
        self._nuts: dict[tuple[object, ...], list[tuple[Candidate, tuple[str, ...]]]] = {}
        self._pins: dict[tuple[object, ...], Part | None] = {}
        self._shanks: dict[tuple[int, Shank], tuple[Pack, Margins] | Short] = {}
        self.ruled_out: dict[str, Candidate] = {}

    def packs(self, bolt: Part) -> tuple[Pack, ...]:
        """Washers under head and under nut, fewest and lowest first: the preferred washer and its thin form."""
        # washers hang on the bolt's size and metal, not on its family, but for what the rules say of its strength
        key = tuple(attribute(bolt, name) for name in ("thread", "material_group", "finish_group", "tensile_strength"))
        if key not in self._packs:
            head, nut = (
                washers_of(self._offers.of(bolt, self._wish, _WASHERS, material), bolt) for material in self._bears_on
            )
            self._packs[key] = tuple(packs_of(head, nut, self._wish, self._least_under_head(bolt)))
        return self._packs[key]

    def _least_under_head(self, bolt: Part) -> int:
        """1 where a rule speaks against a head that bears on its plate without a washer, as far as the wish lets one."""
        material = self._bears_on[0]
        if not material:
            return 0
        against = [
            {
                f.rule
                for f in self._checker.rules.judge(Setting({bolt.family.kind: bolt}, joint))
                if f.effect in _AGAINST
            }
            for joint in (self._wish.joint, {**self._wish.joint, "bare_head_on": material})
        ]
        return min(int(against[1] > against[0]), self._wish.most_under_head)

    def close(self, bolt: Part, shank: Shank) -> Closed | Miss:
        """The bolt with the washers that make it close the stack, or why it does not; the same for equal shanks."""
        packs = self.packs(bolt)
        key = (id(packs), shank)
        if key not in self._shanks:
            self._shanks[key] = close(shank, packs, self._wish, self._checker.practices)
        found = self._shanks[key]
        if isinstance(found[0], Pack):
            return Closed(bolt, shank, found[0].head, found[0].nut, found[1])
        return Miss(bolt.number, found[1], found[0])

    def nuts(self, bolt: Part) -> list[tuple[Candidate, tuple[str, ...]]]:
        """The preferred nut of each family, with the other numbers of that family, best first."""
        key = variant_key(bolt)
        if key not in self._nuts:
            role = "castellated_nut" if self.pinned(bolt) else self._wish.holding
            families: dict[str, list[Candidate]] = {}
            for candidate in self._offers.of(bolt, self._wish, (role,), self._bears_on[1]):
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

    def pinned(self, bolt: Part) -> bool:
        """Whether the bolt takes a castellated nut and a cotter pin: its shank is drilled and it is held by a nut."""
        return word(bolt, "shank_drilled") == "yes" and self._wish.holding == "nut"

    def pin(self, bolt: Part) -> Part | None:
        """The preferred cotter pin of a drilled bolt; None for another bolt and where no row offers one."""
        key = variant_key(bolt)
        if key not in self._pins:
            offered = self._offers.of(bolt, self._wish, ("cotter_pin",), self._bears_on[1]) if self.pinned(bolt) else []
            fit = [c for c in offered if c.verdict != "excluded"]
            self._pins[key] = min(fit, key=lambda c: preference(c, bolt)).part if fit else None
        return self._pins[key]
