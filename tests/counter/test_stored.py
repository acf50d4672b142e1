"""Without a signal, or with a poor one: what was asked before is shown as stored, what was not is not made up."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.counter.conftest import Line, clean
from tests.counter.test_page import VIEWS, opened, until

_KEPT = "caches.open('gripledger-last').then((c) => c.keys()).then((all) => all.some((one) => one.url.includes('{}')))"
_STORED = re.compile(r"No signal\. This answer was stored on this device on .+, from release [0-9a-f]{12}\.")


def seen(phone: BrowserContext, address: str, hash_: str, kept: list[str]) -> Page:
    """The page after a view was seen once, from a cold start, and its answers were kept."""
    page = phone.new_page()
    opened(page, address, hash_)
    for path in kept:
        until(page, _KEPT.format(path))
    return page


def without_signal(phone: BrowserContext, page: Page, address: str, hash_: str) -> None:
    phone.set_offline(True)
    page.goto("about:blank")
    opened(page, address, hash_)


def test_a_joint_judged_before_is_shown_with_its_drawing_and_torque(phone: BrowserContext, address: str) -> None:
    paths = ["joints/check?asked=", "joints/drawing.svg?asked=", "joints/select?asked=", "torques/setting?asked="]
    page = seen(phone, address, VIEWS["joint"], paths)
    verdict = page.locator(".big-verdict").inner_text()
    without_signal(phone, page, address, VIEWS["joint"])
    expect(page.locator("#signal")).to_have_text(_STORED)
    expect(page.locator(".big-verdict")).to_have_text(verdict)
    expect(page.locator(".setting")).to_be_visible()
    expect(page.locator(".glass svg")).to_be_visible()
    expect(page.get_by_role("heading", name="Sets that close")).to_be_visible()
    clean(page)
    page.get_by_label("Plate 1, in").fill("0.3")
    page.get_by_label("Plate 1, in").blur()
    expect(page.locator(".refusal").first).to_contain_text("No signal, and no answer about this joint is stored")
    expect(page.locator(".big-verdict")).to_have_count(0)


def test_a_list_read_before_is_shown_and_a_changed_one_is_not_guessed(phone: BrowserContext, address: str) -> None:
    page = seen(phone, address, VIEWS["list"], ["text/parts?asked="])
    without_signal(phone, page, address, VIEWS["list"])
    expect(page.locator("#signal")).to_have_text(_STORED)
    expect(page.locator("table.list tbody tr")).to_have_count(2)
    page.get_by_label("Lines").fill("AN6-14A")
    page.get_by_role("button", name="Read the list").click()
    expect(page.locator(".refusal")).to_contain_text("the reading of this list is not stored on this device")


def test_readings_asked_before_keep_their_candidates(phone: BrowserContext, address: str) -> None:
    page = seen(phone, address, VIEWS["what"], ["parts/identify?asked="])
    without_signal(phone, page, address, VIEWS["what"])
    expect(page.locator("#signal")).to_have_text(_STORED)
    expect(page.locator("section.relative").first).to_be_visible()
    page.get_by_label("Diameter of shank or thread, in").fill("0.312")
    page.get_by_role("button", name="Find what fits").click()
    expect(page.locator(".refusal")).to_contain_text("no answer to these readings is stored")


def test_the_pack_holds_at_the_trust_that_was_chosen_and_names_what_it_holds_at_another(
    phone: BrowserContext, address: str
) -> None:
    page = phone.new_page()
    opened(page, address, "#/stored")
    until(page, "navigator.serviceWorker.controller !== null")
    page.get_by_label("Numbers to store").fill("AN6-14A")
    page.get_by_role("button", name="Store them").click()
    expect(page.locator("form [role=status]")).to_have_text("1 stored.")
    page.get_by_label("Trust").select_option("secondary")
    until(
        page,
        "caches.open('gripledger-pack').then((c) => c.match('/v1/parts/AN6-14A/mates?basis=secondary')).then(Boolean)",
    )
    until(page, "localStorage.getItem('gripledger.pack').includes('secondary')")
    opened(page, address, "#/stored")
    expect(page.locator(".kept")).to_contain_text("any basis, secondary or better")
    without_signal(phone, page, address, "#/part/AN6-14A/mates")
    expect(page.locator(".counted")).to_be_visible()
    assert "basis=secondary" in page.locator(".sides a").first.get_attribute("href")  # type: ignore[operator]
    page.get_by_label("Trust").select_option("published")
    expect(page.locator(".refusal")).to_contain_text("not stored on this device at “published only”")
    page.get_by_role("link", name="secondary or better").click()
    expect(page.locator(".counted")).to_be_visible()


def test_conditions_not_asked_before_offer_the_stored_answer_without_them(phone: BrowserContext, address: str) -> None:
    page = seen(phone, address, "#/part/AN4-10A/mates", ["parts/AN4-10A/mates", "tables/conditions"])
    without_signal(phone, page, address, "#/part/AN4-10A/mates?rotates=true")
    expect(page.locator(".refusal")).to_contain_text("under these conditions")
    page.get_by_role("link", name="any basis, no conditions").click()
    expect(page.locator(".counted")).to_be_visible()


def test_a_slow_line_shows_the_stored_answer_until_the_fresh_one_takes_its_place(
    phone: BrowserContext, address: str, line: Line
) -> None:
    page = seen(phone, address, "#/part/AN4-10A", ["parts/AN4-10A", "AN4-10A/drawing.svg"])
    line.delay = 5.0
    page.goto("about:blank")
    page.goto(f"{address}/counter#/part/AN4-10A")
    expect(page.locator("#signal")).to_contain_text("Slow signal. This answer was stored", timeout=6_000)
    expect(page.locator(".pieces li").first).to_be_visible()
    expect(page.locator("#signal")).to_be_hidden(timeout=8_000)
    expect(page.locator(".pieces li").first).to_be_visible()
    expect(page.locator(".glass svg")).to_be_visible()


@pytest.mark.parametrize("path", ["#/part/AN4-10A", "#/joint?bolt=AN4-10A&ply=0.25", "#/list?text=AN4-10A"])
def test_nothing_stored_is_said_in_a_plain_sentence(phone: BrowserContext, address: str, path: str) -> None:
    page = phone.new_page()
    opened(page, address, "#/")
    until(page, "navigator.serviceWorker.controller !== null")
    without_signal(phone, page, address, path)
    expect(page.locator(".refusal").first).to_contain_text(
        re.compile("No signal, and .+ (is )?not stored on this device|no answer .+ is stored")
    )
    clean(page)
