"""Keys, citations and names: what a row points at must exist, and what names a row must name one."""

from __future__ import annotations

from collections.abc import Iterator

from service.catalogue.catalogue import Catalogue
from service.tables.reading import Fault
from service.tables.rows import Cited, Code, Equivalence, Fact, Gap, Keyed, Mate, Row, Slot

#: kinds of source that no row of a better basis than this may rest on
_MEMORY_KINDS = {"memory", "practice"}


def duplicate_keys(catalogue: Catalogue) -> Iterator[Fault]:
    """A row key names one row over all tables; a table without row keys has a key column of its own."""
    seen: dict[str, str] = {}
    for sheet in catalogue.package.sheets:
        own: set[str] = set()
        for row, line in zip(sheet.rows, sheet.lines, strict=True):
            key = str(getattr(row, type(row).key))
            if isinstance(row, Keyed):
                if key in seen:
                    yield Fault(sheet.file, line, f"row key {key} is already used in {seen[key]}")
                seen[key] = f"{sheet.file}:{line}"
            elif key in own:
                yield Fault(sheet.file, line, f"{type(row).key} {key} stands twice")
            own.add(key)


def citations(catalogue: Catalogue) -> Iterator[Fault]:
    """Every cited source exists; a row that rests on memory alone says so; every row says where in the source it stands."""
    for sheet in catalogue.package.sheets:
        for row, line in zip(sheet.rows, sheet.lines, strict=True):
            if not isinstance(row, Cited):
                continue
            source = catalogue.sources.get(row.source_id)
            if source is None:
                yield Fault(sheet.file, line, f"{row.row}: no source {row.source_id!r}")
            elif source.kind in _MEMORY_KINDS and row.basis in {"published", "secondary"}:
                yield Fault(
                    sheet.file, line, f"{row.row}: {row.source_id} is no document, so the basis cannot be {row.basis}"
                )
            if not row.locator and row.basis in {"published", "secondary"}:
                yield Fault(sheet.file, line, f"{row.row}: a {row.basis} row says where in the source it stands")


def duplicate_statements(catalogue: Catalogue) -> Iterator[Fault]:
    """The same thing said twice in one family is a slip; two sources that disagree have different ranks."""
    seen: dict[tuple[str, ...], str] = {}
    for fact, file, line in catalogue.package.located(Fact):
        said = (fact.scope, fact.when, fact.attribute, fact.rank or "1", fact.limit, fact.source_id)
        if said in seen:
            yield Fault(
                file,
                line,
                f"{fact.row}: {seen[said]} already gives {fact.attribute} for {fact.when or 'all'} at this rank",
            )
        seen[said] = fact.row
    codes: dict[tuple[str, str], str] = {}
    for code, file, line in catalogue.package.located(Code):
        at = (code.code_set, code.code)
        if at in codes:
            yield Fault(file, line, f"{code.row}: {codes[at]} already gives {code.code} in {code.code_set}")
        codes[at] = code.row


def names(catalogue: Catalogue) -> Iterator[Fault]:
    """Code sets are used, alias targets exist, families that rules and relations name are held."""
    used = {slot.code_set for slot, _, _ in catalogue.package.located(Slot)}
    held = {(code.code_set, code.code) for code, _, _ in catalogue.package.located(Code)}
    for code, file, line in catalogue.package.located(Code):
        if code.code_set not in used:
            yield Fault(file, line, f"{code.row}: no slot uses code set {code.code_set!r}")
        if code.alias_of and (code.code_set, code.alias_of) not in held:
            yield Fault(file, line, f"{code.row}: alias of {code.alias_of!r}, which is not in {code.code_set}")
    for mate, file, line in catalogue.package.located(Mate):
        for family in filter(None, (mate.from_family, mate.to_family)):
            if family not in catalogue.families:
                yield Fault(file, line, f"{mate.row}: family {family!r} is not held")
    for relation, file, line in catalogue.package.located(Equivalence):
        for family in (relation.from_family, relation.to_family):
            if family not in catalogue.families:
                yield Fault(file, line, f"{relation.row}: family {family!r} is not held")


def gaps_that_are_filled(catalogue: Catalogue) -> Iterator[Fault]:
    """A gap says that no source gives an attribute; it must be of the vocabulary."""
    for gap, file, line in catalogue.package.located(Gap):
        if gap.attribute not in catalogue.attributes:
            yield Fault(file, line, f"{gap.row}: attribute {gap.attribute!r} is not in attributes.csv")


def unused_sources(catalogue: Catalogue) -> Iterator[Fault]:
    """A source that no row cites does not belong in the list."""
    cited = {row.source_id for sheet in catalogue.package.sheets for row in sheet.rows if isinstance(row, Cited)}
    for sheet in catalogue.package.sheets:
        if sheet.table == "sources":
            for row, line in zip(sheet.rows, sheet.lines, strict=True):
                if _key(row) not in cited:
                    yield Fault(sheet.file, line, f"no row cites {_key(row)}")


def _key(row: Row) -> str:
    return str(getattr(row, type(row).key))


CHECKS = (duplicate_keys, citations, duplicate_statements, names, gaps_that_are_filled)
