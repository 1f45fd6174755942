"""Figures in a browser: size on a telephone, taps, keys, without a script, and the same places on the card."""

from __future__ import annotations

import pytest
from tests.publish.site_browser import watch

from kilter.compute.pictureclose import PHONE_SHEET, SHARES

pytestmark = pytest.mark.browser

PAGES = ("lft-120.html", "lft-010.html", "wcb-210.html")
ONE = "str-010.html"
"""A page with one figure of eight items."""
BOXES = """() => [...document.querySelectorAll('.numbered')].map(p => ({
  sheet: p.getBoundingClientRect().toJSON(),
  picture: p.querySelector('img').getBoundingClientRect().toJSON(),
  texts: [...p.querySelectorAll('[data-item] text')].filter(t => t.checkVisibility())
    .map(t => ({size: parseFloat(getComputedStyle(t).fontSize), ...t.getBoundingClientRect().toJSON()})),
  dots: [...p.querySelectorAll('.dot')].filter(t => t.checkVisibility()).map(t => t.getBoundingClientRect().toJSON()),
}))"""


def _overlap(a, b) -> bool:
    return (
        a["left"] < b["right"]
        and b["left"] < a["right"]
        and a["top"] < b["bottom"]
        and b["top"] < a["bottom"]
    )


@pytest.mark.parametrize("width", [320, 360, 600, 768, 1280])
def test_numbers_are_readable_in_the_margin_and_touch_nothing(opened, width):
    base, chromium = opened
    page = chromium.new_page(viewport={"width": width, "height": 800})
    trouble = watch(page)
    for name in PAGES:
        page.goto(base + name, wait_until="networkidle")
        for figure in page.evaluate(BOXES):
            sheet, picture, texts = figure["sheet"], figure["picture"], figure["texts"]
            assert len(texts) == len(figure["dots"]) >= 1
            if width == 360:
                assert min(abs(picture["width"] - PHONE_SHEET * (1 - 2 * share)) for share in SHARES) < 1
            for n, text in enumerate(texts):
                assert text["size"] >= 14
                assert sheet["left"] <= text["left"] and text["right"] <= sheet["right"]
                assert not _overlap(text, picture)
                assert not any(_overlap(text, other) for other in texts[:n])
            for dot in figure["dots"]:
                assert picture["left"] <= dot["left"] and dot["right"] <= picture["right"]
    assert not trouble
    page.close()


def test_a_tap_on_the_list_shows_the_item_and_the_other_way_round(opened):
    base, chromium = opened
    context = chromium.new_context(viewport={"width": 360, "height": 780}, has_touch=True)
    page = context.new_page()
    trouble = watch(page)
    page.goto(base + ONE)
    entry = page.locator(".items [data-item='3'] button")
    number = page.locator(".narrow [data-item='3']")
    assert entry.bounding_box()["height"] >= 48
    entry.tap()
    assert number.locator(".ring").is_visible() and number.get_attribute("aria-pressed") == "true"
    assert page.locator(".narrow .ring:visible").count() == 1
    page.locator(".narrow [data-item='5'] .target").tap()
    assert page.locator(".items [data-item='5'] button").get_attribute("aria-pressed") == "true"
    assert entry.get_attribute("aria-pressed") == "false" and not number.locator(".ring").is_visible()
    page.locator(".narrow [data-item='5'] .target").tap()
    assert page.locator("[aria-pressed='true']").count() == 0
    assert not trouble
    context.close()


def test_keys_do_the_same_and_names_are_told(opened):
    base, chromium = opened
    page = chromium.new_page(viewport={"width": 360, "height": 780})
    page.goto(base + ONE)
    number = page.get_by_role("button", name="7 Castor brake").first
    number.focus()
    page.keyboard.press("Enter")
    entry = page.locator(".items [data-item='7'] button")
    assert entry.get_attribute("aria-pressed") == "true"
    page.keyboard.press("Escape")
    assert entry.get_attribute("aria-pressed") == "false"
    entry.focus()
    page.keyboard.press("Space")
    assert page.locator(".narrow [data-item='7'] .ring").is_visible()
    page.close()


def test_without_a_script_the_figure_is_whole(opened):
    base, chromium = opened
    context = chromium.new_context(viewport={"width": 360, "height": 780}, java_script_enabled=False)
    page = context.new_page()
    page.goto(base + ONE)
    assert page.locator(".narrow text:visible").count() == 8 == page.locator(".items li:visible").count()
    assert page.locator("figure button").count() == 0
    context.close()


def test_the_numbers_can_be_marked_as_text(opened):
    base, chromium = opened
    page = chromium.new_page(viewport={"width": 1280, "height": 800})
    page.goto(base + ONE)
    script = "e => { getSelection().selectAllChildren(e); return getSelection().toString() }"
    assert page.locator(".wide [data-item='4'] text").evaluate(script) == "4"
    page.close()
