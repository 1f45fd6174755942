"""Each kind of page in a browser, under the policy, on a phone and on a desk, light and dark."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.publish.site_browser import watch

pytestmark = pytest.mark.browser

KINDS = [
    "index.html", "lft-120.html", "lft-010.html", "equipment-egret-2.html", "by-equipment.html", "by-symptom.html",
    "by-number.html", "withheld.html", "guide.html", "rules.html", "rule-answer-form.html", "search.html", "404.html",
    "states-lft-120.html", "states-str-130.html",
]  # fmt: skip
SIZES = {"phone": (360, 780), "desk": (1280, 900)}
TARGETS = (
    "a.to, .top a, .contents a, .documents a, .foot a, .letters a, input, select, .go a, .ways a, summary"
)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_no_complaint_and_no_sideways_scroll(opened, size: str, scheme: str):
    base, chromium = opened
    width, height = SIZES[size]
    context = chromium.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
    page = context.new_page()
    trouble = watch(page)
    origins = set()
    page.on("request", lambda r: origins.add(r.url.startswith((base, "data:"))))
    for kind in KINDS:
        answer = page.goto(base + kind)
        assert answer.status == 200, kind
        page.wait_for_load_state("networkidle")
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width, f"{kind} is {wide} px wide"
        assert trouble == [], kind
    assert origins == {True}
    context.close()


def test_targets_and_letters_are_large_enough_on_a_phone(opened):
    base, chromium = opened
    page = chromium.new_page(viewport={"width": 360, "height": 780})
    for kind in KINDS:
        page.goto(base + kind)
        small = page.evaluate(
            """(targets) => [...document.querySelectorAll(targets)].filter((e) => e.offsetParent)
            .map((e) => e.matches('[type=checkbox]') ? e.closest('label') ?? e : e)
            .map((e) => [e.getBoundingClientRect().height, e.textContent.trim()]).filter(([h]) => h < 47.9)""",
            TARGETS,
        )
        assert small == [], kind
        letters = page.evaluate(
            """() => [...document.querySelectorAll('main *, [role=main] *, .md-content *')]
            .filter((e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()) && !e.closest('code, svg'))
            .map((e) => [parseFloat(getComputedStyle(e).fontSize), e.textContent.trim().slice(0, 30)])
            .filter(([s]) => s < 17)"""
        )
        assert letters == [], kind
    page.close()


def test_the_policy_check_can_fail(opened):
    """An inline script put into a page by hand is refused, and the watch sees it."""
    base, chromium = opened
    page = chromium.new_page()
    trouble = watch(page)
    page.goto(base + "lft-120.html")
    page.evaluate(
        "document.body.append(Object.assign(document.createElement('script'), { textContent: 'window.x = 1' }))"
    )
    assert page.evaluate("window.x") is None
    assert any("policy: script-src" in t for t in trouble)
    page.close()


def test_steps_are_not_split_from_their_panel_in_print(opened, tmp_path: Path):
    """The printed page hides head and search, and shows every step."""
    base, chromium = opened
    page = chromium.new_page()
    page.goto(base + "lft-120.html")
    page.emulate_media(media="print")
    assert not page.is_visible("header.top")
    assert page.locator(".step").count() == page.locator(".step:visible").count() > 20
    assert page.evaluate("getComputedStyle(document.querySelector('.panel')).breakInside") == "avoid"
    page.close()
