"""Refusals that teach: which piece failed, what was expected there, and the nearest numbers that exist."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches

from service.catalogue.family import FamilySpec
from service.catalogue.slots import NONE, SlotSpec
from service.catalogue.values import Citation
from service.designation.grammar import Grammar
from service.designation.reading import Designation, Piece, Refusal
from service.designation.spelling import LONGEST


def too_long(asked: str) -> Refusal:
    """The text is longer than any part number."""
    return Refusal(
        "unreadable", asked[:LONGEST], "Too long for a part number", f"A part number has at most {LONGEST} characters."
    )


def ambiguous(asked: str, candidates: Sequence[str]) -> Refusal:
    """Several numbers could be meant."""
    listed = ", ".join(candidates[:8])
    return Refusal(
        "ambiguous",
        asked,
        "More than one reading",
        f"{asked} can be read as {listed}. Look at the part or the document again; none is chosen for you.",
        candidates=tuple(candidates[:20]),
    )


def either(family: FamilySpec, other: Designation, asked: str) -> Refusal:
    """A basic number that stands alone, or another number that lost its dash."""
    return Refusal(
        "ambiguous",
        asked,
        "More than one reading",
        f"{asked} may be {family.title} without the rest of its number (written like {family.examples[0]}), "
        f"or {other.number} without its dash.",
        family=family.id,
        candidates=(other.number, *family.examples),
    )


def no_such_code(family: FamilySpec, codes: tuple[str, ...], index: int, asked: str) -> Refusal:
    """The number is well formed, but one piece holds a code that is not made."""
    spec = family.slots[index]
    before = family.format(codes[:index] + (NONE,) * (len(codes) - index))
    written = family.format(codes[: index + 1] + (NONE,) * (len(codes) - index - 1))
    piece = Piece(codes[index], len(written) - len(codes[index]), spec.name, spec.caption, expectation(spec))
    return Refusal(
        "not-made",
        asked,
        f"No such {spec.name.replace('_', ' ')}",
        f"{codes[index]!r} after {before}: {spec.caption}; expected {expectation(spec)}.",
        family=family.id,
        piece=piece,
        neighbours=tuple(neighbours(family, codes, [index])),
        citation=spec.citation,
    )


def not_made(family: FamilySpec, codes: tuple[str, ...], asked: str, reason: str, citation: Citation | None) -> Refusal:
    """Every piece is right, their combination is not made."""
    number = family.format(codes)
    return Refusal(
        "not-made",
        asked,
        "No such combination",
        f"{number} is well written, but {reason}.",
        family=family.id,
        neighbours=tuple(neighbours(family, codes, range(len(codes) - 1, 0, -1))),
        citation=citation,
    )


def bad_piece(grammar: Grammar, basic: str, text: str, start: int, asked: str) -> Refusal:
    """The family is known, the rest of the number does not follow its pattern."""
    family = grammar.family
    at, index = grammar.furthest(text, start)
    left = text[at:].lstrip("-")
    specs = family.slots[1:]
    if index < len(specs):
        spec = specs[index]
        slot, caption, expected = spec.name, spec.caption, expectation(spec)
    else:
        slot, caption, expected = "", "nothing more", "the number to end here"
    what = f"{left!r} cannot be read" if left else "the number stops too early"
    return Refusal(
        "unreadable",
        asked,
        "A piece of the number cannot be read" if left else "The number is incomplete",
        f"{basic} is {family.title}. After {text[:at]}, {what}: expected {expected}"
        + (f" ({caption})" if index < len(specs) else "")
        + f". Written like {', '.join(family.examples)}.",
        family=family.id,
        piece=Piece(left, len(text) - len(left), slot, caption, expected),
        neighbours=tuple(family.examples),
    )


def not_covered(text: str, asked: str, basics: Mapping[str, FamilySpec]) -> Refusal:
    """No family held has this basic number, or the text is no part number at all."""
    letters = text[: len(text) - len(text.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))]
    digits = text[len(letters) :].split("-")[0]
    if letters and digits[:1].isdigit():
        head = letters + "".join(c for c in digits if c.isdigit())
        near = tuple(get_close_matches(head, basics, n=4, cutoff=0.75))
        return Refusal(
            "not-covered",
            asked,
            "Family not held",
            f"No table here covers numbers that begin with {head}. Nothing is guessed from the shape of a number.",
            neighbours=near,
        )
    return Refusal(
        "unreadable",
        asked,
        "Not a part number",
        "A standard part number begins with letters and digits, as in AN4-12A or MS21042-3."
        if text
        else "Nothing was asked.",
    )


def expectation(spec: SlotSpec) -> str:
    """What may stand in a slot, in words."""
    codes = [code for code in spec.codes if code != NONE]
    if spec.reading == "inches-eighths":
        return f"inches and eighths, {codes[0]} to {codes[-1]}; the last digit counts eighths and runs 0 to 7"
    if spec.numeric:
        return f"a number from {codes[0]} to {codes[-1]}"
    listed = ", ".join(codes[:16]) + (f" and {len(codes) - 16} more" if len(codes) > 16 else "")
    return (f"one of {listed}" if len(codes) > 1 else listed) + (", or nothing" if spec.optional else "")


def neighbours(family: FamilySpec, codes: tuple[str, ...], indices: Sequence[int], most: int = 4) -> Iterator[str]:
    """Numbers that exist and differ from ``codes`` in one of ``indices`` only, the nearest first."""
    for index in indices:
        found = 0
        for code in _near(family.slots[index], codes[index]):
            other = (*codes[:index], code, *codes[index + 1 :])
            if (
                all(c in spec.codes for c, spec in zip(other, family.slots, strict=True))
                and family.not_made(other) is None
            ):
                yield family.format(other)
                found += 1
                if found == (2 if family.slots[index].numeric else most):
                    break
        if found:
            return


def _near(spec: SlotSpec, code: str) -> list[str]:
    others = [c for c in spec.codes if c != code]
    if not spec.numeric:
        close = get_close_matches(code, others, n=6, cutoff=0.3)
        return [*close, *(c for c in others if c not in close)]
    asked = float(code)
    below = [c for c in others if float(c) < asked]
    above = [c for c in others if float(c) > asked]
    paired: list[str] = []
    for step in range(max(len(below), len(above))):
        paired += below[-1 - step : len(below) - step] if step < len(below) else []
        paired += above[step : step + 1]
    return paired
