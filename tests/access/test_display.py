"""Display settings: on every page, kept on the device, there before the first paint, never on paper."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests.access.frame import KINDS, choose
from tests.publish.site_browser import watch
from tests.publish.site_frame import ROOT

ASSETS = ROOT / "builder/kilter/publish/site/assets"
TARGETS = """() => [...document.querySelectorAll('button, select, input, summary, a.to, .top a, .contents a, .documents a, .foot a, .letters a, .go a, .ways a')]
  .map((e) => e.matches('[type=checkbox]') ? e.closest('label') ?? e : e)
  .filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 47.9)
  .map((e) => `${e.tagName} ${e.textContent.trim().slice(0, 30)} ${e.getBoundingClientRect().height}`)"""


@pytest.fixture
def context(opened):
    context = opened[1].new_context(viewport={"width": 360, "height": 780})
    yield context
    context.close()


@pytest.mark.browser
def test_letters_of_twice_the_size_scroll_no_page_sideways(opened, context):
    choose(context, {"size": "200"})
    page = context.new_page()
    wide = {}
    for kind in KINDS:
        page.goto(opened[0] + kind)
        assert page.evaluate("parseFloat(getComputedStyle(document.documentElement).fontSize)") == 34
        if (width := page.evaluate("document.documentElement.scrollWidth")) > 360:
            wide[kind] = width
    assert wide == {}


@pytest.mark.browser
def test_targets_are_large_enough_with_the_panel_open(opened, context):
    page = context.new_page()
    for kind in KINDS:
        page.goto(opened[0] + kind)
        page.click(".display summary")
        assert page.evaluate(TARGETS) == [], kind


@pytest.mark.browser
def test_what_is_chosen_is_kept_for_every_page(opened, context):
    page = context.new_page()
    trouble = watch(page)
    page.goto(opened[0] + "lft-120.html")
    page.click(".display summary")
    page.select_option("[name=theme]", "dark")
    page.select_option("[name=size]", "130")
    page.check("[name=contrast]")
    page.check("[name=hand]")
    assert page.evaluate("getComputedStyle(document.body.parentNode).backgroundColor") == "rgb(0, 0, 0)"
    page.goto(opened[0] + "by-number.html")
    chosen = page.evaluate("({...document.documentElement.dataset})")
    assert chosen == {"js": "yes", "theme": "dark", "size": "130", "contrast": "more", "hand": "left"}
    assert (
        page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--thumb')")
        == "flex-start"
    )
    page.click(".display summary")
    expect(page.locator("[name=hand]")).to_be_checked()
    page.keyboard.press("Escape")
    assert not page.is_visible(".display form")
    assert trouble == []


@pytest.mark.browser
def test_it_is_there_before_the_body(opened, context):
    """The script that applies it stands in the head, waits for nothing and runs before anything is painted."""
    choose(context, {"theme": "dark"})
    page = context.new_page()
    page.add_init_script(
        "new MutationObserver((_, me) => { if (document.body) { window.seen = document.documentElement.dataset.theme; me.disconnect(); } })"
        ".observe(document, { childList: true, subtree: true })"
    )
    page.goto(opened[0] + "lft-120.html")
    assert page.evaluate("window.seen") == "dark"


@pytest.mark.browser
def test_nonsense_on_the_device_is_passed_over(opened, context):
    context.add_init_script('localStorage.setItem(\'kilter-display\', \'{"theme":"purple","size":7\')')
    page = context.new_page()
    trouble = watch(page)
    page.goto(opened[0] + "lft-120.html")
    said = page.evaluate("({...document.documentElement.dataset})")
    said.pop("standing", None)  # whether the page is in force is no setting
    assert said == {"js": "yes"}
    assert trouble == []


@pytest.mark.browser
def test_paper_stays_as_it_is(opened, context):
    look = "() => { const s = getComputedStyle(document.documentElement); return [s.fontSize, s.backgroundColor, s.color]; }"
    seen = []
    for chosen in ({}, {"theme": "dark", "contrast": "more", "size": "200"}):
        choose(context, chosen)
        page = context.new_page()
        page.goto(opened[0] + "lft-120.html")
        page.emulate_media(media="print")
        seen.append(page.evaluate(look))
        page.close()
    assert seen[0] == seen[1]
    assert seen[0][1:] == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]


@pytest.mark.browser
def test_forced_colours_keep_the_safety_sign_and_reduced_motion_has_none(opened):
    context = opened[1].new_context(forced_colors="active", reduced_motion="reduce", color_scheme="dark")
    page = context.new_page()
    page.goto(opened[0] + "lft-120.html")
    sign = page.locator(".panel.danger .word span").first
    assert sign.evaluate("(e) => getComputedStyle(e).backgroundColor") == "rgb(255, 255, 255)"
    assert sign.evaluate("(e) => getComputedStyle(e.querySelector('svg')).fill") == "rgb(0, 0, 0)"
    moving = "[...document.querySelectorAll('*')].filter((e) => parseFloat(getComputedStyle(e).transitionDuration) > 0).length"
    assert page.evaluate(moving) == 0
    context.close()


@pytest.mark.browser
def test_a_page_from_right_to_left_stands_mirrored(opened, context):
    page = context.new_page()
    page.goto(opened[0] + "lft-120.html")
    page.evaluate("document.documentElement.dir = 'rtl'")
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    edge = "(e) => { const s = getComputedStyle(e); return parseFloat(s.borderRightWidth) > parseFloat(s.borderLeftWidth); }"
    assert page.locator(".strip").first.evaluate(edge)
    assert page.locator(".home").evaluate("(e) => e.getBoundingClientRect().right") > 300


SIDES = re.compile(
    r"(?<![\w-])(?:(?:margin|padding|border|inset)-(?:left|right)|left|right|text-align:\s*(?:left|right))\b(?=\s*:|\s*;|\s*-)"
)


def test_style_sheets_name_no_side():
    found = [
        f"{file.name}:{n}: {row.strip()[:80]}"
        for file in sorted(ASSETS.glob("*.css"))
        for n, row in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
        if SIDES.search(row)
    ]
    assert found == []
    assert (
        SIDES.search("p { margin-left: 1px; }")
        and SIDES.search("p { left: 0; }")
        and SIDES.search("p { text-align: right; }")
    )


def test_both_dark_palettes_are_the_same():
    """Once where the device asks for dark, once where the reader does."""
    text = (ASSETS / "kilter.css").read_text(encoding="utf-8")
    blocks = re.findall(
        r":root(?:\[data-theme=\"dark\"\]|:not\(\[data-theme=\"light\"\]\)) \{(.*?)\}", text, re.DOTALL
    )
    assert len(blocks) == 2 and blocks[0].split() == blocks[1].split()
    assert Path(ASSETS / "boot.js").stat().st_size < 2500, "the page waits for it"
