"""One piece of a number: the codes it can hold and what each means. Every slot is a finite, ordered set of codes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from service.catalogue.values import Citation
from service.quantity import decimal_text, inch_fraction, parse_number
from service.tables.rows import BasicNumber, Code, Slot

NONE = "(none)"


@dataclass(frozen=True, slots=True)
class CodeSpec:
    """What one code says. ``number`` is set where the code is a number: a count, or inches for inches and eighths."""

    code: str
    meaning: str
    citation: Citation
    number: Fraction | None = None


@dataclass(frozen=True, slots=True)
class SlotSpec:
    """A piece of the number: its name, how it joins what stands before it, and its codes in order."""

    name: str
    joint: str
    reading: str
    caption: str
    citation: Citation
    codes: Mapping[str, CodeSpec]
    aliases: Mapping[str, str]

    @property
    def numeric(self) -> bool:
        """Whether the piece is read as a number rather than looked up."""
        return self.reading in {"count", "inches-eighths"}

    @property
    def optional(self) -> bool:
        """Whether the piece may be absent."""
        return NONE in self.codes


def basic_slot(rows: list[BasicNumber], caption: str, citation: Citation) -> SlotSpec:
    """The slot at position 0: the basic numbers of a family."""
    codes = {row.basic: CodeSpec(row.basic, row.meaning, Citation.of(row)) for row in rows}
    return SlotSpec("basic", "plain", "code", caption, citation, codes, {})


def slot_spec(row: Slot, codes: list[Code]) -> SlotSpec:
    """Compile a slot row; ValueError where its domain is written wrongly."""
    citation = Citation.of(row)
    if row.reading == "code":
        specs = {c.code: CodeSpec(c.code, c.meaning, Citation.of(c)) for c in codes if not c.alias_of}
        aliases = {c.code: c.alias_of for c in codes if c.alias_of}
        return SlotSpec(row.slot, row.joint, row.reading, row.caption, citation, specs, aliases)
    texts = _domain(row.domain, int(row.width or 0))
    make = _eighths if row.reading == "inches-eighths" else _count
    specs = {text: spec for text in texts if (spec := make(text, row.caption, citation)) is not None}
    return SlotSpec(row.slot, row.joint, row.reading, row.caption, citation, specs, {})


def _count(text: str, caption: str, citation: Citation) -> CodeSpec:
    number = parse_number(text)
    return CodeSpec(text, f"{caption}: {text.lstrip('0') or '0'}", citation, number)


def _eighths(text: str, caption: str, citation: Citation) -> CodeSpec | None:
    inches, eighths = divmod(int(text), 10)
    if eighths > 7:  # the last digit counts eighths, so 8 and 9 cannot occur
        return None
    number = inches + Fraction(eighths, 8)
    parts = [f"{inches} in"] if inches else []
    parts += [f"{eighths}/8 in"] if eighths else []
    words = " and ".join(parts)
    short = inch_fraction(number)
    return CodeSpec(
        text, f"{caption}: {words}" + (f" = {short} in" if words != f"{short} in" else ""), citation, number
    )


def _domain(text: str, width: int) -> list[str]:
    """The codes of ``1..32 34..100/2`` or ``2..12/0.5``, zero-padded to ``width``."""
    codes: list[str] = []
    for run in text.split():
        span, _, step_text = run.partition("/")
        low, _, high = span.partition("..")
        value, last, step = parse_number(low), parse_number(high or low), parse_number(step_text or "1")
        if step <= 0 or last < value:
            raise ValueError(f"{run!r} is not low..high/step")
        if value.denominator == step.denominator == 1:
            codes += [str(n).zfill(width) for n in range(int(value), int(last) + 1, int(step))]
            continue
        while value <= last:
            codes.append(decimal_text(value).zfill(width))
            value += step
    if not codes:
        raise ValueError("a number slot needs a domain")
    return codes
