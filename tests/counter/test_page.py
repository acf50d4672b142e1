"""Each task at the counter, in a real browser with a phone's profile, from a cold start."""

from __future__ import annotations

import re
import time

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from tests.counter.conftest import PHONE

VIEWS = {
    "home": "#/",
    "part": "#/part/AN4-10A",
    "refusal": "#/part/AN4-99A",
    "mates": "#/part/AN4-10A/mates?temperature=300",
    "alternates": "#/part/AN4-10A/alternates",
    "label": "#/part/AN960-416?lot=LOT77&quantity=25",
    "family not held": "#/part/XYZ99-1",
    "nothing joined": "#/joint",
    "joint": "#/joint?bolt=AN4-10A&under=AN960-416&nut=AN365-428A&ply=0.25~aluminium&ply=0.25&find=1/4-28",
    "list": "#/list?text=AN4-10A%0AAN4-99A",
    "what": "#/what?nominal_diameter=0.249&doubt=0.001&head_mark=raised%20cross",
    "stored": "#/stored",
}


def opened(page: Page, address: str, hash_: str) -> None:
    page.goto(f"{address}/counter{hash_}")
    shown(page)


def shown(page: Page) -> None:
    expect(page.locator("main:not([aria-busy]) h1")).to_be_visible()


def until(page: Page, expression: str) -> None:
    """Waits for an expression to hold; asked again and again from here, since the page's policy forbids a page-side poll."""
    end = time.monotonic() + 15
    while not page.evaluate(expression):
        assert time.monotonic() < end, expression
        page.wait_for_timeout(50)


def test_a_number_typed_on_a_cold_start_is_taken_apart_with_its_sources(page: Page, address: str) -> None:
    opened(page, address, "")
    page.get_by_role("combobox", name="Part number").fill("an4-10a")
    page.get_by_role("button", name="Read", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("AN4-10A")
    pieces = page.locator(".pieces li")
    expect(pieces.first).to_contain_text("1/4 in")
    expect(pieces.first.locator("dl")).to_be_hidden()
    pieces.first.locator("summary").click()
    expect(pieces.first.locator("dl")).to_contain_text("coding paragraph")
    expect(page.locator(".glass svg")).to_be_visible()
    expect(page.locator("#caution")).to_contain_text("not approved data")
    assert re.search(r"Release [0-9a-f]{12}", page.locator("#release").inner_text())


def test_completions_are_taken_with_the_keyboard_alone(page: Page, address: str) -> None:
    opened(page, address, "")
    field = page.get_by_role("combobox", name="Part number")
    field.focus()
    with page.expect_response(lambda answer: answer.url.split("prefix=")[-1].startswith("AN4-10&")):
        page.keyboard.type("AN4-10")
    offered = page.get_by_role("listbox", name="Completions").get_by_role("option")
    expect(offered.filter(has_text="AN4-10A")).to_be_visible()
    options = offered.all_inner_texts()
    wanted = next(at for at, text in enumerate(options) if text.startswith("AN4-10A"))
    for _ in range(wanted + 1):
        page.keyboard.press("ArrowDown")
    assert field.get_attribute("aria-activedescendant") == f"completion-{wanted}"
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("AN4-10A")
    expect(page.get_by_role("heading", level=1)).to_be_focused()


def test_a_refusal_marks_the_wrong_piece_and_offers_neighbours_that_can_be_read(page: Page, address: str) -> None:
    opened(page, address, "#/part/AN4-99A")
    expect(page.locator("mark")).to_have_text("99")
    near = page.locator(".refusal .numbers a")
    number = near.first.inner_text()
    near.first.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text(number)
    expect(page.locator(".pieces li").first).to_be_visible()


def test_heat_of_300_rules_out_the_insert_nut_and_says_why(page: Page, address: str) -> None:
    """Fibre and nylon locknuts are limited to 250 F: AC 43.13-1B, 7-64f; NASM25027 1.1 (class 250)."""
    opened(page, address, "#/part/AN4-10A/mates")
    out = page.locator(".out .candidate", has_text="AN365-428A")
    expect(out).to_have_count(0)
    page.get_by_label("Highest heat, °F").fill("300")
    page.get_by_label("Highest heat, °F").press("Enter")
    page.get_by_label("Highest heat, °F").blur()
    expect(out.first).to_contain_text(re.compile("250|temperature"))
    assert "temperature=300" in page.url


def test_the_trust_switch_leaves_out_what_is_weaker_and_stands_in_the_url(page: Page, address: str) -> None:
    opened(page, address, "#/part/AN4-10A")
    expect(page.locator(".basis-from-memory").first).to_be_attached()
    page.get_by_label("Trust").select_option("published")
    expect(page.locator(".basis-from-memory, .basis-secondary")).to_have_count(0)
    assert "basis=published" in page.url


def test_without_signal_a_seen_number_is_shown_as_stored_and_an_unseen_one_is_not_made_up(
    phone: BrowserContext, address: str
) -> None:
    page = phone.new_page()
    opened(page, address, "#/part/AN4-10A")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    until(page, "navigator.serviceWorker.controller !== null")
    page.reload()  # now through the worker, which keeps the answer
    shown(page)
    until(page, "caches.open('gripledger-last').then(c => c.match('/v1/parts/AN4-10A')).then(Boolean)")
    release = re.search(r"[0-9a-f]{12}", page.locator("#release").inner_text())
    assert release
    phone.set_offline(True)
    page.goto("about:blank")
    opened(page, address, "#/part/AN4-10A")
    expect(page.locator(".pieces li").first).to_contain_text("1/4 in")
    expect(page.locator("#signal")).to_contain_text("stored on this device")
    expect(page.locator("#signal")).to_contain_text(release[0])
    opened(page, address, "#/part/AN5-10A")
    expect(page.locator(".refusal")).to_contain_text("not stored")
    expect(page.locator(".pieces")).to_have_count(0)


def test_a_chosen_number_is_stored_with_its_mates_and_let_go_with_the_old_release(
    phone: BrowserContext, address: str
) -> None:
    page = phone.new_page()
    opened(page, address, "#/stored")
    page.get_by_label("Numbers to store").fill("AN6-14A\nAN4-99A")
    page.get_by_role("button", name="Store them").click()
    expect(page.locator("form [role=status]")).to_contain_text("1 stored. Not readable: AN4-99A")
    until(page, "navigator.serviceWorker.controller !== null")
    phone.set_offline(True)
    page.goto("about:blank")
    opened(page, address, "#/part/AN6-14A/mates")
    expect(page.locator(".counted")).to_be_visible()
    expect(page.locator("#signal")).to_contain_text("stored on this device")
    phone.set_offline(False)
    page.evaluate("localStorage.setItem('gripledger.release', 'an older release')")
    page.goto("about:blank")
    opened(page, address, "#/part/AN4-10A")
    expect(page.locator("#signal")).to_contain_text("1 of 1 chosen numbers were stored again")


@pytest.mark.parametrize(
    ("script", "words"),
    [
        (
            "navigator.mediaDevices.getUserMedia = async () => { throw new DOMException('no', 'NotAllowedError') }",
            "camera was refused",
        ),
        (
            "navigator.mediaDevices.getUserMedia = async () => { throw new DOMException('no', 'NotFoundError') }",
            "No camera found",
        ),
    ],
)
def test_without_a_camera_the_page_says_so_offers_a_picture_and_still_reads(
    page: Page, address: str, script: str, words: str
) -> None:
    page.add_init_script(script)
    opened(page, address, "")
    page.get_by_role("button", name="Scan").click()
    expect(page.locator("#number-note")).to_contain_text(words)
    expect(page.get_by_role("button", name="Open a picture")).to_be_visible()
    page.get_by_role("combobox", name="Part number").fill("AN960-416")
    page.get_by_role("button", name="Read", exact=True).click()
    expect(page.locator(".pieces li").first).to_be_visible()


def test_a_scanned_label_fills_part_lot_and_quantity(page: Page, address: str) -> None:
    """An ISO/IEC 15434 envelope of format 06 with ANSI MH10.8.2 identifiers P, 1T, Q, as a detector hands it over."""
    page.add_init_script(
        "window.BarcodeDetector = class { static async getSupportedFormats() { return ['data_matrix'] }"
        " async detect() { return [{rawValue: '[)>\\x1e06\\x1dPAN4-10A\\x1d1TLOT77\\x1dQ25\\x1e\\x04'}] } };"
        "navigator.mediaDevices.getUserMedia = async () => { const c = document.createElement('canvas');"
        " c.getContext('2d').fillRect(0, 0, 9, 9); return c.captureStream(5) }"
    )
    opened(page, address, "")
    page.get_by_role("button", name="Scan").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("AN4-10A")
    expect(page.locator("main")).to_contain_text("lot LOT77, quantity 25")


def test_bad_input_is_shown_as_text_and_refused(page: Page, address: str) -> None:
    seen: list[str] = []
    page.on("pageerror", lambda error: seen.append(str(error)))
    for bad in ["<img src=x onerror=alert(1)>", "%E0%A4%A", "x" * 200, "☃/../..", "'; --"]:
        opened(page, address, "")
        page.get_by_role("combobox", name="Part number").fill(bad)
        page.get_by_role("button", name="Read", exact=True).click()
        expect(page.locator(".refusal")).to_be_visible()
        assert page.locator("main img").count() == 0
    opened(page, address, "#/part/%E0%A4%A")
    opened(page, address, "#/joint?bolt=AN4-10A&ply=minus")
    expect(page.locator(".refusal")).to_be_visible()
    assert not seen


def test_a_joint_is_judged_drawn_and_given_its_torque(page: Page, address: str) -> None:
    """50 to 70 in-lb for 1/4-28 with a tension nut, AC 43.13-1B table 7-1; drag of 10 is added to both ends (7-40)."""
    opened(page, address, "#/joint?bolt=AN4-10A&under=AN960-416&nut=AN365-428A&ply=0.25&ply=0.25")
    expect(page.locator(".big-verdict")).to_contain_text("Goes together")
    expect(page.locator(".setting")).to_contain_text("50 to 70")
    expect(page.locator(".glass svg")).to_be_visible()
    page.get_by_label("Running drag, in-lb").fill("10")
    page.get_by_label("Running drag, in-lb").blur()
    expect(page.locator(".setting")).to_contain_text("60 to 80")
    page.get_by_label("Highest heat, °F").fill("300")
    page.get_by_label("Highest heat, °F").blur()
    expect(page.locator(".big-verdict")).to_contain_text("Does not go together")


def test_a_csv_file_is_read_by_its_part_column_and_exported(page: Page, address: str) -> None:
    opened(page, address, "#/list")
    page.get_by_label("CSV or text file").set_input_files(
        {
            "name": "wing.csv",
            "mimeType": "text/csv",
            "buffer": b'Place,"Part number",Qty\r\n"rib, left",AN4-10A,4\r\nspar,AN4-99A,2\r\n',
        }
    )
    expect(page.locator("#list-text")).to_have_value("AN4-10A\nAN4-99A")
    page.get_by_role("button", name="Read the list").click()
    expect(page.locator("table.list tbody tr")).to_have_count(2)
    expect(page.get_by_role("heading", name="1 of 2 read")).to_be_visible()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Export CSV").click()
    text = waiting.value.path().read_text()
    assert text.splitlines()[0].startswith("line,asked")
    assert "AN4-10A,hexagon-head bolt" in text


#: a state of each view that asks the service, and what stands there once it has answered
FIRST_ANSWERS = {
    "number": ("#/part/AN4-10A", ".pieces li"),
    "mates": ("#/part/AN4-10A/mates", ".candidate"),
    "alternates": ("#/part/AN365-1032A/alternates", ".relative"),
    "joint": ("#/joint?bolt=AN4-10A&under=AN960-416&nut=AN365-428A&ply=0.25&ply=0.25", ".big-verdict"),
    "identify": ("#/what?nominal_diameter=0.249&doubt=0.001", ".relative"),
    "list": ("#/list?text=AN4-10A%0AAN960-416", "table.list tbody tr"),
}


def first_answer(browser: Browser, address: str, state: str, answer: str) -> float:
    """Seconds until the first answer stands there on a phone that was never here; what was transferred is checked on the way."""
    phone = browser.new_context(**PHONE)
    page = phone.new_page()
    session = phone.new_cdp_session(page)
    session.send("Network.enable")
    session.send(
        "Network.emulateNetworkConditions",
        {"offline": False, "latency": 150, "downloadThroughput": 1.6e6 / 8, "uploadThroughput": 750e3 / 8},
    )
    moved: list[float] = []
    session.on("Network.loadingFinished", lambda event: moved.append(event["encodedDataLength"]))
    begun = time.monotonic()
    page.goto(f"{address}/counter{state}", wait_until="commit")
    # looked for at every frame: a locator's own patience grows to half a second between two looks
    page.wait_for_function("answer => document.querySelector(answer)?.checkVisibility()", arg=answer)
    seconds = time.monotonic() - begun
    page.wait_for_load_state("networkidle")
    assert sum(moved) < 150_000, sum(moved)
    phone.close()
    return seconds


@pytest.mark.parametrize("view", FIRST_ANSWERS)
def test_the_first_answer_stands_within_the_budget_on_a_slow_line(browser: Browser, address: str, view: str) -> None:
    """1.6 Mbit/s down, 150 ms of latency: the slow-4G profile of common page audits (common-practice).

    The best of at most four cold starts, since the clock also counts what else this machine is doing.
    """
    best = float("inf")
    for _ in range(4):
        best = min(best, first_answer(browser, address, *FIRST_ANSWERS[view]))
        if best < 1.5:
            return
    pytest.fail(f"the first answer stood after {best:.2f} s")


def test_no_request_leaves_for_another_address_and_no_cookie_is_set(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    asked: list[str] = []

    def note(route: Route) -> None:
        asked.append(route.request.url)
        route.continue_()

    page.route("**/*", note)
    for hash_ in VIEWS.values():
        opened(page, address, hash_)
    assert asked
    assert all(url.startswith((address, "data:", "blob:")) for url in asked)
    assert phone.cookies() == []
