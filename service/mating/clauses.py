"""The condition of a rule row, compiled: clauses about a set of parts and the joint they stand in.

A clause is true, false, or undecided because the caller did not state a joint condition or because no row gives an attribute. A rule
is never taken to hold, or not to hold, on something unknown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from operator import ge, gt, le, lt
from typing import Final, Literal, get_args

from service.parts.part import Part
from service.quantity import parse_number
from service.tables.rows import Kind

KINDS = frozenset(get_args(Kind))
JOINT = "joint"

_COMPARE = re.compile(r"(\w+)\.(\w+) (=|!=|<=|>=|<|>) (.+)")
_KNOWN = re.compile(r"(\w+)\.(\w+) is (known|absent)")
_PRESENT = re.compile(r"(\w+) is (present|missing)")
_OTHER = re.compile(r"([a-z_]+)\.([a-z_]+)")

_ORDERS: Final[Mapping[str, Callable[[Fraction, Fraction], bool]]] = {"<": lt, "<=": le, ">": gt, ">=": ge}

Exact = Fraction | str


@dataclass(frozen=True, slots=True)
class Truth:
    """Whether a clause holds; when undecided, the joint conditions not stated and the attributes not known."""

    holds: bool | None
    unstated: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


YES, NO = Truth(True), Truth(False)


@dataclass(frozen=True, slots=True)
class Setting:
    """A set of parts by kind, and what the caller said about the joint."""

    parts: Mapping[str, Part]
    joint: Mapping[str, Exact]

    def ask(self, subject: str, attribute: str) -> Exact | Truth:
        """The exact value of ``subject.attribute``, or why there is none."""
        if subject == JOINT:
            stated = self.joint.get(attribute)
            return stated if stated is not None else Truth(None, unstated=(attribute,))
        part = self.parts.get(subject)
        if part is None:
            return NO
        if attribute == "family":
            return part.family.id
        if attribute == "basic":
            return part.designation.codes[0]
        value = part.value(attribute)
        if value is None or value.exact is None:
            return Truth(None, unknown=(f"{attribute} of {part.number}",))
        return value.exact


@dataclass(frozen=True, slots=True)
class Clause:
    """``subject.attribute op value``, where the value is literal or another subject's attribute."""

    subject: str
    attribute: str
    operator: str
    literals: tuple[Exact, ...] = ()
    other: tuple[str, str] | None = None

    def judge(self, setting: Setting) -> Truth:
        """Whether the clause holds in ``setting``."""
        if self.operator in {"present", "missing"}:
            return YES if (self.subject in setting.parts) == (self.operator == "present") else NO
        left = setting.ask(self.subject, self.attribute)
        if self.operator in {"known", "absent"}:
            if self.subject != JOINT and self.subject not in setting.parts:
                return NO
            return YES if isinstance(left, Truth) == (self.operator == "absent") else NO
        if isinstance(left, Truth):
            return left
        if self.other is None:
            rights: tuple[Exact, ...] = self.literals
        else:
            right = setting.ask(*self.other)
            if isinstance(right, Truth):
                return right
            rights = (right,)
        return YES if _compare(left, self.operator, rights) else NO

    def about_only(self, subjects: frozenset[str]) -> bool:
        """Whether these subjects alone decide the clause."""
        named = {self.subject, self.other[0]} if self.other else {self.subject}
        return self.operator not in {"present", "missing"} and named <= subjects

    @property
    def subjects(self) -> frozenset[str]:
        """The kinds of part that must be in the set for the clause to mean anything."""
        named = {self.subject} | ({self.other[0]} if self.other else set())
        return frozenset(named - {JOINT}) if self.operator != "missing" else frozenset()


def _compare(left: Exact, operator: str, rights: tuple[Exact, ...]) -> bool:
    if operator == "=":
        return left in rights
    if operator == "!=":
        return left not in rights
    right = rights[0]
    if not isinstance(left, Fraction) or not isinstance(right, Fraction):
        return False
    return _ORDERS[operator](left, right)


def compile_clauses(text: str) -> tuple[Clause, ...]:
    """Compile a rule's condition. ValueError names the clause that is not in the language."""
    return tuple(_clause(part.strip()) for part in text.split(" and ")) if text.strip() else ()


def _clause(text: str) -> Clause:
    if found := _PRESENT.fullmatch(text):
        _known_subject(found[1], text)
        return Clause(found[1], "", found[2])
    if found := _KNOWN.fullmatch(text):
        _known_subject(found[1], text)
        return Clause(found[1], found[2], found[3])
    found = _COMPARE.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is not subject.attribute op value")
    subject, attribute, operator, right = found.groups()
    _known_subject(subject, text)
    other = _OTHER.fullmatch(right)
    if other and other[1] in KINDS | {JOINT}:
        return Clause(subject, attribute, operator, other=(other[1], other[2]))
    return Clause(subject, attribute, operator, literals=tuple(_literal(word.strip()) for word in right.split("|")))


def _known_subject(subject: str, text: str) -> None:
    if subject not in KINDS | {JOINT}:
        raise ValueError(f"{text!r}: {subject!r} is no kind of part")


def _literal(text: str) -> Exact:
    try:
        return parse_number(text)
    except ValueError:
        return text


Effect = Literal["excludes", "conditions", "notes", "fits"]
