"""The shape of every row in seed_tables/: one class a table, shared by the reader, the check and datapackage.json.

A *table* is a logical name (``facts``); it may lie in several *rooms* (``seed_tables/bolts/facts.csv``,
``seed_tables/nuts/facts.csv``): one file per room, one class per table. Every value that can leave the service sits in a
row of its own, so that its source, its locator and its basis are the row's and nobody else's.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, ClassVar, Literal

from pydantic import ConfigDict, StringConstraints
from sqlmodel import SQLModel

RowKey = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9_.~+/-]*$")]
Word = Annotated[str, StringConstraints(min_length=1)]
Number = Annotated[str, StringConstraints(pattern=r"^-?(\d+[ -])?(\d+/[1-9]\d*|\d*\.?\d+)$")]
OptionalNumber = Annotated[str, StringConstraints(pattern=r"^(-?(\d+[ -])?(\d+/[1-9]\d*|\d*\.?\d+))?$")]


class Basis(StrEnum):
    """How far a row can be trusted, strongest first."""

    PUBLISHED = "published"
    SECONDARY = "secondary"
    DERIVED = "derived"
    COMMON_PRACTICE = "common-practice"
    FROM_MEMORY = "from-memory"


#: basis -> place in the order of trust, 0 the strongest.
TRUST: dict[str, int] = {basis.value: place for place, basis in enumerate(Basis)}

Kind = Literal[
    "bolt", "screw", "nut", "plate_nut", "barrel_nut", "washer", "lock_washer", "cotter_pin", "clevis_pin", "taper_pin",
    "dowel_pin", "spring_pin", "lock_pin", "rivet", "blind_rivet", "pin_rivet", "rivet_collar", "rivet_nut", "lockwire", "fitting",
]  # fmt: skip
YesNo = Literal["yes", "no"]
Relation = Literal[
    "same standard renumbered", "superseded by", "dimensional alternate", "stronger alternate", "not equivalent"
]
Direction = Literal["to", "both"]


class Row(SQLModel):
    """What every table's row is: frozen text cells and a key that stays the same from release to release."""

    model_config = ConfigDict(frozen=True, extra="forbid")  # type: ignore[assignment]

    #: what the table is for, shown by /v1/tables
    about: ClassVar[str] = ""
    #: the cell that names the row
    key: ClassVar[str] = "row"


class Keyed(Row):
    """A row with a key of its own, unique over all tables."""

    row: RowKey


class Cited(Keyed):
    """A row that says something about the world, and who says so."""

    source_id: Word
    locator: str
    basis: Basis
    note: str


class Source(Row):
    """A document that rows cite."""

    about: ClassVar[str] = "documents that rows cite, and how their text was seen"
    key: ClassVar[str] = "source_id"
    source_id: Word
    title: Word
    issuer: str
    revision: str
    kind: Word
    copy_seen: str
    note: str


class Attribute(Row):
    """A name in the vocabulary of attributes."""

    about: ClassVar[str] = "the attributes a part may have, their unit and their meaning"
    key: ClassVar[str] = "attribute"
    attribute: Word
    form: Literal["quantity", "word", "flag"]
    unit: str
    meaning: Word
    yes_words: str
    no_words: str


class Family(Cited):
    """A specification family: numbers that share one pattern."""

    about: ClassVar[str] = "specification families: what they are, how they are described, their status"
    family: Word
    kind: Kind
    title: Word
    description: Word
    status: Literal["active", "superseded", "inactive", "unknown"]
    superseded_by: str
    examples: Word


class BasicNumber(Cited):
    """The leading letters and digits of a number; the reader finds the family by it."""

    about: ClassVar[str] = "leading letters and digits, and the family each belongs to"
    family: Word
    basic: Annotated[str, StringConstraints(pattern=r"^[A-Z]+\d+$")]
    meaning: Word


class Slot(Cited):
    """One piece of the number behind the basic number."""

    about: ClassVar[str] = "the pieces of a family's number, in canonical order"
    family: Word
    position: Annotated[str, StringConstraints(pattern=r"^[1-9]$")]
    slot: Annotated[str, StringConstraints(pattern=r"^[a-z][a-z_]*$")]
    joint: Literal["plain", "dash", "dash-between-digits"]
    reading: Literal["code", "count", "inches-eighths"]
    code_set: str
    domain: str
    width: str
    caption: Word


class Code(Cited):
    """What a letter or digit group means in the slots that use its set."""

    about: ClassVar[str] = "what each letter or digit group means, by code set"
    code_set: Word
    code: Word
    meaning: Word
    alias_of: str


class Fact(Cited):
    """One value of one attribute, for the numbers its condition selects."""

    about: ClassVar[str] = "one value of one attribute a row, with the numbers it holds for"
    scope: Word
    when: str
    attribute: Word
    value: Word
    unit: str
    limit: Literal["", "max", "min"]
    plus: OptionalNumber
    minus: OptionalNumber
    display: str
    rank: Annotated[str, StringConstraints(pattern=r"^[1-9]?$")]


class Law(Cited):
    """An attribute that is arithmetic on the number: attribute = of * factor + offset."""

    about: ClassVar[str] = "attributes that are arithmetic on the number"
    scope: Word
    when: str
    attribute: Word
    of: Word
    factor: Number
    offset: Number
    places: Annotated[str, StringConstraints(pattern=r"^\d?$")]
    rounding: Literal["", "half-even", "half-up"]
    unit: Word
    plus: OptionalNumber
    minus: OptionalNumber


class Made(Cited):
    """Which combinations of pieces are made, or are not."""

    about: ClassVar[str] = "combinations of pieces that are made, or that are not"
    family: Word
    when: str
    made: YesNo
    reason: str


class Gap(Keyed):
    """An attribute that users will ask for and no source gives."""

    about: ClassVar[str] = "attributes that no source read gives, and why they are absent"
    scope: Word
    when: str
    attribute: Word
    reason: Word


class Pair(Cited):
    """One number beside another."""

    about: ClassVar[str] = "number-by-number relations between families"
    from_number: Word
    to_number: Word
    relation: Relation
    direction: Direction
    conditions: str


class Misreading(Cited):
    """A popular but wrong reading, and the right one."""

    about: ClassVar[str] = "popular misreadings, told where they would mislead"
    scope: Word
    when: str
    wrong: Word
    right: Word


class Caution(Cited):
    """A caution that goes out with the parts it concerns."""

    about: ClassVar[str] = "cautions that go out with the parts they concern"
    scope: Word
    when: str
    text: Word


class Condition(Keyed):
    """Something a caller may say about the joint."""

    about: ClassVar[str] = "what a caller may say about the joint"
    condition: Annotated[str, StringConstraints(pattern=r"^[a-z][a-z_]*$")]
    form: Literal["quantity", "flag", "word"]
    unit: str
    values: str
    meaning: Word


class Rule(Cited):
    """A rule about a set of parts; every verdict names one."""

    about: ClassVar[str] = "the rules that verdicts name"
    topic: Word
    effect: Literal["excludes", "conditions", "notes", "fits"]
    unstated: Literal["conditions", "notes", "silent"]
    when: str
    text: Word


class Mate(Cited):
    """Parts of one kind take parts of a family in a role."""

    about: ClassVar[str] = "which parts may take which, in which role, and what must agree"
    from_kind: Kind
    from_family: str
    from_when: str
    role: Word
    to_family: Word
    match: str
    with_: str
    order: Annotated[str, StringConstraints(pattern=r"^[1-9]$")]


class Equivalence(Cited):
    """A relation between two families, with a direction and conditions."""

    about: ClassVar[str] = "relations between families: direction, relation, conditions"
    from_family: Word
    from_when: str
    to_family: Word
    relation: Relation
    direction: Direction
    carry: str
    set_: str
    conditions: str
