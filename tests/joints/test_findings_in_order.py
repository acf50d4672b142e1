"""What a check says, in which order, and what it adds up to."""

from __future__ import annotations

from itertools import permutations

import pytest

from service.api.desk import Desk
from service.catalogue.values import Citation
from service.joints.findings import JointFinding, NotJudged, from_rule_row, ordered, verdict_of
from service.mating.clauses import Effect


def said(desk: Desk, effect: Effect) -> JointFinding:
    return from_rule_row(desk.rules, "rivet.length", effect, "", ["a", "a", "b"])


EFFECTS: tuple[Effect, ...] = ("excludes", "conditions", "notes", "fits")


def test_the_gravest_stands_first_and_what_speaks_for_the_set_last(desk: Desk) -> None:
    for order in permutations(EFFECTS):
        assert [found.effect for found in ordered(said(desk, effect) for effect in order)] == list(EFFECTS)


@pytest.mark.parametrize(
    ("effects", "vital", "verdict"),
    [
        ((), False, "compatible"),
        (("fits", "notes"), False, "compatible"),
        (("fits", "conditions"), False, "compatible_with_conditions"),
        (("conditions",), True, "unknown"),
        ((), True, "unknown"),
        (("conditions", "excludes"), True, "incompatible"),
        (("excludes",), False, "incompatible"),
    ],
)
def test_a_fault_outweighs_what_was_not_judged_and_that_outweighs_a_caution(
    desk: Desk, effects: tuple[Effect, ...], vital: bool, verdict: str
) -> None:
    """What nobody could judge, and does not need, changes nothing; what is vital leaves no verdict but a fault."""
    missed = [NotJudged("slight", "why"), *([NotJudged("vital", "why", vital=True)] if vital else [])]
    assert verdict_of([said(desk, effect) for effect in effects], missed) == verdict


def test_a_finding_cites_its_rule_unless_a_document_says_it_itself(desk: Desk) -> None:
    row = desk.rules.by_id["rivet.rows"]
    assert said(desk, "notes").citation == Citation.of(desk.rules.by_id["rivet.length"])
    other = from_rule_row(desk.rules, "rivet.length", "conditions", "Words.", ["a"], Citation.of(row), ["length"])
    assert other.citation == Citation.of(row)
    assert other.unknown == ("length",)
    assert other.text == f"{desk.rules.by_id['rivet.length'].text} Words."
    assert (other.rule, other.topic) == ("rivet.length", desk.rules.by_id["rivet.length"].topic)


def test_a_part_is_named_once(desk: Desk) -> None:
    assert said(desk, "notes").parts == ("a", "b")
