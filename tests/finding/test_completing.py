"""Half-typed numbers: every way on is one the grammar has, and the way to any number is always shown."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.designation.reader import Reader
from service.designation.reading import Designation
from service.finding.completing import Completer
from tests.strategies import codes_of, real_catalogue

CATALOGUE = real_catalogue()
COMPLETER = Completer(CATALOGUE)
READER = Reader(CATALOGUE)
EXAMPLES = [number for family in CATALOGUE.families.values() for number in family.examples]


def bare(text: str) -> str:
    return text.replace("-", "").replace(" ", "")


def leads(prefix: str, number: str) -> bool:
    """Whether some completion of ``prefix`` is on the way to ``number`` and not behind what was typed."""
    return any(
        number.startswith(item.text) and len(bare(item.text)) >= len(bare(prefix))
        for item in COMPLETER.complete(prefix)
    )


def test_every_prefix_of_every_example_completes_towards_it() -> None:
    lost = []
    for example in EXAMPLES:
        found = READER.read(example)
        assert isinstance(found, Designation)
        number = found.number
        lost += [(number[:end], number) for end in range(1, len(number) + 1) if not leads(number[:end], number)]
    assert lost == []


@given(number=st.sampled_from(EXAMPLES), data=st.data())
def test_case_spaces_and_missing_dashes_do_not_matter(number: str, data: st.DataObject) -> None:
    found = READER.read(number)
    assert isinstance(found, Designation)
    number = found.number
    prefix = number[: data.draw(st.integers(2, len(number)))]
    assert leads(prefix.lower(), number)
    assert leads(prefix.replace("-", " "), number)
    assert leads(bare(prefix), number)


@given(family_id=st.sampled_from(["AN3-AN20", "AN365", "NAS1149", "MS24665", "NAS1351"]), data=st.data())
def test_what_is_called_complete_is_a_number_that_is_made(family_id: str, data: st.DataObject) -> None:
    number = CATALOGUE.families[family_id].format(data.draw(codes_of(family_id)))
    for item in COMPLETER.complete(number[: data.draw(st.integers(3, len(number)))])[:200]:
        found = READER.read(item.text)
        if item.complete:
            assert isinstance(found, Designation)
            assert found.number == item.text
            assert found.family.id == item.family.id
        else:
            assert item.open, f"{item.text} is no number and goes nowhere"


@pytest.mark.parametrize("number", ["AN4-12A", "MS24665-132", "AN960-416"])
def test_a_whole_number_is_its_own_completion(number: str) -> None:
    item = next(i for i in COMPLETER.complete(number) if i.text == number)
    assert item.complete


def test_basic_numbers_come_before_pieces() -> None:
    slots = [item.slot for item in COMPLETER.complete("AN4")]
    assert "basic" in slots
    assert set(slots) != {"basic"}
    heads = [slot == "basic" for slot in slots]
    assert heads == sorted(heads, reverse=True)


def test_a_piece_says_what_it_means() -> None:
    family = CATALOGUE.families["AN3-AN20"]
    item = next(i for i in COMPLETER.complete("AN4-12") if i.text == "AN4-12A")
    spec = next(spec for spec in family.slots if spec.name == item.slot)
    assert (item.caption, item.meaning) == (spec.caption, spec.codes["A"].meaning)


@pytest.mark.parametrize("text", ["XYZ", "AN4-18", "?", "-", "AN" * 40, "AN4-12AAAA"])
def test_what_begins_no_number_has_no_completion(text: str) -> None:
    assert COMPLETER.complete(text) == []


@given(text=st.text(max_size=45))
def test_no_text_breaks_it(text: str) -> None:
    for item in COMPLETER.complete(text)[:5]:
        assert item.text


def test_a_completion_takes_less_than_five_milliseconds() -> None:
    slow = []
    for prefix in ("A", "N", "MS", "AN3", "AN4-1", "an41", "NAS1149F", "NAS1351-3", "MS51848-1"):
        COMPLETER.complete(prefix)
        best = min(_seconds(prefix) for _ in range(5))
        if best > 0.005:
            slow.append((prefix, best))
    assert slow == []


def _seconds(prefix: str) -> float:
    begin = time.perf_counter()
    COMPLETER.complete(prefix)
    return time.perf_counter() - begin
