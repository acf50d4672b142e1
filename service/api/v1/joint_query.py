"""What a caller may say about the joint, as query parameters. The vocabulary is the table ``conditions``."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Literal

from fastapi import Query
from pydantic import Field, create_model

from service.api.v1.parts import BasisQuery
from service.catalogue.catalogue import Catalogue
from service.mating.clauses import Exact
from service.tables.rows import Condition


class JointQuery(BasisQuery):
    """Base of the query models that carry joint conditions."""

    def joint(self, conditions: dict[str, Condition]) -> dict[str, Exact]:
        """What was stated: numbers as Fractions, flags as yes or no, words as they are."""
        stated: dict[str, Exact] = {}
        for name, condition in conditions.items():
            value = getattr(self, name)
            if value is None:
                continue
            if condition.form == "flag":
                stated[name] = "yes" if value else "no"
            else:
                stated[name] = Fraction(value) if condition.form == "quantity" else value
        return stated


def takes_joint(run: Callable[..., Any], base: type[JointQuery], catalogue: Catalogue) -> None:
    """Give ``run``, whose query is a ``base``, one parameter more for each condition of the catalogue."""
    fields: dict[str, Any] = {name: _field(row) for name, row in catalogue.conditions.items()}
    model = create_model(base.__name__, __base__=base, **fields)
    run.__annotations__["query"] = Annotated[model, Query()]


def _field(row: Condition) -> tuple[Any, Any]:
    words = row.meaning + (f", in {row.unit}" if row.unit else "")
    if row.form == "flag":
        return (bool | None, Field(None, description=words))
    if row.form == "quantity":
        return (Decimal | None, Field(None, description=words, allow_inf_nan=False))
    return (Literal[tuple(row.values.split())] | None, Field(None, description=words))
