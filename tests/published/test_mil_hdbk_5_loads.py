"""MIL-HDBK-5 and its successor: single shear and bearing of a 1/4 in fastener, and a published rivet joint.

MIL-HDBK-5J tables 8.1.5(a) and 8.1.5.1 (two numbers seen quoted); the joint is a published worked example that quotes MMPDS-09 tables
8.1.2(b) and 3.2.4.0(e1).
"""

from __future__ import annotations

from fractions import Fraction

from service.joints.formulas.strength import bearing, single_shear, thickness_ratio


def test_a_quarter_inch_shank_at_75_ksi_shears_at_3680_lbf_to_three_figures() -> None:
    assert round(single_shear(Fraction(1, 4), Fraction(75000)), -1) == 3680


def test_a_quarter_inch_hole_in_tenth_inch_sheet_at_100_ksi_bears_2500_lbf() -> None:
    assert bearing(Fraction(1, 4), Fraction(1, 10), Fraction(100000)) == 2500


def test_a_5_32_rivet_of_2117_shears_on_its_hole_at_596_lbf() -> None:
    """30 ksi on the nominal hole of .159 in; on the shank it would be 575."""
    assert round(single_shear(Fraction("0.159"), Fraction(30000))) == 596
    assert round(single_shear(Fraction(5, 32), Fraction(30000))) == 575


def test_that_rivet_in_050_clad_2024_bears_944_lbf_so_that_shear_is_critical() -> None:
    """121 ksi at e/D 2; the example takes the nominal .156, not the hole, which would give 962."""
    load = bearing(Fraction("0.156"), Fraction("0.050"), Fraction(121000))
    assert round(load) == 944
    assert round(bearing(Fraction("0.159"), Fraction("0.050"), Fraction(121000))) == 962
    assert single_shear(Fraction("0.159"), Fraction(30000)) < load


def test_its_thickness_ratio_is_within_the_listed_stresses() -> None:
    """MIL-HDBK-5H page 8-9: listed bearing stresses hold for t/D of 0.18 and up."""
    assert thickness_ratio(Fraction("0.050"), Fraction(5, 32)) > Fraction("0.18")
    assert thickness_ratio(Fraction("0.025"), Fraction(5, 32)) < Fraction("0.18")
