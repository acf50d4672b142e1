"""Galvanic rows as the arithmetic takes them, and what they say of hardware on the plates it touches."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, get_args

from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Citation
from service.joints.assembly import Assembly
from service.joints.findings import JointFinding, Severity
from service.joints.formulas.galvanic import (
    Contact,
    GroupMember,
    GroupPair,
    PairRule,
    SeriesPlace,
    Verdict,
    anode,
    judge_contact,
)
from service.parts.part import Part
from service.tables.joint_rows import Galvanic
from service.tables.rows import TRUST

_VERDICTS: Final = frozenset(get_args(Verdict))
_SEVERITY: Final[Mapping[Verdict, Severity]] = {
    "prohibited": "fault",
    "isolate": "caution",
    "caution": "caution",
    "protect": "note",
}
#: a finish that is the metal in contact; other finishes (passivated, dry film) leave the base metal there
_PLATINGS: Final = frozenset({"cadmium", "zinc", "silver", "nickel", "tin", "chromium"})


@dataclass(frozen=True, slots=True)
class Metals:
    """The galvanic rows of a catalogue at one basis or better."""

    members: tuple[GroupMember, ...]
    pairs: tuple[GroupPair, ...]
    rules: tuple[PairRule, ...]
    series: tuple[SeriesPlace, ...]
    rows: Mapping[str, Galvanic]

    @classmethod
    def of(cls, catalogue: Catalogue, basis: str) -> Metals:
        """The rows, sorted by what they are."""
        rows = [row for row in catalogue.package.of(Galvanic) if TRUST[row.basis] <= TRUST[basis]]
        return cls(
            tuple(GroupMember(r.a, r.b, r.row) for r in rows if r.kind == "member"),
            tuple(GroupPair(r.a, r.b, _verdict(r), r.row) for r in rows if r.kind == "group_pair"),
            tuple(PairRule(r.a, r.b, _verdict(r), r.condition, r.row) for r in rows if r.kind == "pair_rule"),
            tuple(SeriesPlace(int(r.a), r.b, r.row) for r in rows if r.kind == "series"),
            {row.row: row for row in rows},
        )

    @property
    def names(self) -> tuple[str, ...]:
        """Every metal that a group, a rule or the series names."""
        named = [m.metal for m in self.members] + [n for r in self.rules for n in (r.first, r.second)]
        return tuple(sorted({*named, *(place.metal for place in self.series)}))

    def contact(self, first: str, second: str, conditions: frozenset[str] = frozenset()) -> Contact:
        """What the rows say of two metals that touch."""
        return judge_contact(first, second, self.members, self.pairs, self.rules, conditions)

    def anode(self, first: str, second: str) -> str | None:
        """Which of the two corrodes, by the sea-water series."""
        return anode(first, second, self.series)


def _verdict(row: Galvanic) -> Verdict:
    verdict = row.verdict if row.verdict in _VERDICTS else "unknown"
    return verdict  # type: ignore[return-value]


def surface_of(part: Part) -> str:
    """The metal that a part shows: its plating, else its base metal; empty when no row says."""
    for attribute in ("finish_group", "material_group"):
        value = part.value(attribute)
        exact = value.exact if value is not None else None
        if isinstance(exact, str) and (attribute == "material_group" or exact in _PLATINGS):
            return exact
    return ""


def judge_metals(assembly: Assembly, metals: Metals) -> Iterator[JointFinding]:
    """What the rows say of each part on the plate that it touches."""
    for part, material in _contacts(assembly):
        surface = surface_of(part)
        contact = metals.contact(surface, material, _stated(assembly))
        severity = _SEVERITY.get(contact.verdict)
        if severity is None:
            continue
        reason = next(r for r in contact.reasons if r.counted)  # the harshest stands first
        yield JointFinding(
            severity,
            "excludes" if severity == "fault" else "conditions" if severity == "caution" else "notes",
            reason.row,
            "material",
            f"{surface.capitalize()} of {part.number} on {material}: {contact.verdict}.",
            (part.number,),
            Citation.of(metals.rows[reason.row]),
        )


def _stated(assembly: Assembly) -> frozenset[str]:
    temperature = assembly.joint.get("temperature")
    return frozenset({"above 450 degF"}) if isinstance(temperature, Fraction) and temperature > 450 else frozenset()


def _contacts(assembly: Assembly) -> Iterator[tuple[Part, str]]:
    """What bears on each outer plate: the washer next to it, else the head or the nut; and the shank in every plate. A plate
    that names no material is of the joint's."""
    stated = assembly.joint.get("material")
    otherwise = stated if isinstance(stated, str) else ""
    plates = [layer.material or otherwise for layer in assembly.stack] or [otherwise]
    head = assembly.under_head[-1] if assembly.under_head else assembly.fastener
    nut = assembly.under_nut[0] if assembly.under_nut else assembly.holding
    seen: set[tuple[str, str]] = set()
    touching = [(head, plates[0]), (nut, plates[-1])]
    touching += [(assembly.fastener, plate) for plate in plates]
    for part, material in touching:
        if part is not None and material and (part.number, material) not in seen:
            seen.add((part.number, material))
            yield part, material
