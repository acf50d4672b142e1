"""What goes with what: verdicts, the rules that give them, and the way back from a nut."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.desk import Desk
from service.mating.mates import Candidate
from service.parts.part import Part
from service.settings import Settings
from service.tables.rows import TRUST
from tests.strategies import real_catalogue

Joint = dict[str, Fraction | str]
Mates = Callable[..., dict[str, Candidate]]


@pytest.fixture
def mates(desk: Desk) -> Mates:
    """The candidates for a number by their own number, variants included."""

    def found(
        number: str, basis: str = "from-memory", role: str | None = None, **joint: Fraction | str | int
    ) -> dict[str, Candidate]:
        stated: Joint = {k: Fraction(v) if isinstance(v, int) else v for k, v in joint.items()}
        candidates = desk.mates.of(desk.part(number, basis), stated)
        return {n: c for c in candidates if role in {None, c.role} for n in (c.number, *c.variants)}

    return found


def rules(candidate: Candidate, effect: str) -> set[str]:
    return {f.rule for f in candidate.findings if f.effect == effect}


@pytest.mark.parametrize("nut", ["AN365-428A", "MS20365-428A", "MS21044N4", "NAS1021N4"])
def test_an_insert_nut_above_250_f_is_excluded_by_its_rule(mates: Mates, nut: str) -> None:
    hot = mates("AN4-12A", temperature=251)[nut]
    assert hot.verdict == "excluded"
    assert "nut.insert.temperature" in rules(hot, "excludes")
    assert "nut.insert.temperature" not in rules(mates("AN4-12A", temperature=250)[nut], "excludes")


def test_an_all_metal_nut_stands_where_the_insert_nut_does_not(mates: Mates) -> None:
    hot = mates("AN4-12A", temperature=300, rotates="no")
    assert hot["AN365-428A"].verdict == "excluded"
    for nut in ("AN363-428", "MS21042-4"):
        assert hot[nut].verdict == "fits"


def test_a_bolt_whose_limit_no_source_gives_is_conditional_where_its_plating_ends(mates: Mates) -> None:
    warm = mates("AN4-12A", temperature=450, rotates="no")["MS21043-4"]
    hot = mates("AN4-12A", temperature=451, rotates="no")["MS21043-4"]
    assert "bolt.limit-not-held.steel" not in rules(warm, "conditions")
    assert "bolt.limit-not-held.steel" in rules(hot, "conditions")
    aluminium = mates("AN4DD12A", temperature=251, rotates="no")["MS21043-4"]
    assert "bolt.limit-not-held.other" in rules(aluminium, "conditions")


def test_a_bolt_whose_limit_is_given_keeps_it(mates: Mates) -> None:
    assert mates("NAS6204-13", temperature=300, rotates="no")["MS21042-4"].verdict == "fits"


def test_a_nut_that_may_be_of_either_kind_is_judged_as_the_weaker_one(mates: Mates) -> None:
    """No lock letter: the nut may have an insert, so its limit is the insert's; the condition says what would lift it."""
    hot = mates("AN4-12A", temperature=300, rotates="no")["AN365-428"]
    assert "nut.either-lock.temperature" in rules(hot, "conditions")
    assert "nut.service-limit" in rules(hot, "excludes")


@pytest.mark.parametrize("nut", ["AN365-428A", "MS21044N4", "AN363-428", "MS21042-4"])
def test_a_self_locking_nut_where_the_joint_rotates_is_excluded_by_its_rule(mates: Mates, nut: str) -> None:
    turning = mates("AN4-12A", rotates="yes")[nut]
    assert turning.verdict == "excluded"
    assert "nut.self-locking.rotation" in rules(turning, "excludes")
    assert "nut.self-locking.rotation" not in rules(mates("AN4-12A", rotates="no")[nut], "excludes")


def test_a_castle_nut_with_its_pin_serves_where_the_joint_rotates(mates: Mates) -> None:
    turning = mates("AN4-12", rotates="yes")
    assert turning["AN310-4"].verdict == "conditional"
    assert rules(turning["AN310-4"], "conditions") == {"nut.castellated.lock"}
    assert "nut.castellated.rotation" in rules(turning["AN310-4"], "fits")


def test_an_insert_nut_on_a_drilled_shank_below_5_16_is_excluded_by_its_rule(mates: Mates) -> None:
    for bolt, nut in (("AN3-12", "AN365-1032A"), ("AN4-12", "AN365-428A")):
        assert "nut.insert.drilled-small" in rules(mates(bolt)[nut], "excludes")
        assert mates(bolt)[nut].verdict == "excluded"
    assert "nut.insert.drilled-small" not in rules(mates("AN4-12A")["AN365-428A"], "excludes")
    assert "nut.insert.drilled-small" not in rules(mates("AN5-12")["AN365-524A"], "excludes")


def test_from_5_16_up_the_drilled_shank_must_be_free_of_burrs(mates: Mates) -> None:
    assert "nut.insert.drilled-burrs" in rules(mates("AN5-12", burr_free="no")["AN365-524A"], "excludes")
    assert "nut.insert.drilled-burrs" in rules(mates("AN5-12")["AN365-524A"], "conditions")
    assert "nut.insert.drilled-burrs" not in rules(mates("AN5-12", burr_free="yes")["AN365-524A"], "excludes")


@pytest.mark.parametrize("nut", ["AN364-428A", "MS20364-428A", "MS21083N4", "NAS1022N4"])
def test_a_shear_nut_under_tension_is_excluded_by_its_rule(mates: Mates, nut: str) -> None:
    assert "nut.shear.tension" in rules(mates("AN4-12A", load="tension")[nut], "excludes")
    assert "nut.shear.tension" in rules(mates("AN4-12A", load="both")[nut], "excludes")
    assert "nut.shear.tension" not in rules(mates("AN4-12A", load="shear")[nut], "excludes")


def test_a_shear_castle_nut_under_tension_is_excluded_by_its_rule(mates: Mates) -> None:
    assert "nut.shear.tension" in rules(mates("AN4-12", load="tension")["AN320-4"], "excludes")
    assert mates("AN4-12", load="tension")["AN310-4"].verdict != "excluded"


@pytest.mark.parametrize("washer", ["MS35333-40", "MS35335-33", "MS35338-44", "AN935-416"])
@pytest.mark.parametrize(
    ("condition", "rule"),
    [("primary_structure", "lock-washer.structure"), ("secondary_structure", "lock-washer.structure-secondary")],
)
def test_a_lock_washer_on_structure_is_excluded_by_its_rule(
    mates: Mates, washer: str, condition: str, rule: str
) -> None:
    on_structure = mates("AN4-12A", **{condition: "yes"})[washer]
    assert on_structure.verdict == "excluded"
    assert rule in rules(on_structure, "excludes")


def test_a_bolt_is_offered_star_and_spring_washers_of_its_own_size(mates: Mates) -> None:
    found = mates("AN4-12A")
    assert found["MS35333-40"].role == "star_washer"
    assert found["MS35338-44"].role == "spring_lock_washer"
    assert "MS35333-41" not in found
    assert "MS35333-41" in mates("AN5-12A")


def test_a_bolt_is_offered_regular_thin_and_large_area_washers(mates: Mates) -> None:
    found = mates("AN3-12A")
    assert {n: found[n].role for n in ("AN960-10", "AN960-10L", "AN970-3")} == {
        "AN960-10": "washer", "AN960-10L": "thin_washer", "AN970-3": "large_area_washer",
    }  # fmt: skip


def test_on_wood_the_large_area_washer_fits_and_the_small_one_is_conditional(mates: Mates) -> None:
    found = mates("AN4-12A", material="wood")
    assert found["AN970-4"].verdict == "fits"
    assert "washer.wood.large" in rules(found["AN970-4"], "fits")
    assert found["AN960-416"].verdict == "conditional"
    assert "washer.wood.small" in rules(found["AN960-416"], "conditions")
    assert mates("AN4-12A", material="steel")["AN960-416"].verdict == "fits"


def test_a_drilled_shank_is_offered_castle_nuts_and_cotter_pins_and_a_plain_one_is_not(mates: Mates) -> None:
    drilled, plain = mates("AN4-12"), mates("AN4-12A")
    assert drilled["AN310-4"].role == "castellated_nut"
    assert {c.role for c in drilled.values()} >= {"castellated_nut", "cotter_pin"}
    assert not {"castellated_nut", "cotter_pin"} & {c.role for c in plain.values()}


def test_a_cotter_pin_that_is_offered_passes_the_hole(mates: Mates, part: Callable[..., Part]) -> None:
    hole = part("AN4-12").value("shank_hole_diameter")
    assert hole is not None
    pins = [c for c in mates("AN4-12", role="cotter_pin").values() if c.verdict == "fits"]
    assert pins
    for pin in pins:
        shank = pin.part.value("shank_diameter")
        assert shank is not None
        assert shank.number <= hole.number


def test_lockwire_is_offered_when_the_head_is_drilled_only(mates: Mates) -> None:
    assert "MS20995C32" in mates("AN4H12A", role="lockwire")
    assert not mates("AN4-12A", role="lockwire")


def test_what_is_not_stated_makes_a_candidate_conditional_and_is_named(mates: Mates) -> None:
    nut = mates("AN4-12A")["AN365-428A"]
    assert nut.verdict == "conditional"
    assert {name for f in nut.findings if f.effect == "conditions" for name in f.unstated} == {"temperature", "rotates"}
    stated = mates("AN4-12A", temperature=100, rotates="no")["AN365-428A"]
    assert {name for f in stated.findings if f.effect == "conditions" for name in f.unstated} == set()
    assert {name for f in stated.findings for name in f.unknown} == set()


def test_every_verdict_but_fits_names_a_rule(mates: Mates) -> None:
    for candidate in mates("AN4H12", temperature=300, load="tension", primary_structure="yes").values():
        if candidate.verdict == "excluded":
            assert rules(candidate, "excludes")
        if candidate.verdict == "conditional":
            assert rules(candidate, "conditions")
            assert not rules(candidate, "excludes")
        assert candidate.mate.row.startswith("compatibility.mate.")
        assert all(f.citation.source and f.text for f in candidate.findings)


def test_candidates_of_a_role_come_best_first(desk: Desk) -> None:
    order = ["fits", "conditional", "excluded"]
    found = desk.mates.of(desk.part("AN4H12", "from-memory"), {"temperature": Fraction(300), "rotates": "no"})
    for role in {c.role for c in found}:
        verdicts = [order.index(c.verdict) for c in found if c.role == role]
        assert verdicts == sorted(verdicts)


def test_every_nut_offered_has_the_thread_of_the_bolt(desk: Desk) -> None:
    for number in ("AN3-12A", "AN4-12", "AN10-20A", "NAS6203-6"):
        bolt = desk.part(number, "from-memory")
        thread = bolt.value("thread")
        assert thread is not None
        for candidate in desk.mates.of(bolt, {}):
            if candidate.part.family.kind in {"nut", "plate_nut"}:
                theirs = candidate.part.value("thread")
                assert theirs is not None
                assert theirs.exact == thread.exact


def test_a_stricter_basis_rests_on_no_weaker_row(desk: Desk) -> None:
    for candidate in desk.mates.of(desk.part("AN4H12", "secondary"), {"temperature": Fraction(300)}):
        assert candidate.mate.trust <= TRUST["secondary"]
        assert all(f.citation.trust <= TRUST["secondary"] for f in candidate.findings)


HOT: Joint = {"temperature": Fraction(500), "rotates": "no", "load": "tension"}


@pytest.mark.parametrize("number", ["AN3-12A", "AN4-12", "NAS6203-6", "AN525-10R8", "AN365-428A"])
@pytest.mark.parametrize(
    "joint",
    [{}, HOT, {"material": "titanium", "temperature": Fraction(300), "rotates": "no"}],
    ids=["bare", "hot", "titanium"],
)
def test_a_stricter_basis_never_turns_an_excluded_candidate_into_a_fit(desk: Desk, number: str, joint: Joint) -> None:
    """Trusting fewer rows means knowing less, and what is not known is no reason to fit a part."""

    def verdicts(basis: str) -> dict[tuple[str, str], str]:
        return {
            (c.role, n): c.verdict
            for c in desk.mates.of(desk.part(number, basis), joint)
            for n in (c.number, *c.variants)
        }

    everything = verdicts("from-memory")
    for basis in ("common-practice", "derived", "secondary", "published"):
        widened = [
            key for key, verdict in verdicts(basis).items() if verdict == "fits" and everything.get(key) == "excluded"
        ]
        assert not widened, f"at {basis}: {widened[:5]} and {len(widened)} in all"


def test_a_joint_that_the_bolt_itself_cannot_stand_fits_nothing(mates: Mates) -> None:
    """bolt.cadmium.temperature excludes the bolt that is asked about: its answer must say so, whatever stands beside it."""
    hot = mates("AN4-12A", temperature=500, rotates="no")
    assert not sorted(n for n, c in hot.items() if c.verdict == "fits")


def test_a_nut_leads_back_to_the_bolts_that_take_it(mates: Mates) -> None:
    back = mates("AN365-1032A")
    assert back["AN3-…A"].role == "bolt"
    assert back["AN3-…A"].any_of
    assert back["AN3-…"].verdict == "excluded", "drilled shank below 5/16"
    assert not [n for n in back if n.startswith("AN4-")]


def test_a_washer_and_a_cotter_pin_lead_back_to_bolts(mates: Mates) -> None:
    assert "AN4-…A" in mates("AN960-416", role="bolt")
    assert "AN4-…A" in mates("MS35333-40", role="bolt")
    assert "AN4-…" in mates("AN380-2-2", role="bolt")
    assert "AN4-…A" not in mates("AN380-2-2", role="bolt")


@pytest.mark.parametrize(
    ("nut", "joint", "rule"),
    [
        ("AN365-428A", {"temperature": 300}, "nut.insert.temperature"),
        ("AN365-428A", {"rotates": "yes"}, "nut.self-locking.rotation"),
        ("AN364-428A", {"load": "tension"}, "nut.shear.tension"),
    ],
)
def test_from_the_nut_the_verdict_is_the_same_as_from_the_bolt(
    mates: Mates, nut: str, joint: dict[str, int | str], rule: str
) -> None:
    """What the bolt's answer excludes, the nut's answer must not call a fit."""
    forth = mates("AN4-12A", **joint)[nut]
    assert forth.verdict == "excluded"
    back = mates(nut, **joint)["AN4-…A"]
    assert back.verdict == "excluded"
    assert rule in rules(back, "excludes")


def test_from_the_lock_washer_structure_is_excluded_as_from_the_bolt(mates: Mates) -> None:
    assert mates("AN4-12A", primary_structure="yes")["MS35333-40"].verdict == "excluded"
    assert mates("MS35333-40", role="bolt", primary_structure="yes")["AN4-…A"].verdict == "excluded"


_DESK = Desk.over(real_catalogue(), Settings())
_ORDER = ["fits", "conditional", "excluded"]
_BOLTS = st.sampled_from(
    ["AN3-12A", "AN4-12", "AN4C12A", "AN5H12", "NAS6203-6", "AN23-12", "AN525-10R8", "MS24694-S50"]
)


@settings(max_examples=25)
@given(_BOLTS, st.integers(0, 700), st.integers(1, 900), st.sampled_from(["yes", "no"]))
def test_a_hotter_joint_never_turns_an_excluded_candidate_into_a_better_one(
    number: str, cool: int, more: int, rotates: str
) -> None:
    part = _DESK.part(number, "from-memory")

    def verdicts(temperature: int) -> dict[tuple[str, str], str]:
        found = _DESK.mates.of(part, {"temperature": Fraction(temperature), "rotates": rotates})
        return {(c.role, n): c.verdict for c in found for n in (c.number, *c.variants)}

    cooler, hotter = verdicts(cool), verdicts(cool + more)
    assert cooler.keys() == hotter.keys()
    for key, verdict in cooler.items():
        if verdict == "excluded":
            assert hotter[key] == "excluded", key


@settings(max_examples=25)
@given(
    _BOLTS,
    st.dictionaries(
        st.sampled_from(
            ["rotates", "primary_structure", "frequently_removed", "heat_source", "reused", "engine_intake"]
        ),
        st.just("yes"),
    ),
)
def test_stating_more_never_brings_an_excluded_candidate_back(number: str, stated: dict[str, str]) -> None:
    part = _DESK.part(number, "from-memory")
    bare = {(c.role, n): c.verdict for c in _DESK.mates.of(part, {}) for n in (c.number, *c.variants)}
    joint = {(c.role, n): c.verdict for c in _DESK.mates.of(part, dict(stated)) for n in (c.number, *c.variants)}
    assert bare.keys() == joint.keys()
    assert all(joint[key] == "excluded" for key, verdict in bare.items() if verdict == "excluded")
