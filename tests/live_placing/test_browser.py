"""Placing by eye in a real browser: with a finger on a telephone, with mouse and keys on a desk."""

from __future__ import annotations

import re
import time

import pytest
from tests.publish.site_browser import watch

from kilter.live.serve import Live

from .frame import NAME, library

pytestmark = pytest.mark.browser
EXPECTED = ("status of 4", "/events")
"""Refusals are answers here, and the stream of changes ends when a page is left."""

HELD = """() => {
  const real = window.fetch;
  const free = new Promise((done) => { window.release = done; });
  window.fetch = async (address, ...more) => {
    const answer = await real(address, ...more);
    if (address === "/place/save") await free;
    return answer;
  };
}"""
"""Answers to what is saved come when `release` is called."""


@pytest.fixture
def file(tmp_path):
    return library(tmp_path)


@pytest.fixture
def live(tmp_path, file):
    own = Live(tmp_path, "127.0.0.1", 0, print)
    own.start()
    yield own
    own.stop()


@pytest.fixture
def open_page(chromium, live):
    contexts, troubles = [], []

    def opened(address, width):
        context = chromium.new_context(viewport={"width": width, "height": 800}, has_touch=width < 600)
        contexts.append(context)
        page = context.new_page()
        troubles.append(watch(page))
        page.goto(live.address + address)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert [t for each in troubles for t in each if not any(e in t for e in EXPECTED)] == []


def placing(open_page, width):
    page = open_page(f"place/{NAME}?figure=1", width)
    page.locator("#place-rows button").first.wait_for()
    until(lambda: page.evaluate("document.getElementById('place-image').naturalWidth") == 400)
    return page


def until(true):
    deadline = time.monotonic() + 15
    while not true():
        assert time.monotonic() < deadline, "not within 15 s"
        time.sleep(0.05)


def spot(page, x, y):
    """Where a place of the picture of 400 x 300 pixels is in the window."""
    page.locator("#place-board").scroll_into_view_if_needed()
    box = page.locator("#place-image").bounding_box()
    return box["x"] + x * box["width"] / 400, box["y"] + y * box["height"] / 300


def place_of(page):
    return tuple(int(n) for n in page.text_content("#place-at").split(","))


@pytest.mark.parametrize("width", [360, 1280])
def test_nothing_reaches_over_the_edge_and_what_a_finger_hits_is_large(open_page, width):
    page = placing(open_page, width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    sizes = page.locator("#place button:visible").evaluate_all(
        "all => all.map(b => b.getBoundingClientRect().height)"
    )
    assert sizes and min(sizes) >= 44


def test_a_finger_places_an_item_and_the_file_has_it(open_page, file):
    before = file.read_text(encoding="utf-8")
    page = placing(open_page, 360)
    page.touchscreen.tap(*spot(page, 200, 150))
    x, y = place_of(page)
    assert abs(x - 200) <= 1 and abs(y - 150) <= 1
    page.tap("[data-move='1,0']")
    page.tap("[data-move='0,-1']")
    assert place_of(page) == (x + 1, y - 1)
    page.fill("#place-label", "Hook")
    assert page.input_value("#place-line") == f":3: {x + 1},{y - 1} Hook"
    page.tap("#place-save")
    until(lambda: file.read_text(encoding="utf-8") != before)
    old = ":2:  300,60   Latch\n"
    assert file.read_text(encoding="utf-8") == before.replace(old, f"{old}:3: {x + 1},{y - 1} Hook\n")
    page.locator("#place-undo").tap()
    until(lambda: file.read_text(encoding="utf-8") == before)


def test_the_loupe_moves_the_cross_more_finely_than_the_finger(open_page):
    page = placing(open_page, 360)
    page.touchscreen.tap(*spot(page, 200, 150))
    x, y = place_of(page)
    page.locator("#place-loupe").scroll_into_view_if_needed()
    box = page.locator("#place-loupe").bounding_box()
    middle = box["x"] + 80, box["y"] + 80
    page.mouse.move(*middle)
    page.mouse.down()
    page.mouse.move(middle[0] - 40, middle[1] + 20)
    page.mouse.up()
    shown = page.locator("#place-image").bounding_box()["width"] / 400
    moved = place_of(page)[0] - x, place_of(page)[1] - y
    assert abs(moved[0] - 10 / shown) <= 1 and abs(moved[1] + 5 / shown) <= 1


def test_keys_move_an_item_that_is_chosen_in_the_list(open_page, file):
    page = placing(open_page, 1280)
    page.locator("#place-rows button").first.click()
    assert place_of(page) == (100, 80) and page.input_value("#place-label") == "Upper hinge"
    page.focus("#place-board")
    for key in ("ArrowRight", "ArrowRight", "Shift+ArrowDown", "ArrowUp"):
        page.keyboard.press(key)
    assert place_of(page) == (102, 89)
    page.click("#place-save")
    until(lambda: ":1: 102,89 Upper hinge\n" in file.read_text(encoding="utf-8"))
    page.locator("#place-rows button").nth(1).click()
    page.click("#place-remove")
    until(lambda: "Latch" not in file.read_text(encoding="utf-8"))


def test_what_is_chosen_while_an_answer_is_under_way_stays_chosen(open_page, file):
    """And it is written where it stands by then: the answer in between moved its line."""
    page = placing(open_page, 1280)
    page.evaluate(HELD)
    page.mouse.click(*spot(page, 200, 150))
    page.fill("#place-label", "Hook")
    page.click("#place-save")
    until(lambda: ":3:" in file.read_text(encoding="utf-8"))
    page.locator("#place-rows button", has_text="Latch").click()
    page.focus("#place-board")
    page.keyboard.press("ArrowRight")
    page.click("#place-save")
    page.locator("#place-rows button", has_text="hinge").click()
    page.evaluate("release()")
    page.locator("#place-rows button", has_text="301,60").wait_for()
    assert ":2: 301,60 Latch\n" in file.read_text(encoding="utf-8")
    assert page.locator("#place-rows button[aria-pressed=true]").all_text_contents() == [
        ":1: 100,80 Upper hinge"
    ]
    page.click("#place-remove")
    until(lambda: "hinge" not in file.read_text(encoding="utf-8").lower())
    assert re.search(r":alt: .*\n:2: 301,60 Latch\n:3: \d+,\d+ Hook\n:::", file.read_text(encoding="utf-8"))


def test_numbering_clockwise_takes_the_text_along_and_says_so(open_page, file):
    page = placing(open_page, 360)
    page.tap("#place-clockwise")
    page.locator("#place-rows button", has_text=":2: 100,80 Upper hinge").wait_for()
    page.locator("#place-messages", has_text="follows in").wait_for()
    assert page.is_hidden("#place-clockwise") and page.is_hidden("#place-unordered")
    assert "{item}`fig-back 2`" in file.read_text(encoding="utf-8")


def test_two_corners_make_an_area_whichever_comes_first(open_page, file):
    page = placing(open_page, 1280)
    page.check("input[value=cover]")
    page.mouse.click(*spot(page, 380, 280))
    page.click("#place-first")
    page.mouse.click(*spot(page, 340, 240))
    row = page.input_value("#place-line")
    numbers = [int(n) for n in row.removeprefix(":cover: ").split(",")]
    assert all(abs(a - b) <= 1 for a, b in zip(numbers, (340, 240, 40, 40), strict=True)), row
    page.click("#place-save")
    until(lambda: f"\n{row}\n" in file.read_text(encoding="utf-8"))


def test_a_change_by_somebody_else_is_shown_and_kept(open_page, file):
    page = placing(open_page, 1280)
    page.mouse.click(*spot(page, 200, 150))
    page.fill("#place-label", "Hook")
    text = file.read_text(encoding="utf-8").replace("Upper hinge", "Top hinge")
    file.write_text(text, encoding="utf-8")
    page.locator("#place-rows button", has_text="Top hinge").wait_for(timeout=15_000)
    assert page.input_value("#place-label") == "Hook", "what was being placed is not lost"
    assert file.read_text(encoding="utf-8") == text


def test_a_figure_on_its_page_leads_here(open_page):
    page = open_page("trl-110.html", 360)
    page.locator("figure .place-link").first.click()
    page.locator("#place-board").wait_for()
    assert "figure" not in page.url and "shown=1" in page.url
