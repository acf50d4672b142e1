"""The pieces of a number: domains, eighths of an inch, and the canonical joint."""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.catalogue.catalogue import Catalogue
from service.catalogue.slots import slot_spec
from service.tables.rows import Slot


def number_slot(reading: str, domain: str, width: str = "") -> Slot:
    return Slot(
        row="t.s", family="T", position="1", slot="length", joint="dash", reading=reading, code_set="", domain=domain, width=width, caption="length",
        source_id="s", locator="", basis="derived", note="",
    )  # fmt: skip


def test_a_domain_has_runs_steps_and_padding() -> None:
    assert list(slot_spec(number_slot("count", "1..3 6..10/2"), []).codes) == ["1", "2", "3", "6", "8", "10"]
    assert list(slot_spec(number_slot("count", "2..3/0.5"), []).codes) == ["2", "2.5", "3"]
    assert list(slot_spec(number_slot("count", "8..11", "3"), []).codes) == ["008", "009", "010", "011"]


@pytest.mark.parametrize("domain", ["", "5..3", "1..9/0"])
def test_a_domain_that_is_none_is_refused(domain: str) -> None:
    with pytest.raises(ValueError, match=r"domain|low\.\.high"):
        slot_spec(number_slot("count", domain), [])


def test_eighths_count_inches_in_the_tens_and_never_end_in_8_or_9() -> None:
    spec = slot_spec(number_slot("inches-eighths", "3..42"), [])
    assert not [code for code in spec.codes if code[-1] in "89"]
    assert {c: spec.codes[c].number for c in ("3", "10", "12", "42")} == {
        "3": Fraction(3, 8), "10": Fraction(1), "12": Fraction(5, 4), "42": Fraction(17, 4),
    }  # fmt: skip
    assert "1 in and 2/8 in = 1 1/4 in" in spec.codes["12"].meaning


def test_the_dash_stands_only_where_two_digits_would_meet(catalogue: Catalogue) -> None:
    family = catalogue.families["AN3-AN20"]
    assert family.format(("AN4", "(none)", "(none)", "12", "A")) == "AN4-12A"
    assert family.format(("AN4", "C", "(none)", "12", "(none)")) == "AN4C12"
    assert family.format(("AN4", "DD", "H", "12", "A")) == "AN4DDH12A"
