"""The reader: a number as somebody wrote it in, a Designation or a Refusal out.

The family is found by one dictionary look-up on the leading letters and digits, never by trying patterns in turn. Only when a number cannot
be read as written are missing dashes, moved letters and look-alike characters tried, and nothing is chosen among several readings.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.designation import explain
from service.designation.grammar import Grammar
from service.designation.reading import Correction, Designation, Outcome
from service.designation.spelling import LONGEST, basic_as_filed, lookalikes, tidy

_HEAD = re.compile(r"[A-Z]+\d+")


class Reader:
    """Reads part numbers against one catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.grammars = {id_: Grammar(family) for id_, family in catalogue.families.items()}
        self._by_basic = {basic: self.grammars[family.id] for basic, family in catalogue.by_basic.items()}

    def read(self, asked: str) -> Outcome:
        """Read one number. Never raises for any text."""
        found = self._as_written(asked, asked)
        if isinstance(found, Designation) and found.number == asked:
            return found
        if len(asked) > LONGEST:
            return explain.too_long(asked)
        text = tidy(asked)
        found = self._as_written(text, asked)
        if found is None:
            found = self._as_filed(text, asked)
        return found or self._mended(text, asked)

    def _as_written(self, text: str, asked: str) -> Outcome | None:
        """A reading of ``text`` whose pieces all stand where they belong, or None."""
        head = _HEAD.match(text)
        grammar = self._by_basic.get(head[0]) if head else None
        if head is None or grammar is None:
            return None
        rest = grammar.match(text, head.end())
        if rest is None:
            return None
        codes = (head[0], *rest)
        place = grammar.unknown(rest)
        if place is not None:
            return explain.no_such_code(grammar.family, codes, place + 1, asked)
        return self._existing(grammar.family, codes, asked)

    def _made(self, text: str) -> tuple[FamilySpec, tuple[str, ...]] | None:
        """The number ``text`` is, if it is written as it should be and is made; no refusal is worked out."""
        head = _HEAD.match(text)
        grammar = self._by_basic.get(head[0]) if head else None
        rest = grammar.match(text, head.end()) if head and grammar else None
        if head is None or grammar is None or rest is None or grammar.unknown(rest) is not None:
            return None
        codes = (head[0], *rest)
        return (grammar.family, codes) if grammar.family.not_made(codes) is None else None

    def _existing(self, family: FamilySpec, codes: tuple[str, ...], asked: str) -> Outcome:
        if family.combinations:
            bad = family.not_made(codes)
            if bad is not None:
                return explain.not_made(family, codes, asked, *bad)
        number = family.format(codes)
        if number == asked:
            return Designation(number, family, codes, asked)
        why = Correction(asked, number, "written the canonical way")
        return Designation(number, family, codes, asked, "reformatted", (why,))

    def _as_filed(self, text: str, asked: str) -> Outcome | None:
        head = _HEAD.match(text)
        for basic in basic_as_filed(head[0]) if head else ():
            if head and basic in self._by_basic:
                found = self._as_written(basic + text[head.end() :], asked)
                if isinstance(found, Designation):
                    why = Correction(head[0], basic, "the document was renumbered, the part keeps its number")
                    return Designation(found.number, found.family, found.codes, asked, "reformatted", (why,))
                return found
        return None

    def _mended(self, text: str, asked: str) -> Outcome:
        head = _HEAD.match(text)
        known = self._by_basic.get(head[0]) if head else None
        alike = self._lookalike(text, asked)
        if head and known:
            found = self._one(self._rearranged(known, head[0], text, head.end()), text, asked)
            if found is not None:
                return self._agreed(found, alike, asked)
        shorter = self._one(self._split_head(text, head), text, asked) if head else None
        if shorter is not None and known is not None and isinstance(shorter, Designation):
            # AN310 may be a castle nut without its size or an AN3-10 without its dash: nobody but the asker knows
            return explain.either(known.family, shorter, asked)
        if shorter is not None and known is None:
            return self._agreed(shorter, alike, asked)
        if alike is not None:
            return alike
        if head and known:
            return explain.bad_piece(known, head[0], text, head.end(), asked)
        return explain.not_covered(text, asked, self.catalogue.by_basic)

    def _agreed(self, found: Outcome, alike: Outcome | None, asked: str) -> Outcome:
        """A rearranged reading stands only if no single look-alike character gives another number."""
        if not isinstance(alike, Designation) or len(alike.corrections) > 1:
            return found
        numbers = [found.number] if isinstance(found, Designation) else list(found.candidates)
        return explain.ambiguous(asked, [*numbers, alike.number]) if alike.number not in numbers else found

    def _rearranged(
        self, grammar: Grammar, basic: str, text: str, start: int
    ) -> Iterator[tuple[FamilySpec, tuple[str, ...]]]:
        # a letter that has a meaning in more than one place is not moved: its other readings stand beside it, and none is chosen
        moved = [(codes, *rivals) for codes, rivals in grammar.moved(text, start)]
        for codes in (*grammar.loose(text, start), *(reading for readings in moved for reading in readings)):
            if grammar.unknown(codes) is None:
                yield grammar.family, (basic, *codes)

    def _split_head(self, text: str, head: re.Match[str]) -> Iterator[tuple[FamilySpec, tuple[str, ...]]]:
        letters = head[0].rstrip("0123456789")
        for end in range(head.end() - 1, len(letters), -1):
            grammar = self._by_basic.get(text[:end])
            if grammar is not None:
                for codes in grammar.loose(text, end):
                    yield grammar.family, (text[:end], *codes)

    def _one(self, readings: Iterable[tuple[FamilySpec, tuple[str, ...]]], text: str, asked: str) -> Outcome | None:
        """The only reading among ``readings``; a refusal that lists them when there are several; None when there is none."""
        found = {family.format(codes): (family, codes) for family, codes in readings if family.not_made(codes) is None}
        if not found:
            return None
        if len(found) > 1:
            return explain.ambiguous(asked, list(found))
        number, (family, codes) = next(iter(found.items()))
        why = Correction(text, number, "a dash or a letter stood in another place")
        return Designation(number, family, codes, asked, "reformatted", (why,))

    def _lookalike(self, text: str, asked: str) -> Outcome | None:
        found: dict[str, Designation] = {}
        fewest = 0
        for count, variant, corrections in lookalikes(text):
            if found and count > fewest:
                break
            made = self._made(variant)
            if made is not None:
                fewest = count
                family, codes = made
                number = family.format(codes)
                found[number] = Designation(number, family, codes, asked, "corrected", corrections)
        if not found:
            return None
        return next(iter(found.values())) if len(found) == 1 else explain.ambiguous(asked, list(found))
