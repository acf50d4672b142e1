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
    identify,
    joints,
    mates,
    parts,
    rivets,
    selection,
    tables,
    texts,
    threads,
    torques,
)


def operations(desk: Desk) -> list[Operation]:
    """Every operation, in the order of the OpenAPI document."""
    # before parts: /v1/parts/complete and its like are no part numbers
    modules = (
        finding,
        identify,
        texts,
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
