"""Each screen of a run: nothing for axe to find, targets of 48 px, no sideways scroll at twice the letters."""

from __future__ import annotations

import pytest
from tests.access.frame import LOOKS, broken, choose, in_turn
from tests.run.hand import PHONE, Hand
from tests.run.test_repair import go, readings

pytestmark = pytest.mark.browser
SMALL = """() => [...document.querySelectorAll('.run-top button, .run-foot button, .run-sheet :is(button, input, summary), .run-controls :is(button, input, summary)')]
  .filter((e) => e.offsetParent && !['checkbox', 'radio'].includes(e.type)).map((e) => [e.getBoundingClientRect().height, e.textContent]).filter(([h]) => h < 47.5)"""


def screens(hand):
    """Names of the screens, each shown when its turn comes."""
    page = hand.page
    page.wait_for_selector("#run-offer button")
    yield "page with offer"
    page.locator("#run-offer button").last.click()
    page.wait_for_selector("form.run-screen")
    yield "begin"
    hand.begin()
    yield "first step"
    hand.answer(0)
    yield "warning"
    go(hand, stop_at="a.let-the-link-capacitor-drain")
    yield "wait"
    page.locator(".run-wait").click()
    hand.settle()
    yield "waiting"
    hand.page.clock.run_for(200_000)
    page.wait_for_timeout(100)
    hand.settle()
    hand.main()
    yield "proof with a reading"
    page.locator(".run-enter").first.click()
    yield "keys"
    page.get_by_role("button", name="Cancel").click()
    readings(hand, {})
    yield "verdict"
    hand.press("Called away")
    yield "called away"
    hand.press("Somebody else takes over")
    yield "hand-over"
    hand.press("Cancel")
    hand.press("TE is back")
    yield "back"
    hand.back()
    hand.cautions()
    page.locator(".run-more summary").click()
    yield "more"
    hand.press("This step is wrong")
    yield "remark"
    hand.press("Cancel")
    hand.press("Look back")
    yield "looking back"
    hand.press("To where you are")
    go(hand)
    yield "end"


@pytest.mark.parametrize("look", LOOKS)
def test_every_screen(opened, look):
    base, chromium = opened
    context = chromium.new_context(**PHONE)
    choose(context, LOOKS[look])
    page = context.new_page()
    page.clock.install()
    page.goto(f"{base}str-110.html")
    found = {}
    for number, name in enumerate(screens(Hand(page))):
        page.wait_for_timeout(50)
        small = page.evaluate(SMALL)
        faults = broken(page) if in_turn(look, number) else []
        if trouble := [*faults, *(f"{height:.0f} px: {words}" for height, words in small)]:
            found[name] = trouble
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, name
    assert found == {}
    context.close()


def test_twice_the_letters(opened):
    base, chromium = opened
    context = chromium.new_context(**PHONE)
    choose(context, {"size": "200"})
    page = context.new_page()
    page.clock.install()
    page.goto(f"{base}str-110.html")
    for name in screens(Hand(page)):
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, name
    context.close()
