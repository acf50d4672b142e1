"""The release, and whether the process lives and is ready."""

from __future__ import annotations

from collections import Counter

from service import __version__
from service.api.desk import Desk
from service.api.problems import Problem
from service.api.ready import Answer, Operation
from service.api.schemas import HealthAnswer, ReleaseAnswer
from service.tables.rows import Cited


def operations(desk: Desk) -> list[Operation]:
    """The operations on the service itself."""
    rows: Counter[str] = Counter()
    bases: Counter[str] = Counter()
    for sheet in desk.catalogue.package.sheets:
        rows[sheet.table] += len(sheet.rows)
        bases.update(row.basis.value for row in sheet.rows if isinstance(row, Cited))

    def show_release() -> Answer:
        members = {
            "version": __version__,
            "families": len(desk.catalogue.families),
            "rows": dict(rows),
            "bases": dict(bases),
        }
        return Answer(desk.writer.noticed(members))

    def check_live() -> Answer:
        return Answer(desk.writer.plain({"status": "live"}))

    def check_ready() -> Answer:
        if desk.tables is None:
            raise Problem("not-ready", "The SQL copy of the tables is not loaded.")
        return Answer(desk.writer.plain({"status": "ready"}))

    return [
        Operation("GET", "/v1/release", "show-release", "The release that answers", show_release, ReleaseAnswer, tag="service", examples=({},)),
        Operation("GET", "/livez", "check-live", "The process lives", check_live, HealthAnswer, tag="service", of_release=False, examples=({},)),
        Operation(
            "GET", "/readyz", "check-ready", "The service is ready", check_ready, HealthAnswer, tag="service", of_release=False,
            problems=("not-ready",), examples=({},),
        ),
    ]  # fmt: skip
