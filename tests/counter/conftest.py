"""The page in a real browser, a phone's: a server on a free port, one browser for a module, a fresh context for each test."""

from __future__ import annotations

import asyncio
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn
from fastapi import FastAPI
from starlette.types import Receive, Scope, Send

playwright = pytest.importorskip("playwright.sync_api")
from axe_playwright_python.sync_playwright import Axe  # noqa: E402
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright  # noqa: E402

CHROMIUM = Path("/usr/bin/chromium")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PHONE = {"viewport": {"width": 360, "height": 800}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}


class Line:
    """The line to the service: ``delay`` seconds pass before a question reaches it."""

    def __init__(self, service: FastAPI) -> None:
        self.service = service
        self.delay = 0.0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if self.delay and scope["type"] == "http" and scope["path"].startswith("/v1/"):
            await asyncio.sleep(self.delay)
        await self.service(scope, receive, send)


@pytest.fixture(scope="session")
def wire(served: FastAPI) -> Line:
    return Line(served)


@pytest.fixture
def line(wire: Line) -> Iterator[Line]:
    """The line, as fast as ever again after the test."""
    yield wire
    wire.delay = 0.0


@pytest.fixture(scope="session")
def address(wire: Line) -> Iterator[str]:
    """The service on a free port of this machine."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port = found.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(wire, host="127.0.0.1", port=port, log_level="error", access_log=False))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + 20
    while not server.started:
        assert time.monotonic() < until, "the service did not start"
        time.sleep(0.05)
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="module")
def driver() -> Iterator[Playwright]:
    """Closed with the module: while it is open it holds the event loop that other modules' tests run on."""
    if not CHROMIUM.exists():
        pytest.skip("no browser on this machine")
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="module")
def browser(driver: Playwright) -> Iterator[Browser]:
    started = driver.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
    yield started
    started.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """A phone that was never here."""
    context = browser.new_context(**PHONE)
    context.set_default_timeout(15_000)
    yield context
    context.close()


@pytest.fixture
def page(phone: BrowserContext) -> Page:
    return phone.new_page()


def clean(page: Page) -> None:
    """Asserts that axe-core, with its WCAG 2.2 A and AA rules and its best practices, finds nothing on a page as it stands."""
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
