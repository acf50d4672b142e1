"""What every view must hold to, on a phone and on a desk: reachable, readable, in its place, clean on paper, never busy for long."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.counter.conftest import PHONE, clean
from tests.counter.test_page import VIEWS, opened

#: longest stretch of work in the page, in milliseconds
LONGEST_TASK = 100
_WATCH = "window.long = []; new PerformanceObserver((l) => l.getEntries().forEach((e) => long.push(e.duration))).observe({type: 'longtask', buffered: true})"

#: width, height, text size
SCREENS = [(360, 800, "100%"), (1280, 800, "100%"), (320, 640, "100%"), (320, 640, "200%")]

# What is wrong with the layout as it stands: a page wider than the screen, a target under 44 px, two targets or two texts on one another.
_FAULTS = """() => {
  const out = [];
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) out.push(`runs off by ${root.scrollWidth - root.clientWidth}`);
  const name = (e) => (e.outerHTML ?? e.textContent).slice(0, 80);
  const hidden = (e) => !e.checkVisibility() || e.closest('.out-of-sight, svg, .skip') || e.getBoundingClientRect().width <= 1
    || (e.closest('thead') && getComputedStyle(e.closest('thead')).position === 'absolute');
  const presses = 'button, select, summary, textarea, input:not([type=radio], [type=checkbox], [type=range], [type=file]), label:has(input), a[href]';
  const targets = [...document.querySelectorAll(presses)].filter((e) => !hidden(e));
  for (const e of targets) {
    const box = e.getBoundingClientRect();
    if (box.height < 43.5 || box.width < 43.5) out.push(`small ${Math.round(box.width)}x${Math.round(box.height)}: ${name(e)}`);
  }
  const rects = [];
  for (const e of targets) rects.push([e, e.getBoundingClientRect(), 1]);
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  while (walk.nextNode()) {
    const node = walk.currentNode;
    if (!node.textContent.trim() || hidden(node.parentElement) || node.parentElement.closest('select, textarea, script, noscript, #completions')) continue;
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) rects.push([node, box, 3]);
  }
  rects.sort((a, b) => a[1].top - b[1].top);
  const kin = (a, b) => a.contains(b) || b.contains(a);
  for (let i = 0; i < rects.length; i += 1) {
    for (let j = i + 1; j < rects.length && rects[j][1].top < rects[i][1].bottom; j += 1) {
      const [a, one, some] = rects[i], [b, other, more] = rects[j];
      if (a === b || kin(a, b)) continue;
      const slack = Math.max(some, more);
      const across = Math.min(one.right, other.right) - Math.max(one.left, other.left);
      const down = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
      if (across > slack && down > slack) out.push(`over one another: ${name(a)} | ${name(b)}`);
    }
  }
  return out.slice(0, 8);
}"""


@pytest.fixture(scope="module")
def desk(browser: Browser) -> Page:
    """One page for all the looking, so that a view is loaded once and then only reshaped."""
    context = browser.new_context(color_scheme="light", reduced_motion="reduce")
    context.set_default_timeout(15_000)
    page = context.new_page()
    page.add_init_script(_WATCH)
    return page


@pytest.fixture(scope="module", params=VIEWS)
def view(desk: Page, address: str, request: pytest.FixtureRequest) -> Page:
    desk.set_viewport_size({"width": 360, "height": 800})
    desk.goto("about:blank")
    opened(desk, address, VIEWS[request.param])
    desk.wait_for_timeout(250)
    return desk


def test_the_page_is_never_busy_for_long(view: Page) -> None:
    longest = max(view.evaluate("long"), default=0)
    assert longest <= LONGEST_TASK, longest


def test_nothing_runs_off_overlaps_or_is_too_small_to_press(view: Page) -> None:
    """WCAG 2.2: 1.4.10 reflow at 320 CSS px, 1.4.4 text at 200 %, 2.5.5 targets of 44 px."""
    for width, height, size in SCREENS:
        view.set_viewport_size({"width": width, "height": height})
        view.evaluate(f"document.documentElement.style.fontSize = '{size}'")
        view.wait_for_timeout(60)
        assert view.evaluate(_FAULTS) == [], (width, size)
    view.evaluate("document.documentElement.style.fontSize = ''")


def test_axe_finds_nothing_folded_in_light_or_unfolded_in_dark(view: Page) -> None:
    """axe-core, an accessibility checker of general use, with its WCAG 2.2 A and AA rules and its best practices."""
    view.set_viewport_size(PHONE["viewport"])  # type: ignore[arg-type]
    clean(view)
    view.emulate_media(color_scheme="dark")
    view.evaluate("document.querySelectorAll('main details').forEach((one, at) => { one.open = at < 12 })")
    view.wait_for_timeout(60)
    clean(view)
    view.evaluate("document.querySelectorAll('main details').forEach((one) => { one.open = false })")


def test_paper_carries_the_caution_the_whole_release_and_what_was_folded(view: Page) -> None:
    view.emulate_media(media="print")
    view.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    expect(view.locator("#release code")).to_be_visible()
    release = view.locator("#release").inner_text().split()[-1]
    assert len(release) == 64
    expect(view.locator("#caution")).to_be_visible()
    expect(view.get_by_role("navigation").first).to_be_hidden()
    # browsers repeat a footer group at the foot of every sheet
    assert view.evaluate("getComputedStyle(document.querySelector('.foot')).display") == "table-footer-group"
    assert view.locator("main button:visible").count() == 0
    assert view.locator("main .sourced:not([open]):visible").count() == 0
    view.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert view.locator("main .sourced[open]").count() == 0
    view.emulate_media(media="screen")


# Every element that the tab key should reach, in the order of the document, by a short name.
_REACHABLE = """() => [...document.querySelectorAll('a[href], button:not(:disabled), input, select, textarea, summary, [tabindex="0"]')]
  .filter((e) => e.checkVisibility() && !e.closest('details:not([open]) > :not(summary)') && (e.type !== 'radio' || e.checked)).length"""
_NAME = """() => { const e = document.activeElement; const box = e.getBoundingClientRect(); const style = getComputedStyle(e);
  return {tag: e.tagName, text: (e.labels?.[0]?.textContent || e.getAttribute('aria-label') || e.textContent || '').trim().slice(0, 60),
    top: Math.round(box.top + scrollY), left: Math.round(box.left), ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
    seen: box.bottom > 0 && box.top < innerHeight && box.width > 1}; }"""


@pytest.mark.parametrize("name", ["part", "joint", "list"])
def test_the_tab_key_reaches_everything_in_order_with_a_ring_and_a_name(desk: Page, address: str, name: str) -> None:
    """WCAG 2.2: 2.1.1 keyboard, 2.4.3 focus order, 2.4.7 focus visible, 2.4.11 focus not obscured, 4.1.2 name."""
    desk.set_viewport_size({"width": 360, "height": 800})
    desk.goto("about:blank")
    opened(desk, address, VIEWS[name])
    desk.wait_for_timeout(300)
    desk.evaluate("document.activeElement.blur()")
    wanted = desk.evaluate(_REACHABLE)
    stops = []
    for _ in range(wanted):
        desk.keyboard.press("Tab")
        stop = desk.evaluate(_NAME)
        if stop["tag"] == "BODY":
            break
        stops.append(stop)
    assert len(stops) == wanted, (len(stops), wanted)
    assert stops[0]["text"] == "Skip to the answer"
    assert [stop for stop in stops if not (stop["text"] and stop["ring"] and stop["seen"])] == []
