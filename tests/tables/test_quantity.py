"""Exact numbers: what the trade writes is read without loss and written as a plain decimal."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.quantity import decimal_text, inch_fraction, parse_number, rounded, with_unit


@pytest.mark.parametrize(
    ("text", "value"),
    [
        (".063", Fraction(63, 1000)),
        ("13/32", Fraction(13, 32)),
        ("1 1/4", Fraction(5, 4)),
        ("1-1/8", Fraction(9, 8)),
        ("-7/16", Fraction(-7, 16)),
        ("250", Fraction(250)),
        (" 0.406 ", Fraction(203, 500)),
    ],
)
def test_a_number_is_read_exactly(text: str, value: Fraction) -> None:
    assert parse_number(text) == value


@pytest.mark.parametrize("text", ["", "1/0", "1 .5", "1e3", "nan", "inf", "1,5", "½", "--1", "1/2/3", ".", "-"])
def test_what_the_tables_do_not_write_is_no_number(text: str) -> None:
    with pytest.raises(ValueError, match="not a number"):
        parse_number(text)


@given(st.fractions(min_value=-1000, max_value=1000, max_denominator=64))
def test_an_inch_fraction_reads_back(value: Fraction) -> None:
    text = inch_fraction(value)
    if text is not None:
        assert parse_number(text.removeprefix("-")) == abs(value)
        assert text.startswith("-") == (value < 0)
    else:
        assert 64 % value.denominator


@given(st.decimals(min_value=-10_000, max_value=10_000, places=4))
def test_a_decimal_text_reads_back_and_has_no_exponent(value: object) -> None:
    exact = Fraction(str(value))
    text = decimal_text(exact)
    assert Fraction(text) == exact
    assert "E" not in text


def test_rounding_follows_its_rule() -> None:
    half = Fraction(1265, 1000)
    assert (rounded(half, 2, "half-even"), rounded(half, 2, "half-up")) == (Fraction(126, 100), Fraction(127, 100))


def test_units_stand_as_on_a_label() -> None:
    assert with_unit("13/32", "[in_i]") == "13/32 in"
    assert with_unit("250", "[degF]") == "250°F"
    assert with_unit("3", "1") == "3"
