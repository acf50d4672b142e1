"""Answers as bytes. What is the same in many answers (a facet's attributes, a piece's meaning) is written once and kept.

The memo tables live here and not in the catalogue, because bytes are a matter of HTTP. A facet's fragment is keyed by the same pieces of the
number that the facet hangs on, so a new number usually costs a few look-ups and one join.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
        key = self.pick(codes)
        known = self.known.get(key)
        if known is None:
            values = self.family.facets.values(self.facet, codes).values()
            served = [v if self.basis == _WEAKEST else v.at_least(self.basis) for v in values]
            members = [dumps(v.attribute) + b":" + dumps(value_members(v)) for v in served]
            sources = frozenset(v.citation.source for v in served if v.citation is not None)
            known = (b",".join(members), sources)
            self.known[key] = known
        return known


class _FamilyWriter:
    """Everything about one family that its parts' answers share."""

    def __init__(self, family: FamilySpec, basis: str) -> None:
        self.family, self.basis = family, basis
        self.facets = [_FacetWriter(family, facet, basis) for facet in family.facets.all]
        self.segments: list[dict[str, tuple[bytes, str]]] = [{} for _ in family.slots]
        self.head = b"".join(
            [
                b',"family":', dumps(family.id), b',"kind":', dumps(family.kind), b',"title":', dumps(family.title),
                b',"description":',
            ]
        )  # fmt: skip
        self.status = b',"status":' + dumps(family.status) + b',"superseded_by":' + dumps(family.superseded_by) + b',"segments":['
        self.always = frozenset({family.citation.source})
        self.clauses = [_ClauseWriter(family, literals, names, basis) for literals, names in clauses(family.description)]
        self.misreadings = _RemarkWriter(family.misreadings, "misreadings", basis)
        self.cautions = _RemarkWriter(family.cautions, "cautions", basis)
        self.source_lists: dict[frozenset[str], bytes] = {}

    def segment(self, index: int, code: str) -> tuple[bytes, str]:
        known = self.segments[index].get(code)
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
            known = (dumps(members), meaning.citation.source)
            self.segments[index][code] = known
        return known

    def part(self, found: Designation) -> bytes:
        """The members of a part, without the braces around them."""
        codes = found.codes
        written = [facet.write(codes) for facet in self.facets]
        segments = [self.segment(index, code) for index, code in enumerate(codes)]
        words = [text for clause in self.clauses if (text := clause.write(codes)) is not None]
        misreadings, wrong_sources = self.misreadings.write(codes)
        cautions, caution_sources = self.cautions.write(codes)
        sources = self.always.union(wrong_sources, caution_sources, (s for _, s in segments), *(s for _, s in written))
        listed = self.source_lists.get(sources)
        if listed is None:
            listed = self.source_lists[sources] = dumps(sorted(sources))
        return b"".join(
            (
                b'"number":', dumps(found.number), b',"asked":', dumps(found.asked), b',"spelling":"', found.spelling.encode(),
                b'","corrections":', corrections(found), self.head, dumps("; ".join(words)), self.status,
                b",".join([s for s, _ in segments]), b'],"attributes":{', b",".join([a for a, _ in written if a]),
                b'},"misreadings":', misreadings, b',"cautions":', cautions, b',"sources":', listed,
            )
        )  # fmt: skip


class _ClauseWriter:
    """One clause of a description; where its attributes hang on one facet, its words are kept."""

    __slots__ = ("basis", "family", "known", "literals", "names", "slots")

    def __init__(self, family: FamilySpec, literals: tuple[str, ...], names: tuple[str, ...], basis: str) -> None:
        self.family, self.literals, self.names, self.basis = family, literals, names, basis
        slots = sorted({i for name in names if name in family.facets.by_attribute for i in family.facets.by_attribute[name].slots})
        self.slots = tuple(slots)
        self.known: dict[Any, str | None] = {}

    def write(self, codes: Sequence[str]) -> str | None:
        key = tuple([codes[i] for i in self.slots])
        if key not in self.known:
            words: list[str] | None = [self.literals[0]]
            for name, literal in zip(self.names, self.literals[1:], strict=True):
                value = self.family.value(name, codes)
                value = value.at_least(self.basis) if value is not None else None
                if value is None or not value.display:
                    words = None
                    break
                assert words is not None
                words += [value.display, literal]
            self.known[key] = None if words is None else "".join(words)
        return self.known[key]


class _RemarkWriter:
    """The misreadings or cautions of a family, written once for each set of them that applies."""

    def __init__(self, remarks: tuple[Remark, ...], kind: str, basis: str) -> None:
        trusted = [r for r in remarks if r.citation.trust <= TRUST[basis]]
        self.always = tuple(r for r in trusted if not r.when.tests)
        self.some = tuple(r for r in trusted if r.when.tests)
        self.kind = kind
        self.known: dict[tuple[Remark, ...], tuple[bytes, frozenset[str]]] = {}

    def write(self, codes: Sequence[str]) -> tuple[bytes, frozenset[str]]:
        applying = tuple([r for r in self.some if r.when.holds(codes)]) if self.some else ()
        known = self.known.get(applying)
        if known is None:
            every = (*self.always, *applying)
            known = (dumps(remark_members(every, self.kind)), frozenset(r.citation.source for r in every))
            self.known[applying] = known
        return known


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


