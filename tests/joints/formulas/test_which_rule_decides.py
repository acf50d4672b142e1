"""The harsher row decides, whatever the rows are called."""

from __future__ import annotations

from itertools import pairwise

import pytest

from service.joints.formulas.galvanic import PairRule, Verdict, judge_contact

#: mildest first: metals apart are kept apart before their faces are merely protected; what is forbidden outranks all
ORDER: tuple[Verdict, ...] = ("unknown", "compatible", "protect", "caution", "isolate", "prohibited")


@pytest.mark.parametrize(("milder", "harsher"), list(pairwise(ORDER)))
def test_the_harsher_of_two_rows_decides_under_either_name(milder: Verdict, harsher: Verdict) -> None:
    for first, second in (("a", "b"), ("b", "a")):
        rules = [PairRule("x", "y", milder, "", first), PairRule("x", "y", harsher, "", second)]
        found = judge_contact("x", "y", [], [], rules)
        assert found.verdict == harsher
        assert [reason.verdict for reason in found.reasons] == [harsher, milder]
