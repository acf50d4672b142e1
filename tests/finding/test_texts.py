"""Part numbers in free text.

Outside checks: the envelope "[)>" RS 06 GS ... RS EOT is ISO/IEC 15434's format 06; data identifiers 1P, 1T and Q are ANSI MH10.8.2's (from-memory).
"""

from __future__ import annotations

import time
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.api.desk import Desk
from service.designation.reading import Designation
from service.finding.texts import Mention, TextRead, TextReader, TooMany, Unread
from tests.strategies import codes_of, mangled, real_catalogue


@pytest.fixture(scope="module")
def texts(desk: Desk) -> TextReader:
    return TextReader(desk.catalogue, desk.reader)


def numbers(read: TextRead) -> list[str]:
    return [m.outcome.number if isinstance(m.outcome, Designation) else m.outcome.outcome for m in read.mentions]


def counted(read: TextRead) -> list[tuple[str, int | None]]:
    return list(zip(numbers(read), (m.quantity for m in read.mentions), strict=True))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("AN3-22A,26A,41A", ["AN3-22A", "AN3-26A", "AN3-41A"]),
        ("AN960-416, 416L", ["AN960-416", "AN960-416L"]),
        ("AN960-10, -416, -416L", ["AN960-10", "AN960-416", "AN960-416L"]),
        ("MS24665-132/-134", ["MS24665-132", "MS24665-134"]),
        ("MS20470AD4-4, AD4-5, -6 and AD5-5", ["MS20470AD4-4", "MS20470AD4-5", "MS20470AD4-6", "MS20470AD5-5"]),
        ("AN3-5A/AN3-6A", ["AN3-5A", "AN3-6A"]),
        ("AN3-22A, 28A", ["AN3-22A", "not-made"]),
    ],
)
def test_shorthand_is_written_out_from_the_number_before(texts: TextReader, text: str, found: list[str]) -> None:
    assert numbers(texts.read(text)) == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("AN3-5A 4 ea", [("AN3-5A", 4)]),
        ("AN3-5A x4", [("AN3-5A", 4)]),
        ("AN3-5A (4)", [("AN3-5A", 4)]),
        ("Qty 4 AN3-5A", [("AN3-5A", 4)]),
        ("AN3-5A, qty: 4", [("AN3-5A", 4)]),
        ("4 x AN3-5A 2 x AN960-10", [("AN3-5A", 4), ("AN960-10", 2)]),
        ("4xAN3-5A", [("AN3-5A", 4)]),
        ("4 ea AN3-5A, 2 ea AN960-10", [("AN3-5A", 4), ("AN960-10", 2)]),
        ("AN3-5A 4 ea\nAN960-10 8 ea", [("AN3-5A", 4), ("AN960-10", 8)]),
        ("(4) AN3-5A (2) AN960-10L", [("AN3-5A", 4), ("AN960-10L", 2)]),
        ("AN3-5A (4), -6A (2)", [("AN3-5A", 4), ("AN3-6A", 2)]),
        ("AN3-5A, 10", [("AN3-5A", None)]),
        ("AN3-5A, 8 hours later", [("AN3-5A", None)]),
        ("4 ea AN3-22A, 26A", [("AN3-22A", None), ("AN3-26A", None)]),
    ],
)
def test_a_quantity_counts_only_where_it_is_stated(
    texts: TextReader, text: str, found: list[tuple[str, int | None]]
) -> None:
    assert counted(texts.read(text)) == found


@pytest.mark.parametrize(
    "text",
    [
        "drill for 1/4-28, plate A36, skin 2024-T3, see AC 43.13-1B, aircraft N123AB, 12/05/2024",
        "hang it on an 8 foot rope, an 3-inch hook and an-8 year old",
        "MANAS5 was here; NASTY-3; Ms Smith, 4 ea; in MS 2019",
        "HANG IT ON AN 8 FOOT ROPE; AN 3-INCH HOOK",
        "M4x20 screw, B-17, 10-32 UNF, .063 sheet",
    ],
)
def test_words_sizes_and_dates_are_no_parts(texts: TextReader, text: str) -> None:
    read = texts.read(text)
    assert (read.mentions, read.unread) == ((), ())


def test_what_cannot_be_read_is_said_and_not_guessed(texts: TextReader) -> None:
    read = texts.read("AN4-18A AN9999-3 AN4-12A-X AN470, and AN4-12 A")
    assert numbers(read) == ["not-made", "ambiguous", "ambiguous"]
    assert [u.as_written for u in read.unread] == ["AN9999-3", "AN4-12A-X"]
    assert all(u.reason for u in read.unread)
    assert set(read.mentions[2].outcome.candidates) == {"AN4-12", "AN4-12A"}  # type: ignore[union-attr]


def test_a_figure_that_lost_its_dash_is_left_unread(texts: TextReader) -> None:
    read = texts.read("AN960-10, 416 and -416L")
    assert numbers(read) == ["AN960-10", "AN960-416L"]
    assert [u.as_written for u in read.unread] == ["416"]


LABEL = "[)>\x1e06\x1d1PAN4-12A\x1d1TL-77\x1dQ25\x1d9KPO12\x1e\x04"


def test_a_bar_code_is_split_into_part_lot_and_quantity(texts: TextReader) -> None:
    read = texts.read(f"bag 1 {LABEL} then AN3-5A x2")
    assert counted(read) == [("AN4-12A", 25), ("AN3-5A", 2)]
    assert read.mentions[0].lot == "L-77"
    assert [u.as_written for u in read.unread] == ["9KPO12"]
    bare = texts.read("1PAN365-1032A 1TLOT9 Q100")
    assert (counted(bare), bare.mentions[0].lot) == ([("AN365-1032A", 100)], "LOT9")


def test_a_clubs_parts_list_reads_line_by_line(texts: TextReader) -> None:
    """The list is of an invented club; the counts are what its lines say."""
    text = """Heron Meadow Flying Club, rudder pedal job, 4 March
    4 ea  AN3-22A,
    8 ea  AN960-10L washers, under nut
    MS21044N3 - qty 4
    AN310-3 (2) with MS24665-132 x2
    rivets MS20470AD4-5, AD4-6 as needed
    spare: AN3-5A/-6A, an4-12a
    to check: AN3-8A, MS2O470AD4-4, AN99999-1"""
    read = texts.read(text)
    assert counted(read) == [
        ("AN3-22A", 4), ("AN960-10L", 8), ("MS21044N3", 4), ("AN310-3", 2), ("MS24665-132", 2), ("MS20470AD4-5", None),
        ("MS20470AD4-6", None), ("AN3-5A", None), ("AN3-6A", None), ("AN4-12A", None), ("not-made", None), ("MS20470AD4-4", None),
    ]  # fmt: skip
    assert [u.as_written for u in read.unread] == ["AN99999-1"]


def spans_hold(text: str, read: TextRead) -> None:
    places: list[Mention | Unread] = [*read.mentions, *read.unread]
    assert all(text[p.start : p.end] == p.as_written for p in places)
    ends = sorted((p.start, p.end) for p in places)
    assert all(first[1] <= second[0] for first, second in pairwise(ends))


@given(data=st.data(), family_id=st.sampled_from(sorted(real_catalogue().families)))
def test_a_sentence_around_any_made_number_gives_the_number(
    texts: TextReader, data: st.DataObject, family_id: str
) -> None:
    number = real_catalogue().families[family_id].format(data.draw(codes_of(family_id)))
    text = data.draw(
        st.sampled_from(["We fitted {} today.", "({})", "lot of {}; torqued", "3 ea {}\nand so on", "P/N: {}, new"])
    ).format(number)
    read = texts.read(text)
    spans_hold(text, read)
    assert [m.as_written for m in read.mentions] == [number]
    assert numbers(read) == [number]
    assert read.mentions[0].quantity == (3 if text.startswith("3 ea") else None)


_SCRAPS = st.sampled_from(
    [
        "AN",
        "MS",
        "NAS",
        "-",
        ",",
        "/",
        " x4",
        "(4)",
        "4 ea ",
        "\x1d",
        "\x1e",
        "[)>",
        "06",
        "1P",
        "Q",
        "\n",
        "AN3-5A",
        "26A",
        "416L",
        "\u2013",
        "1T",
    ]
)


@given(st.lists(_SCRAPS | mangled() | st.text(max_size=6), max_size=14).map("".join))
def test_any_text_is_read_without_a_fault_and_spans_are_exact(texts: TextReader, text: str) -> None:
    spans_hold(text, texts.read(text))


@pytest.mark.parametrize(
    "scrap",
    ["AN3-5A x4, 6A, some words ", "AN4-" + "1-" * 30, "[)>\x1e06\x1d", "1P1T Q", "(4) ", "\t ", "AN3-5A,26A,", "A"],
)
def test_work_grows_with_the_length_of_the_text(texts: TextReader, scrap: str) -> None:
    """Eight times the text takes nowhere near sixty-four times as long."""
    spent = []
    for size in (25_000, 200_000):
        text = (scrap * (size // len(scrap) + 1))[:size]
        begin = time.process_time()
        texts.read(text, 10**6)
        spent.append(time.process_time() - begin)
    assert spent[1] < 30 * spent[0] + 0.3


def test_more_numbers_than_asked_for_are_refused(texts: TextReader) -> None:
    with pytest.raises(TooMany):
        texts.read("AN3-5A " * 11, 10)
    assert len(texts.read("AN3-5A " * 10, 10).mentions) == 10
