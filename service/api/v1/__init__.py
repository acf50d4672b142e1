"""Version 1 of the API: one module a subject, each a list of operations over a desk."""

from __future__ import annotations

from service.api.desk import Desk
from service.api.ready import Operation
from service.api.v1 import (
    drawings,
    equivalents,
    families,
    finding,
    health,
    joints,
    mates,
    parts,
    rivets,
    selection,
    tables,
    threads,
    torques,
)


def operations(desk: Desk) -> list[Operation]:
    """Every operation, in the order of the OpenAPI document."""
    # finding before parts: /v1/parts/complete is no part number
    modules = (
        finding,
        parts,
        drawings,
        mates,
        equivalents,
        joints,
        selection,
        torques,
        rivets,
        threads,
        families,
        tables,
        health,
    )
    return [operation for module in modules for operation in module.operations(desk)]
