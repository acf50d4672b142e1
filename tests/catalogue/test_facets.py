"""Facts and laws: which row gives an attribute, which others are listed, and why a value is absent."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from service.catalogue.catalogue import Catalogue, TablesUnfit, build, load
from service.catalogue.values import Citation, Value
from service.catalogue.when import compile_when
from service.designation.reader import Reader
from service.designation.reading import Designation
from service.tables.reading import read_package
from service.tables.rows import TRUST, Basis
from tests.small_tables import add, change, cut, take

AN4 = "bolts.an3-an20.an4"
FACTS, LAWS = "bolts/facts.csv", "bolts/laws.csv"


@pytest.fixture
def tables(tmp_path: Path) -> Path:
    return cut(tmp_path / "tables", "AN3-AN20", "NAS6203-NAS6210")


def value_in(folder: Path, number: str, attribute: str) -> Value | None:
    catalogue, faults = build(read_package(folder))
    assert not faults, faults[:3]
    return value_of(catalogue, number, attribute)


def value_of(catalogue: Catalogue, number: str, attribute: str) -> Value | None:
    found = Reader(catalogue).read(number)
    assert isinstance(found, Designation), found
    return found.family.value(attribute, found.codes)


def rows(value: Value | None) -> list[str]:
    assert value is not None
    return [v.citation.row for v in (value, *value.others) if v.citation is not None]


def test_a_printed_fact_goes_before_a_law(catalogue: Catalogue) -> None:
    value = value_of(catalogue, "AN4-12A", "grip_length")
    assert value is not None
    assert value.exact == Fraction(13, 16)
    assert rows(value) == [f"{AN4}.dash12.grip_length"]


def test_without_the_fact_the_law_works_it_out_and_is_cited(tables: Path) -> None:
    take(tables, FACTS, f"{AN4}.dash12.grip_length")
    value = value_in(tables, "AN4-12A", "grip_length")
    assert value is not None
    assert value.exact == Fraction(13, 16)
    assert value.printed == "13/16"
    assert rows(value) == [f"{AN4}.law.grip_length"]


def test_a_law_that_disagrees_with_the_fact_is_listed_behind_it(tables: Path) -> None:
    change(tables, LAWS, f"{AN4}.law.grip_length", offset="-3/8")
    value = value_in(tables, "AN4-12A", "grip_length")
    assert value is not None
    assert value.exact == Fraction(13, 16)
    assert rows(value) == [f"{AN4}.dash12.grip_length", f"{AN4}.law.grip_length"]
    assert value.others[0].exact == Fraction(7, 8)


def test_a_better_rank_goes_first_and_the_other_is_listed(tables: Path) -> None:
    add(tables, FACTS, like=f"{AN4}.thread", row="bolts.test.thread", value="1/4-20", rank="2")
    assert rows(value_in(tables, "AN4-12A", "thread")) == [f"{AN4}.thread", "bolts.test.thread"]
    change(tables, FACTS, f"{AN4}.thread", rank="3")
    assert rows(value_in(tables, "AN4-12A", "thread")) == ["bolts.test.thread", f"{AN4}.thread"]


def test_a_row_that_agrees_is_not_listed_as_another(tables: Path) -> None:
    add(tables, FACTS, like=f"{AN4}.thread", row="bolts.test.thread", rank="2")
    assert rows(value_in(tables, "AN4-12A", "thread")) == [f"{AN4}.thread"]


def test_at_one_rank_the_more_specific_row_goes_first(tables: Path) -> None:
    add(tables, FACTS, like=f"{AN4}.thread", row="bolts.test.thread", when="basic=AN4 length=12", value="1/4-20")
    assert rows(value_in(tables, "AN4-12A", "thread"))[0] == "bolts.test.thread"
    assert rows(value_in(tables, "AN4-11A", "thread")) == [f"{AN4}.thread"]


def test_a_gap_is_an_absent_value_with_its_reason(catalogue: Catalogue) -> None:
    value = value_of(catalogue, "AN4-12A", "head_height")
    assert value is not None
    assert (value.exact, value.text, value.display, value.citation) == (None, None, "", None)
    assert "not found" in value.reason


def test_a_fact_fills_the_gap(tables: Path) -> None:
    add(tables, FACTS, like=f"{AN4}.width_across_flats", row="bolts.test.head", attribute="head_height", value="5/32")
    value = value_in(tables, "AN4-12A", "head_height")
    assert value is not None
    assert (value.exact, value.others) == (Fraction(5, 32), ())


def test_a_silent_table_gives_nothing_at_all(catalogue: Catalogue) -> None:
    assert value_of(catalogue, "AN4-12A", "tooth_form") is None
    assert value_of(catalogue, "AN4-12A", "no_such_attribute") is None


def test_printed_grip_and_length_are_not_recomputed(catalogue: Catalogue) -> None:
    grip, length = (value_of(catalogue, "NAS6203-6", name) for name in ("grip_length", "length"))
    assert grip is not None
    assert length is not None
    assert (grip.text, length.text) == ("0.375", "0.698")


def test_a_law_from_another_attribute_of_its_own_facet_does_not_recurse(tables: Path) -> None:
    """The second law starts from what the first gives, and both hang on the same pieces."""
    add(
        tables,
        LAWS,
        like=f"{AN4}.law.length",
        row="bolts.test.point",
        attribute="point_chamfer",
        of="grip_length",
        offset="1/8",
        when="",
    )
    take(tables, FACTS, f"{AN4}.dash12.grip_length")
    catalogue, faults = build(read_package(tables))
    assert not faults
    family = catalogue.families["AN3-AN20"]
    assert family.facets.by_attribute["grip_length"] is family.facets.by_attribute["point_chamfer"]
    value = value_of(catalogue, "AN4-12A", "point_chamfer")
    assert value is not None
    assert value.exact == Fraction(13, 16) + Fraction(1, 8)


def test_a_law_rounds_by_its_own_rule(tables: Path) -> None:
    take(tables, FACTS, f"{AN4}.dash12.length")
    for rounding, text in (("half-even", "1.26"), ("half-up", "1.27")):
        change(tables, LAWS, f"{AN4}.law.length", offset="0.015", places="2", rounding=rounding)
        value = value_in(tables, "AN4-12A", "length")
        assert value is not None
        assert value.text == text


def test_an_attribute_is_worked_out_once_for_all_numbers_that_share_its_pieces(catalogue: Catalogue) -> None:
    assert value_of(catalogue, "AN4-12A", "thread") is value_of(catalogue, "AN4C20", "thread")


def cited(basis: str, number: int, *others: Value) -> Value:
    return Value(
        "length",
        Fraction(number),
        "[in_i]",
        str(number),
        str(number),
        citation=Citation(f"r.{basis}", "s", "", basis, ""),
        others=others,
    )


def test_the_basis_filter_keeps_a_value_that_is_good_enough() -> None:
    value = cited("secondary", 1)
    assert value.at_least("secondary") is value
    assert value.at_least("from-memory") is value


def test_the_basis_filter_takes_a_stronger_other_instead_and_drops_the_weak() -> None:
    value = cited("from-memory", 1, cited("derived", 2), cited("published", 3))
    kept = value.at_least("published")
    assert (kept.exact, kept.others) == (Fraction(3), ())
    kept = value.at_least("derived")
    assert kept.exact == Fraction(2)
    assert [v.exact for v in kept.others] == [Fraction(3)]


def test_the_basis_filter_says_why_nothing_is_left() -> None:
    value = cited("from-memory", 1, cited("common-practice", 2)).at_least("published")
    assert (value.exact, value.citation, value.display) == (None, None, "")
    assert "published" in value.reason
    assert "common-practice" in value.reason, "the strongest row that exists is named"


def test_a_gap_keeps_its_own_reason_under_the_filter() -> None:
    gap = Value("length", None, "[in_i]", "", "", reason="not found")
    assert gap.at_least("published").reason == "not found"


def test_the_order_of_trust_is_that_of_the_bases() -> None:
    assert (
        sorted(TRUST, key=TRUST.__getitem__)
        == [b.value for b in Basis]
        == ["published", "secondary", "derived", "common-practice", "from-memory"]
    )


def test_a_filtered_part_never_shows_a_weaker_row(catalogue: Catalogue) -> None:
    reader = Reader(catalogue)
    for number in ("AN4H12", "AN365-1032A", "AN960-416", "MS35333-40", "MS20470AD4-5"):
        found = reader.read(number)
        assert isinstance(found, Designation)
        for basis in TRUST:
            for facet in found.family.facets.all:
                for value in found.family.facets.values(facet, found.codes).values():
                    kept = value.at_least(basis)
                    assert all(
                        TRUST[v.citation.basis] <= TRUST[basis] for v in (kept, *kept.others) if v.citation is not None
                    )


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("shank", "is not slot=code"),
        ("colour=A", "no slot"),
        ("shank=Z", "has no code"),
        ("shank=A shank=A", "asked twice"),
        ("length=98..99", "has no code"),
    ],
)
def test_a_condition_that_makes_no_sense_is_refused_with_words(catalogue: Catalogue, text: str, reason: str) -> None:
    slots = {spec.name: (i, spec) for i, spec in enumerate(catalogue.families["AN3-AN20"].slots)}
    with pytest.raises(ValueError, match=reason):
        compile_when(text, slots)


def test_a_condition_with_a_range_and_alternatives_holds_for_just_those(catalogue: Catalogue) -> None:
    family = catalogue.families["AN3-AN20"]
    slots = {spec.name: (i, spec) for i, spec in enumerate(family.slots)}
    when = compile_when("basic=AN4|AN5 length=3..7", slots)
    held = {
        (b, n) for b in ("AN3", "AN4", "AN5") for n in ("3", "7", "10") if when.holds((b, "(none)", "(none)", n, "A"))
    }
    assert held == {("AN4", "3"), ("AN4", "7"), ("AN5", "3"), ("AN5", "7")}
    assert compile_when("", slots).holds(("AN3", "C", "H", "12", "A"))


def test_tables_with_a_fault_are_not_served(tables: Path) -> None:
    change(tables, FACTS, f"{AN4}.thread", attribute="colour_of_box")
    with pytest.raises(TablesUnfit) as unfit:
        load(tables)
    assert any("colour_of_box" in fault.reason for fault in unfit.value.faults)


def test_the_release_changes_with_any_cell_and_with_the_code(tables: Path) -> None:
    before = load(tables, b"code").digest
    assert load(tables, b"code").digest == before
    assert load(tables, b"other code").digest != before
    change(tables, FACTS, f"{AN4}.thread", note="another note")
    assert load(tables, b"code").digest != before
