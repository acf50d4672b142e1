"""Properties that hold for every family in the tables, whatever families those are."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.catalogue.family import FamilySpec
from service.designation.reader import Reader
from service.designation.reading import Designation, Refusal
from tests.strategies import codes_of, mangled, real_catalogue

FAMILIES = list(real_catalogue().families)
READER = Reader(real_catalogue())
#: numbers tried per family when looking for two that are written alike
SAMPLE = 1500


@pytest.mark.parametrize("family_id", FAMILIES)
@settings(max_examples=12)
@given(data=st.data())
def test_a_number_that_can_be_made_decodes_to_its_own_pieces(family_id: str, data: st.DataObject) -> None:
    family = real_catalogue().families[family_id]
    codes = data.draw(codes_of(family.id))
    number = family.format(codes)
    found = READER.read(number)
    assert isinstance(found, Designation), f"{number}: {found}"
    assert (found.number, found.family.id, found.spelling) == (number, family_id, "exact")
    assert family.format(found.codes) == number
    assert found.codes == codes, f"{number} is made from two sets of pieces"


@pytest.mark.parametrize("family_id", FAMILIES)
@settings(max_examples=4)
@given(data=st.data())
def test_lower_case_and_spaces_lead_to_the_same_number(family_id: str, data: st.DataObject) -> None:
    family = real_catalogue().families[family_id]
    number = family.format(data.draw(codes_of(family.id)))
    found = READER.read(f" {number.lower().replace('-', ' - ')} ")
    assert isinstance(found, Designation)
    assert (found.number, found.spelling) == (number, "reformatted")


@settings(max_examples=300)
@given(data=st.data())
def test_every_attribute_of_a_number_has_a_row_or_a_reason(data: st.DataObject) -> None:
    family = real_catalogue().families[data.draw(st.sampled_from(FAMILIES))]
    codes = data.draw(codes_of(family.id))
    for facet in family.facets.all:
        for name, value in family.facets.values(facet, codes).items():
            assert value.attribute == name
            if value.exact is None:
                assert value.reason
            else:
                assert value.citation is not None
                assert value.citation.row
                assert value.citation.source in real_catalogue().sources


def test_no_two_numbers_share_a_canonical_form() -> None:
    seen: dict[str, tuple[str, tuple[str, ...]]] = {}
    drawn = random.Random(20)
    for family in real_catalogue().families.values():
        for codes in _spread(family, drawn):
            number = family.format(codes)
            assert seen.setdefault(number, (family.id, codes)) == (family.id, codes), (
                f"{number}: {seen[number]} and {family.id} {codes}"
            )
    assert len(seen) > 50_000


def _spread(family: FamilySpec, drawn: random.Random) -> list[tuple[str, ...]]:
    """Up to SAMPLE made numbers, spread over the whole family rather than taken from its beginning."""
    total = 1
    for spec in family.slots:
        total *= len(spec.codes)
    places = range(total) if total <= SAMPLE else drawn.sample(range(total), SAMPLE)
    found = []
    for place in places:
        codes = []
        for spec in family.slots:
            place, index = divmod(place, len(spec.codes))
            codes.append(list(spec.codes)[index])
        if family.not_made(codes) is None:
            found.append(tuple(codes))
    return found


def test_every_basic_number_belongs_to_one_family() -> None:
    basics = [basic for family in real_catalogue().families.values() for basic in family.basics]
    assert len(basics) == len(set(basics))


@settings(max_examples=400)
@given(st.text(max_size=60))
def test_no_text_makes_the_reader_fail(text: str) -> None:
    found = READER.read(text)
    assert isinstance(found, Designation | Refusal)


@settings(max_examples=400)
@given(st.text(alphabet="ANMS0123456789-OILSBHCDX /._", max_size=20))
def test_no_text_like_a_number_makes_the_reader_fail(text: str) -> None:
    found = READER.read(text)
    if isinstance(found, Designation):
        assert READER.read(found.number).asked == found.number


@settings(max_examples=500)
@given(mangled())
def test_a_damaged_number_is_read_canonically_or_refused_with_words(text: str) -> None:
    found = READER.read(text)
    if isinstance(found, Designation):
        assert found.family.format(found.codes) == found.number
        assert found.family.not_made(found.codes) is None
        assert (found.spelling == "exact") == (found.number == text)
        assert bool(found.corrections) == (found.spelling != "exact")
    else:
        assert found.title
        assert found.detail
        assert (found.outcome == "ambiguous") == bool(found.candidates)
