"""Answers as bytes. What is the same in many answers (a facet's attributes, a piece's meaning) is written once and kept.

The memo tables live here and not in the catalogue, because bytes are a matter of HTTP. A facet's fragment is keyed by the same pieces of the
number that the facet hangs on, so a new number usually costs a few look-ups and one join.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import orjson

from service.api.problems import Problem, refusal_members
from service.api.schemas import NOTICE
from service.catalogue.facets import Facet
from service.catalogue.family import FamilySpec, Remark
from service.catalogue.slots import NONE
from service.catalogue.values import Citation, Value
from service.designation.reading import Designation, Outcome, Refusal
from service.parts.part import Part, clauses
from service.quantity import decimal_text
from service.tables.rows import TRUST

dumps = orjson.dumps
_WEAKEST = "from-memory"


def cited(citation: Citation | None) -> dict[str, str | None]:
    """The provenance members of a statement."""
    if citation is None:
        return {"row": None, "source": None, "locator": None, "basis": None, "note": None}
    return {
        "row": citation.row, "source": citation.source, "locator": citation.locator, "basis": citation.basis, "note": citation.note,
    }  # fmt: skip


def value_members(value: Value) -> dict[str, Any]:
    """An attribute as it leaves the service."""
    return {
        "value": value.text,
        "unit": value.unit,
        "display": value.display,
        "limit": value.limit,
        "plus": None if value.plus is None else decimal_text(value.plus),
        "minus": None if value.minus is None else decimal_text(value.minus),
        **cited(value.citation),
        "reason": value.reason,
        "others": [value_members(other) for other in value.others],
    }


def remark_members(remarks: Iterable[Remark], kind: str) -> list[dict[str, Any]]:
    """Misreadings or cautions as they leave the service."""
    if kind == "misreadings":
        return [{"wrong": r.wrong, "right": r.text, **cited(r.citation)} for r in remarks]
    return [{"text": r.text, **cited(r.citation)} for r in remarks]


class _FacetWriter:
    """One facet's attributes as JSON members, by the pieces they hang on."""

    __slots__ = ("basis", "facet", "family", "known", "pick")

    def __init__(self, family: FamilySpec, facet: Facet, basis: str) -> None:
        self.family, self.facet, self.basis = family, facet, basis
        self.pick = facet.pick
        self.known: dict[Any, tuple[bytes, frozenset[str]]] = {}

    def write(self, codes: Sequence[str]) -> tuple[bytes, frozenset[str]]:
        """The members and the sources they cite."""
        key = self.pick(codes)
        known = self.known.get(key)
        if known is None:
            values = self.family.facets.values(self.facet, codes).values()
            served = [v if self.basis == _WEAKEST else v.at_least(self.basis) for v in values]
            members = [dumps(v.attribute) + b":" + dumps(value_members(v)) for v in served]
            sources = frozenset(v.citation.source for v in served if v.citation is not None)
            known = self.known[key] = (b",".join(members), sources)
        return known


class _ClauseWriter:
    """One clause of a description, by the pieces its attributes hang on; None where an attribute is absent."""

    __slots__ = ("basis", "family", "known", "literals", "names", "slots")

    def __init__(self, family: FamilySpec, literals: tuple[str, ...], names: tuple[str, ...], basis: str) -> None:
        self.family, self.literals, self.names, self.basis = family, literals, names, basis
        by_attribute = family.facets.by_attribute
        self.slots = tuple(sorted({i for name in names if name in by_attribute for i in by_attribute[name].slots}))
        self.known: dict[tuple[str, ...], str | None] = {}

    def write(self, codes: Sequence[str]) -> str | None:
        """The clause in words."""
        key = tuple([codes[i] for i in self.slots])
        if key not in self.known:
            self.known[key] = self._words(codes)
        return self.known[key]

    def _words(self, codes: Sequence[str]) -> str | None:
        words = [self.literals[0]]
        for name, literal in zip(self.names, self.literals[1:], strict=True):
            value = self.family.value(name, codes)
            value = value.at_least(self.basis) if value is not None else None
            if value is None or not value.display:
                return None
            words += [value.display, literal]
        return "".join(words)


@dataclass(slots=True)
class _Stem:
    """What all numbers share that differ only in the piece with the most codes: nearly everything about a bolt but its length."""

    attributes: list[bytes]
    before: list[bytes]
    after: list[bytes]
    words: list[str | _ClauseWriter]
    #: misreadings and cautions that hold for all of these numbers (False) or still depend on the piece (True)
    remarks: tuple[list[tuple[Remark, bool]], list[tuple[Remark, bool]]]
    tail: bytes | None
    sources: frozenset[str]


class _FamilyWriter:
    """Everything about one family that its parts' answers share."""

    def __init__(self, family: FamilySpec, basis: str) -> None:
        self.family, self.basis = family, basis
        self.widest = max(range(len(family.slots)), key=lambda i: len(family.slots[i].codes))
        self.rest = [i for i in range(len(family.slots)) if i != self.widest]
        writers = [_FacetWriter(family, facet, basis) for facet in family.facets.all]
        self.shared = [w for w in writers if self.widest not in w.facet.slots]
        self.own = [w for w in writers if self.widest in w.facet.slots]
        self.clauses = [
            _ClauseWriter(family, literals, names, basis) for literals, names in clauses(family.description)
        ]
        trusted = [
            [r for r in remarks if r.citation.trust <= TRUST[basis]]
            for remarks in (family.misreadings, family.cautions)
        ]
        self.misreadings, self.cautions = trusted
        self.head = b"".join(
            [
                b',"family":', dumps(family.id), b',"kind":', dumps(family.kind), b',"title":', dumps(family.title),
                b',"description":',
            ]
        )  # fmt: skip
        self.status = (
            b',"status":' + dumps(family.status) + b',"superseded_by":' + dumps(family.superseded_by) + b',"segments":['
        )
        self.remarks: dict[tuple[int | None, ...], tuple[bytes, frozenset[str]]] = {}
        self.stems: dict[tuple[str, ...], _Stem] = {}
        self.segments: dict[tuple[int, str], tuple[bytes, str]] = {}
        self.source_lists: dict[frozenset[str], bytes] = {}

    def segment(self, index: int, code: str) -> tuple[bytes, str]:
        """One piece of the number, and the source that says what it means."""
        known = self.segments.get((index, code))
        if known is None:
            spec = self.family.slots[index]
            meaning = spec.codes[code]
            trusted = meaning.citation.trust <= TRUST[self.basis]
            members: dict[str, Any] = {
                "text": "" if code == NONE else code,
                "slot": spec.name,
                "caption": spec.caption,
                "meaning": meaning.meaning if trusted else None,
                "reason": "" if trusted else f"nothing at {self.basis} or better; the row is {meaning.citation.basis}",
                **cited(meaning.citation if trusted else None),
            }
            known = self.segments[(index, code)] = (dumps(members), meaning.citation.source)
        return known

    def _stem(self, codes: Sequence[str]) -> _Stem:
        written = [w.write(codes) for w in self.shared]
        pieces = {i: self.segment(i, codes[i]) for i in self.rest}
        words = [
            c if self.widest in c.slots else text
            for c in self.clauses
            if (text := c.write(codes)) is not None or self.widest in c.slots
        ]
        remarks = self._possible(self.misreadings, codes), self._possible(self.cautions, codes)
        vary = any(depends for told in remarks for _, depends in told)
        tail, remarked = (None, frozenset[str]()) if vary else self._remarks(remarks, codes)
        return _Stem(
            attributes=[members for members, _ in written if members],
            before=[piece for i, (piece, _) in pieces.items() if i < self.widest],
            after=[piece for i, (piece, _) in pieces.items() if i > self.widest],
            words=[word for word in words if word is not None],
            remarks=remarks,
            tail=tail,
            sources=remarked.union(
                (self.family.citation.source,), (s for _, s in pieces.values()), *(s for _, s in written)
            ),
        )

    def _possible(self, remarks: Iterable[Remark], codes: Sequence[str]) -> list[tuple[Remark, bool]]:
        return [(r, self.widest in r.when.slots) for r in remarks if r.when.without(self.widest).holds(codes)]

    def _remarks(
        self, possible: tuple[list[tuple[Remark, bool]], list[tuple[Remark, bool]]], codes: Sequence[str]
    ) -> tuple[bytes, frozenset[str]]:
        wrong = tuple([r for r, depends in possible[0] if not depends or r.when.holds(codes)])
        told = tuple([r for r, depends in possible[1] if not depends or r.when.holds(codes)])
        key = (*map(id, wrong), None, *map(id, told))
        known = self.remarks.get(key)
        if known is None:
            misreadings, cautions = remark_members(wrong, "misreadings"), remark_members(told, "cautions")
            text = b'},"misreadings":' + dumps(misreadings) + b',"cautions":' + dumps(cautions)
            known = self.remarks[key] = (text, frozenset(r.citation.source for r in (*wrong, *told)))
        return known

    def part(self, found: Designation) -> bytes:
        """The members of a part, without the braces around them."""
        codes = found.codes
        key = tuple([codes[i] for i in self.rest])
        stem = self.stems.get(key)
        if stem is None:
            stem = self.stems[key] = self._stem(codes)
        attributes = [*stem.attributes]
        piece, source = self.segment(self.widest, codes[self.widest])
        sources = stem.sources if source in stem.sources else stem.sources | {source}
        for writer in self.own:
            members, cites = writer.write(codes)
            if members:
                attributes.append(members)
            if not cites <= sources:
                sources = sources | cites
        tail = stem.tail
        if tail is None:
            tail, cites = self._remarks(stem.remarks, codes)
            sources = sources | cites
        listed = self.source_lists.get(sources)
        if listed is None:
            listed = self.source_lists[sources] = b',"sources":' + dumps(sorted(sources))
        number = dumps(found.number)
        words = [w if w.__class__ is str else w.write(codes) for w in stem.words]  # type: ignore[union-attr]
        return b"".join(
            (
                b'"number":', number, b',"asked":', number if found.asked == found.number else dumps(found.asked), b',"spelling":"', found.spelling.encode(),
                b'","corrections":', corrections(found), self.head, dumps("; ".join([w for w in words if w]) or self.family.title), self.status,
                b",".join([*stem.before, piece, *stem.after]), b'],"attributes":{', b",".join(attributes), tail, listed,
            )
        )  # fmt: skip


def corrections(found: Designation) -> bytes:
    """The corrections of a spelling."""
    if not found.corrections:
        return b"[]"
    return dumps([{"found": c.found, "read": c.read, "reason": c.reason} for c in found.corrections])


class Writer:
    """Writes answers of one release."""

    def __init__(self, release: str) -> None:
        self.release = release
        self._tail = b',"notice":' + dumps(NOTICE) + b',"release":' + dumps(release) + b"}"
        self._families: dict[tuple[str, str], _FamilyWriter] = {}

    def _family(self, family: FamilySpec, basis: str) -> _FamilyWriter:
        key = (family.id, basis)
        writer = self._families.get(key)
        if writer is None:
            writer = self._families[key] = _FamilyWriter(family, basis)
        return writer

    def part(self, part: Part) -> bytes:
        """A decoded part."""
        return b"{" + self._family(part.family, part.basis).part(part.designation) + self._tail

    def result(self, outcome: Outcome, basis: str) -> bytes:
        """One result of a batch."""
        if isinstance(outcome, Refusal):
            return b"".join(
                (
                    b'{"asked":', dumps(outcome.asked), b',"outcome":', dumps(outcome.outcome), b',"part":null,"problem":',
                    self.problem(Problem(outcome.outcome, outcome.detail, refusal_members(outcome))), b"}",
                )
            )  # fmt: skip
        part = self._family(outcome.family, basis).part(outcome)
        return b'{"asked":' + dumps(outcome.asked) + b',"outcome":"decoded","part":{' + part + b'},"problem":null}'

    def batch(self, outcomes: Iterable[Outcome], basis: str) -> bytes:
        """The results of a batch, in order."""
        return b'{"results":[' + b",".join([self.result(outcome, basis) for outcome in outcomes]) + b"]" + self._tail

    def problem(self, problem: Problem, instance: str = "") -> bytes:
        """A problem document."""
        return dumps(problem.body(self.release, instance))

    def noticed(self, members: dict[str, Any]) -> bytes:
        """An answer about hardware."""
        return dumps({**members, "notice": NOTICE, "release": self.release})

    def plain(self, members: dict[str, Any]) -> bytes:
        """An answer about the service or its tables."""
        return dumps({**members, "release": self.release})
