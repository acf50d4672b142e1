"""Pages: ``limit`` and an opaque ``cursor`` bound to the release, the next page in the body and in a Link header (RFC 8288)."""

from __future__ import annotations

import base64
import binascii
from collections.abc import Mapping, Sequence
from typing import Any, TypeVar
from urllib.parse import urlencode

from pydantic import Field

from service.api.problems import Problem
from service.api.ready import QueryModel

T = TypeVar("T")
MOST = 500


class PageQuery(QueryModel):
    """Which page."""

    limit: int = Field(100, ge=1, le=MOST, description="Items on a page.")
    cursor: str | None = Field(
        None, description="Where the page begins; from `next` of the page before.", max_length=200
    )


def cursor_of(release: str, place: int) -> str:
    """The cursor of the page behind ``place``."""
    return base64.urlsafe_b64encode(f"{release[:16]}.{place}".encode()).decode().rstrip("=")


def place_of(cursor: str | None, release: str) -> int:
    """The place behind which a page begins, -1 for the first. Raises Problem when the cursor is not one of this release's."""
    if cursor is None:
        return -1
    try:
        made_in, _, place = base64.urlsafe_b64decode(cursor + "=" * (-len(cursor) % 4)).decode().partition(".")
        number = int(place)
        if not -1 <= number < 1 << 31:
            raise ValueError(place)
    except (ValueError, binascii.Error):
        raise Problem(
            "bad-parameter",
            "cursor: not a cursor of this service.",
            {"parameters": [{"name": "cursor", "reason": "unreadable"}]},
        ) from None
    if made_in != release[:16]:
        raise Problem("stale-cursor", "The cursor was made in another release of the tables.")
    return number


def page_of(items: Sequence[T], query: PageQuery, release: str) -> tuple[list[T], str | None]:
    """One page of a list, and the cursor of the next."""
    begin = place_of(query.cursor, release) + 1
    end = begin + query.limit
    return list(items[begin:end]), cursor_of(release, end - 1) if end < len(items) else None


def link_header(path: str, parameters: Mapping[str, Any], cursor: str | None) -> tuple[tuple[bytes, bytes], ...]:
    """The Link header to the next page, if there is one."""
    if cursor is None:
        return ()
    kept = {k: v for k, v in parameters.items() if v is not None and k != "cursor"}
    return ((b"link", f'<{path}?{urlencode({**kept, "cursor": cursor})}>; rel="next"'.encode()),)
