"""The grammar of a family, compiled from its slots: one matcher for numbers as written, one reader for numbers as mangled."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cached_property
from itertools import permutations

from service.catalogue.family import FamilySpec
from service.catalogue.slots import NONE, SlotSpec

#: a dash, or nothing where it would not part two digits
_JOINT = r"(?:-|(?<=\D)|(?=\D))"


class Grammar:
    """Reads the pieces behind the basic number of one family."""

    def __init__(self, family: FamilySpec) -> None:
        self.family = family
        self._specs = family.slots[1:]
        self._canonical = tuple(_canonicaliser(spec) for spec in self._specs)
        #: for each piece, what is written -> the code it stands for; None, an absent piece, included
        self._codes: tuple[dict[str | None, str], ...] = tuple(_meant(spec) for spec in self._specs)

    @cached_property
    def _matcher(self) -> re.Pattern[str]:
        return re.compile("".join(_piece(spec) for spec in self._specs))

    def match(self, text: str, start: int) -> tuple[str, ...] | None:
        """The codes of ``text`` from ``start`` as written, canonical where the set has another spelling; not checked for existence."""
        found = self._matcher.fullmatch(text, start)
        if found is None:
            return None
        pieces = found.groups()
        try:
            return tuple([codes[piece] for codes, piece in zip(self._codes, pieces, strict=True)])
        except KeyError:
            return tuple(
                NONE if piece is None else canonical(piece)
                for canonical, piece in zip(self._canonical, pieces, strict=True)
            )

    def unknown(self, codes: tuple[str, ...]) -> int | None:
        """The place of the first code that its slot does not hold, or None."""
        for place, (spec, code) in enumerate(zip(self._specs, codes, strict=True)):
            if code not in spec.codes:
                return place
        return None

    def loose(self, text: str, start: int) -> Iterator[tuple[str, ...]]:
        """Every way to read the rest when dashes may be missing or surplus: existing codes only."""
        yield from _readings(self._specs, text[start:].replace("-", ""))

    @cached_property
    def _moved(self) -> list[tuple[tuple[int, ...], re.Pattern[str]]]:
        """Matchers for letters written in another place; pieces with digits keep their order."""
        free = {i for i, spec in enumerate(self._specs) if _lettered(spec)}
        orders = []
        if len(free) and len(self._specs) <= 6:
            fixed = [i for i in range(len(self._specs)) if i not in free]
            for order in permutations(range(len(self._specs))):
                if [i for i in order if i not in free] == fixed and order != tuple(range(len(self._specs))):
                    pattern = re.compile("".join(_piece(self._specs[i], joint="-?") for i in order))
                    orders.append((order, pattern))
        return orders

    @cached_property
    def _places(self) -> Counter[str]:
        """In how many pieces each letter code can stand."""
        return Counter(code for spec in self._specs if not spec.numeric for code in spec.codes)

    def moved(self, text: str, start: int) -> Iterator[tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]]:
        """Readings with letters in another place than the canonical one, each with its rivals: where a letter that moved has a meaning
        in another place too, the reading that gives it that meaning.
        """
        for order, pattern in self._moved:
            found = pattern.fullmatch(text, start)
            if found is not None:
                codes = [NONE] * len(self._specs)
                written = []
                for place, piece in zip(order, found.groups(), strict=True):
                    if piece is not None:
                        codes[place] = self._canonical[place](piece)
                        written.append(place)
                yield tuple(codes), tuple(self._rivals(codes, written))

    def _rivals(self, codes: list[str], written: list[int]) -> Iterator[tuple[str, ...]]:
        for at, place in enumerate(written):
            stayed = all(other < place for other in written[:at]) and all(other > place for other in written[at + 1 :])
            if stayed or not _lettered(self._specs[place]):
                continue
            for other, spec in enumerate(self._specs):
                if other != place and codes[place] in spec.codes:
                    rival = list(codes)
                    rival[place], rival[other] = NONE, codes[place]
                    yield tuple(rival)

    def furthest(self, text: str, start: int) -> tuple[int, int]:
        """How far the rest can be read: (characters read, index of the slot that fails; len(slots) for a surplus tail)."""
        best = (start, 0)
        stack = [(start, 0)]
        while stack:
            at, index = stack.pop()
            best = max(best, (at, index))
            if index == len(self._specs):
                continue
            spec = self._specs[index]
            if spec.optional:
                stack.append((at, index + 1))
            begin = at + 1 if text[at : at + 1] == "-" else at
            found = re.compile(_alternatives(spec)).match(text, begin)
            if found is not None and found[0]:
                stack.append((found.end(), index + 1))
        return best


def _piece(spec: SlotSpec, joint: str | None = None) -> str:
    dash = joint or ("-?" if spec.joint == "plain" else _JOINT)
    body = f"{dash}({_alternatives(spec)})"
    return f"(?:{body})?" if spec.optional else body


def _alternatives(spec: SlotSpec) -> str:
    if spec.numeric:
        return r"\d+(?:\.\d+)?" if any("." in code for code in spec.codes) else r"\d+"
    codes = sorted([c for c in (*spec.codes, *spec.aliases) if c != NONE], key=len, reverse=True)
    return "|".join(re.escape(code) for code in codes)


def _canonicaliser(spec: SlotSpec) -> Callable[[str], str]:
    if not spec.numeric:
        aliases = dict(spec.aliases)
        return (lambda piece: aliases.get(piece, piece)) if aliases else str
    padded = [len(code) for code in spec.codes if code.startswith("0") and len(code) > 1]
    width = max(padded, default=0)

    def canonical(piece: str) -> str:
        whole, dot, rest = piece.partition(".")
        whole = whole.lstrip("0") or "0"
        rest = rest.rstrip("0")
        text = f"{whole}.{rest}" if dot and rest else whole
        return text.zfill(width)

    return canonical


def _meant(spec: SlotSpec) -> dict[str | None, str]:
    meant: dict[str | None, str] = {None: NONE}
    meant.update((code, code) for code in spec.codes)
    meant.update(spec.aliases)
    return meant


def _lettered(spec: SlotSpec) -> bool:
    return not spec.numeric and all(code == NONE or code.isalpha() for code in spec.codes)


def _readings(specs: tuple[SlotSpec, ...], text: str) -> Iterator[tuple[str, ...]]:
    if not specs:
        if not text:
            yield ()
        return
    spec, rest = specs[0], specs[1:]
    for written in (*spec.codes, *spec.aliases):
        if written == NONE:
            for tail in _readings(rest, text):
                yield (NONE, *tail)
        elif text.startswith(written):
            code = spec.aliases.get(written, written)
            for tail in _readings(rest, text[len(written) :]):
                yield (code, *tail)
