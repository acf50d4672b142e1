"""Hypothesis strategies: numbers that a family can make, and text that is none."""

from __future__ import annotations

from functools import lru_cache

from hypothesis import assume
from hypothesis import strategies as st

from service.app import grammar
from service.catalogue.catalogue import Catalogue, load
from service.designation.spelling import LOOKALIKES
from service.settings import Settings


@lru_cache(maxsize=1)
def real_catalogue() -> Catalogue:
    """The catalogue of the tables in the repository, read once for the whole run."""
    return load(Settings().tables, grammar())


@st.composite
def codes_of(draw: st.DrawFn, family_id: str) -> tuple[str, ...]:
    """The codes of a number of a family that is made."""
    family = real_catalogue().families[family_id]
    listed = [c for c in family.combinations if c.made]
    # a family that lists what is made would reject nearly every free choice, so begin inside one of its rows
    allowed = dict(draw(st.sampled_from(listed)).when.tests) if listed else {}
    codes = tuple(
        draw(st.sampled_from([c for c in spec.codes if index not in allowed or c in allowed[index]]))
        for index, spec in enumerate(family.slots)
    )
    assume(family.not_made(codes) is None)
    return codes


@st.composite
def mangled(draw: st.DrawFn) -> str:
    """An example number of some family, damaged: look-alikes, lost and added dashes, spaces, case, strange characters."""
    family_id = draw(st.sampled_from(list(real_catalogue().families)))
    text = list(draw(st.sampled_from(real_catalogue().families[family_id].examples)))
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.integers(0, len(text)))
        change = draw(st.sampled_from(["drop", "add", "alike", "lower"]))
        if change == "add" or place == len(text):
            text.insert(place, draw(st.sampled_from("- .–_/#AOISBLZ0158\t") | st.characters()))
        elif change == "drop":
            del text[place]
        elif change == "alike":
            text[place] = draw(st.sampled_from(LOOKALIKES.get(text[place], text[place]) or "-"))
        else:
            text[place] = text[place].lower()
    return "".join(text)
