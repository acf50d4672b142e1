"""The desk: everything an operation may ask, wired once per process for one release."""

from __future__ import annotations

from dataclasses import dataclass

from service.api.problems import refused
from service.api.wire import Writer
from service.catalogue.catalogue import Catalogue
from service.designation.encode import Encoder
from service.designation.reader import Reader
from service.designation.reading import Refusal
from service.equivalence.relating import Relations
from service.mating.mates import Mates
from service.mating.rules import RuleBook
from service.parts.part import Part
from service.settings import Settings
from service.tables.store import Tables


@dataclass(frozen=True)
class Desk:
    """The engines over one catalogue, and the writer of its answers."""

    settings: Settings
    catalogue: Catalogue
    reader: Reader
    encoder: Encoder
    rules: RuleBook
    mates: Mates
    relations: Relations
    writer: Writer
    tables: Tables | None = None

    @classmethod
    def over(cls, catalogue: Catalogue, settings: Settings, tables: Tables | None = None) -> Desk:
        """The desk of a catalogue."""
        reader, encoder, rules = Reader(catalogue), Encoder(catalogue), RuleBook(catalogue)
        return cls(
            settings, catalogue, reader, encoder, rules, Mates(catalogue, rules, encoder),
            Relations(catalogue, reader, encoder), Writer(catalogue.digest), tables,
        )  # fmt: skip

    def part(self, number: str, basis: str) -> Part:
        """The part a number names. Raises Problem when it names none."""
        found = self.reader.read(number)
        if isinstance(found, Refusal):
            raise refused(found)
        return Part(found, basis)
