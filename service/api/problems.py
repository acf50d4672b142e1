"""Problems (RFC 9457): one table of types, one exception, one rendering.

::

    Problem
    |-- from a Refusal   not-made, not-covered, ambiguous, unreadable
    `-- from the request unknown-parameter, bad-parameter, bad-body, too-many, not-found, method-not-allowed,
                         not-acceptable, unsupported-media-type, stale-cursor, not-ready, internal-error
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from service.designation.reading import Refusal


@dataclass(frozen=True, slots=True)
class ProblemType:
    """A kind of problem: its stable name, its status, and the page that explains it."""

    name: str
    status: int
    title: str
    meaning: str
    remedy: str

    @property
    def uri(self) -> str:
        """The problem's ``type``: a relative reference, so that it resolves on whatever host answers."""
        return f"/problems/{self.name}"


PROBLEMS: Mapping[str, ProblemType] = {
    p.name: p
    for p in (
        ProblemType(
            "not-made", 404, "No such number is made",
            "The number is written the way its family is written, but one piece holds a code that does not exist, or the pieces are not made together.",
            "Look at the piece named in the answer; the nearest numbers that exist are listed.",
        ),
        ProblemType(
            "not-covered", 404, "The family is not held",
            "No table here covers numbers that begin like this. Nothing is guessed from the shape of a number.",
            "See /v1/families for what is held; use the aircraft's own parts catalogue.",
        ),
        ProblemType(
            "ambiguous", 422, "More than one reading",
            "What was asked can be read as several numbers. None is chosen, because the wrong one could be fitted.",
            "Look at the part or the document again and ask for one of the candidates.",
        ),
        ProblemType(
            "unreadable", 422, "The number cannot be read",
            "The text is not written in the grammar of any family held here.",
            "The answer names the piece that failed and what was expected there.",
        ),
        ProblemType(
            "unknown-parameter", 400, "Unknown parameter",
            "A query parameter is not one of this operation's. It is refused, because a slip of the pen in a question about safety must not widen the answer.",
            "Use the parameters that the OpenAPI document lists for the operation.",
        ),
        ProblemType(
            "bad-parameter", 400, "A parameter has no such value",
            "A query parameter holds a value outside what the operation takes.", "The answer lists each parameter and what it takes.",
        ),
        ProblemType(
            "bad-body", 422, "The body cannot be read", "The request body is not what the operation takes.",
            "The answer lists each fault and where it stands.",
        ),
        ProblemType(
            "too-many", 413, "Too much at once", "The request holds more than one call may ask for.", "Split it; the limit is in the answer.",
        ),
        ProblemType("not-found", 404, "Nothing is here", "No operation, family, table, source or rule has this name.", "See the OpenAPI document."),
        ProblemType(
            "method-not-allowed", 405, "Method not allowed", "The path exists, the method does not.", "The Allow header lists the methods.",
        ),
        ProblemType(
            "not-acceptable", 406, "No such representation", "The operation cannot answer in any media type that was asked for.",
            "The answer lists the media types it has.",
        ),
        ProblemType(
            "unsupported-media-type", 415, "Media type not taken", "The operation does not read bodies of this media type.",
            "The answer lists the media types it reads.",
        ),
        ProblemType(
            "stale-cursor", 410, "The page belongs to another release", "A cursor is bound to the release it was made in, and the tables have changed since.",
            "Start again from the first page.",
        ),
        ProblemType("not-ready", 503, "Not ready yet", "The tables' SQL copy is still being loaded.", "Ask again in a moment."),
        ProblemType("internal-error", 500, "A fault of the service", "Something in the service is wrong.", "Tell whoever runs it; no answer was given."),
    )
}  # fmt: skip


@dataclass
class Problem(Exception):
    """An answer that is a problem. ``extra`` members stand beside the standard ones."""

    name: str
    detail: str
    extra: Mapping[str, Any] = field(default_factory=dict)
    headers: Mapping[str, str] = field(default_factory=dict)

    @property
    def type(self) -> ProblemType:
        """The problem's type."""
        return PROBLEMS[self.name]

    def body(self, release: str, instance: str = "") -> dict[str, Any]:
        """The problem document."""
        document: dict[str, Any] = {
            "type": self.type.uri, "title": self.type.title, "status": self.type.status, "detail": self.detail,
        }  # fmt: skip
        if instance:
            document["instance"] = instance
        return {**document, **self.extra, "release": release}


def refused(refusal: Refusal) -> Problem:
    """The problem that a refused number is."""
    return Problem(refusal.outcome, refusal.detail, refusal_members(refusal))


def refusal_members(refusal: Refusal) -> dict[str, Any]:
    """What a refusal says, beside the standard members of a problem."""
    piece = refusal.piece
    cited = refusal.citation
    return {
        "outcome": refusal.outcome,
        "asked": refusal.asked,
        "reason": refusal.title,
        "family": refusal.family,
        "piece": None
        if piece is None
        else {
            "text": piece.text,
            "start": piece.start,
            "slot": piece.slot,
            "caption": piece.caption,
            "expected": piece.expected,
        },
        "neighbours": list(refusal.neighbours),
        "candidates": list(refusal.candidates),
        "row": cited.row if cited else None,
        "source": cited.source if cited else None,
    }
