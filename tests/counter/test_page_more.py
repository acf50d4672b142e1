"""More tasks at the counter: free text, measurements, conditions of three states, side by side, paper, and how long the page keeps busy."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.counter.test_page import VIEWS, opened

#: longest stretch of work in the page, in milliseconds
LONGEST_TASK = 100
_WATCH = "window.long = []; new PerformanceObserver((l) => l.getEntries().forEach((e) => long.push(e.duration))).observe({type: 'longtask', buffered: true})"


def test_every_line_of_a_pasted_list_comes_back_with_its_quantity_or_its_refusal(page: Page, address: str) -> None:
    opened(page, address, "#/list")
    page.get_by_label("Lines").fill("4 ea AN4-10A\n\U0001f6e9 AN4-99A\nwash hands\nAN960-416 (8)")
    page.get_by_role("button", name="Read the list").click()
    rows = page.locator("table.list tbody tr")
    expect(rows).to_have_count(4)
    expect(rows.nth(0).locator(".quantity")).to_have_text("4")
    expect(rows.nth(0).locator(".number-read")).to_have_text("AN4-10A")
    expect(rows.nth(1)).to_contain_text("no such number")
    expect(rows.nth(2)).to_contain_text("No part number found")
    expect(rows.nth(3).locator("th")).to_have_text("4")
    expect(rows.nth(3).locator(".quantity")).to_have_text("8")


def test_measurements_give_candidates_with_evidence_and_never_a_decision(page: Page, address: str) -> None:
    """A 1/4 in shank and a 7/16 in wrench size are those of an AN4 bolt: the wrench sizes of any mechanic's handbook (common-practice)."""
    opened(page, address, "#/what")
    page.get_by_label("Every reading may be off by, in").fill("0.001")
    page.get_by_label("Diameter of shank or thread, in").fill("0.249")
    page.get_by_label("Across flats, in").fill("0.437")
    page.get_by_label("Kind of part").select_option("bolt")
    page.get_by_role("button", name="Find what fits").click()
    found = page.locator("section.relative", has=page.locator("h3", has_text="AN4…"))
    expect(found.first).to_contain_text("7/16 in")
    expect(found.first.locator(".basis").first).to_be_visible()
    expect(page.locator("main")).to_contain_text("they do not prove it")
    assert "nominal_diameter=0.249" in page.url


def test_a_reading_that_is_no_number_is_refused_in_words(page: Page, address: str) -> None:
    opened(page, address, "#/what?nominal_diameter=fat")
    expect(page.locator(".refusal")).to_contain_text("readings")


def test_no_is_told_from_not_stated(page: Page, address: str) -> None:
    opened(page, address, "#/part/AN4-10A/mates")
    before = page.locator(".counted").inner_text()
    page.get_by_label("Bolt or nut turns in service").select_option("no")
    expect(page.locator(".counted")).not_to_have_text(before)
    assert "rotates=false" in page.url


def test_an_alternate_stands_side_by_side_and_is_not_called_an_approval(page: Page, address: str) -> None:
    opened(page, address, "#/part/AN4-10A/alternates")
    expect(page.locator("main")).to_contain_text("not an approval")
    head = page.locator("table.side thead").first
    expect(head).to_contain_text("AN4-10A")
    for verdict in page.locator("section.relative > .wide tbody td:last-child").all_inner_texts():
        assert verdict.startswith("differs")


@pytest.mark.parametrize("name", VIEWS)
def test_paper_carries_the_caution_and_the_whole_release(page: Page, address: str, name: str) -> None:
    page.emulate_media(media="print")
    opened(page, address, VIEWS[name])
    expect(page.locator("#release code")).to_be_visible()
    release = page.locator("#release").inner_text().split()[-1]
    assert len(release) == 64
    expect(page.locator("#caution")).to_be_visible()
    expect(page.get_by_role("navigation").first).to_be_hidden()


@pytest.mark.parametrize("name", VIEWS)
def test_the_page_is_never_busy_for_long(page: Page, address: str, name: str) -> None:
    page.add_init_script(_WATCH)
    opened(page, address, VIEWS[name])
    page.wait_for_timeout(500)
    longest = max(page.evaluate("long"), default=0)
    assert longest <= LONGEST_TASK, longest


def test_an_operation_that_is_not_served_is_said_plainly(page: Page, address: str) -> None:
    page.route("**/v1/parts/identify*", lambda route: route.fulfill(status=404, json={"title": "Nothing is here"}))
    page.route("**/v1/text/parts*", lambda route: route.fulfill(status=404, json={"title": "Nothing is here"}))
    opened(page, address, VIEWS["what"])
    expect(page.locator("main")).to_contain_text("not served here")
    opened(page, address, "#/list?text=AN4-10A")
    expect(page.locator("table.list tbody tr")).to_have_count(1)
    expect(page.locator("main")).to_contain_text("free text is not served here")
