"""The language of mate rows, and that forth and back only rows speak which name the family, agree, and are good enough."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from service.api.desk import Desk
from service.mating import mates as mates_module
from service.mating.mates import Mates, compiled_mate, verdict_of
from service.mating.rules import Finding
from service.tables.rows import TRUST, Mate

NUMBERS = ["AN3-12A", "AN4-12", "NAS6203-6", "AN525-10R8", "AN365-1032A", "AN960-416", "AN310-4", "MS24694-S50"]


def mate(match: str = "thread", with_: str = "", from_when: str = "") -> Mate:
    return Mate.model_validate(
        {"row": "t.mate", "from_kind": "bolt", "from_family": "", "from_when": from_when, "role": "nut", "to_family": "AN365",
         "match": match, "with_": with_, "order": "1", "source_id": "s", "locator": "l", "basis": "derived", "note": ""}
    )  # fmt: skip


def test_what_must_agree_has_one_name_for_both_or_one_for_each() -> None:
    assert compiled_mate(mate("thread nominal_diameter=inside_diameter")).match == (
        ("thread", "thread"),
        ("nominal_diameter", "inside_diameter"),
    )


def test_what_the_part_taken_must_be_is_one_of_several_words_or_numbers() -> None:
    found = compiled_mate(mate("", "locking = insert|all-metal; nominal_diameter=1/4|.3125"))
    assert found.match == ()
    assert found.wanted == {
        "locking": ("insert", "all-metal"),
        "nominal_diameter": (Fraction(1, 4), Fraction(5, 16)),
    }


@pytest.mark.parametrize(("match", "with_"), [("", ""), ("thread", "locking"), ("", "locking insert")])
def test_a_row_that_says_nothing_or_not_in_its_language_is_refused(match: str, with_: str) -> None:
    with pytest.raises(ValueError, match=r"attribute=value|what agrees"):
        compiled_mate(mate(match, with_))


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("basis", ["from-memory", "secondary", "published"])
def test_every_candidate_rests_on_a_row_that_names_its_family_and_is_good_enough(
    desk: Desk, number: str, basis: str
) -> None:
    part = desk.part(number, basis)
    rows = {row.row: row for row in desk.catalogue.mates}
    for found in desk.mates.of(part, {}):
        row = rows[found.mate.row]
        assert TRUST[row.basis] <= TRUST[basis]
        giver, taker = (found.part, part) if found.any_of else (part, found.part)
        assert taker.family.id == row.to_family
        assert giver.family.kind == row.from_kind
        assert row.from_family in {"", giver.family.id}
        assert giver.family.not_made(list(giver.designation.codes)) is None
        assert found.role == (giver.family.kind if found.any_of else row.role)
        assert found.number not in found.variants
        assert len(found.variants) == len(set(found.variants))


def test_rows_just_as_good_as_asked_are_used_forth_and_back(desk: Desk) -> None:
    forth = desk.mates.of(desk.part("AN4-12A", "secondary"), {})
    assert {found.mate.basis for found in forth if not found.any_of} == {"published", "secondary"}
    back = desk.mates.of(desk.part("AN365-428A", "secondary"), {})
    assert {found.mate.basis for found in back if found.any_of} == {"published", "secondary"}


def test_what_must_agree_and_no_row_good_enough_gives_offers_nothing(desk: Desk) -> None:
    """The sizes of these are secondary: on published rows alone nothing can be shown to agree."""
    for number in ("AN4-12A", "AN365-428A", "AN960-416"):
        assert desk.mates.of(desk.part(number, "published"), {}) == []


def test_a_left_hand_nut_leads_to_no_bolt_that_takes_right_hand_nuts(desk: Desk) -> None:
    right, left = (desk.mates.of(desk.part(number, "from-memory"), {}) for number in ("AN315-4R", "AN315-4L"))
    assert "AN3-AN20" in {found.part.family.id for found in right if found.any_of}
    assert "AN3-AN20" not in {found.part.family.id for found in left if found.any_of}


@pytest.mark.parametrize(("load", "temperature"), [("shear", 70), ("tension", 500)])
def test_from_the_nut_the_same_rules_speak_as_from_the_bolt(desk: Desk, load: str, temperature: int) -> None:
    """What is said concerns the part taken, the nut, whichever of the two was asked about."""

    def said(asked: str, answered: str) -> dict[str, str]:
        joint: dict[str, Fraction | str] = {"load": load, "temperature": Fraction(temperature)}
        found = desk.mates.of(desk.part(asked, "from-memory"), joint)
        (one,) = (c for c in found if answered in (c.number, *c.variants))
        return {finding.rule: finding.effect for finding in one.findings}

    forth, back = said("AN4-12A", "MS21042-4"), said("MS21042-4", "AN4-…A")
    assert forth == back
    assert "nut.thin-wall.embrittlement" in back
    assert "bolt.hex.load" not in back


def test_the_size_of_an_open_number_is_written_and_its_length_is_not(desk: Desk) -> None:
    numbers = {
        number
        for c in desk.mates.of(desk.part("AN365-1032A", "from-memory"), {})
        if c.any_of
        for number in (c.number, *c.variants)
    }
    assert {"AN510-10-…", "AN510-10R…", "MS20073-03-…"} <= numbers
    assert not {number for number in numbers if number.count("…") > 1 or "…-…" in number}


@pytest.mark.parametrize(
    "number", ["AN365-1032A", "AN960-416", "AN960-10", "AN380-2-2", "AN310-4", "MS21042-4", "MS20995C32"]
)
def test_an_open_number_with_its_length_filled_in_is_the_number_of_a_part_that_is_made(desk: Desk, number: str) -> None:
    """What stands before and behind the ellipsis is written as the family writes its numbers, dashes and all."""
    found = [c for c in desk.mates.of(desk.part(number, "from-memory"), {}) if c.any_of]
    assert found
    for candidate in found:
        family, codes = candidate.part.family, candidate.part.designation.codes
        assert family.not_made(list(codes)) is None, candidate.number
        written = ".+".join(re.escape(piece) for piece in candidate.number.split("…"))
        assert re.fullmatch(written, family.format(codes)), candidate.number


def test_in_roles_gives_those_roles_number_by_number(desk: Desk) -> None:
    part = desk.part("AN4-12A", "from-memory")
    everything = desk.mates.of(part, {})
    for role in ("nut", "washer"):
        found = desk.mates.in_roles(part, {}, frozenset({role}))
        assert {candidate.role for candidate in found} == {role}
        assert not any(candidate.variants for candidate in found)
        said = {n for c in everything if c.role == role and not c.any_of for n in (c.number, *c.variants)}
        assert {candidate.number for candidate in found} == said
    both = desk.mates.in_roles(part, {}, frozenset({"nut", "washer"}))
    assert {candidate.role for candidate in both} == {"nut", "washer"}


def test_what_is_kept_of_offers_is_bounded_and_worked_out_once(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def numbers(mates: Mates, number: str) -> list[str]:
        return [c.number for c in mates.in_roles(desk.part(number, "from-memory"), {}, frozenset({"nut"}))]

    plain = Mates(desk.catalogue, desk.rules, desk.encoder)
    first = numbers(plain, "AN4-12A")
    kept = dict(plain._offered)
    assert numbers(plain, "AN4-13A") == first, "a length changes no nut"
    assert plain._offered == kept
    assert all(plain._offered[key] is offered for key, offered in kept.items())
    assert set(numbers(plain, "AN5-12A")).isdisjoint(first)
    for most in range(1, 6):
        monkeypatch.setattr(mates_module, "_MOST_OFFERED", most)
        small = Mates(desk.catalogue, desk.rules, desk.encoder)
        assert numbers(small, "AN4-12A") == first
        assert len(small._offered) <= most


def test_the_gravest_effect_is_the_verdict(desk: Desk) -> None:
    def of(*effects: str) -> str:
        (some,) = [c for c in desk.mates.of(desk.part("AN4-12A", "from-memory"), {}) if c.number == "AN363-428"]
        first: Finding = some.findings[0]
        return verdict_of(tuple(Finding(first.rule, first.topic, e, first.text, first.citation) for e in effects))  # type: ignore[arg-type]

    assert of() == of("fits") == of("notes", "fits") == "fits"
    assert of("fits", "conditions") == "conditional"
    assert of("conditions", "excludes", "fits") == "excluded"


def test_a_castle_nut_leads_to_drilled_bolts_whose_length_is_open(desk: Desk) -> None:
    """The dash stands where digits would meet (AN4-…, AN4H… without) or where the number has one anyway (AN43B-…, NAS6204-…D)."""
    found = [c for c in desk.mates.of(desk.part("AN310-4", "from-memory"), {}) if c.any_of]
    numbers = {number for c in found for number in (c.number, *c.variants)}
    assert {"AN4-…", "AN4H…", "AN43-…", "AN43B-…", "NAS6204-…D"} <= numbers
    assert not {"AN4-…A", "AN4…", "AN4H-…"} & numbers
    for candidate in found:
        assert candidate.part.family.not_made(list(candidate.part.designation.codes)) is None
        drilled = candidate.part.value("shank_drilled")
        assert drilled is not None
        assert drilled.exact == "yes"
