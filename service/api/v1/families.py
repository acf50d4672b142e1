"""The families held: what their numbers look like and what each piece means."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import Path, Query
from pydantic import Field

from service.api.desk import Desk
from service.api.paging import PageQuery, link_header, page_of
from service.api.problems import Problem
from service.api.ready import Answer, Operation
from service.api.schemas import FamiliesAnswer, FamilyAnswer
from service.api.wire import cited, remark_members
from service.catalogue.family import FamilySpec
from service.catalogue.slots import SlotSpec
from service.designation.explain import expectation
from service.tables.rows import Kind

FamilyId = Annotated[
    str, Path(description="A family, or any basic number of it.", max_length=60, examples=["AN3-AN20"])
]


class FamiliesQuery(PageQuery):
    """Which families."""

    kind: Kind | None = Field(None, description="Only families of this kind of part.")


def operations(desk: Desk) -> list[Operation]:
    """The operations on families."""
    catalogue = desk.catalogue

    def list_families(query: Annotated[FamiliesQuery, Query()]) -> Answer:
        chosen = [f for f in catalogue.families.values() if query.kind in {None, f.kind}]
        page, cursor = page_of(chosen, query, catalogue.digest)
        members = {"items": [family_members(f) for f in page], "next": cursor}
        return Answer(desk.writer.plain(members), headers=link_header("/v1/families", query.model_dump(), cursor))

    def show_family(family: FamilyId) -> Answer:
        found = catalogue.families.get(family) or catalogue.by_basic.get(family)
        if found is None:
            raise Problem("not-found", f"No family {family!r} is held; see /v1/families.")
        members = {
            **family_members(found),
            "slots": [slot_members(spec) for spec in found.slots],
            "attributes": list(found.facets.by_attribute),
            "misreadings": remark_members(found.misreadings, "misreadings"),
            "cautions": remark_members(found.cautions, "cautions"),
        }
        return Answer(desk.writer.noticed(members))

    return [
        Operation(
            "GET", "/v1/families", "list-families", "The families held", list_families, FamiliesAnswer, tag="tables",
            problems=("stale-cursor",), examples=({"query": {"kind": "lockwire", "limit": "2"}},),
        ),
        Operation(
            "GET", "/v1/families/{family}", "show-family", "A family: its pattern, its letters, examples", show_family, FamilyAnswer,
            tag="tables", problems=("not-found",), examples=({"family": "MS20995"},),
        ),
    ]  # fmt: skip


def family_members(family: FamilySpec) -> dict[str, Any]:
    """A family in short."""
    return {
        "family": family.id,
        "kind": family.kind,
        "title": family.title,
        "status": family.status,
        "superseded_by": family.superseded_by,
        "pattern": family.pattern,
        "examples": list(family.examples),
        "basics": list(family.basics),
        **cited(family.citation),
    }


def slot_members(spec: SlotSpec) -> dict[str, Any]:
    """A piece of a family's number; a number slot states its domain instead of listing every number."""
    codes = [] if spec.numeric else list(spec.codes.values())
    return {
        "slot": spec.name,
        "caption": spec.caption,
        "joint": spec.joint,
        "reading": spec.reading,
        "optional": spec.optional,
        "expected": expectation(spec),
        "codes": [{"code": c.code, "meaning": c.meaning, **cited(c.citation)} for c in codes],
        "aliases": dict(spec.aliases),
        **cited(spec.citation),
    }
