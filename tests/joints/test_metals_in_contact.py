"""Hardware on the plates it touches: what of it touches which plate, and the severity of what is said.

Verdicts by hand from MIL-STD-889's five groups (same group compatible, next group protect the faces, further apart isolate),
MIL-STD-1568C 5.8.1 and NASA-STD-6016B 4.2.2 (silver on titanium), QQ-P-416 6.1.1.1.1 (cadmium on titanium).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, cast

import pytest

from service.api.desk import Desk
from service.catalogue.values import Value
from service.joints.assembly import Assembly, Layer
from service.joints.findings import JointFinding
from service.joints.formulas.stack import exactly
from service.joints.metals import Metals, judge_metals, surface_of
from service.parts.part import Part

Named = Callable[..., Part]


@pytest.fixture(scope="module")
def metals(desk: Desk) -> Metals:
    return Metals.of(desk.catalogue, "from-memory")


def plates(*materials: str) -> tuple[Layer, ...]:
    return tuple(Layer(exactly(Fraction(1, 8)), material) for material in materials)


def said(assembly: Assembly, metals: Metals) -> dict[tuple[str, str], JointFinding]:
    """Findings by part and plate, as the words name them."""
    found = list(judge_metals(assembly, metals))
    by_pair = {(f.parts[0], f.text.split(" on ")[1].split(":")[0]): f for f in found}
    assert len(by_pair) == len(found), "said twice"
    return by_pair


@pytest.mark.parametrize(
    ("number", "surface"),
    [("AN4-12A", "cadmium"), ("MS21043-4", "silver"), ("MS21044C4", "stainless"), ("AN960JD416", "aluminium"),
     ("NAS6404-8", "titanium"), ("MS21044B4", "brass")],
)  # fmt: skip
def test_a_plated_part_shows_its_plating_and_a_film_leaves_the_metal_there(
    part: Named, number: str, surface: str
) -> None:
    """Cadmium and silver are platings; passivated and chemically filmed parts show their base metal."""
    assert surface_of(part(number)) == surface


def test_a_part_whose_metal_no_row_good_enough_gives_shows_nothing(part: Named, metals: Metals) -> None:
    bare = part("AN960-416", basis="published")
    assert surface_of(bare) == ""
    assert not list(judge_metals(Assembly(under_head=(bare,), fastener=None, stack=plates("titanium")), metals))


@pytest.mark.parametrize(
    ("bolt", "plate", "severity", "effect", "word"),
    [
        ("AN4-12A", "titanium", "fault", "excludes", "prohibited"),
        ("NAS6404-8", "aluminium", "caution", "conditions", "isolate"),
        ("AN4-12A", "magnesium", "note", "notes", "protect"),
        ("AN4-12A", "aluminium", None, None, None),
        ("AN4-12A", "wood", None, None, None),
    ],
)
def test_prohibited_is_a_fault_isolate_a_caution_protect_a_note_and_the_rest_is_silent(
    part: Named, metals: Metals, bolt: str, plate: str, severity: str | None, effect: str | None, word: str | None
) -> None:
    found = said(Assembly(part(bolt), stack=plates(plate)), metals)
    if severity is None:
        assert not found
        return
    one = found[bolt, plate]
    assert (one.severity, one.effect, one.topic) == (severity, effect, "material")
    assert one.text.endswith(f"of {bolt} on {plate}: {word}.")
    assert one.citation is not None
    assert one.citation.row == one.rule
    assert metals.rows[one.rule].verdict == word


@pytest.mark.parametrize(
    ("temperature", "word"), [(None, "caution"), (Fraction(450), "caution"), (Fraction(451), "prohibited")]
)
def test_silver_on_titanium_is_a_caution_and_above_450_f_prohibited(
    part: Named, metals: Metals, temperature: Fraction | None, word: str
) -> None:
    """MIL-STD-1568C 5.8.1 above 450; NASA-STD-6016B 4.2.2 at any temperature. The row cited is the one that counted."""
    joint: dict[str, Any] = {} if temperature is None else {"temperature": temperature}
    found = said(Assembly(part("NAS6404-8"), nut=part("MS21043-4"), stack=plates("titanium"), joint=joint), metals)
    one = found["MS21043-4", "titanium"]
    assert one.text == f"Silver of MS21043-4 on titanium: {word}."
    assert one.severity == ("fault" if word == "prohibited" else "caution")
    assert metals.rows[one.rule].verdict == word
    assert (metals.rows[one.rule].condition == "above 450 degF") is (word == "prohibited")


def test_each_outer_plate_is_touched_by_what_lies_on_it_and_the_shank_touches_every_plate(
    part: Named, metals: Metals
) -> None:
    """Titanium next to aluminium is to be isolated (groups IV and II), silver next to aluminium too."""
    head, near, nut = part("AN960-416"), part("AN960C416"), part("MS21043-4")
    bolt, steel = part("NAS6404-8"), part("AN960-416L")
    whole = Assembly(bolt, (steel, head), (near, steel), nut, stack=plates("titanium", "aluminium", "magnesium"))
    touching = set(said(whole, metals))
    # the washer against the plate, not the one under the head; the titanium bolt on titanium is no contact to speak of
    assert touching == {
        ("AN960-416", "titanium"),
        ("AN960C416", "magnesium"),
        ("NAS6404-8", "aluminium"),
        ("NAS6404-8", "magnesium"),
    }
    # without washers the head and the nut bear themselves
    bare = Assembly(bolt, nut=nut, stack=plates("titanium", "aluminium"))
    assert set(said(bare, metals)) == {("MS21043-4", "aluminium"), ("NAS6404-8", "aluminium")}


@pytest.mark.parametrize("plating", ["cadmium", "zinc", "silver", "nickel", "tin", "chromium"])
def test_the_plating_is_judged_and_not_the_metal_beneath(plating: str) -> None:
    """MIL-DTL-14072F 3.13.1 a, for every plating; of a part without a row on its finish, the metal."""

    @dataclass(frozen=True)
    class Worded:
        words: dict[str, str]

        def value(self, attribute: str) -> Value | None:
            word = self.words.get(attribute)
            return None if word is None else Value(attribute, word, "", word, word)

    assert surface_of(cast(Part, Worded({"finish_group": plating, "material_group": "steel"}))) == plating
    assert surface_of(cast(Part, Worded({"finish_group": "passivated", "material_group": "steel"}))) == "steel"
    assert surface_of(cast(Part, Worded({"material_group": "steel"}))) == "steel"
    assert surface_of(cast(Part, Worded({}))) == ""


def test_the_shank_touches_plates_of_the_material_stated_whatever_lies_under_head_and_nut(
    part: Named, metals: Metals
) -> None:
    """With plates that name no metal as without plates: a titanium bolt in aluminium between aluminium washers."""
    washer = part("AN960PD416")
    for stack in ((), plates(""), plates("", "")):
        whole = Assembly(part("NAS6404-8"), (washer,), (washer,), stack=stack, joint={"material": "aluminium"})
        assert set(said(whole, metals)) == {("NAS6404-8", "aluminium")}


def test_without_a_stack_the_material_stated_is_touched_on_both_sides(part: Named, metals: Metals) -> None:
    bolt, nut = part("NAS6404-8"), part("MS21043-4")
    assert set(said(Assembly(bolt, nut=nut, joint={"material": "aluminium"}), metals)) == {
        ("NAS6404-8", "aluminium"),
        ("MS21043-4", "aluminium"),
    }
    assert not said(Assembly(bolt, nut=nut), metals)
    assert not said(Assembly(None, nut=None, joint={"material": "aluminium"}), metals)


def test_a_plate_that_names_no_metal_is_of_the_material_stated(part: Named, metals: Metals) -> None:
    bolt, nut = part("NAS6404-8"), part("MS21043-4")
    stated = Assembly(bolt, nut=nut, stack=plates("", ""), joint={"material": "aluminium"})
    assert set(said(stated, metals)) == {("NAS6404-8", "aluminium"), ("MS21043-4", "aluminium")}
    named = Assembly(bolt, nut=nut, stack=plates("titanium", "titanium"), joint={"material": "aluminium"})
    assert set(said(named, metals)) == {("MS21043-4", "titanium")}


def test_the_more_active_metal_of_the_sea_water_series_corrodes(metals: Metals) -> None:
    """MIL-STD-889B notice 1, table II: magnesium is the first, graphite the last."""
    assert metals.anode("magnesium", "graphite") == metals.anode("graphite", "magnesium") == "magnesium"
    assert metals.anode("magnesium", "no such metal") is None


def test_only_metals_of_rows_good_enough_are_named(desk: Desk, metals: Metals) -> None:
    """The groups of MIL-STD-889 and its series are secondary; the rules on titanium are published."""
    assert {"magnesium", "A-286", "titanium 75A", "mercury"} <= set(metals.names)
    assert list(metals.names) == sorted(set(metals.names))
    assert not {"I", "II", "1", ""} & set(metals.names), "a group or a place is no metal"
    published = Metals.of(desk.catalogue, "published")
    assert "mercury" in published.names
    assert "A-286" not in published.names
    assert published.members == published.series == ()
    assert Metals.of(desk.catalogue, "secondary").members
    assert published.contact("aluminium", "magnesium").verdict == "unknown"


def test_a_recommended_washer_is_no_verdict_on_two_metals(metals: Metals) -> None:
    """AC 43.13-1B 7-86 recommends such washers: that is neither compatible nor prohibited."""
    assert metals.contact("cadmium-plated steel washer", "magnesium", frozenset({"under heads and nuts"})).verdict == "unknown"  # fmt: skip
    assert metals.contact("stainless bolt", "aluminium sheet").verdict == "compatible"  # MIL-STD-1250A 5.7 a
