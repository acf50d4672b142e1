"""The practice rows as the arithmetic takes them: one practice a document, with the row that each limit comes from."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction

from service.catalogue.catalogue import Catalogue
from service.joints.formulas.rivets import ShopHeadPractice, SpacingPractice
from service.joints.formulas.stack import BearingPractice, ProtrusionPractice
from service.mating.clauses import Clause, Setting, compile_clauses
from service.quantity import parse_number
from service.tables.joint_rows import Practice
from service.tables.rows import TRUST


@dataclass(frozen=True, slots=True)
class Protruding:
    """A protrusion practice and its row."""

    practice: ProtrusionPractice
    row: Practice
    excepted: tuple[Clause, ...]

    def speaks_of(self, setting: Setting) -> bool:
        """Whether the practice is about such a set; where that is not known it is."""
        return not self.excepted or not all(clause.judge(setting).holds for clause in self.excepted)


@dataclass(frozen=True, slots=True)
class InHole:
    """A practice on threads in the hole: its row in general, and the rows for thin plates and for shear."""

    practice: BearingPractice
    row: Practice
    thin: Practice | None
    shear: Practice | None


class Practices:
    """The practice rows of a catalogue at one basis or better, by topic."""

    def __init__(self, catalogue: Catalogue, basis: str) -> None:
        self._by_topic: dict[str, list[Practice]] = defaultdict(list)
        for row in catalogue.package.of(Practice):
            if TRUST[row.basis] <= TRUST[basis]:
                self._by_topic[row.topic].append(row)
        self.protrusion = tuple(self._protrusion())
        self.in_hole = tuple(self._in_hole())
        self.spacing = self._rivets("rivet_spacing")
        self.shop_heads = self._rivets("shop_head")

    def rows(self, topic: str) -> list[Practice]:
        """The rows of a topic in file order; empty when no row has it."""
        return self._by_topic.get(topic, [])

    def _protrusion(self) -> list[Protruding]:
        found = []
        for row in self.rows("protrusion"):
            value = parse_number(row.value)
            if row.limit == "max":
                practice = ProtrusionPractice(row.practice, threads_max=value)
            elif row.quantity == "threads":
                practice = ProtrusionPractice(row.practice, threads_min=value)
            else:
                practice = ProtrusionPractice(row.practice, length_min=value)
            found.append(Protruding(practice, row, compile_clauses(row.excepted)))
        return found

    def _in_hole(self) -> list[InHole]:
        grouped: dict[str, list[Practice]] = defaultdict(list)
        for row in self.rows("thread_in_hole"):
            grouped[row.practice].append(row)
        found = []
        for name, rows in grouped.items():
            most = max((r for r in rows if r.quantity == "threads"), key=lambda r: parse_number(r.value))
            limit = next((r for r in rows if r.quantity == "none_up_to"), None)
            thin = next((r for r in rows if r.rule == "grip.thin-sheet" and r.quantity == "threads"), None)
            shear = next((r for r in rows if r.rule == "grip.shear"), None)
            practice = BearingPractice(
                name,
                parse_number(most.value),
                none_up_to=parse_number(limit.value) if limit else None,
                none_in_shear=shear is not None,
                only_in_thickest="thicker" in most.applies_to,
            )
            found.append(InHole(practice, most, thin, shear))
        return found

    def _rivets(self, topic: str) -> dict[str, tuple[dict[str, Fraction], list[Practice]]]:
        grouped: dict[str, tuple[dict[str, Fraction], list[Practice]]] = {}
        for row in self.rows(topic):
            limits, rows = grouped.setdefault(row.practice, ({}, []))
            quantity = row.quantity.removesuffix("_over_diameter")
            limits[f"{quantity}_{row.limit}" if row.limit else quantity] = parse_number(row.value)
            rows.append(row)
        return grouped


def spacing_practice(name: str, limits: dict[str, Fraction]) -> SpacingPractice:
    """A document's spacing limits as the arithmetic takes them."""
    return SpacingPractice(
        name,
        edge_min=limits.get("edge_min"),
        edge_max=limits.get("edge_max"),
        pitch_min=limits.get("pitch_min"),
        pitch_max=limits.get("pitch_max"),
        row_min=limits.get("row_min"),
    )


def shop_head_practice(name: str, limits: dict[str, Fraction]) -> ShopHeadPractice:
    """A document's shop head limits as the arithmetic takes them; a nominal size is no limit."""
    return ShopHeadPractice(name, diameter_min=limits.get("diameter_min"), height_min=limits.get("height_min"))
