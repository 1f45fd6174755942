"""The page of a paper at 360 px: axe in both themes, keyboard alone, targets, large letters, feedback to practise on."""

from __future__ import annotations

import io
import zipfile

import pytest
from tests.access.frame import broken
from tests.publish.site_browser import served, watch
from tests.training.papers import PICTURES, quiz

from kilter.publish.training.packages.scorm import scorm_package

pytestmark = pytest.mark.browser
SMALL = """() => [...document.querySelectorAll('#quiz button, #quiz .quiz-choice, #quiz input[type=text]')]
  .filter((e) => e.offsetParent && (e.getBoundingClientRect().height < 48 || e.getBoundingClientRect().width < 48)).map((e) => e.outerHTML)"""


@pytest.fixture(scope="module", params=[True, False], ids=["practice", "paper"])
def address(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("quiz")
    with zipfile.ZipFile(io.BytesIO(scorm_package(quiz(folder, practice=request.param), PICTURES))) as zipped:
        zipped.extractall(folder / "site")
    with served(folder / "site") as found:
        yield request.param, found


def screens(page):
    """Every screen of a paper, one after the other, by name."""
    yield "start"
    for field in page.get_by_label("Your short code").all():
        field.fill("P17")
    page.get_by_role("button", name="Begin").click()
    for n in range(5):
        yield f"question {n + 1}"
        if n != 2:
            page.locator("input[name=choice]").nth(0).check()
        yield f"answer {n + 1}"
        page.get_by_role("button", name="To the end" if n == 4 else "Next", exact=True).click()
    yield "before handing in"
    page.get_by_role("button", name="Hand in").click()
    yield "result"


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_targets_and_width_on_every_screen(chromium, address, theme):
    practice, base = address
    context = chromium.new_context(
        viewport={"width": 360, "height": 740}, color_scheme=theme, bypass_csp=True
    )
    page = context.new_page()
    trouble = watch(page)
    page.goto(f"{base}index.html")
    page.locator("#quiz h2").wait_for()
    for name in screens(page):
        assert broken(page) == [], name
        assert page.evaluate(SMALL) == [], name
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, name
        page.evaluate("document.documentElement.style.setProperty('font-size', '34px', 'important')")
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, f"{name} at twice the letters"
        page.evaluate("document.documentElement.style.removeProperty('font-size')")
        if name == "answer 1":
            assert page.locator(".quiz-right").count() == practice
    assert trouble == []
    context.close()


def test_by_keyboard_alone(chromium, address):
    _, base = address
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.goto(f"{base}index.html")
    page.locator("#quiz h2").wait_for()
    for field in page.get_by_label("Your short code").all():
        field.fill("P17")
    page.get_by_role("button", name="Begin").focus()
    page.keyboard.press("Enter")
    for n in range(5):
        assert page.evaluate("document.activeElement.textContent") == f"Question {n + 1} of 5"
        page.keyboard.press("Tab")
        page.keyboard.press("Space")
        page.keyboard.press("Tab")
        if n:
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.textContent") == "Before you hand in"
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.locator(".quiz-score").inner_text().startswith("2 of 5 right")
    context.close()


def test_a_place_in_the_picture_can_be_tapped(chromium, address):
    _, base = address
    context = chromium.new_context(viewport={"width": 360, "height": 740}, has_touch=True)
    page = context.new_page()
    page.goto(f"{base}index.html")
    page.locator("#quiz h2").wait_for()
    for field in page.get_by_label("Your short code").all():
        field.fill("P17")
    page.get_by_role("button", name="Begin").click()
    for _ in range(3):
        page.get_by_role("button", name="Next", exact=True).click()
    ring = page.locator(".quiz-picture g").nth(2).bounding_box()
    page.touchscreen.tap(ring["x"] + ring["width"] / 2, ring["y"] + ring["height"] / 2)
    assert page.locator("input[name=choice]").nth(2).is_checked()
    context.close()


def test_the_start_page_leads_to_the_module_and_on_to_practise(chromium, demo_site):
    """As an educator comes: start page, list, module, questions. Made by mkdocs alone, as by `kilter build`."""
    with served(demo_site) as base:
        page = chromium.new_context(viewport={"width": 360, "height": 740}).new_page()
        trouble = watch(page)
        page.goto(base)
        page.get_by_role("link", name="For those who teach").click()
        page.get_by_role("link", name="TRN-020").click()
        assert (
            page.get_by_role("link", name="Hand-out").get_attribute("href") == "training/trn-020/handout.pdf"
        )
        page.get_by_role("link", name="Questions to practise on").click()
        assert page.locator("#quiz h2").inner_text() == "To practise"
        page.get_by_role("button", name="Begin").click()
        page.locator("input[name=choice]").nth(0).check()
        page.locator(".quiz-right, .quiz-wrong").wait_for()
        assert broken(page) == [] and trouble == []
        page.context.close()
    assert (demo_site / "training/trn-020/handout.pdf").read_bytes()[:4] == b"%PDF"
    assert [f.name for f in (demo_site / "training/trn-020").iterdir()] == ["handout.pdf"], (
        "no answers on the site"
    )
