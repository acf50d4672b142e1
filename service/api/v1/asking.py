"""What is wanted of a part, as query parameters and as a JSON body. The vocabulary is the table ``attributes``."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any, Literal

from fastapi import Query
from pydantic import Field, create_model

from service.api.paging import PageQuery
from service.api.problems import Problem
from service.api.schemas.finding import BoundsAsked, EncodeAsked, SizeText, WordText
from service.api.v1.parts import BasisQuery
from service.catalogue.catalogue import Catalogue
from service.designation.encode import Encoder
from service.finding.wanting import Want, words_of
from service.quantity import parse_number
from service.tables.rows import Attribute, Kind

#: words of an attribute that a refusal lists
_LISTED = 60
Role = Literal["is", "min", "max"]


class SearchQuery(PageQuery, BasisQuery):
    """Base of the query by attribute: what every search may say."""

    kind: Kind | None = Field(None, description="Only parts of this kind.")
    family: str | None = Field(None, description="A family, or one basic number of it.", max_length=60)


def parameters_of(catalogue: Catalogue) -> dict[str, tuple[Attribute, Role]]:
    """Query parameter -> attribute and role. A bound takes a name before an attribute does: ``grip_length_min`` bounds the grip."""
    found: dict[str, tuple[Attribute, Role]] = {}
    for row in catalogue.attributes.values():
        if row.form == "quantity":
            found[f"{row.attribute}_min"] = (row, "min")
            found[f"{row.attribute}_max"] = (row, "max")
    for row in catalogue.attributes.values():
        found.setdefault(row.attribute, (row, "is"))
    return found


def takes_attributes(run: Callable[..., Any], catalogue: Catalogue) -> None:
    """Give ``run``, whose query is a SearchQuery, its order and a parameter or three for each attribute of the catalogue."""
    sizes = [row.attribute for row in catalogue.attributes.values() if row.form == "quantity"]
    orders = tuple(order for name in ("number", *sizes) for order in (name, f"-{name}"))
    sort = Field(
        "number",
        description="`number` is the order of basic numbers; a quantity sorts by size, `-` before it largest first.",
    )
    fields: dict[str, Any] = {"sort": (Literal[orders], sort)}
    fields |= {name: _field(row, role) for name, (row, role) in parameters_of(catalogue).items()}
    run.__annotations__["query"] = Annotated[create_model("PartsQuery", __base__=SearchQuery, **fields), Query()]


def _field(row: Attribute, role: Role) -> tuple[Any, Any]:
    words = row.meaning
    if row.form == "flag":
        return (bool | None, Field(None, description=words))
    if row.form == "word":
        return (WordText | None, Field(None, description=f"{words}; several that will do are joined by |"))
    bound = {"is": "exactly", "min": "at least", "max": "at most"}[role]
    return (SizeText | None, Field(None, description=f"{words}: {bound}, in {row.unit}, a decimal or a fraction"))


class Wants:
    """Turns what a caller states into conditions."""

    def __init__(self, catalogue: Catalogue, encoder: Encoder) -> None:
        self.catalogue = catalogue
        self.parameters = parameters_of(catalogue)
        self._words = lru_cache(maxsize=None)(lambda name: words_of(encoder, name))

    def of_query(self, query: SearchQuery) -> tuple[Want, ...]:
        """The conditions of a query. Raises Problem."""
        stated: dict[str, dict[str, Any]] = {}
        for name, (row, role) in self.parameters.items():
            value = getattr(query, name)
            if value is not None:
                stated.setdefault(row.attribute, {})[role] = value
        wants = []
        for attribute, given in stated.items():
            if "is" in given and len(given) > 1:
                raise bad_parameter(attribute, "a value or bounds, not both")
            value = given.get("is", BoundsAsked.model_construct(min=given.get("min"), max=given.get("max")))
            if isinstance(value, str) and self.catalogue.attributes[attribute].form == "word":
                value = value.split("|")
            wants.append(self._want(self.catalogue.attributes[attribute], value, bad_parameter))
        return tuple(wants)

    def of_body(self, asked: EncodeAsked) -> tuple[Want, ...]:
        """The conditions of a body. Raises Problem."""
        wants = []
        for name, value in asked.attributes.items():
            row = self.catalogue.attributes.get(name)
            if row is None:
                raise bad_body(name, "no such attribute; see /v1/tables/attributes")
            wants.append(self._want(row, value, bad_body))
        return tuple(wants)

    def _want(self, row: Attribute, value: object, problem: Callable[[str, str], Problem]) -> Want:
        name = row.attribute
        if row.form == "flag":
            if not isinstance(value, bool):
                raise problem(name, "true or false")
            return Want(name, frozenset({"yes" if value else "no"}))
        if row.form == "word":
            listed = [value] if isinstance(value, str) else value
            if not isinstance(listed, list):
                raise problem(name, "a word, or a list of words")
            return Want(name, self._known(name, listed, problem))
        return _size_want(name, value, problem)

    def _known(self, name: str, listed: Iterable[str], problem: Callable[[str, str], Problem]) -> frozenset[str]:
        known = self._words(name)
        folded = {word.casefold() for word in known}
        wanted = frozenset(word.strip().casefold() for word in listed)
        for word in sorted(wanted - folded):
            more = f" and {len(known) - _LISTED} more" if len(known) > _LISTED else ""
            raise problem(name, f"no row says {word!r}; known: {'; '.join(known[:_LISTED])}{more}")
        return wanted


def _size_want(name: str, value: object, problem: Callable[[str, str], Problem]) -> Want:
    bounds = (value.min, value.max) if isinstance(value, BoundsAsked) else (value, value)
    if bounds == (None, None):
        raise problem(name, "a size, or bounds min and max")
    low, high = (None if bound is None else _size(name, bound, problem) for bound in bounds)
    if low is not None and high is not None and low > high:
        raise problem(name, "min is above max")
    return Want(name, low=low, high=high)


def _size(name: str, bound: object, problem: Callable[[str, str], Problem]) -> Fraction:
    if isinstance(bound, Decimal):
        return Fraction(bound)
    if not isinstance(bound, str):
        raise problem(name, "a size, or bounds min and max")
    try:
        return parse_number(bound)
    except ValueError as error:
        raise problem(name, str(error)) from None


def bad_parameter(name: str, reason: str) -> Problem:
    """The problem of one parameter."""
    return Problem("bad-parameter", f"{name}: {reason}.", {"parameters": [{"name": name, "reason": reason}]})


def bad_body(name: str, reason: str) -> Problem:
    """The problem of one member of a body."""
    return Problem("bad-body", f"{name}: {reason}.", {"faults": [{"at": name, "reason": reason}]})


def plain(query: SearchQuery) -> Mapping[str, Any]:
    """The parameters of a query as a URL writes them."""
    given = query.model_dump(exclude_defaults=True)
    return {name: str(value).lower() if isinstance(value, bool) else value for name, value in given.items()}
