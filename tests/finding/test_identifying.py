"""Identifying a part from readings and looks.

Outside checks: Unified threads 1/4-28 and 10-32 have major diameters below nominal by at most allowance and tolerance (ASME B1.1 class 2A limits, as
tabled); 25.4 mm to the inch is the international definition; one head mark standing on many parts follows from AC 43.13-1B, paragraph 7-36a
(a single dash is a steel or a stainless bolt).
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.desk import Desk
from service.finding.identifying import CHEAPEST, ONLY_LOOKS, Identifier, Sighting
from service.finding.measuring import Reading, mark_words
from tests.strategies import codes_of, real_catalogue


@pytest.fixture(scope="module")
def identifier(desk: Desk) -> Identifier:
    return Identifier(desk.catalogue, desk.encoder)


def reading(quantity: str, value: str, uncertainty: str = "0.002") -> Reading:
    return Reading(quantity, Fraction(value), Fraction(uncertainty))


def test_a_quarter_inch_hex_bolt_is_found_by_shank_and_grip(identifier: Identifier) -> None:
    """A shank may lie three thousandths under nominal: the caliper reads the shank, not the name of the size."""
    seen = Sighting(
        (reading("nominal_diameter", "0.2475"), reading("grip_length", "0.812", "0.01")),
        kind="bolt", thread="1/4-28", head_mark="asterisk", magnetic=True,
    )  # fmt: skip
    first = identifier.identify(seen).candidates[0]
    assert first.partial[0] == "AN4"
    assert first.example.startswith("AN4-12")
    assert first.standing == "agrees"
    assert {e.verdict for e in first.evidence} == {"for"}


def test_a_screw_measured_over_its_thread_is_below_nominal_and_still_agrees(identifier: Identifier) -> None:
    found = identifier.identify(
        Sighting((reading("nominal_diameter", "0.186", "0.001"),), "screw", threads_per_inch=32)
    )
    assert found.candidates[0].standing == "agrees"
    values = {
        e.value.exact for c in found.candidates for e in c.evidence if e.value and e.test.name == "threads_per_inch"
    }
    assert values == {"10-32"}
    low = identifier.identify(Sighting((reading("nominal_diameter", "0.175", "0.001"),), "screw", threads_per_inch=32))
    assert all(
        c.standing == "contradicted"
        for c in low.candidates
        if c.evidence[1].value and c.evidence[1].value.exact == "10-32"
    )


def test_a_washer_is_found_by_its_three_sizes(identifier: Identifier) -> None:
    seen = (reading("inside_diameter", "0.265"), reading("outside_diameter", "0.5"), reading("thickness", "0.063"))
    found = identifier.identify(Sighting(seen, "washer"))
    agreeing = [c for c in found.candidates if c.standing == "agrees"]
    assert "AN960-416" in {c.example for c in agreeing}
    assert all(sum(e.verdict == "against" for e in c.evidence) == 0 for c in agreeing)


def test_one_reading_may_slip_and_is_named(identifier: Identifier) -> None:
    seen = (
        reading("inside_diameter", "0.265"),
        reading("outside_diameter", "0.9", "0.001"),
        reading("thickness", "0.063"),
    )
    found = identifier.identify(Sighting(seen, "washer"))
    first = found.candidates[0]
    assert first.standing == "contradicted"
    assert [e.test.name for e in first.evidence if e.verdict == "against"] == ["outside_diameter"]
    assert found.warnings


@pytest.mark.parametrize("looks", [{"head_mark": "dimple"}, {"magnetic": True}, {"colour": "blue"}])
def test_looks_alone_never_decide(identifier: Identifier, looks: dict[str, str | bool]) -> None:
    found = identifier.identify(Sighting(**looks))  # type: ignore[arg-type]
    assert found.candidates
    assert {c.standing for c in found.candidates} == {"undecided"}
    assert ONLY_LOOKS in found.warnings
    assert found.next_measurement is not None
    assert found.next_measurement.quantity in CHEAPEST


def test_a_magnet_speaks_for_steel_and_is_silent_about_magnetic_stainless(identifier: Identifier) -> None:
    for magnetic, group, verdicts in [
        (True, "steel", {"for"}), (True, "aluminium", {"against"}), (False, "steel", {"against"}), (False, "stainless", {"for"}),
    ]:  # fmt: skip
        found = identifier.identify(Sighting((reading("nominal_diameter", "0.25"),), magnetic=magnetic), limit=10_000)
        said = {
            e.verdict for c in found.candidates for e in c.evidence if e.value is not None and e.value.exact == group
        }
        assert said == verdicts
        assert "common-practice" in found.candidates[0].evidence[-1].test.note


def test_the_next_measurement_separates_the_leading_candidates(identifier: Identifier) -> None:
    seen = (reading("inside_diameter", "0.265"), reading("outside_diameter", "0.5"))
    found = identifier.identify(Sighting(seen, "washer"))
    leading = [c for c in found.candidates if c.standing == "agrees"]
    assert len(leading) > 1
    assert found.next_measurement is not None
    assert found.next_measurement.quantity == "thickness"
    named = {number for _, numbers in found.next_measurement.leaves for number in numbers}
    assert named <= {c.number for c in leading}
    assert len({value.exact for value, _ in found.next_measurement.leaves}) > 1


def test_what_was_measured_is_not_asked_again(identifier: Identifier) -> None:
    found = identifier.identify(Sighting((reading("nominal_diameter", "0.25"),), threads_per_inch=28))
    assert found.next_measurement is None or found.next_measurement.quantity not in {"nominal_diameter", "thread"}


def test_a_stricter_basis_hears_fewer_rows(identifier: Identifier) -> None:
    seen = (reading("nominal_diameter", "0.25"),)
    strict = identifier.identify(Sighting(seen, basis="published"), limit=100)
    for candidate in strict.candidates:
        for evidence in candidate.evidence:
            assert evidence.value is None or (evidence.value.citation and evidence.value.citation.basis == "published")


def test_head_marks_compare_by_the_words_that_tell_them_apart() -> None:
    assert mark_words("Raised Double-Dashes") == mark_words("two dash")
    assert mark_words("a cross on the head") == mark_words("asterisk")
    assert not mark_words("triangle") <= mark_words("indented dimple")


@settings(max_examples=40)
@given(data=st.data(), family_id=st.sampled_from(sorted(real_catalogue().families)))
def test_a_part_measured_exactly_is_among_the_candidates(
    identifier: Identifier, data: st.DataObject, family_id: str
) -> None:
    """Every length the tables give of a made number, read without error, leaves that number's basic and size among the candidates."""
    family = real_catalogue().families[family_id]
    codes = data.draw(codes_of(family_id))
    asked = ("nominal_diameter", "length", "grip_length", "inside_diameter", "outside_diameter", "thickness")
    values = [(q, v) for q in asked if (v := family.value(q, codes)) is not None and isinstance(v.exact, Fraction)]
    # the caliper reads the shank, not the nominal, where the sheet gives the shank
    readings = tuple(Reading(q, v.number) for q, v in values)
    if not readings:
        return
    found = identifier.identify(Sighting(readings, family.kind), limit=100_000)
    mine = [
        c
        for c in found.candidates
        if c.family.id == family_id and all(codes[i] == code for i, code in c.partial.items())
    ]
    assert mine
    assert mine[0].standing == "agrees"


@given(
    st.builds(
        Sighting,
        st.lists(
            st.builds(Reading, st.sampled_from(["length", "wire_diameter", "head_angle", "nothing"]), st.fractions(0, 9), st.fractions(0, 1)), max_size=3
        ).map(tuple),
        head_mark=st.none() | st.text(max_size=20),
        colour=st.none() | st.text(max_size=20),
        magnetic=st.booleans(),
        threads_per_inch=st.none() | st.integers(1, 90),
    )
)  # fmt: skip
@settings(max_examples=25)
def test_anything_seen_gets_an_answer(identifier: Identifier, seen: Sighting) -> None:
    found = identifier.identify(seen, limit=5)
    assert len(found.candidates) <= 5
