"""Scanning with the reader that the page brings along, in a browser that has none of its own; the labels are real bar codes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect

from tests.counter.conftest import CHROMIUM, FLAGS, PHONE, clean
from tests.counter.test_page import opened, until

LABELS = Path(__file__).resolve().parent / "labels"
READER = "/counter/scanner/"


def no_reader_of_its_own(page: Page) -> None:
    page.add_init_script("delete window.BarcodeDetector")


def picture_opened(page: Page, name: str) -> None:
    page.get_by_role("button", name="Scan").click()
    page.locator("#label-picture").set_input_files(LABELS / name)


@pytest.mark.parametrize("name", ["data_matrix.png", "three_code_128.png"])
def test_a_picture_of_a_label_fills_part_lot_and_quantity(page: Page, address: str, name: str) -> None:
    """ISO/IEC 15434 format 06 with ANSI MH10.8.2 identifiers P, 1T and Q; in three bar codes, each identifier stands alone."""
    no_reader_of_its_own(page)
    opened(page, address, "")
    picture_opened(page, name)
    expect(page.get_by_role("heading", level=1)).to_contain_text("AN4-10A")
    expect(page.locator("main")).to_contain_text("lot LOT77, quantity 25")


def test_the_reader_is_fetched_only_when_scanning_starts_and_only_from_here(
    phone: BrowserContext, address: str
) -> None:
    page = phone.new_page()
    no_reader_of_its_own(page)
    asked: list[str] = []
    phone.on("request", lambda request: asked.append(request.url))
    opened(page, address, "#/part/AN4-10A")
    until(page, "navigator.serviceWorker.controller !== null")
    assert not [url for url in asked if READER in url]
    picture_opened(page, "data_matrix.png")
    expect(page.locator("main")).to_contain_text("lot LOT77")
    assert [url for url in asked if url.endswith(".wasm")]
    assert all(url.startswith((address, "data:", "blob:")) for url in asked), asked


def test_the_reader_works_without_signal_after_its_first_use(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    no_reader_of_its_own(page)
    opened(page, address, "#/part/AN4-10A")
    until(page, "navigator.serviceWorker.controller !== null")
    picture_opened(page, "data_matrix.png")
    expect(page.locator("main")).to_contain_text("lot LOT77")
    phone.set_offline(True)
    page.goto("about:blank")
    opened(page, address, "")
    picture_opened(page, "three_code_128.png")
    expect(page.get_by_role("heading", level=1)).to_contain_text("AN4-10A")
    expect(page.locator("#signal")).to_contain_text("stored on this device")


def test_a_picture_without_a_bar_code_is_said_to_have_none(page: Page, address: str) -> None:
    no_reader_of_its_own(page)
    opened(page, address, "")
    icon = Path(__file__).resolve().parents[2] / "service" / "counter" / "icons" / "icon-192.png"
    page.get_by_role("button", name="Scan").click()
    page.locator("#label-picture").set_input_files(icon)
    expect(page.locator("#number-note")).to_contain_text("No bar code was found")
    page.locator("#label-picture")
    page.get_by_role("button", name="Scan").click()
    page.locator("#label-picture").set_input_files(
        {"name": "label.png", "mimeType": "image/png", "buffer": b"no picture at all"}
    )
    expect(page.locator("#number-note")).to_contain_text("no picture")


@pytest.fixture
def with_camera(driver: Playwright) -> Iterator[BrowserContext]:
    """A phone whose camera plays a file: the browser's own switches for it."""
    started = driver.chromium.launch(
        executable_path=str(CHROMIUM),
        args=[
            *FLAGS,
            "--use-fake-ui-for-media-stream",
            "--use-fake-device-for-media-stream",
            f"--use-file-for-fake-video-capture={LABELS / 'qr_code.mjpeg'}",
        ],
    )
    context = started.new_context(**PHONE, permissions=["camera"])
    context.set_default_timeout(15_000)
    yield context
    started.close()


def test_the_camera_can_be_closed_with_the_keyboard_and_gives_the_focus_back(
    phone: BrowserContext, address: str
) -> None:
    page = phone.new_page()
    page.add_init_script(
        "delete window.BarcodeDetector; navigator.mediaDevices.getUserMedia = async () => { const c = document.createElement('canvas');"
        " c.getContext('2d').fillRect(0, 0, 9, 9); return c.captureStream(5) }"
    )
    opened(page, address, "")
    page.get_by_role("button", name="Scan").press("Enter")
    expect(page.get_by_role("dialog", name="Scan a label")).to_contain_text("Hold the label still")
    clean(page)
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.get_by_role("button", name="Scan")).to_be_focused()


def test_a_label_held_before_the_camera_is_read_and_the_camera_let_go(
    with_camera: BrowserContext, address: str
) -> None:
    page = with_camera.new_page()
    page.add_init_script(
        "delete window.BarcodeDetector; const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);"
        "navigator.mediaDevices.getUserMedia = async (wanted) => (window.camera = await ask(wanted));"
        "window.long = []; new PerformanceObserver((l) => l.getEntries().forEach((e) => long.push(e.duration)))"
        ".observe({type: 'longtask', buffered: true})"
    )
    opened(page, address, "")
    page.get_by_role("button", name="Scan").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("AN4-10A")
    expect(page.locator("main")).to_contain_text(re.compile("lot LOT77, quantity 25"))
    expect(page.locator("dialog")).to_have_count(0)
    assert page.evaluate("camera.getTracks().every((one) => one.readyState === 'ended')")
    assert max(page.evaluate("long"), default=0) <= 100
