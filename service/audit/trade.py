"""Arithmetic of the trade: what must hold between values whatever their source says.

A check here compares rows with each other or with geometry; a printed slip that is kept on purpose is recognised by its row's own
flag, never by a list in this file.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import islice, pairwise, product

from service.catalogue.catalogue import Catalogue
from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.quantity import parse_number
from service.tables.reading import Fault
from service.tables.rows import Fact, Law

#: attributes in inches must lie within this, or the unit was slipped
_LARGEST_INCHES = 40
#: a printed length is rounded to three places, and a bolt's grip and length are each rounded
_PRINTED = Fraction(2, 1000)


def length_law(catalogue: Catalogue) -> Iterator[Fault]:
    """Grip + thread length = length, for every bolt whose three values are given; and nothing is shorter than its grip."""
    for family in _of_kind(catalogue, "bolt"):
        for codes in _sample(family, "basic", "length", "grip"):
            grip, length, thread = (family.value(a, codes) for a in ("grip_length", "length", "thread_length"))
            if grip is None or length is None or not _known(grip) or not _known(length):
                continue
            if not 0 <= grip.number < length.number:
                yield _fault(
                    catalogue, grip, f"{family.format(codes)}: grip {grip.display} against length {length.display}"
                )
            elif thread is not None and _known(thread) and not _exempt(grip, length, thread):
                slack = abs(grip.number + thread.number - length.number)
                if slack > _PRINTED:
                    yield _fault(
                        catalogue,
                        grip,
                        f"{family.format(codes)}: grip + thread length misses the length by {float(slack):.4f} in",
                    )


def eighths_step(catalogue: Catalogue) -> Iterator[Fault]:
    """A dash that counts eighths makes lengths an eighth apart, except where a row says it is an exception."""
    for family in _of_kind(catalogue, "bolt"):
        spec = next((s for s in family.slots if s.reading == "inches-eighths"), None)
        if spec is None:
            continue
        index = family.slots.index(spec)
        for codes in _sample(family, "basic"):
            last: tuple[Fraction, Value] | None = None
            for code, meaning in spec.codes.items():
                number = (*codes[:index], code, *codes[index + 1 :])
                value = family.value("length", number)
                if code[-1] in "89":
                    yield Fault("", 0, f"{family.id}: dash {code} ends in {code[-1]}")
                if value is None or not _known(value) or meaning.number is None or family.not_made(number):
                    continue
                if last is not None and not _exempt(value, last[1]):
                    step = value.number - last[1].number
                    if abs(step - (meaning.number - last[0])) > _PRINTED:
                        yield _fault(catalogue, value, f"{family.format(number)}: length steps by {float(step):.4f} in")
                last = (meaning.number, value)


def printed_rows_meet_laws(catalogue: Catalogue) -> Iterator[Fault]:
    """Where a family has both a printed value and a law, they agree unless the printed row's note says why not."""
    for family in catalogue.families.values():
        for facet in family.facets.all:
            for statements in facet.rules:
                laws = [s for s in statements.statements if s.law is not None]
                for printed in (s for s in statements.statements if s.value is not None and laws):
                    value = printed.value
                    assert value is not None
                    if (
                        not isinstance(value.exact, Fraction)
                        or value.citation is None
                        or "exception" in value.citation.note
                    ):
                        continue
                    codes = _selected(family, printed.when.tests)
                    found = family.value(value.attribute, codes)
                    for other in found.others if found is not None else ():
                        differs = isinstance(other.exact, Fraction) and abs(other.number - value.exact) > Fraction(
                            1, 1000
                        )
                        if (
                            differs
                            and value is not other
                            and other.citation
                            and other.citation.row in {s.law.row for s in laws if s.law}
                        ):
                            yield _fault(
                                catalogue,
                                value,
                                f"printed {value.printed} against {other.printed} by the law, and no note calls it an exception",
                            )


def holes_clear_their_bolt(catalogue: Catalogue) -> Iterator[Fault]:
    """A washer's hole is over the nominal size it is for, its rim over its hole."""
    for kind in ("washer", "lock_washer"):
        for family in _of_kind(catalogue, kind):
            for codes in _sample(family, *(s.name for s in family.slots)):
                nominal, inside, outside = (
                    family.value(a, codes) for a in ("nominal_diameter", "inside_diameter", "outside_diameter")
                )
                if nominal and inside and _known(nominal) and _known(inside):
                    over = inside.least - nominal.number
                    if not 0 <= over <= max(Fraction(1, 16), nominal.number / 8):
                        yield _fault(
                            catalogue,
                            inside,
                            f"{family.format(codes)}: hole {inside.display} on a {nominal.display} bolt",
                        )
                if inside and outside and _known(inside) and _known(outside) and outside.number <= inside.number:
                    yield _fault(
                        catalogue, outside, f"{family.format(codes)}: outside {outside.display} is not over the hole"
                    )


#: attributes that never shrink as the nominal diameter grows, within one family and material
_GROWING = (
    "shank_diameter",
    "width_across_flats",
    "thread_length",
    "shank_hole_diameter",
    "inside_diameter",
    "outside_diameter",
)


def monotone_columns(catalogue: Catalogue) -> Iterator[Fault]:
    """Down a size column values do not shrink, for facts that hang on the basic number or on one size piece alone."""
    for family in catalogue.families.values():
        for attribute in _GROWING:
            facet = family.facets.by_attribute.get(attribute)
            base = family.facets.by_attribute.get("nominal_diameter")
            if facet is None or base is None or len(facet.slots) != 1 or facet.slots != base.slots:
                continue
            rows: list[tuple[Fraction, Value]] = []
            for codes in _sample(family, family.slots[facet.slots[0]].name):
                size, value = family.value("nominal_diameter", codes), family.value(attribute, codes)
                if size and value and _known(size) and _known(value):
                    rows.append((size.number, value))
            rows.sort(key=lambda r: r[0])
            for (low, before), (high, after) in pairwise(rows):
                if low < high and after.number < before.number and not _exempt(before, after):
                    yield _fault(
                        catalogue,
                        after,
                        f"{family.id}: {attribute} {after.display} at {float(high):.4f} after {before.display} at {float(low):.4f}",
                    )


def unit_sanity(catalogue: Catalogue) -> Iterator[Fault]:
    """Inches are of the size of hardware, temperatures of hot bays, strengths in psi and not ksi; tolerances are small."""
    spans = {
        "[in_i]": (0, _LARGEST_INCHES),
        "[degF]": (100, 2000),
        "[psi]": (5000, 400000),
        "[lbf_av]": (10, 300000),
        "deg": (10, 180),
    }
    for fact, file, line in catalogue.package.located(Fact):
        if fact.unit in spans:
            low, high = spans[fact.unit]
            try:
                value = parse_number(fact.value)
            except ValueError:
                continue  # the compiler has said so already
            if not low <= value <= high:
                yield Fault(file, line, f"{fact.row}: {fact.value} {fact.unit} is no size of hardware")
            if fact.unit == "[in_i]":
                for tolerance in filter(None, (fact.plus, fact.minus)):
                    if parse_number(tolerance) > max(value / 4, Fraction(1, 16)):
                        yield Fault(file, line, f"{fact.row}: a tolerance of {tolerance} on {fact.value}")
    for law, file, line in catalogue.package.located(Law):
        if law.places and not law.rounding:
            yield Fault(file, line, f"{law.row}: places without a rounding rule")


def threads_agree_with_size(catalogue: Catalogue) -> Iterator[Fault]:
    """The thread's nominal size is the nominal diameter: 10-32 is .190, 1/4-28 is .250."""
    for family in catalogue.families.values():
        facet = family.facets.by_attribute.get("thread")
        if facet is None:
            continue
        for codes in _sample(family, *(family.slots[i].name for i in facet.slots)):
            thread, size = family.value("thread", codes), family.value("nominal_diameter", codes)
            if thread and size and _known(size) and isinstance(thread.exact, str):
                text = thread.exact.rpartition("-")[0].replace("-", " ")
                major = Fraction(13 * int(text) + 60, 1000) if text.isdigit() and int(text) > 1 else parse_number(text)
                if abs(major - size.number) > Fraction(1, 1000):
                    yield _fault(catalogue, size, f"{family.format(codes)}: thread {thread.exact} on {size.display}")


def _of_kind(catalogue: Catalogue, kind: str) -> Iterator[FamilySpec]:
    return (family for family in catalogue.families.values() if family.kind == kind)


def _known(value: Value) -> bool:
    return isinstance(value.exact, Fraction)


def _exempt(*values: Value) -> bool:
    """Whether a row says itself that it is an exception."""
    return any("exception" in v.citation.note for v in values if v.citation is not None)


def _sample(family: FamilySpec, *slots: str) -> Iterator[tuple[str, ...]]:
    """Every number of the family over the named slots; the other pieces stay at their first code."""
    chosen = [list(s.codes) if s.name in slots else [next(iter(s.codes))] for s in family.slots]
    for codes in islice(product(*chosen), 40_000):
        if family.not_made(codes) is None:
            yield codes


def _selected(family: FamilySpec, tests: tuple[tuple[int, frozenset[str]], ...]) -> tuple[str, ...]:
    wanted = dict(tests)
    return tuple(
        next(code for code in spec.codes if index not in wanted or code in wanted[index])
        for index, spec in enumerate(family.slots)
    )


def _fault(catalogue: Catalogue, value: Value, reason: str) -> Fault:
    key = value.citation.row if value.citation else ""
    for model in (Fact, Law):
        for row, file, line in catalogue.package.located(model):
            if row.row == key:
                return Fault(file, line, f"{key}: {reason}")
    return Fault("", 0, reason)


CHECKS = (
    length_law, eighths_step, printed_rows_meet_laws, holes_clear_their_bolt, monotone_columns, unit_sanity, threads_agree_with_size,
)  # fmt: skip
