"""Exact numbers as the trade writes them: ``13/32``, ``1 1/4``, ``.063``.

Table values are never floats. A number is a :class:`fractions.Fraction`; it leaves the service as a decimal string with a
UCUM unit and, beside it, the way it was printed.
"""

from __future__ import annotations

import re
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Final, Literal

Rounding = Literal["half-even", "half-up"]

_NUMBER = re.compile(
    r"(?P<sign>-)?(?:(?P<whole>\d+)[ -])?(?:(?P<numerator>\d+)/(?P<denominator>[1-9]\d*)|(?P<decimal>\d*\.?\d+))\Z"
)

#: UCUM code -> what stands after a number on a label. Units of the tables only; conversions live in service.joints.
UNIT_WORDS: Final = {
    "[in_i]": "in",
    "[degF]": "°F",
    "[psi]": "psi",
    "[lbf_av]": "lbf",
    "[in_i].[lbf_av]": "in-lb",
    "deg": "°",
    "1": "",
}

_ROUNDINGS: Final = {"half-even": ROUND_HALF_EVEN, "half-up": ROUND_HALF_UP}


@lru_cache(maxsize=16_384)  # the same few thousand numbers fill the tables
def parse_number(text: str) -> Fraction:
    """The exact value of ``text``: a decimal, a fraction, or a whole number and a fraction. ValueError if it is none."""
    match = _NUMBER.match(text.strip())
    if match is None or (match["whole"] and match["decimal"]):
        raise ValueError(f"not a number as the tables write it: {text!r}")
    sign = -1 if match["sign"] else 1
    if match["decimal"]:
        return sign * Fraction(match["decimal"])
    return sign * (Fraction(int(match["numerator"]), int(match["denominator"])) + int(match["whole"] or 0))


def decimal_text(value: Fraction, places: int = 9) -> str:
    """``value`` as a plain decimal string, exact where it ends within ``places`` digits, else rounded half to even."""
    scaled = value * 10**places
    whole = scaled.numerator if scaled.denominator == 1 else round(scaled)
    return format(Decimal(whole).scaleb(-places).normalize(), "f")


def rounded(value: Fraction, places: int, rounding: Rounding) -> Fraction:
    """``value`` at ``places`` decimals by the stated rule; the rule is part of the law that asks for it."""
    step = Decimal(1).scaleb(-places)
    decimal = Decimal(value.numerator) / Decimal(value.denominator)
    return Fraction(decimal.quantize(step, _ROUNDINGS[rounding]))


def inch_fraction(value: Fraction, finest: int = 64) -> str | None:
    """``value`` inches as the trade says it (``1 1/4``), or None when it is no multiple of 1/``finest``."""
    if finest % value.denominator:
        return None
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    parts = [str(whole)] if whole or not rest else []
    if rest:
        parts.append(f"{rest.numerator}/{rest.denominator}")
    return sign + " ".join(parts)


def with_unit(text: str, unit: str) -> str:
    """``text`` followed by the unit as a label prints it."""
    word = UNIT_WORDS.get(unit, unit)
    return f"{text}{word}" if word in {"°", "°F"} else f"{text} {word}".rstrip()
