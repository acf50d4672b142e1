"""Answers packed for the way: gzip where the asker takes it and the answer is longer than one packet of a network."""

from __future__ import annotations

import gzip
from functools import lru_cache
from typing import Final

#: about what one packet carries: below it nothing is won
LEAST: Final = 1400
#: a quick level: JSON of many like rows shrinks to a tenth already
_LEVEL: Final = 4


@lru_cache(maxsize=256)
def takes_gzip(accept_encoding: bytes) -> bool:
    """Whether an Accept-Encoding header lets an answer be packed (RFC 9110, 12.5.3); without the header it may not be."""
    weights: dict[bytes, float] = {}
    for part in accept_encoding.lower().split(b","):
        coding, _, parameter = part.partition(b";")
        try:
            weights[coding.strip()] = float(parameter.strip().removeprefix(b"q=") or 1)
        except ValueError:
            weights[coding.strip()] = 0.0
    return weights.get(b"gzip", weights.get(b"*", 0.0)) > 0


def packed(body: bytes) -> bytes | None:
    """The body packed, the same bytes every time; None where it is too short to gain."""
    return gzip.compress(body, _LEVEL, mtime=0) if len(body) >= LEAST else None
