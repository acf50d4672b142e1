"""What closing a stack takes: the wish, the packs of washers that may be laid, and the arithmetic at worst case."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations_with_replacement
from typing import Final, Literal

from service.joints.assembly import Assembly, Layer, quantity, span_of, word
from service.joints.checking import Check
from service.joints.formulas.stack import Shank, Span, Stack, allowed_in_hole
from service.joints.loads import Carrying, Load
from service.joints.practices import Practices
from service.mating.clauses import Exact
from service.mating.mates import Candidate
from service.parts.part import Part

Constraint = Literal["thread in the hole", "nut meets the shank", "too short for the nut", "no washer"]
Short = tuple[Fraction, Constraint]
VERDICTS: Final[Mapping[str, int]] = {"fits": 0, "conditional": 1, "excluded": 2}


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked: the stack, the thread, nominal diameter or load, the joint, and preferences."""

    stack: tuple[Layer, ...]
    thread: str = ""
    diameter: Fraction | None = None
    joint: Mapping[str, Exact] = field(default_factory=dict)
    #: sizes of the nut to be used that were measured (``height``, ``slot_bottom_height``), inches
    measured: Mapping[str, Span] = field(default_factory=dict)
    bolt_families: frozenset[str] = frozenset()
    nut_families: frozenset[str] = frozenset()
    avoid: frozenset[str] = frozenset()
    materials: frozenset[str] = frozenset()
    #: what holds the bolt: a nut, or a plate nut on the last plate
    holding: Literal["nut", "plate_nut"] = "nut"
    #: what one bolt must carry; without thread or diameter the sizes are tried from the smallest up
    load: Load | None = None
    drilled: bool | None = None
    most_under_head: int = 1
    most_under_nut: int = 2
    least_under_nut: int = 1
    #: ``none`` keeps all thread out of the plates; ``as-published`` lets stand what every practice row allows
    thread_in_hole: Literal["none", "as-published"] = "none"
    limit: int = 5


@dataclass(frozen=True, slots=True)
class Miss:
    """A bolt that does not close the stack: the constraint that fails and by how much, inches."""

    number: str
    constraint: Constraint
    by: Fraction


@dataclass(frozen=True, slots=True)
class Margins:
    """Room at worst case, inches: grip past the plates, thread left before the shank, room for nut and protrusion."""

    grip: Fraction
    nut: Fraction
    past_pack: Fraction


@dataclass(frozen=True, slots=True)
class Choice:
    """A complete set that passes the check; ``lost`` says why it stands behind the one before."""

    assembly: Assembly
    check: Check
    margins: Margins
    cautions: int
    order: int
    #: other numbers of the nut's family that the rules let stand here too
    other_nuts: tuple[str, ...]
    #: what the bolt carries, where a load was asked
    carrying: Carrying | None = None
    lost: str = ""


@dataclass(frozen=True, slots=True)
class TooWeak:
    """A bolt of any length that does not carry the load, or of which no row says what it carries."""

    number: str
    carrying: Carrying


@dataclass(frozen=True, slots=True)
class Selection:
    """The sets; how many bolts close the stack and how many were tried; the nuts that rules exclude, as far as they were
    looked at; the bolts that came near; those left out for the load, the strongest first; and why there is nothing."""

    choices: tuple[Choice, ...]
    closing: int
    bolts: int
    ruled_out: tuple[Candidate, ...]
    misses: tuple[Miss, ...]
    too_weak: tuple[TooWeak, ...]
    nothing: str


@dataclass(frozen=True, slots=True)
class Closed:
    """A bolt with the washers that make it close the stack."""

    bolt: Part
    shank: Shank
    head: tuple[Part, ...]
    nut: tuple[Part, ...]
    margins: Margins
    carrying: Carrying | None = None


@dataclass(frozen=True, slots=True)
class Pack:
    """Washers under head and nut, and the stack they make with the plates; its sums are worked out once for all bolts."""

    head: tuple[Part, ...]
    nut: tuple[Part, ...]
    stack: Stack
    plate_end: Span
    clamped: Span


def washers_of(offered: list[Candidate], bolt: Part) -> list[Part]:
    """The washer that is liked best and the thin form of the same family and metal, where there is one."""
    usable = [c for c in offered if c.verdict != "excluded" and quantity(c.part, "thickness") is not None]
    full = sorted((c for c in usable if c.role != "thin_washer"), key=lambda c: preference(c, bolt))
    if not full:
        return []
    first = full[0].part
    like = (first.family.id, word(first, "material_group"), word(first, "finish_group"))
    thin = [
        c.part
        for c in usable
        if c.role == "thin_washer"
        and (c.part.family.id, word(c.part, "material_group"), word(c.part, "finish_group")) == like
    ]
    return [first, *thin[:1]]


def packs_of(head_kinds: list[Part], nut_kinds: list[Part], wish: Wish, least_under_head: int = 0) -> list[Pack]:
    """Packs of these washers under head and nut, fewest washers first, then fewest under the head, then lowest."""
    plates = tuple(layer.thickness for layer in wish.stack)
    packs = []
    for head in _laid(head_kinds, least_under_head, wish.most_under_head):
        for nut in _laid(
            nut_kinds, *((wish.least_under_nut, wish.most_under_nut) if wish.holding == "nut" else (0, 0))
        ):
            stack = Stack(plates, _spans(head), _spans(nut))
            packs.append(Pack(head, nut, stack, stack.plate_end, stack.clamped))
    return sorted(packs, key=lambda p: (len(p.head) + len(p.nut), len(p.head), p.clamped.high))


def variant_key(bolt: Part) -> tuple[object, ...]:
    """What tells bolts apart that differ in more than length."""
    names = ("thread", "material_group", "finish_group", "shank_drilled", "tensile_strength")
    return (bolt.family.id, *(attribute(bolt, name) for name in names))


def attribute(part: Part, name: str) -> Exact | None:
    """The exact value of an attribute, or None."""
    value = part.value(name)
    return None if value is None else value.exact


def preference(candidate: Candidate, bolt: Part) -> tuple[object, ...]:
    """What the rules like better first, then what is of the bolt's own metal, then the mate rows' order."""
    other = word(candidate.part, "material_group") != word(bolt, "material_group")
    return (VERDICTS[candidate.verdict], other, candidate.order, candidate.number)


def _laid(kinds: list[Part], least: int, most: int) -> Iterator[tuple[Part, ...]]:
    for count in range(least, most + 1):
        yield from combinations_with_replacement(kinds, count)


def _spans(washers: tuple[Part, ...]) -> tuple[Span, ...]:
    return tuple(span_of(v) for w in washers if (v := quantity(w, "thickness")) is not None)


def close(shank: Shank, packs: tuple[Pack, ...], wish: Wish, practices: Practices) -> tuple[Pack, Margins] | Short:
    """The first pack with which a shank closes the stack, or the constraint that fails by the least.

    The worst cases are those of ``stack.nut_clearance``, ``thread_in_hole`` and ``protrusion``, of which only one end
    is needed here.
    """
    height = wish.measured.get("height")
    least = shank.pitch + (height.high if height is not None else Fraction(0))
    nearest: Short | None = None
    for pack in packs:
        allowed = _allowed(pack.stack, shank, wish, practices)
        inside = pack.plate_end.high - shank.grip.low
        clearance = pack.clamped.low - shank.grip.high - shank.runout
        past = shank.length.low - pack.clamped.high
        lacking: list[Short] = [
            (inside - allowed, "thread in the hole"),
            (-clearance, "nut meets the shank"),
            (least - past, "too short for the nut"),
        ]
        worst = max(lacking)
        if worst[0] <= 0:
            return pack, Margins(allowed - inside, clearance, past)
        if nearest is None or worst[0] < nearest[0]:
            nearest = worst
    return nearest or (Fraction(0), "no washer")


def _allowed(stack: Stack, shank: Shank, wish: Wish, practices: Practices) -> Fraction:
    """Thread that may stand in the plates: none, or the least that any practice row allows."""
    if wish.thread_in_hole == "none":
        return Fraction(0)
    shear = wish.joint.get("load") in {"shear", "both"}
    limits = [allowed_in_hole(stack, shank.pitch, shear, entry.practice) for entry in practices.in_hole]
    return min(limits, default=Fraction(0))
