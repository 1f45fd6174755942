"""The live page in a real browser: a save is seen in place, and nothing that the reader did is lost."""

from __future__ import annotations

import pytest
from tests.live.frame import LEAD, LIFT, edit, library, opened
from tests.publish.site_browser import watch

pytestmark = pytest.mark.browser
PAGES = (
    "/", "/lft-120.html", "/card/LFT-010", "/findings", f"/findings/{LIFT}", "/card", "/equipment-egret-2.html",
    "/states-lft-120.html", "/nothing.html", "/withheld.html",
)  # fmt: skip


@pytest.fixture
def live(tmp_path):
    library(tmp_path)
    with opened(tmp_path, running=True) as live:
        yield live


def visit(chromium, live, path: str, width: int = 1280):
    page = chromium.new_page(viewport={"width": width, "height": 800})
    page.trouble = watch(page)
    page.goto(live.address + path.lstrip("/"))
    page.wait_for_selector("#live-state.on")
    return page


def test_a_save_is_seen_in_place_and_the_reader_stays_where_he_was(chromium, live):
    procedures = live.bench.root
    page = visit(chromium, live, "lft-120.html", 820)
    page.evaluate("window.mark = 1")
    page.fill("#q", "lamp")
    page.evaluate("document.querySelector('[id=\"lead-is-chafed\"]').scrollIntoView()")
    link = page.locator('[id="lead-is-chafed"] a').first
    link.evaluate("e => e.focus({preventScroll: true})")
    before = page.evaluate("[scrollY, document.getElementById('lead-is-chafed').getBoundingClientRect().top]")
    assert before[0] > 500
    edit(
        procedures / LIFT, "Watch the dock lamp for", "Look at the lamp of the dock, and at nothing else, for"
    )
    edit(procedures / LIFT, "for {wait}`30 s`.", "for {wait}`30 s`.\n\nThen rest.\n\nThen look again.\n\n")
    page.get_by_text("Look at the lamp of the dock").wait_for(timeout=10_000)
    page.get_by_text("Then look again.").wait_for(timeout=10_000)
    after = page.evaluate("[scrollY, document.getElementById('lead-is-chafed').getBoundingClientRect().top]")
    assert after[0] > before[0], "the page above has grown"
    assert abs(after[1] - before[1]) < 1.5
    assert page.evaluate("window.mark") == 1, "the page was not loaded again"
    assert page.input_value("#q") == "lamp"
    assert page.evaluate("document.activeElement.closest('.step')?.id") == "lead-is-chafed"
    assert page.trouble == []
    page.close()


def test_what_is_open_stays_open(chromium, live):
    page = visit(chromium, live, "states-lft-120.html")
    assert page.locator("details").count() > 0
    page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    edit(live.bench.root / LIFT, "### Watch the dock lamp", "### Watch the lamp")
    words = (
        (live.bench.root / LIFT)
        .read_text(encoding="utf-8")
        .replace("#watch-the-dock-lamp", "#watch-the-lamp")
    )
    (live.bench.root / LIFT).write_text(words, encoding="utf-8")
    page.get_by_text("Watch the lamp").first.wait_for(timeout=10_000)
    assert page.evaluate("[...document.querySelectorAll('details')].every((d) => d.open)")
    page.close()


def test_findings_come_and_go_in_place(chromium, live):
    page = visit(chromium, live, "lft-120.html", 820)
    file = live.bench.root / LIFT
    words = file.read_text(encoding="utf-8")
    edit(file, ":hands: controls - the lift is only", ":hands: nowhere - the lift is only")
    page.get_by_text("Not publishable: 1 error.").wait_for(timeout=10_000)
    assert page.locator("#watch-the-dock-lamp .remark .findings li.error").count() == 1
    place = page.locator("#watch-the-dock-lamp .remark a").first
    assert place.get_attribute("href").startswith(f"/write/{LIFT}?line=42&column=")
    assert page.get_attribute('#live-bar a[href^="/findings"]', "title") == "Findings: 1 error, 0 warnings"
    file.write_text(words, encoding="utf-8")
    page.get_by_text("Not publishable").wait_for(state="detached", timeout=10_000)
    assert page.get_attribute('#live-bar a[href^="/findings"]', "title") is None
    assert page.trouble == []
    page.close()


def test_the_card_follows_its_text(chromium, live):
    page = visit(chromium, live, "card/LFT-120")
    first = page.locator(".sheets img").first
    assert first.evaluate("e => e.decode().then(() => e.naturalWidth > 100)")
    kept = first.get_attribute("src")
    edit(live.bench.root / LIFT, "revision: C", "revision: D")
    page.locator(f'.sheets img:first-child:not([src="{kept}"])').wait_for(timeout=10_000)
    assert first.evaluate("e => e.decode().then(() => e.naturalWidth > 100)")
    assert page.trouble == []
    page.close()


def test_the_page_follows_settings_and_the_list_other_documents(chromium, live):
    page = visit(chromium, live, "by-number.html")
    edit(live.bench.root / LEAD, "Replace the charge lead", "Replace the lead")
    page.get_by_text("LFT-130 Replace the lead").wait_for(timeout=10_000)
    config = live.bench.folder / "mkdocs.yml"
    words = config.read_text(encoding="utf-8")
    config.write_text(words.replace("site_name: Tolbeck", "site_name: Upper Tolbeck"), encoding="utf-8")
    page.locator(".top .home", has_text="Upper Tolbeck").wait_for(timeout=10_000)
    config.write_text("site_name: [", encoding="utf-8")
    page.locator("#live-trouble").wait_for(timeout=10_000)
    config.write_text(words, encoding="utf-8")
    page.locator("#live-trouble").wait_for(state="detached", timeout=10_000)
    page.close()


def test_a_server_gone_is_said_and_one_come_back_is_found(chromium, tmp_path):
    procedures = library(tmp_path)
    with opened(tmp_path, running=True) as first:
        port = first.server.server_address[1]
        page = visit(chromium, first, "lft-120.html")
        old = page.get_attribute('meta[name="kilter-token"]', "content")
    page.locator("#live-state.off", has_text="Not connected").wait_for(timeout=10_000)
    edit(procedures / LIFT, "Watch the dock lamp for", "Watch the lamp for")
    with opened(tmp_path, running=True, port=port) as second:
        page.get_by_text("Watch the lamp for").wait_for(timeout=20_000)
        page.locator("#live-state.on").wait_for(timeout=10_000)
        assert page.get_attribute('meta[name="kilter-token"]', "content") == second.bench.token != old
        page.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 820, 1280])
def test_no_complaint_and_no_sideways_scroll(chromium, live, width, scheme):
    edit(live.bench.root / LEAD, "# Replace the charge lead", "# Replace {torque}`it` charge lead")
    edit(live.bench.root / LEAD, ":hands: ", ":hands: nowhere, ")
    page = chromium.new_page(viewport={"width": width, "height": 800}, color_scheme=scheme)
    trouble = watch(page)
    for path in (*PAGES, "/lft-130.html"):
        page.goto(live.address + path.lstrip("/"))
        page.wait_for_selector("#live-state.on")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path
        small = page.evaluate(
            "[...document.querySelectorAll('#live-bar a')].filter((e) => e.offsetHeight < 44).length"
        )
        assert small == 0, path
    assert [t for t in trouble if "404" not in t and "ERR_ABORTED" not in t and "failed: " not in t] == []
    page.close()
