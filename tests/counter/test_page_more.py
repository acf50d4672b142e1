"""More tasks at the counter: free text, measurements, conditions of three states, side by side."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.counter.test_page import VIEWS, opened


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


@pytest.mark.parametrize(
    ("group", "word", "said", "ruled"),
    [
        ("Bolt or nut turns in service", "yes", "rotates=true", "self-locking nut"),
        ("Load on the bolt", "tension", "load=tension", "shear"),
        ("Under head and nut", "wood", "material=wood", "large-area washer"),
    ],
)
def test_turning_tension_and_wood_are_plain_switches(
    page: Page, address: str, group: str, word: str, said: str, ruled: str
) -> None:
    """No self-locking nut where it turns, 7-64; shear nuts not in tension, 7-67; large-area washers on wood, 7-86: AC 43.13-1B."""
    opened(page, address, "#/part/AN4-10A/mates")
    before = page.locator(".counted").inner_text()
    switches = page.get_by_role("region", name="What is known of the joint")
    switches.get_by_role("group", name=group).get_by_label(word, exact=True).check()
    expect(page.locator(".counted")).not_to_have_text(before)
    assert said in page.url
    expect(page.locator(".common, .candidate .why").filter(has_text=ruled).first).to_be_visible()


def test_every_condition_the_service_takes_can_be_stated(page: Page, address: str) -> None:
    opened(page, address, "#/part/AN4-10A/mates")
    listed = page.request.get(f"{address}/v1/tables/conditions?limit=100").json()["items"]
    names = {row["condition"] for row in listed} - {"temperature", "rotates", "load", "material"}
    assert len(names) > 20
    page.locator(".switches > details > summary").click()
    for name in names:
        expect(page.locator(f"#flag-{name}")).to_be_visible()
    expect(page.locator(".switches")).to_contain_text("Would decide something here")
    page.get_by_label("Opened before or after each flight").select_option("yes")
    expect(page.locator(".switches > details > summary")).to_contain_text("1 stated")
    assert "opened_every_flight=true" in page.url


def test_a_thickness_is_drawn_while_it_is_typed_and_judged_when_it_is_done(page: Page, address: str) -> None:
    opened(page, address, "#/joint?bolt=AN4-10A&under=AN960-416&nut=AN365-428A&ply=0.25&ply=0.25")
    drawn = page.locator(".glass svg")
    expect(drawn).to_contain_text("plates 0.5 in")
    plate = page.get_by_label("Plate 2, in")
    plate.fill("0.75")
    expect(drawn).to_contain_text("plates 1 in")
    assert "0.75" not in page.url
    plate.blur()
    expect(page.locator(".big-verdict")).to_contain_text("Does not go together")
    assert "0.75" in page.url


def test_a_set_that_closes_is_taken_over_and_the_adapter_is_reckoned_in(page: Page, address: str) -> None:
    """TM 1-1500-204-23-9, 8-5: reading = torque x L / (L + E); 12/14 of the 50 to 70 in-lb of AC 43.13-1B table 7-1 is 43 to 60."""
    opened(page, address, "#/joint?ply=0.25&ply=0.25&find=1/4-28")
    page.get_by_role("button", name="Use the set with AN4-10A", exact=True).first.click()
    expect(page.get_by_label("Bolt", exact=True)).to_have_value("AN4-10A")
    expect(page.locator(".big-verdict")).to_contain_text("Goes together")
    page.get_by_label("Wrench length, in").fill("12")
    page.get_by_label("Wrench length, in").blur()
    page.get_by_label("Adapter, in").fill("2")
    page.get_by_label("Adapter, in").blur()
    expect(page.locator(".setting")).to_contain_text("43 to 60")


def test_no_is_told_from_not_stated(page: Page, address: str) -> None:
    opened(page, address, "#/part/AN4-10A/mates")
    before = page.locator(".counted").inner_text()
    page.get_by_role("group", name="Bolt or nut turns in service").get_by_label("no", exact=True).check()
    expect(page.locator(".counted")).not_to_have_text(before)
    assert "rotates=false" in page.url


def test_an_alternate_stands_side_by_side_and_is_not_called_an_approval(page: Page, address: str) -> None:
    opened(page, address, "#/part/AN4-10A/alternates")
    expect(page.locator("main")).to_contain_text("not an approval")
    head = page.locator("table.side thead").first
    expect(head).to_contain_text("AN4-10A")
    for verdict in page.locator("section.relative > .wide tbody td:last-child").all_inner_texts():
        assert verdict.startswith("differs")


def test_an_operation_that_is_not_served_is_said_plainly(page: Page, address: str) -> None:
    page.route("**/v1/parts/identify*", lambda route: route.fulfill(status=404, json={"title": "Nothing is here"}))
    page.route("**/v1/text/parts*", lambda route: route.fulfill(status=404, json={"title": "Nothing is here"}))
    opened(page, address, VIEWS["what"])
    expect(page.locator("main")).to_contain_text("not served here")
    opened(page, address, "#/list?text=AN4-10A")
    expect(page.locator("table.list tbody tr")).to_have_count(1)
    expect(page.locator("main")).to_contain_text("free text is not served here")
