"""What may stand for what: by rows, in their direction, worth no more than the weakest."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.desk import Desk
from service.designation.reading import Designation
from service.equivalence.comparing import Comparison, side_by_side
from service.equivalence.relating import RELATIONS, Relative
from service.parts.part import Part
from service.settings import Settings
from service.tables.rows import TRUST, Pair
from tests.strategies import codes_of, real_catalogue

Relatives = Callable[..., dict[str, Relative]]


@pytest.fixture
def relatives(desk: Desk) -> Relatives:
    def found(number: str, basis: str = "from-memory") -> dict[str, Relative]:
        return {r.part.number: r for r in desk.relations.of(desk.part(number, basis))}

    return found


@pytest.fixture
def compare(desk: Desk) -> Callable[[str, str], dict[str, Comparison]]:
    def found(first: str, second: str) -> dict[str, Comparison]:
        rows = side_by_side(
            desk.part(first, "from-memory"), desk.part(second, "from-memory"), desk.catalogue.attributes
        )
        return {row.attribute: row for row in rows}

    return found


def test_an_insert_nut_is_carried_hop_by_hop_by_rows(relatives: Relatives) -> None:
    """AN365-1032A to MS20365-1032A to MS21044N3: every step is a row, and each end is reached from the one before."""
    first = relatives("AN365-1032A")
    assert first["MS20365-1032A"].relation == "same standard renumbered"
    assert first["MS21044N3"].relation == "superseded by"
    second = relatives("MS20365-1032A")["MS21044N3"]
    assert second.relation == "superseded by"
    for relative in (first["MS20365-1032A"], first["MS21044N3"], second):
        assert all(hop.citation.row for hop in relative.hops)
        assert relative.hops[-1].to_number == relative.part.number


def test_a_chain_of_hops_is_joined_end_to_end(desk: Desk) -> None:
    for number in ("AN365-1032A", "AN4-12A", "AN960-416", "MS20470D4-5"):
        for relative in desk.relations.of(desk.part(number, "from-memory")):
            ends = [number, *(hop.to_number for hop in relative.hops)]
            assert [hop.from_number for hop in relative.hops] == ends[:-1]
            assert ends[-1] == relative.part.number


def test_a_renumbering_holds_both_ways_and_a_supersession_one_way_only(relatives: Relatives) -> None:
    assert relatives("MS20365-1032A")["AN365-1032A"].relation == "same standard renumbered"
    assert "AN365-1032A" not in relatives("MS21044N3")
    assert "AN960-416" not in relatives("NAS1149F0463P")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("AN960-416", "NAS1149F0463P"),
        ("AN960-416L", "NAS1149F0432P"),
        ("AN960-10", "NAS1149F0363P"),
        ("AN960-10L", "NAS1149F0332P"),
        ("AN960C416L", "NAS1149C0432R"),
        ("AN960PD416", "NAS1149D0463K"),
        ("AN380-2-2", "MS24665-132"),
    ],
)
def test_printed_pairs_are_superseded_row_by_row(relatives: Relatives, old: str, new: str) -> None:
    found = relatives(old)[new]
    assert found.relation == "superseded by"
    assert found.hops[0].citation.row.startswith(("washers.pair.", "pins.pair.", "compatibility."))


def test_every_pair_is_followed_in_the_direction_its_row_says(desk: Desk, relatives: Relatives) -> None:
    for pair in desk.catalogue.package.of(Pair):
        assert pair.to_number in relatives(pair.from_number), pair.row
        if pair.direction == "both":
            assert pair.from_number in relatives(pair.to_number), pair.row


def test_an_aluminium_washer_is_never_carried_to_a_steel_one(desk: Desk) -> None:
    for number in ("AN960PD416", "AN960C416", "AN960-416", "AN960B416"):
        part = desk.part(number, "from-memory")
        metal = part.value("material_group")
        for relative in desk.relations.of(part):
            theirs = relative.part.value("material_group")
            if relative.relation != "not equivalent":
                assert metal is not None
                assert theirs is not None
                assert theirs.exact == metal.exact, f"{number} to {relative.part.number}"


def test_superseded_is_never_presented_as_interchangeable(desk: Desk) -> None:
    assert not [r for r in RELATIONS if "interchangeable" in r]
    for relation in ("superseded by", "not equivalent"):
        assert RELATIONS.index(relation) > RELATIONS.index("same standard renumbered")
    for number in ("AN365-1032A", "AN960-416", "AN364-1032A"):
        for relative in desk.relations.of(desk.part(number, "from-memory")):
            if any(hop.relation == "superseded by" for hop in relative.hops):
                assert relative.relation != "same standard renumbered"


@pytest.mark.parametrize(
    ("number", "other"),
    [
        ("AN365-1032A", "AN364-1032A"),
        ("AN365-720C", "MS21044C7"),
        ("AN960-416", "AN970-4"),
        ("MS20470AD4-5", "MS20470A4-5"),
        ("AN4-12A", "AN24-20A"),
    ],
)
def test_a_row_that_says_not_equivalent_is_told(relatives: Relatives, number: str, other: str) -> None:
    found = relatives(number)[other]
    assert found.relation == "not equivalent"
    assert found.hops[-1].relation == "not equivalent"


def test_no_road_leads_on_through_what_is_not_equivalent(desk: Desk) -> None:
    for number in ("AN365-1032A", "AN4-12A", "AN960-416", "MS20470DD4-5", "AN509-10R10"):
        for relative in desk.relations.of(desk.part(number, "from-memory")):
            assert "not equivalent" not in [hop.relation for hop in relative.hops[:-1]]


def test_a_stricter_basis_follows_no_weaker_row(desk: Desk, relatives: Relatives) -> None:
    assert "MS21044N3" in relatives("AN365-1032A")
    for relative in relatives("AN365-1032A", "secondary").values():
        assert TRUST[relative.basis] <= TRUST["secondary"]


def test_nothing_relates_two_numbers_that_no_row_relates(desk: Desk) -> None:
    assert desk.relations.between(desk.part("AN4-12A", "from-memory"), desk.part("AN960-416", "from-memory")) == []


def test_a_part_is_no_relative_of_its_own(relatives: Relatives) -> None:
    for number in ("AN365-1032A", "MS20470D4-5"):
        assert number not in relatives(number)


def test_side_by_side_gives_each_attribute_and_the_difference(
    compare: Callable[[str, str], dict[str, Comparison]],
) -> None:
    rows = compare("AN960-416", "AN960-416L")
    thickness = rows["thickness"]
    assert (thickness.sameness, thickness.difference) == ("different", Fraction("0.032") - Fraction("0.063"))
    assert rows["inside_diameter"].sameness == "same"
    assert rows["inside_diameter"].difference == 0
    assert rows["thickness_form"].sameness == "different"
    assert rows["thickness_form"].difference is None


def test_an_attribute_only_one_side_has_is_unknown_and_never_the_same(
    compare: Callable[[str, str], dict[str, Comparison]],
) -> None:
    rows = compare("AN4-12A", "NAS6204-13")
    assert rows["head_height"].sameness == "unknown"
    assert rows["nominal_length"].second is None
    assert rows["nominal_length"].sameness == "unknown"
    assert rows["tensile_strength"].difference == 35000


def test_equal_figures_with_other_tolerances_are_not_the_same(
    compare: Callable[[str, str], dict[str, Comparison]],
) -> None:
    for row in (*compare("AN4-12A", "NAS6204-13").values(), *compare("AN960-416", "NAS1149F0463P").values()):
        if row.sameness == "same" and row.first and row.second:
            assert (row.first.exact, row.first.plus, row.first.minus, row.first.limit) == (
                row.second.exact, row.second.plus, row.second.minus, row.second.limit,
            )  # fmt: skip


_DESK = Desk.over(real_catalogue(), Settings())


@settings(max_examples=150)
@given(st.data())
def test_whatever_the_rows_lead_to_reads_and_is_worth_its_weakest_hop(data: st.DataObject) -> None:
    sources = sorted({row.from_family for row in real_catalogue().equivalences})
    family = real_catalogue().families[data.draw(st.sampled_from(sources))]
    codes = data.draw(codes_of(family.id))
    number = family.format(codes)
    for relative in _DESK.relations.of(Part(Designation(number, family, codes, number))):
        found = _DESK.reader.read(relative.part.number)
        assert isinstance(found, Designation)
        assert found.spelling == "exact"
        assert RELATIONS.index(relative.relation) == max(RELATIONS.index(hop.relation) for hop in relative.hops)
        assert TRUST[relative.basis] == max(TRUST[hop.citation.basis] for hop in relative.hops)
