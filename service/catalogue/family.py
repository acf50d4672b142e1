"""A specification family, compiled from its rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from service.catalogue.facets import Facets
from service.catalogue.slots import NONE, SlotSpec
from service.catalogue.values import Citation, Value
from service.catalogue.when import When


@dataclass(frozen=True, slots=True)
class Remark:
    """A misreading or a caution, with the numbers it concerns."""

    when: When
    text: str
    wrong: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class Combination:
    """A row that says a combination of pieces is made, or is not."""

    when: When
    made: bool
    reason: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class FamilySpec:
    """A family as the engine uses it: pieces, attributes, combinations, remarks. It holds no behaviour of its own kind."""

    id: str
    kind: str
    title: str
    description: str
    status: str
    superseded_by: str
    examples: tuple[str, ...]
    citation: Citation
    slots: tuple[SlotSpec, ...]
    facets: Facets
    combinations: tuple[Combination, ...]
    misreadings: tuple[Remark, ...]
    cautions: tuple[Remark, ...]

    @property
    def basics(self) -> Mapping[str, object]:
        """The basic numbers of the family."""
        return self.slots[0].codes

    def format(self, codes: Sequence[str]) -> str:
        """The canonical number for these codes: the joints decide where a dash stands."""
        text = codes[0]
        for spec, code in zip(self.slots[1:], codes[1:], strict=True):
            if code == NONE:
                continue
            if spec.joint == "dash" or (
                spec.joint == "dash-between-digits" and text[-1].isdigit() and code[0].isdigit()
            ):
                text += "-"
            text += code
        return text

    def not_made(self, codes: Sequence[str]) -> tuple[str, Citation | None] | None:
        """Why a well-written number is not made (reason, citation), or None when nothing speaks against it."""
        allowed = False
        listed = False
        for combination in self.combinations:
            if combination.made:
                listed = True
                allowed = allowed or combination.when.holds(codes)
            elif combination.when.holds(codes):
                return combination.reason, combination.citation
        if listed and not allowed:
            return "this combination is in no table of the family", None
        return None

    def value(self, attribute: str, codes: Sequence[str]) -> Value | None:
        """One attribute of a number of the family, or None where the tables are silent."""
        return self.facets.value(attribute, codes)

    @property
    def pattern(self) -> str:
        """The family's number in words a person can read: literal text and {pieces}, optional ones in [brackets]."""
        parts = ["{basic}"]
        for spec in self.slots[1:]:
            dash = {"dash": "-", "dash-between-digits": "(-)", "plain": ""}[spec.joint]
            parts.append(f"[{dash}{{{spec.name}}}]" if spec.optional else f"{dash}{{{spec.name}}}")
        return "".join(parts)
