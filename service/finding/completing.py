"""Completions of a half-typed number: the same grammar run forward, piece by piece, as far as the text goes."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.slots import NONE
from service.catalogue.values import Citation
from service.designation.spelling import LONGEST, basic_as_filed, tidy


@dataclass(frozen=True, slots=True)
class Completion:
    """A way on: the canonical text so far, the piece that ends it, and whether the number may end here or go on."""

    text: str
    family: FamilySpec
    slot: str
    code: str
    caption: str
    meaning: str
    complete: bool
    open: bool
    citation: Citation


class Completer:
    """Completes numbers of one catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self._basics = sorted(catalogue.by_basic)
        self._tails: dict[str, _Tails] = {}

    def complete(self, prefix: str) -> list[Completion]:
        """Every completion by one piece: basic numbers first, then the next pieces, as typed before dashes added. Nothing for what begins no number."""
        text = tidy(prefix) + ("-" if prefix.rstrip().endswith(("-", "\u2013", "\u2212")) else "")
        if len(text) > LONGEST:
            return []
        found: dict[tuple[str, str, str], Completion] = {}
        for variant in (text, *(b for head in [text.split("-")[0]] for b in _filed(head, text))):
            for completion in (*self._heads(variant), *self._pieces(variant)):
                found.setdefault((completion.text, completion.family.id, completion.slot), completion)
        plain = text.rstrip("-")
        return sorted(found.values(), key=lambda c: not c.text.startswith(plain))

    def _heads(self, text: str) -> Iterator[Completion]:
        """Basic numbers that begin like the text."""
        for basic in self._basics[bisect_left(self._basics, text) :]:
            if not basic.startswith(text):
                break
            yield self._tails_of(self.catalogue.by_basic[basic]).ending((basic,), 0)

    def _pieces(self, text: str) -> Iterator[Completion]:
        """Completions behind a whole basic number, the longest basic number first."""
        for end in range(len(text), 1, -1):
            family = self.catalogue.by_basic.get(text[:end])
            if family is not None:
                yield from self._tails_of(family).behind((text[:end],), text, end)

    def _tails_of(self, family: FamilySpec) -> _Tails:
        if family.id not in self._tails:
            self._tails[family.id] = _Tails(family)
        return self._tails[family.id]


def _filed(head: str, text: str) -> Iterator[str]:
    for basic in basic_as_filed(head):
        yield basic + text[len(head) :]


class _Tails:
    """What may follow in one family's numbers."""

    def __init__(self, family: FamilySpec) -> None:
        self.family = family
        self.leads = lru_cache(maxsize=4096)(self._leads)

    @cached_property
    def _written(self) -> list[list[tuple[str, str]]]:
        """For each slot what may be written there and the code it stands for."""
        return [[*((c, c) for c in spec.codes), *spec.aliases.items()] for spec in self.family.slots]

    def behind(self, codes: tuple[str, ...], text: str, at: int) -> Iterator[Completion]:
        """Completions of ``text`` from ``at``, behind the pieces ``codes``."""
        index = len(codes)
        if at == len(text) or text[at:] == "-":
            yield from self._next(codes, at < len(text))
        if at == len(text) or index == len(self.family.slots):
            return
        begin = at + 1 if text[at] == "-" else at
        rest = text[begin:]
        for written, code in self._written[index]:
            longer = (*codes, code)
            if written == NONE:
                yield from self.behind(longer, text, at)
            elif written == "-":  # a dash that is a piece of its own; like any dash it may have been left out
                yield from self.behind(longer, text, begin)
            elif rest and rest.startswith(written):
                if begin + len(written) == len(text) and self.leads(longer):
                    yield self.ending(longer, index)
                yield from self.behind(longer, text, begin + len(written))
            elif rest and written.startswith(rest) and self.leads(longer):
                yield self.ending(longer, index)

    def _next(self, codes: tuple[str, ...], dashed: bool) -> Iterator[Completion]:
        """The pieces that may come next: those of the next slot, and of the ones behind it as long as pieces may be absent."""
        for index in range(len(codes), len(self.family.slots)):
            spec = self.family.slots[index]
            for code in spec.codes:
                longer = (*codes, code)
                if code != NONE and (not dashed or spec.joint != "plain") and self.leads(longer):
                    yield self.ending(longer, index)
            if not spec.optional:
                break
            codes = (*codes, NONE)

    def ending(self, codes: tuple[str, ...], index: int) -> Completion:
        """The completion that ends with the piece at ``index``."""
        spec = self.family.slots[index]
        code = spec.codes[codes[index]]
        whole = self._filled(codes)
        complete = whole is not None and self.family.not_made(whole) is None
        text = self.family.format((*codes, *(NONE,) * (len(self.family.slots) - len(codes))))
        more = len(codes) < len(self.family.slots) and self._goes_on(codes)
        return Completion(
            text, self.family, spec.name, code.code, spec.caption, code.meaning, complete, more, code.citation
        )

    def _filled(self, codes: tuple[str, ...]) -> tuple[str, ...] | None:
        rest = self.family.slots[len(codes) :]
        return (*codes, *(NONE for _ in rest)) if all(spec.optional for spec in rest) else None

    def _goes_on(self, codes: tuple[str, ...]) -> bool:
        return next(self._next(codes, False), None) is not None if len(codes) > 1 else True

    def _leads(self, codes: tuple[str, ...]) -> bool:
        """Whether some number that is made begins with these pieces."""
        if not self.family.combinations:
            return True
        index = len(codes)
        if index == len(self.family.slots):
            return self.family.not_made(codes) is None
        if not self._allowed(codes):
            return False
        return any(self.leads((*codes, code)) for code in self.family.slots[index].codes)

    def _allowed(self, codes: tuple[str, ...]) -> bool:
        """Whether what is decided so far agrees with some row of what is made; a cheap test before a long one."""
        listed = [c.when.tests for c in self.family.combinations if c.made]
        return not listed or any(all(i >= len(codes) or codes[i] in ok for i, ok in tests) for tests in listed)
