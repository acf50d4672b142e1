"""Worked examples from handbooks, standards and lists: a number and what the document says it is.

The examples stand in handbook_examples.py, each with its source and the place in it.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from service.designation.reader import Reader
from service.designation.reading import Refusal
from service.parts.part import Part
from service.quantity import parse_number
from tests.published.handbook_examples import EXAMPLES, Example

Named = Callable[..., Part]


@pytest.mark.parametrize("example", EXAMPLES, ids=[f"{e.number}: {e.source}" for e in EXAMPLES])
def test_a_number_means_what_its_document_says(part: Named, example: Example) -> None:
    found = part(example.number)
    for attribute, stated in example.meaning.items():
        value = found.value(attribute)
        assert value is not None, (
            f"{example.number} has no {attribute}; {example.source}, {example.locator} says {stated}"
        )
        if isinstance(value.exact, Fraction):
            # printed to three places in some of the documents
            assert value.exact == pytest.approx(parse_number(stated), abs=0.0005), attribute
        else:
            assert value.exact == stated, attribute


@pytest.mark.parametrize(
    ("old", "new", "source"),
    [
        ("AN960-10", "NAS1149F0363P", "NAS1149, published pair"),
        ("AN960-10L", "NAS1149F0332P", "NAS1149, published pair"),
        ("AN960-8", "NAS1149FN832P", "NAS1149, published pair"),
        ("AN960-4L", "NAS1149FN416P", "NAS1149, published pair"),
        ("AN960-416", "NAS1149F0463P", "NAS1149, published pair"),
        ("AN960C416L", "NAS1149C0432R", "NAS1149, family rule"),
        ("AN960PD416", "NAS1149D0463K", "NAS1149, published stock list"),
        ("AN960-1216", "NAS1149F1290P", "NAS1149, family rule"),
        ("AN960C1716", "NAS1149C1790R", "NAS1149, family rule"),
        ("AN935-416", "MS35338-44", "MS35338, dash table (from-memory)"),
        ("AN936A416", "MS35333-40", "MS35333, dash table (from-memory)"),
        ("AN380-2-2", "MS24665-132", "MS24665, dash table (from-memory)"),
        ("AN380-4-4", "MS24665-353", "MS24665, published data page"),
        ("AN393-11", "MS20392-2C11", "MS20392, rule"),
        ("AN365-918A", "MS21044N9", "kit hardware list, bag 1204-1"),
        ("AN364-1032", "MS21083N3", "kit hardware list, bag 1206"),
        ("AN365-832", "NAS1021N08", "trade article 2006, p. 1"),
        ("NAS229-8", "MS27039-1-08", "owner-group answer"),
    ],
)
def test_a_listed_heir_is_related_by_a_row(reader: Reader, desk: object, old: str, new: str, source: str) -> None:
    first = reader.read(old)
    if isinstance(first, Refusal) and first.outcome == "not-covered":
        pytest.skip(f"{old} is of a family not held; {source}")
    assert not isinstance(first, Refusal), first.detail
    relatives = {r.part.number: r for r in desk.relations.of(Part(first))}  # type: ignore[attr-defined]
    assert new in relatives, sorted(relatives)
    assert relatives[new].relation != "not equivalent"


def test_drawing_numbers_of_families_not_held_are_refused_and_not_guessed(reader: Reader) -> None:
    """TB 1-1520-237-20-232 names MS9364-17, TM 1-1500-204-23-6 AN776-6D: no rows here."""
    for number in ("MS9364-17", "AN776-6D"):
        found = reader.read(number)
        assert isinstance(found, Refusal)
        assert found.outcome == "not-covered"


def test_the_cotter_pin_of_an6_is_smaller_than_its_hole(part: Named) -> None:
    """MS33540 minimum and the AN3-AN20 hole column: AN6 drilled .106, pin MS24665-283 of 3/32, shank at most .090."""
    hole, shank = part("AN6-12").value("shank_hole_diameter"), part("MS24665-283").value("shank_diameter")
    assert hole is not None
    assert shank is not None
    assert hole.exact == parse_number(".106")
    assert Fraction("0.072") <= shank.exact <= hole.exact  # type: ignore[operator]
