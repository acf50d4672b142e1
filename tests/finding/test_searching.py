"""Search by attribute: what it finds meets the question, what meets the question it finds, and it says what it could not look at."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.catalogue.family import FamilySpec
from service.catalogue.values import Value
from service.designation.encode import Encoder
from service.designation.reader import Reader
from service.designation.reading import Designation
from service.finding.missing import near_misses
from service.finding.searching import Question, Searcher, natural
from service.finding.wanting import Want
from service.parts.part import Part
from tests.strategies import codes_of, real_catalogue

CATALOGUE = real_catalogue()
SEARCHER = Searcher(CATALOGUE, Encoder(CATALOGUE))
READER = Reader(CATALOGUE)
SPINE = ("AN3-AN20", "AN310", "AN365", "AN960", "MS24665", "MS20995", "AN470", "NAS1149")
QUANTITIES = ("grip_length", "length", "nominal_diameter", "thickness", "outside_diameter")


def wanted(value: Value) -> Want:
    """The want that asks for exactly this value."""
    if isinstance(value.exact, Fraction):
        return Want(value.attribute, low=value.exact, high=value.exact)
    return Want(value.attribute, frozenset({str(value.exact).casefold()}))


def part(number: str, basis: str = "from-memory") -> Part:
    found = READER.read(number)
    assert isinstance(found, Designation), number
    return Part(found, basis)


def meets(found: Part, want: Want) -> bool:
    """Whether a decoded part is what is wanted; worked out from the part alone, not from the tables of the search."""
    value = found.value(want.attribute)
    if value is None or value.exact is None:
        return False
    if want.words:
        return str(value.exact).casefold() in want.words
    assert isinstance(value.exact, Fraction)
    return not (want.low is not None and value.exact < want.low) and not (
        want.high is not None and value.exact > want.high
    )


def every_number(family: FamilySpec) -> Iterator[Part]:
    for codes in product(*(spec.codes for spec in family.slots)):
        if family.not_made(codes) is None:
            yield Part(Designation(family.format(codes), family, codes, ""))


@st.composite
def sizes_wanted(draw: st.DrawFn) -> Want:
    ends = sorted(draw(st.lists(st.integers(1, 96), min_size=2, max_size=2)))
    return Want(draw(st.sampled_from(QUANTITIES)), low=Fraction(ends[0], 32), high=Fraction(ends[1], 32))


@pytest.mark.parametrize("family_id", [id_ for id_ in SPINE if id_ in CATALOGUE.families])
@given(data=st.data())
@settings(max_examples=25)
def test_the_attributes_of_a_number_find_the_number(family_id: str, data: st.DataObject) -> None:
    family = CATALOGUE.families[family_id]
    number = family.format(data.draw(codes_of(family_id)))
    values = [v for v in part(number).attributes.values() if v.exact is not None]
    plan = SEARCHER.plan(Question(tuple(wanted(v) for v in values), kind=family.kind, family=family_id))
    assert number in {found.number for found in plan.page(0, plan.total)}


def test_the_spine_is_held() -> None:
    assert len([id_ for id_ in SPINE if id_ in CATALOGUE.families]) >= 6


@given(wants=st.lists(sizes_wanted(), min_size=1, max_size=2, unique_by=lambda w: w.attribute), data=st.data())
def test_every_item_of_every_page_satisfies_the_question(wants: list[Want], data: st.DataObject) -> None:
    sort = data.draw(st.sampled_from([None, *QUANTITIES]))
    basis = data.draw(st.sampled_from(["from-memory", "secondary", "published"]))
    plan = SEARCHER.plan(Question(tuple(wants), basis=basis, sort=sort, descending=data.draw(st.booleans())))
    begin = data.draw(st.integers(0, max(plan.total - 1, 0)))
    page = plan.page(begin, 20)
    assert len(page) == min(20, plan.total - begin)
    for found in page:
        read = part(found.number, basis)
        assert read.designation.codes == found.codes
        assert all(meets(read, want) for want in wants), found.number


@pytest.mark.parametrize("family_id", ["MS24665", "AN392-AN406", "NAS1149", "MS20392"])
@given(want=sizes_wanted())
@settings(max_examples=6)
def test_a_search_finds_exactly_what_trying_every_number_finds(family_id: str, want: Want) -> None:
    family = CATALOGUE.families[family_id]
    plan = SEARCHER.plan(Question((want,), family=family_id))
    assert sorted(f.number for f in plan.page(0, plan.total + 1)) == sorted(
        p.number for p in every_number(family) if meets(p, want)
    )


def test_pages_put_together_hold_every_number_once() -> None:
    question = Question(
        (Want("grip_length", low=Fraction(1, 2), high=Fraction(3, 4)),), kind="bolt", sort="grip_length"
    )
    plan = SEARCHER.plan(question)
    numbers = [f.number for begin in range(0, plan.total, 97) for f in plan.page(begin, 97)]
    assert len(numbers) == len(set(numbers)) == plan.total > 97
    assert plan.page(plan.total, 10) == []


@pytest.mark.parametrize("descending", [False, True])
def test_sizes_stand_in_order_and_unknown_ones_last(descending: bool) -> None:
    plan = SEARCHER.plan(Question((), kind="bolt", family=None, sort="length", descending=descending))
    step = max(plan.total // 400, 1)
    values = [part(plan.page(at, 1)[0].number).value("length") for at in range(0, plan.total, step)]
    known = [v is not None and v.exact is not None for v in values]
    assert known == sorted(known, reverse=True)
    assert any(known)
    assert not all(known)
    sizes = [v.number for v, told in zip(values, known, strict=True) if told and v is not None]
    assert sizes == sorted(sizes, reverse=descending)


def test_numbers_stand_in_the_order_of_their_basic_numbers() -> None:
    plan = SEARCHER.plan(Question((Want("thread", frozenset({"1/4-28"})),)))
    basics = [natural(f.codes[0]) for f in plan.page(0, plan.total)]
    assert basics == sorted(basics)
    assert natural("AN4") < natural("AN10") < natural("MS20995")


def test_a_family_that_does_not_know_an_attribute_is_named_and_not_searched() -> None:
    want = Want("grip_length", low=Fraction(1, 2), high=Fraction(1, 2))
    plan = SEARCHER.plan(Question((want,), kind="bolt"))
    bolts = [f for f in CATALOGUE.families.values() if f.kind == "bolt"]
    silent = {f.id for f in bolts if not any(meets(part(n), Want("grip_length")) for n in f.examples)}
    assert set(plan.left_out.get("grip_length", ())) <= silent
    assert {f.id for f in bolts if "grip_length" not in f.facets.by_attribute} <= set(
        plan.left_out.get("grip_length", ())
    )
    assert not {f.family.id for f in plan.page(0, plan.total)} & set(plan.left_out.get("grip_length", ()))
    strict = SEARCHER.plan(Question((want,), kind="bolt", basis="published"))
    assert set(plan.left_out.get("grip_length", ())) < set(strict.left_out["grip_length"])
    assert strict.total < plan.total


def test_asking_for_a_basic_number_gives_only_numbers_of_it() -> None:
    plan = SEARCHER.plan(Question((), family="AN4"))
    assert {f.codes[0] for f in plan.page(0, plan.total)} == {"AN4"}


@given(want=sizes_wanted(), data=st.data())
@settings(max_examples=30)
def test_a_near_miss_fails_on_the_attribute_named_and_on_no_other(want: Want, data: st.DataObject) -> None:
    other = data.draw(
        st.sampled_from(
            [
                Want("material_group", frozenset({"steel"})),
                Want("thread", frozenset({"1/4-28"})),
                Want("head_drilled", frozenset({"yes"})),
            ]
        )
    )
    for miss in near_misses(SEARCHER, Question((want, other)))[:20]:
        read = part(miss.designation.number)
        failed = [w for w in (want, other) if not meets(read, w)]
        assert failed == [miss.want], miss.designation.number
        value = read.value(miss.want.attribute)
        assert value is not None
        assert value.exact == miss.value.exact


def test_the_nearest_sizes_are_the_near_misses() -> None:
    thread = Want("thread", frozenset({"1/4-28"}))
    grip = Want("grip_length", low=Fraction(7, 16), high=Fraction(1, 2))
    found = near_misses(SEARCHER, Question((thread, grip), family="AN3-AN20"))
    grips = [m for m in found if m.want is grip]
    assert grips
    assert grips[0].by == min(
        grip.distance(p.value("grip_length").number)  # type: ignore[union-attr]
        for p in every_number(CATALOGUE.families["AN3-AN20"])
        if meets(p, thread) and not meets(p, grip)
    )
