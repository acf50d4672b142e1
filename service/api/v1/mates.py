"""What mates with a part."""

from __future__ import annotations

from collections import Counter
from typing import Any, Literal

from pydantic import Field

from service.api.desk import Desk
from service.api.ready import Answer, Operation
from service.api.schemas import MatesAnswer
from service.api.v1.joint_query import JointQuery, takes_joint
from service.api.v1.parts import Number
from service.api.wire import cited, remark_members
from service.mating.mates import Candidate
from service.mating.rules import Finding
from service.parts.part import Part
from service.quantity import decimal_text
from service.tables.rows import TRUST


class MatesQuery(JointQuery):
    """Which candidates, and what is known of the joint."""

    role: str | None = Field(
        None, description="Only candidates in this role: nut, washer, star_washer, cotter_pin ...", max_length=40
    )
    verdict: Literal["fits", "conditional", "excluded"] | None = Field(
        None, description="Only candidates with this verdict."
    )


def operations(desk: Desk) -> list[Operation]:
    """The operation on mates."""
    conditions = dict(desk.catalogue.conditions)

    def list_mates(number: Number, query: MatesQuery) -> Answer:
        part = desk.part(number, query.basis)
        joint = query.joint(conditions)
        candidates = [
            c for c in desk.mates.of(part, joint) if query.role in {None, c.role} and query.verdict in {None, c.verdict}
        ]
        members = {
            "number": part.number,
            "kind": part.family.kind,
            "description": part.description,
            "joint": {k: v if isinstance(v, str) else decimal_text(v) for k, v in joint.items()},
            "candidates": [candidate_members(candidate) for candidate in candidates],
            "counts": dict(Counter(candidate.verdict for candidate in candidates)),
            "cautions": remark_members(trusted_cautions(part), "cautions"),
        }
        return Answer(desk.writer.noticed(members))

    takes_joint(list_mates, MatesQuery, desk.catalogue)
    return [
        Operation(
            "GET", "/v1/parts/{number}/mates", "list-mates", "What mates with a part", list_mates, MatesAnswer,
            problems=("not-made", "not-covered", "ambiguous", "unreadable"),
            examples=({"number": "AN4-12A", "query": {"role": "nut", "temperature": "300"}},),
            tag="compatibility",
            description="Candidates by role, ranked fits, conditional, excluded; each with the rules that say so. What is ruled out is listed too. "
            "What is not stated about the joint is not assumed: a rule that depends on it makes a candidate conditional.",
        )
    ]  # fmt: skip


def trusted_cautions(part: Part) -> list[Any]:
    """The cautions of a part that the caller's basis lets through."""
    return [c for c in part.cautions if c.citation.trust <= TRUST[part.basis]]


def finding_members(finding: Finding) -> dict[str, Any]:
    """A finding as it leaves the service."""
    return {
        "rule": finding.rule,
        "topic": finding.topic,
        "effect": finding.effect,
        "text": finding.text,
        "unstated": list(finding.unstated),
        "unknown": list(finding.unknown),
        **cited(finding.citation),
    }


def candidate_members(candidate: Candidate) -> dict[str, Any]:
    """A candidate as it leaves the service."""
    return {
        "role": candidate.role,
        "number": candidate.number,
        "any_of": candidate.any_of,
        "variants": list(candidate.variants),
        "family": candidate.part.family.id,
        "kind": candidate.part.family.kind,
        "description": candidate.part.family.title if candidate.any_of else candidate.part.description,
        "verdict": candidate.verdict,
        "findings": [finding_members(finding) for finding in candidate.findings],
        "mate": cited(candidate.mate),
    }
