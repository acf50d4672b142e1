"""Numbers as people write them: what is read, what is mended, what is refused and how the refusal teaches."""

from __future__ import annotations

import pytest

from service.designation.reader import Reader
from service.designation.reading import Designation, Refusal
from service.designation.spelling import LONGEST, lookalikes, tidy


def read(reader: Reader, text: str) -> Designation:
    found = reader.read(text)
    assert isinstance(found, Designation), f"{text!r}: {found}"
    return found


def refuse(reader: Reader, text: str) -> Refusal:
    found = reader.read(text)
    assert isinstance(found, Refusal), f"{text!r} was read as {found.number}"
    return found


@pytest.mark.parametrize(
    "number",
    [
        "AN4-12A",
        "AN4C12",
        "AN4DD12A",
        "AN4H12A",
        "AN365-1032A",
        "MS21044N3",
        "AN960-416L",
        "NAS1149F0363P",
        "MS20995C32",
        "MS24665-132",
    ],
)
def test_a_canonical_number_is_exact_and_uncorrected(reader: Reader, number: str) -> None:
    found = read(reader, number)
    assert (found.number, found.spelling, found.corrections) == (number, "exact", ())


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("an4-12a", "AN4-12A"),
        ("An4-12a", "AN4-12A"),
        ("AN4 12A", "AN4-12A"),
        ("  AN4-12A\n", "AN4-12A"),
        ("AN4 - 12A", "AN4-12A"),
        ("AN 4-12A", "AN4-12A"),
        ("AN-4-12A", "AN4-12A"),
        ("AN4--12A", "AN4-12A"),
        ("AN4_12A", "AN4-12A"),
        ("AN4\u201312A", "AN4-12A"),
        ("AN4\u221212A", "AN4-12A"),
        ('"AN4-12A",', "AN4-12A"),
        ("P/N AN4-12A", "AN4-12A"),
        ("part no. AN4-12A", "AN4-12A"),
        ("AN412A", "AN4-12A"),
        ("AN4-12-A", "AN4-12A"),
        ("AN4A12", "AN4-12A"),
        ("AN4-H12A", "AN4H12A"),
        ("AN4-12AH", "AN4H12A"),
        ("AN4-DD-12A", "AN4DD12A"),
        ("AN3651032A", "AN365-1032A"),
        ("AN365-10-32A", "AN365-1032A"),
        ("an365 1032a", "AN365-1032A"),
        ("AN960L416", "AN960-416L"),
        ("AN960416L", "AN960-416L"),
        ("AN960-C416L", "AN960C416L"),
        ("MS210423", "MS21042-3"),
        ("MS 21044-N3", "MS21044N3"),
        ("MS20995-C32", "MS20995C32"),
    ],
)
def test_another_way_of_writing_is_reformatted_and_says_so(reader: Reader, typed: str, number: str) -> None:
    found = read(reader, typed)
    assert (found.number, found.spelling, found.asked) == (number, "reformatted", typed)
    assert found.corrections


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("NASM21042-3", "MS21042-3"),
        ("NASM20365-1032A", "MS20365-1032A"),
        ("nasm 21044 n3", "MS21044N3"),
        ("NASM24665-132", "MS24665-132"),
    ],
)
def test_a_renumbered_document_leaves_the_part_its_number(reader: Reader, typed: str, number: str) -> None:
    found = read(reader, typed)
    assert found.number == number
    assert found.spelling == "reformatted"
    assert "renumbered" in found.corrections[0].reason


@pytest.mark.parametrize(
    ("typed", "number", "found", "read_as"),
    [
        ("AN4-I2A", "AN4-12A", "I", "1"),
        ("AN4-3OA", "AN4-30A", "O", "0"),
        ("AN5-1S", "AN5-15", "S", "5"),
        ("AN96O-416", "AN960-416", "O", "0"),
        ("AN960-4I6", "AN960-416", "I", "1"),
        ("AN36S-1032A", "AN365-1032A", "S", "5"),
        ("MS2I042-3", "MS21042-3", "I", "1"),
        ("M521042-3", "MS21042-3", "5", "S"),
        ("NAS1149FO363P", "NAS1149F0363P", "O", "0"),
        ("MS2O365-1032A", "MS20365-1032A", "O", "0"),
    ],
)
def test_a_look_alike_is_corrected_and_marked(
    reader: Reader, typed: str, number: str, found: str, read_as: str
) -> None:
    outcome = read(reader, typed)
    assert (outcome.number, outcome.spelling) == (number, "corrected")
    assert [(c.found, c.read) for c in outcome.corrections] == [(found, read_as)]


@pytest.mark.parametrize(
    ("typed", "looks_like"), [("AN428-5", "AN42B-5"), ("NAS6204-L3D", "NAS6204-13D"), ("NAS6404-L4", "NAS6404-14")]
)
def test_a_moved_piece_and_a_look_alike_that_both_read_are_ambiguous(
    reader: Reader, typed: str, looks_like: str
) -> None:
    """A letter or dash in another place is one reading, an exchanged character another: nobody but the asker knows."""
    found = refuse(reader, typed)
    assert found.outcome == "ambiguous"
    assert looks_like in found.candidates


def test_a_basic_number_that_may_be_another_number_without_its_dash_is_ambiguous(reader: Reader) -> None:
    found = refuse(reader, "AN310")
    assert found.outcome == "ambiguous"
    assert "AN3-10" in found.candidates
    assert any(candidate.startswith("AN310") for candidate in found.candidates)


def test_every_ambiguous_candidate_can_itself_be_read(reader: Reader) -> None:
    for typed in ("AN310", "AN320"):
        for candidate in refuse(reader, typed).candidates:
            assert read(reader, candidate).spelling == "exact"


@pytest.mark.parametrize(
    ("typed", "neighbours"),
    [("AN4-18A", ("AN4-17A", "AN4-20A")), ("AN4-8A", ("AN4-7A", "AN4-10A")), ("AN4-9", ("AN4-7", "AN4-10"))],
)
def test_eighths_run_from_0_to_7_and_the_neighbours_are_named(
    reader: Reader, typed: str, neighbours: tuple[str, ...]
) -> None:
    found = refuse(reader, typed)
    assert found.outcome == "not-made"
    assert found.family == "AN3-AN20"
    assert found.neighbours == neighbours
    assert found.piece is not None
    assert (found.piece.slot, found.piece.text) == ("length", typed[4:].rstrip("A"))
    assert typed[found.piece.start :].startswith(found.piece.text)
    assert "0 to 7" in found.piece.expected
    assert found.citation is not None


def test_a_combination_that_is_not_made_gives_its_reason_and_row(reader: Reader) -> None:
    found = refuse(reader, "AN6-3A")
    assert found.outcome == "not-made"
    assert "grip" in found.detail
    assert found.neighbours[0] == "AN6-5A"
    assert found.citation is not None
    assert found.citation.row.startswith("bolts.made.")


def test_every_neighbour_offered_exists(reader: Reader) -> None:
    for typed in ("AN4-18A", "AN4-127A", "AN6-3", "NAS1149D0416J", "AN4-12Z", "AN4"):
        for number in refuse(reader, typed).neighbours:
            assert read(reader, number).spelling == "exact"


@pytest.mark.parametrize("typed", ["AN99999-3", "XYZ123-4", "MS9364-17", "QQ30-4", "NASM99999-3"])
def test_a_family_not_held_is_not_covered_and_nothing_is_guessed(reader: Reader, typed: str) -> None:
    found = refuse(reader, typed)
    assert found.outcome == "not-covered"
    assert found.family is None
    assert not found.candidates


@pytest.mark.parametrize(
    ("typed", "slot", "text"), [("AN4X12", "length", "X12"), ("AN500-4", "size", "4"), ("NAS1149F363P", "size", "363P")]
)
def test_the_piece_that_fails_is_named_with_what_was_expected_there(
    reader: Reader, typed: str, slot: str, text: str
) -> None:
    found = refuse(reader, typed)
    assert found.outcome == "unreadable"
    assert found.piece is not None
    assert (found.piece.slot, found.piece.text) == (slot, text)
    assert found.piece.expected
    assert typed[found.piece.start :] == text


def test_a_surplus_tail_is_named(reader: Reader) -> None:
    found = refuse(reader, "AN4-12Z")
    assert found.piece is not None
    assert (found.piece.text, found.piece.slot) == ("Z", "")


@pytest.mark.parametrize("typed", ["AN4", "AN4-", "NAS6203"])
def test_a_number_that_stops_too_early_is_incomplete(reader: Reader, typed: str) -> None:
    found = refuse(reader, typed)
    assert (found.outcome, found.title) == ("unreadable", "The number is incomplete")
    assert found.piece is not None
    assert found.piece.text == ""


@pytest.mark.parametrize("typed", ["", "   ", "-", "hello", "AN", "1/4-28", "\x00", "🔩"])
def test_text_that_is_no_part_number_is_unreadable(reader: Reader, typed: str) -> None:
    assert refuse(reader, typed).outcome == "unreadable"


def test_text_longer_than_any_number_is_refused_unread(reader: Reader) -> None:
    found = refuse(reader, "AN4-12A" + "X" * 10_000)
    assert found.outcome == "unreadable"
    assert len(found.asked) <= LONGEST


def test_the_same_letter_means_what_its_own_family_says(reader: Reader) -> None:
    def said(number: str, slot: str) -> str:
        found = read(reader, number)
        place = next(i for i, spec in enumerate(found.family.slots) if spec.name == slot)
        return found.family.slots[place].codes[found.codes[place]].meaning

    assert "drilled" in said("AN4-12A", "shank")
    assert "insert" in said("AN365-1032A", "locking")


def test_tidying_is_done_once(reader: Reader) -> None:
    for text in ("an4 12a", "P/N: AN 4 - 12 A", "ms-21042–3"):
        assert tidy(tidy(text)) == tidy(text)


def test_look_alikes_come_fewest_changes_first_and_bounded() -> None:
    counts = [count for count, _, _ in lookalikes("AN0158OISB0158OISB")]
    assert counts == sorted(counts)
    assert len(counts) <= 400


@pytest.mark.parametrize("typed", ["AN365-1032AC", "AN365-1032CA", "an365 1032ac"])
def test_a_letter_with_a_meaning_in_two_places_is_not_moved(reader: Reader, typed: str) -> None:
    """C before the size is the material, behind it the locking kind: nobody but the asker knows which is meant."""
    refusal = refuse(reader, typed)
    assert refusal.outcome == "ambiguous"
    assert {"AN365C1032A", "AN365-1032C"} == set(refusal.candidates)
