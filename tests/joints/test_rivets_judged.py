"""A rivet in its sheets: each limit a ten-thousandth inside and outside, in diameters of a 1/8 in rivet, worked by hand.

Limits by document: AC 43.13-1B 4-57 c(1) (edge 2 D, pitch 3 D) and figure 4-5 (pitch 4 D in a double row); TM 10-5410-229-13P
5-6 (rows 2.5 D); NAVEDTRA 14018 ch. 13 (pitch at most 8 D, at most 3 times the sheet); FAA-H-8083-31 ch. 4 (flush edge 2.5 D,
edge at most 4 D); MIL-HDBK-5H p. 8-9 (shop head 1.3 D by 0.3 D, 7050: 1.4 D); MIL-HDBK-5J table 8.1.2(a) (hole .1285).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from service.api.desk import Desk
from service.joints.rivet_checking import RivetCheck, Riveted, check_rivet
from service.joints.riveting import RivetTables
from service.parts.part import Part

D = Fraction(1, 8)
LEAST = Fraction(1, 10_000)
SHEETS = (Fraction("0.05"), Fraction("0.05"))
Check = Callable[..., RivetCheck]


@pytest.fixture(scope="module")
def check(desk: Desk, part: Callable[..., Part]) -> Check:
    tables = RivetTables(desk.catalogue, desk.encoder, "from-memory")

    def of(
        number: str = "MS20470AD4-4",
        sheets: tuple[Fraction, ...] = SHEETS,
        basis: str = "from-memory",
        **measured: Fraction,
    ) -> RivetCheck:
        return check_rivet(Riveted(part(number, basis), sheets, **measured), tables, desk.rules)  # type: ignore[arg-type]

    return of


def said(found: RivetCheck, severity: str) -> set[tuple[str, str]]:
    """Rules of a severity, with the row that each rests on."""
    return {(f.rule, f.citation.row.rpartition("joints.practices.")[2]) for f in found.findings
            if f.severity == severity and f.citation is not None}  # fmt: skip


def rules(found: RivetCheck, severity: str) -> set[str]:
    return {rule for rule, _ in said(found, severity)}


@pytest.mark.parametrize(
    ("dash", "effect"), [(3, "conditions"), (4, "fits"), (5, "fits"), (6, "conditions")]
)  # .040 + .040 + 1.5 x .125 = .2675: 1/4 is nearest, 5/16 the next above; 3/16 and 3/8 are neither
def test_a_length_by_either_rounding_fits_and_any_other_is_a_condition(check: Check, dash: int, effect: str) -> None:
    found = check(f"MS20470AD4-{dash}", (Fraction("0.04"), Fraction("0.04")))
    (length,) = (f for f in found.findings if f.rule == "rivet.length")
    assert length.effect == effect
    assert "Stack 0.08 in and 1.5 D make 0.2675 in" in length.text
    assert "0.3125 in next-above, 0.25 in nearest" in length.text
    assert f"{dash * 625 / 10_000:.4f}".rstrip("0") in length.text


@pytest.mark.parametrize(("more", "fault"), [(Fraction(0), True), (-LEAST, False), (LEAST, True)])
def test_a_rivet_no_longer_than_its_stack_has_nothing_to_drive(check: Check, more: Fraction, fault: bool) -> None:
    found = check(sheets=(D + more, D))
    assert ("rivet.length" in rules(found, "fault")) is fault


def test_over_three_times_the_thickest_sheet_is_noted_and_the_thinner_sheet_is_not_asked(check: Check) -> None:
    third = D / 3
    assert "rivet.diameter.most" not in rules(check(sheets=(third, third)), "note")
    assert "rivet.diameter.most" not in rules(check(sheets=(Fraction("0.02"), third)), "note")
    (noted,) = (f for f in check(sheets=(Fraction("0.04"),) * 2).findings if f.rule == "rivet.diameter.most")
    assert (noted.severity, noted.effect) == ("note", "notes")
    assert "3.12 times" in noted.text  # .125 / .040 = 3.125, half to even


def test_the_thickest_sheet_is_what_a_rule_about_sheets_asks(check: Check) -> None:
    """NAVEDTRA 14018: not thinner than the thickest; P-40 manual sec. II par 10: dimple .051 and thinner."""
    assert "rivet.thinner-than-sheet" in rules(check("MS20470AD4-6", (Fraction("0.02"), D + LEAST)), "fault")
    assert "rivet.flush.dimple" in rules(check("MS20426AD4-4", (Fraction("0.02"), Fraction("0.051"))), "note")
    assert "rivet.flush.dimple" not in rules(check("MS20426AD4-4", (Fraction("0.02"), Fraction("0.064"))), "note")


@pytest.mark.parametrize(
    ("measure", "limit", "severity", "rule", "row"),
    [
        ("edge", 2 * D, "fault", "rivet.edge", "rivet_spacing.circular.edge"),
        ("edge", 2 * D, "caution", "rivet.edge", "rivet_spacing.army.edge"),
        ("edge", Fraction("1.5") * D, "caution", "rivet.edge", "rivet_spacing.battle.edge"),
        ("pitch", 3 * D, "fault", "rivet.edge", "rivet_spacing.circular.pitch"),
        ("pitch", 3 * D, "caution", "rivet.edge", "rivet_spacing.navy.pitch"),
        ("row", Fraction("2.5") * D, "caution", "rivet.rows", "rivet_spacing.army.row"),
        ("row", Fraction("2.5") * D, "caution", "rivet.rows", "rivet_spacing.faa.row"),
        ("head_width", Fraction("1.3") * D, "caution", "rivet.shop-head", "shop_head.handbook-5.diameter"),
        ("head_height", Fraction("0.3") * D, "caution", "rivet.shop-head", "shop_head.handbook-5.height"),
    ],
)
def test_too_little_is_a_fault_by_the_circular_and_a_caution_by_another_document(
    check: Check, measure: str, limit: Fraction, severity: str, rule: str, row: str
) -> None:
    little = check(**{measure: limit - LEAST})
    assert (rule, row) in said(little, severity)
    (words,) = {f.text.split("practice: ")[1] for f in little.findings if f.citation and f.citation.row.endswith(row)}
    assert f"at least {float(limit):g} in, here {float(limit - LEAST):g} in" in words
    enough = check(**{measure: limit})
    assert all((rule, row) not in said(enough, grave) for grave in ("fault", "caution"))


@pytest.mark.parametrize(
    ("measure", "limit", "row"),
    [
        ("edge", 4 * D, "rivet_spacing.faa.edge.max"),
        ("pitch", 8 * D, "rivet_spacing.navy.pitch.max"),
        ("pitch", 10 * D, "rivet_spacing.faa.pitch.max"),
    ],
)
def test_too_much_is_a_caution_that_names_the_upper_limit(
    check: Check, measure: str, limit: Fraction, row: str
) -> None:
    assert ("rivet.edge", row) not in said(check(**{measure: limit}), "caution")
    over = check(**{measure: limit + LEAST})
    assert not rules(over, "fault")
    (words,) = (f.text for f in over.findings if f.citation is not None and f.citation.row.endswith(row))
    shown = float(limit)
    assert f"at most {shown:g} in, here {float(limit + LEAST):g} in" in words
    assert over.verdict == "compatible_with_conditions"


def test_a_double_row_asks_four_diameters_of_pitch_and_a_single_row_does_not(check: Check) -> None:
    double = ("rivet.edge", "rivet_spacing.circular.double")
    close = 4 * D - LEAST
    assert double not in said(check(pitch=close), "caution")
    assert double in said(check(pitch=close, row=4 * D), "caution")
    assert double not in said(check(pitch=4 * D, row=4 * D), "caution")


@pytest.mark.parametrize(("number", "asked"), [("MS20426AD4-4", True), ("MS20470AD4-4", False)])
def test_two_and_a_half_diameters_of_edge_are_asked_of_flush_rivets_only(
    check: Check, number: str, asked: bool
) -> None:
    flush = ("rivet.edge.flush", "rivet_spacing.faa.edge.flush")
    near = said(check(number, edge=Fraction("2.5") * D - LEAST), "caution")
    assert (flush in near) is asked
    assert (flush[1] in {row for _, row in near}) is asked
    assert flush not in said(check(number, edge=Fraction("2.5") * D), "caution")
    assert (("rivet.edge.flush" if asked else "rivet.edge") in rules(check(number, edge=D), "fault")) is True


@pytest.mark.parametrize(("number", "wider"), [("MS20470E4-4", True), ("MS20470AD4-4", False)])
def test_a_7050_rivet_needs_a_wider_shop_head(check: Check, number: str, wider: bool) -> None:
    """1.4 x .125 = .175."""
    row = ("rivet.shop-head", "shop_head.handbook-5.diameter.7050")
    assert (row in said(check(number, head_width=Fraction("0.175") - LEAST), "caution")) is wider
    assert row not in said(check(number, head_width=Fraction("0.175")), "caution")


@pytest.mark.parametrize(
    ("hole", "severity", "effect"),
    [("0.1249", "fault", "excludes"), ("0.125", "note", "fits"), ("0.1285", "note", "fits"), ("0.1286", "caution", "conditions")],
)  # fmt: skip
def test_a_hole_is_between_the_shank_and_the_listed_hole(check: Check, hole: str, severity: str, effect: str) -> None:
    (found,) = (f for f in check(hole=Fraction(hole)).findings if f.topic == "hole" and f.parts and "Hole" in f.text)
    assert (found.severity, found.effect) == (severity, effect)
    assert found.text == f"Hole {hole} in; the listed hole for this rivet is 0.1285 in, its shank 0.125 in."


def test_a_hole_for_a_diameter_that_no_row_good_enough_has_is_left_open(
    desk: Desk, part: Callable[..., Part], check: Check
) -> None:
    """The 5/16 hole is from memory: whoever asks for better is told that there is none, not that the hole fits."""
    size, strict = Fraction(5, 16), RivetTables(desk.catalogue, desk.encoder, "derived")
    found = check_rivet(Riveted(part("MS20470AD10-10"), (size,), hole=size), strict, desk.rules)
    assert "no row gives a hole for this diameter" in {entry.why for entry in found.not_judged if entry.what == "hole"}
    assert not [f for f in found.findings if f.text.startswith("Hole")]
    weaker = check("MS20470AD10-10", (size,), hole=size)
    assert "hole" not in {entry.what for entry in weaker.not_judged}
    assert [f for f in weaker.findings if f.text.startswith("Hole")]


def test_what_was_not_measured_is_said_and_what_was_is_not(check: Check) -> None:
    bare = check()
    assert {entry.what for entry in bare.not_judged} == {"edge distance", "pitch", "row spacing"}
    assert not any(entry.vital for entry in bare.not_judged)
    assert {entry.why for entry in bare.not_judged} == {"not given"}
    assert not check(edge=3 * D, pitch=4 * D, row=4 * D, hole=D).not_judged
    assert not [f for f in bare.findings if f.text.startswith("Hole")]


def test_a_blind_rivet_has_no_length_to_drive(check: Check) -> None:
    found = check("MS20600AD4W4")
    (length,) = (entry for entry in found.not_judged if entry.what == "length")
    assert "dash gives the grip" in length.why, "the gap's own reason, not that no row was found"
    assert not [f for f in found.findings if f.rule == "rivet.length"]


def test_a_rivet_whose_diameter_no_row_good_enough_gives_gets_no_verdict(check: Check) -> None:
    """The NAS1097 sheet is from memory."""
    found = check("NAS1097AD4-4", basis="published", edge=D)
    assert found.verdict == "unknown"
    assert [(entry.what, entry.vital) for entry in found.not_judged] == [("diameter and spacing", True)]
    assert "from-memory" in found.not_judged[0].why


def test_a_rivet_without_sheets_is_no_question(check: Check) -> None:
    with pytest.raises(ValueError, match="sheets"):
        check(sheets=())


def test_the_gravest_is_said_first(check: Check) -> None:
    severities = [f.severity for f in check(sheets=(Fraction("0.04"),) * 2, edge=D, hole=Fraction("0.13")).findings]
    assert severities == sorted(severities, key=["fault", "caution", "note"].index)
    assert set(severities) == {"fault", "caution", "note"}
