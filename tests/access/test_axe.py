"""axe-core finds nothing on any kind of page, however it is looked at, with its panels open."""

from __future__ import annotations

import pytest
from tests.access.frame import KINDS, LOOKS, WIDTHS, broken, choose, in_turn

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", WIDTHS)
def test_no_violation_on_any_kind_of_page(opened, width: str, look: str):
    base, chromium = opened
    context = chromium.new_context(viewport={"width": WIDTHS[width], "height": 780})
    choose(context, LOOKS[look])
    page = context.new_page()
    found: dict[str, list[str]] = {}
    for number, kind in enumerate(KINDS):
        if not in_turn(look, number + list(WIDTHS).index(width)):
            continue
        page.goto(base + kind)
        page.evaluate(
            "document.querySelectorAll('main details, .md-content details').forEach((d) => { d.open = true; })"
        )
        if broken_here := broken(page):
            found[kind] = broken_here
    context.close()
    assert found == {}


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("panel", ["search", "display"])
def test_no_violation_with_an_open_panel(opened, width: str, look: str, panel: str):
    base, chromium = opened
    context = chromium.new_context(viewport={"width": WIDTHS[width], "height": 780})
    choose(context, LOOKS[look])
    page = context.new_page()
    for number, kind in enumerate(("lft-120.html", "by-number.html")):
        if not in_turn(look, number + list(WIDTHS).index(width)):
            continue
        page.goto(base + kind)
        if panel == "search":
            page.fill("#q", "dock lamp")
            page.wait_for_selector(".found li", timeout=10_000)
        else:
            page.click(".display summary")
            page.wait_for_selector(".display form", timeout=10_000)
        assert broken(page) == [], kind
    context.close()


def test_a_fault_is_found(opened):
    base, chromium = opened
    page = chromium.new_page(viewport={"width": 360, "height": 780})
    page.goto(base + "lft-120.html")
    page.evaluate(
        "document.querySelector('main h1').insertAdjacentHTML('afterend', '<img src=\"assets/icon.svg\">')"
    )
    assert any(fault.startswith("image-alt") for fault in broken(page))
    page.close()
