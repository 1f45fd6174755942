"""The search as a technician uses it, in a browser, under the policy."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect
from tests.publish.site_browser import browser, need_browser, served, watch
from tests.publish.site_frame import ROOT, build_site

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def opened(tmp_path_factory):
    need_browser()
    site = build_site(ROOT, tmp_path_factory.mktemp("search") / "site")
    with served(site) as base, browser() as chromium:
        yield base, chromium


@pytest.fixture
def page(opened):
    base, chromium = opened
    page = chromium.new_page(viewport={"width": 360, "height": 780})
    trouble = watch(page)
    page.goto(base + "lft-010.html")
    page.focus("#q")
    answered(page, "")
    yield page
    page.close()
    assert trouble == []


def answered(page, words: str) -> None:
    page.wait_for_selector(f'.found[data-answers="{words}"]', state="attached", timeout=10_000)


def ask(page, words: str) -> list[str]:
    """The pages found, best first."""
    page.fill("#q", words)
    answered(page, words)
    links = page.locator(".found li a")
    return [links.nth(n).get_attribute("href").partition("#")[0] for n in range(links.count())]


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("dock lamp stays green", "lft-120.html"),
        ("won't charge", "lft-120.html"),
        ("LFT-120", "lft-120.html"),
        ("lft120", "lft-120.html"),
        ("lft 130", "lft-130.html"),
        ("PW-2118", "lft-120.html"),
        ("pw2118", "lft-120.html"),
        ("pad blok", "lft-120.html"),
        ("chargd leed", "lft-130.html"),
        ("cabinet heating dor open", "wcb-210.html"),
        ("batrey flat", "lft-120.html"),
        ("prove zero boom", "lft-120.html"),
        ("32 Nm", "str-130.html"),
        ("32 N·m", "str-130.html"),
        ("32 ± 3 N·m", "str-130.html"),
        ("29-35 N m", "str-130.html"),
        ("24 ft-lb", "str-130.html"),
        ("front pin 32 Nm", "str-130.html"),
    ],
)
def test_finds_by_symptom_synonym_number_part_and_with_a_typo(page, words: str, first: str):
    assert ask(page, words)[0] == first


@pytest.mark.parametrize("words", ["LFT-999", "LFT-12", "PW-2119", "E57", "lamp 999", "zzzzqqq"])
def test_says_so_when_there_is_nothing(page, words: str):
    assert ask(page, words) == []
    assert page.inner_text(".said") == "Nothing found for these words."


@pytest.mark.parametrize("words", ["32.1 Nm", "31 Nm", "24.9 ft-lb", "32 mm", "32 lbf·in", "column 33 Nm"])
def test_a_value_is_exact_or_there_is_none(page, words: str):
    assert ask(page, words) == []
    assert page.inner_text(".said") == "No step with exactly this value."


def test_a_value_leads_to_its_step(page):
    ask(page, "32 Nm")
    row = page.locator(".found li a").first
    assert "32 ± 3 N·m" in row.inner_text()
    row.click()
    page.wait_for_url("**/str-130.html#*")
    place = page.evaluate("decodeURIComponent(location.hash.slice(1))")
    assert "32 ± 3 N·m" in page.locator(f"section:has([id='{place}'])").last.inner_text()


def test_a_row_names_document_equipment_task_revision_and_the_symptom_that_matched(page):
    ask(page, "never goes amber")
    row = page.locator(".found li").first.inner_text()
    assert "LFT-120 Find why the pack is not charged" in row
    assert "dock lamp stays green when the lift is docked" in row
    assert "Mobile patient lift Pellwin Egret 2, Fault isolation, rev." in row
    assert "amber" not in row, "synonyms are never shown"


def test_filters_by_equipment_and_task(page):
    every = ask(page, "replace")
    page.select_option("select[name=equipment]", label="Mobile patient lift Pellwin Egret 2")
    few = [a for a in every if a.startswith("lft-")]
    assert 0 < len(few) < len(every)
    expect(page.locator(".found li")).to_have_count(len(few))
    assert page.locator("select[name=task] option").all_inner_texts()[0] == "all"


def test_by_keyboard_alone(page):
    ask(page, "LFT-120")
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.getAttribute('href')") == "lft-120.html"
    page.keyboard.press("Enter")
    page.wait_for_url("**/lft-120.html")
    page.focus("#q")
    assert page.is_visible(".found")
    page.keyboard.press("Escape")
    assert not page.is_visible(".found")


def test_enter_leads_to_the_search_page_with_the_words(page):
    page.fill("#q", "dock lamp")
    page.keyboard.press("Enter")
    page.wait_for_url("**/search.html?q=dock+lamp*")
    page.wait_for_selector(".found li")
    assert page.input_value("#q") == "dock lamp"


def test_nothing_is_loaded_before_the_box_is_touched(opened):
    base, chromium = opened
    page = chromium.new_page()
    asked: list[str] = []
    page.on("request", lambda r: asked.append(r.url.removeprefix(base)))
    page.goto(base + "lft-120.html")
    page.wait_for_load_state("networkidle")
    assert "records.json" not in asked
    assert not any("search-" in address for address in asked)
    page.focus("#q")
    answered(page, "")
    assert "records.json" in asked
    page.close()
