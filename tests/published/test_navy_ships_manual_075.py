"""Naval Ships' Technical Manual chapter 075, fasteners (preface): the axial capacity of a 1/4-20 bolt at its proof stress."""

from __future__ import annotations

from fractions import Fraction

import pytest

from service.joints.formulas.strength import tension
from service.joints.formulas.threads import parse_thread, stress_area


def test_a_quarter_twenty_at_120_ksi_proof_carries_3816_lbf() -> None:
    assert tension(Fraction("0.0318"), Fraction(120000)) == 3816


def test_its_tabulated_area_is_the_formulas() -> None:
    assert float(stress_area(parse_thread("1/4-20"))) == pytest.approx(0.0318, rel=0.001)
