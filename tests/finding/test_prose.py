"""Prose and labels: what is a part number in them, what only looks like one, and that nothing is invented."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.designation.reader import Reader
from service.designation.reading import Designation
from service.finding.texts import TextRead, TextReader
from tests.strategies import mangled, real_catalogue

READER = Reader(real_catalogue())
TEXTS = TextReader(real_catalogue(), READER)
MOST = 1000


def read(text: str) -> TextRead:
    return TEXTS.read(text, MOST)


def numbers(text: str) -> list[str]:
    return [m.outcome.number for m in read(text).mentions if isinstance(m.outcome, Designation)]


@pytest.mark.parametrize(
    "text",
    [
        "replaced an 8-12 volt lamp",
        "REPLACED AN 8-12 VOLT LAMP",
        "FIT AN 3-5 AMP FUSE",
        "AN 18-24 VOLT SUPPLY",
        "AN 8 INCH HOSE",
        "checked on 2019-10-12 and 12/05/2024, 1234.5 hours",
        "thread 1/4-28 UNF, hole 17/64, torque 50-70 in-lb",
        "per AC 43.13-1B 7-64 and 2024-T3 sheet",
        "N123AN4 and the plans 4-12A of HANS 3-5",
    ],
)
def test_words_dates_and_sizes_are_no_part_numbers(text: str) -> None:
    assert numbers(text) == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("AN3-10, 12 May 2019", ["AN3-10"]),
        ("AN3-10, 12 bolts in all", ["AN3-10"]),
        ("AN4-12, 8 hours later", ["AN4-12"]),
        ("AN3-5A, 4 pcs", ["AN3-5A"]),
        ("AN3-10, 12 and 14", ["AN3-10", "AN3-12", "AN3-14"]),
        ("AN3-22A,26A,41A", ["AN3-22A", "AN3-26A", "AN3-41A"]),
        ("AN960-416, 416L", ["AN960-416", "AN960-416L"]),
        ("AN960-10, -416, -416L", ["AN960-10", "AN960-416", "AN960-416L"]),
    ],
)
def test_a_list_is_written_out_and_a_count_behind_it_is_not(text: str, expected: list[str]) -> None:
    assert numbers(text) == expected


def test_a_count_is_not_read_as_the_missing_size() -> None:
    (nut,) = read("AN310 4 ea").mentions
    assert not isinstance(nut.outcome, Designation)
    assert nut.outcome.outcome == "ambiguous"
    assert (nut.as_written, nut.quantity) == ("AN310", 4)


@pytest.mark.parametrize("text", ["an365 1032a", "AN365 1032A", "AN 365-1032A", "an365-1032a"])
def test_a_number_in_two_words_or_small_letters_is_one(text: str) -> None:
    assert numbers(text) == ["AN365-1032A"]


def test_an_envelope_is_taken_apart_and_what_it_holds_besides_is_left_unread() -> None:
    """ISO/IEC 15434 format 06 envelope; data identifiers 1P, 1T and Q of ANSI MH10.8.2, from-memory."""
    text = "bag [)>\x1e06\x1d1PMS21042-4\x1d1TLOT77A\x1dQ25\x1d9KPO12\x1e\x04 end"
    found = read(text)
    (part,) = found.mentions
    assert isinstance(part.outcome, Designation)
    assert (part.outcome.number, part.lot, part.quantity) == ("MS21042-4", "LOT77A", 25)
    assert text[part.start : part.end] == "MS21042-4"
    assert [text[u.start : u.end] for u in found.unread] == ["9KPO12"]


@pytest.mark.parametrize("text", ["AN 4-12A x 4", "an4-12a x 4", "AN4-12A 4 ea", "4 each AN 4-12A", "AN4-12A (4)", "qty: 4 AN4-12A"])
def test_a_stated_quantity_goes_with_its_number(text: str) -> None:
    (bolt,) = read(text).mentions
    assert (numbers(text), bolt.quantity) == (["AN4-12A"], 4)


def test_what_is_ambiguous_lists_its_readings() -> None:
    (found,) = read("nut AN365-1032AC").mentions
    assert not isinstance(found.outcome, Designation)
    assert set(found.outcome.candidates) == {"AN365C1032A", "AN365-1032C"}


PIECES = st.lists(
    st.one_of(
        mangled(),
        st.sampled_from(["4 ea ", "(4)", ", ", "-416L", "26A", " x2 ", "Qty 3 ", "\n", "[)>\x1e06\x1d", "1P", "1TL9", "\x1d", "\x1e\x04", "AN", "MS 2"]),
        st.text(max_size=8),
    ),
    max_size=12,
).map("".join)  # fmt: skip


@given(text=PIECES)
def test_spans_are_exact_in_order_and_never_overlap(text: str) -> None:
    found = read(text)
    last = 0
    for one in sorted([*found.mentions, *found.unread], key=lambda place: (place.start, place.end)):
        assert text[one.start : one.end] == one.as_written
        assert last <= one.start < one.end <= len(text)
        last = one.end
    for payload in found.payloads:
        for element in payload.elements:
            assert text[element.start : element.end] == element.value


@given(text=PIECES)
def test_no_number_is_given_that_the_reader_does_not_give(text: str) -> None:
    for mention in read(text).mentions:
        if isinstance(mention.outcome, Designation):
            again = READER.read(mention.read_as)
            assert isinstance(again, Designation)
            assert again.number == mention.outcome.number
