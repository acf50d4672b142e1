"""A part: its pieces chalked up, its words, its attributes by the caller's basis, what would mislead."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from service.designation.reader import Reader
from service.designation.reading import Designation
from service.parts.part import Part, clauses
from service.tables.rows import TRUST
from tests.strategies import codes_of, real_catalogue

Named = Callable[..., Part]
READER = Reader(real_catalogue())


def test_every_piece_is_chalked_up_with_its_row(part: Named) -> None:
    segments = part("AN4H12A").segments
    assert [(s.slot, s.text) for s in segments] == [
        ("basic", "AN4"),
        ("material", ""),
        ("head", "H"),
        ("length", "12"),
        ("shank", "A"),
    ]
    assert all(s.meaning and s.caption and s.citation.row for s in segments)


def test_an_absent_piece_says_what_its_absence_means(part: Named) -> None:
    material = next(s for s in part("AN4-12A").segments if s.slot == "material")
    assert material.text == ""
    assert "steel" in material.meaning


def test_the_description_is_one_line_of_plain_words(part: Named) -> None:
    said = part("AN4H12").description
    for words in (
        "hexagon-head bolt",
        "1/4-28 thread",
        "grip 13/16 in",
        "head drilled for lockwire",
        "shank drilled for a cotter pin",
    ):
        assert words in said
    assert "{" not in said
    assert "\n" not in said


def test_a_clause_falls_away_when_its_attribute_is_absent(part: Named) -> None:
    assert "cadmium" in part("AN4-12A").description
    stainless = part("AN4C12A")
    value = stainless.value("finish")
    assert value is None or value.exact is None
    assert "cadmium" not in stainless.description
    assert "; ;" not in stainless.description


def test_a_stricter_basis_takes_words_out_of_the_description(part: Named) -> None:
    assert "grip" in part("AN4-12A").description
    assert "grip" not in part("AN4-12A", basis="published").description


def test_a_value_below_the_basis_is_absent_with_the_reason(part: Named) -> None:
    value = part("AN4-12A", basis="published").value("shank_diameter")
    assert value is not None
    assert value.exact is None
    assert "published" in value.reason


def test_the_dash_is_never_the_grip(part: Named) -> None:
    bolt = part("AN4-12A")
    nominal, grip = bolt.value("nominal_length"), bolt.value("grip_length")
    assert nominal is not None
    assert grip is not None
    assert (nominal.exact, grip.exact) == (Fraction(5, 4), Fraction(13, 16))


def test_cautions_defer_to_the_approved_data(part: Named) -> None:
    for number in ("AN4-12A", "AN365-1032A", "AN960-416", "MS35333-40", "MS24665-132", "MS20995C32"):
        cautions = part(number).cautions
        assert cautions, number
        assert all(c.citation.row for c in cautions)


def test_a_description_template_is_taken_apart_once() -> None:
    assert clauses("bolt; {thread} thread; {a} by {b}") == (
        (("bolt",), ()),
        (("", " thread"), ("thread",)),
        (("", " by ", ""), ("a", "b")),
    )


@settings(max_examples=200)
@given(st.data())
def test_at_any_basis_a_part_shows_nothing_weaker(data: st.DataObject) -> None:
    family = real_catalogue().families[data.draw(st.sampled_from(list(real_catalogue().families)))]
    codes = data.draw(codes_of(family.id))
    number = family.format(codes)
    basis = data.draw(st.sampled_from(list(TRUST)))
    found = Part(Designation(number, family, codes, number), basis)
    everything = Part(Designation(number, family, codes, number))
    assert found.attributes.keys() == everything.attributes.keys()
    for value in found.attributes.values():
        if value.exact is not None:
            assert value.citation is not None
            assert TRUST[value.citation.basis] <= TRUST[basis]
        else:
            assert value.reason


def test_a_description_is_never_empty_whatever_the_basis() -> None:
    for family in real_catalogue().families.values():
        found = Designation(family.examples[0], family, _codes(family.examples[0]), family.examples[0])
        for basis in TRUST:
            assert Part(found, basis).description, f"{found.number} at {basis}"


def _codes(number: str) -> tuple[str, ...]:
    found = READER.read(number)
    assert isinstance(found, Designation)
    return found.codes
