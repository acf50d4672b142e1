"""Every family's drawing and a set of joints as a browser lays them out: no words on words, none cut off, all large enough.

Outside check: the boxes are those of Chromium's text layout on a telephone 360 px wide, not the drawing's own reckoning.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from service.catalogue.catalogue import Catalogue
from service.designation.reader import Reader
from service.designation.reading import Designation
from service.drawings.joint import Joint
from service.drawings.part import Stamp, draw_part
from service.drawings.stack import draw_joint
from service.parts.part import Part
from tests.drawings.joints import JOINTS

playwright = pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Page, sync_playwright  # noqa: E402

CHROMIUM = Path("/usr/bin/chromium")
STAMP = Stamp("0" * 64, ("Not approved data.",))
#: CSS pixels below which words in the picture are too small to read at arm's length; the small print below may be smaller
SMALLEST = 10.5
#: the boxes of the words of each drawing: which stand on one another, which leave the sheet, how high the smallest is
MEASURE = """drawings => drawings.map(text => {
  document.body.innerHTML = text;
  const svg = document.querySelector('svg'), sheet = svg.getBoundingClientRect();
  const shrunk = 0.18;
  const words = [...svg.querySelectorAll('text')].map(node => {
    const box = node.getBoundingClientRect(), air = box.height * shrunk;
    const small = node.getAttribute('x') === '0' && node.getAttribute('font-size') === '2.4';
    return {said: node.textContent, left: box.left, right: box.right, top: box.top + air, bottom: box.bottom - air,
            size: parseFloat(getComputedStyle(node).fontSize) * sheet.width / svg.viewBox.baseVal.width, small};
  });
  const faults = [];
  words.forEach((one, at) => {
    if (one.left < sheet.left || one.right > sheet.right || one.top < sheet.top || one.bottom > sheet.bottom) faults.push(`cut off: ${one.said}`);
    words.slice(at + 1).forEach(other => {
      if (one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom)
        faults.push(`${one.said} | ${other.said}`);
    });
  });
  return {faults, wide: sheet.width, smallest: Math.min(...words.filter(one => !one.small).map(one => one.size))};
})"""


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    if not CHROMIUM.exists():
        pytest.skip("no browser on this machine")
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"])
        found = browser.new_page(viewport={"width": 360, "height": 800})
        found.set_content("<!doctype html><body style='margin:0'></body>")
        yield found
        browser.close()


def measured(page: Page, drawings: dict[str, bytes]) -> dict[str, Any]:
    """What the browser says of each drawing, by its name."""
    return dict(zip(drawings, page.evaluate(MEASURE, [svg.decode() for svg in drawings.values()]), strict=True))


def test_no_words_of_any_family_s_drawing_stand_on_others_or_are_cut_off(
    page: Page, catalogue: Catalogue, reader: Reader
) -> None:
    read = [reader.read(number) for family in catalogue.families.values() for number in family.examples]
    parts = [Part(found) for found in read if isinstance(found, Designation)]
    said = measured(page, {part.number: draw_part(part, STAMP) for part in parts})
    assert len(said) > 400
    assert {number: one["faults"] for number, one in said.items() if one["faults"]} == {}
    assert {number: one["smallest"] for number, one in said.items() if one["smallest"] < SMALLEST} == {}


@pytest.fixture(scope="module")
def joints(reader: Reader) -> dict[str, Joint]:
    return {name: made(reader) for name, made in JOINTS.items()}


def test_no_words_of_a_joint_s_drawing_stand_on_others_or_are_cut_off(page: Page, joints: dict[str, Joint]) -> None:
    said = measured(page, {name: draw_joint(joint, STAMP) for name, joint in joints.items()})
    assert {name: one["faults"] for name, one in said.items() if one["faults"]} == {}
    assert {name: one["smallest"] for name, one in said.items() if one["smallest"] < SMALLEST} == {}


def test_a_short_joint_fits_a_telephone_at_true_scale(page: Page, joints: dict[str, Joint]) -> None:
    said = measured(
        page, {name: draw_joint(joints[name], STAMP) for name in ("thin stack", "castellated", "plate nut")}
    )
    assert {name: one["wide"] for name, one in said.items() if one["wide"] > 360} == {}


def test_words_that_do_stand_on_others_would_be_found(page: Page) -> None:
    svg = "<svg xmlns='http://www.w3.org/2000/svg' width='50mm' height='20mm' viewBox='0 0 50 20'>{}</svg>"
    text = "<text x='{}' y='9' font-size='3'>grip 1 in</text>"
    apart, together, outside = (svg.format("".join(text.format(x) for x in at)) for at in ((1, 30), (1, 5), (1, 45)))
    found = measured(page, {name: one.encode() for name, one in (("a", apart), ("b", together), ("c", outside))})
    assert found["a"]["faults"] == []
    assert found["b"]["faults"] == ["grip 1 in | grip 1 in"]
    assert found["c"]["faults"] == ["cut off: grip 1 in"]
