"""Worked rivet lengths: course notes and a trade article (seen), an FAA airframe knowledge test item (from memory).

They round to the nearest sixteenth; TM 10-5410-229-13&P para 5-6(2) takes the next length above. All three examples end on
a different rivet by the two roundings.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.rivets import computed_length, next_diameter, standard_length, target_diameter

MADE = [Fraction(n, 32) for n in (2, 3, 4, 5, 6, 8)]


@pytest.mark.parametrize(
    ("sheet", "diameter", "computed", "nearest", "above"),
    [
        pytest.param("0.040", "1/8", "0.2675", "1/4", "5/16", id="course notes: two skins .040"),
        pytest.param("0.050", "5/32", "0.334375", "5/16", "3/8", id="trade article: two sheets .050"),
    ],
)
def test_two_equal_sheets(sheet: str, diameter: str, computed: str, nearest: str, above: str) -> None:
    """Diameter three times the sheet, length grip plus 1.5 D, then a length that is made."""
    chosen = next_diameter(target_diameter(Fraction(sheet)), MADE)
    assert chosen == Fraction(diameter)
    length = computed_length(2 * Fraction(sheet), chosen)
    assert length == Fraction(computed)
    assert standard_length(length, "nearest") == Fraction(nearest)
    assert standard_length(length, "next-above") == Fraction(above)


def test_two_sixteenth_sheets_and_a_3_32_rivet_take_a_quarter_inch() -> None:
    """FAA test item: .125 + .1406 = .2656; the next length above would be 5/16."""
    length = computed_length(Fraction("0.125"), Fraction(3, 32))
    assert standard_length(length, "nearest") == Fraction(1, 4)
    assert standard_length(length, "next-above") == Fraction(5, 16)
