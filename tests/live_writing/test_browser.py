"""Writing in a real browser: text, findings, fixes, saving, conflicts, completion, and both forms."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from tests.publish.site_browser import watch

from kilter.check.run import check_library
from kilter.live.serve import Live
from kilter.read.library import read_library

from .frame import library

pytestmark = pytest.mark.browser
NAME = "lift/lft-120-not-charged.md"
EXPECTED = ("status of 4", "/events")
"""Refusals are answers here, and the stream of changes ends when a page is left."""


@pytest.fixture
def live(tmp_path):
    library(tmp_path)
    own = Live(tmp_path, "127.0.0.1", 0, print)
    own.start()
    yield own
    own.stop()


@pytest.fixture
def open_page(chromium, live):
    contexts, troubles = [], []

    def opened(address, width=1280, context=None):
        context = context or chromium.new_context(viewport={"width": width, "height": 900})
        contexts.append(context)
        page = context.new_page()
        troubles.append(watch(page))
        page.goto(live.address.rstrip("/") + address)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert [t for each in troubles for t in each if not any(e in t for e in EXPECTED)] == []


def file_of(live, name=NAME) -> Path:
    return live.bench.root / name


def until(page, true):
    """Wait for what an expression says; asked from outside, for the pages allow no evaluation of their own."""
    deadline = time.monotonic() + 15
    while not page.evaluate(true):
        assert time.monotonic() < deadline, f"not within 15 s: {true}"
        page.wait_for_timeout(50)


def checked(page):
    """Wait until the findings are those of the text on show."""
    until(page, "document.getElementById('write').dataset.checked")


def typed(page, old, new):
    """Select words of the text by their place and type over them."""
    page.evaluate(
        "([old]) => { const a = document.getElementById('write-text'); const at = a.value.indexOf(old);"
        " a.focus(); a.setSelectionRange(at, at + old.length); }",
        [old],
    )
    page.keyboard.insert_text(new)


def saved(page):
    page.click("#write-save")
    until(page, "document.getElementById('write-state').textContent === 'Saved'")


def test_write_a_finding_appears_a_button_mends_it_and_it_is_saved(open_page, live):
    before = file_of(live).read_bytes()
    page = open_page(f"/write/{NAME}")
    until(page, "document.getElementById('write-count').textContent === 'No findings'")
    typed(page, ":origin:", ":orign:")
    jump = page.locator("#write-findings li.error button.jump", has_text="orign").first
    jump.wait_for()
    jump.click()
    chosen = "const a = document.getElementById('write-text'); return a.value.slice(a.selectionStart, a.selectionEnd);"
    assert page.evaluate(f"() => {{ {chosen} }}") == "orign"
    wrong = page.input_value("#write-text")
    page.locator("#write-findings button.fix").first.click()
    until(page, "document.getElementById('write-count').textContent === 'No findings'")
    mended = page.input_value("#write-text")
    assert mended == before.decode()
    page.focus("#write-text")
    page.keyboard.press("Control+z")
    assert page.input_value("#write-text") == wrong, "undo takes the fix back"
    page.keyboard.press("Control+Shift+z")
    assert page.input_value("#write-text") == mended
    typed(
        page,
        "# Lift does not charge"
        if "# Lift does not charge" in mended
        else mended.split("\n# ")[1].split("\n")[0],
        mended.split("\n# ")[1].split("\n")[0],
    )
    typed(page, "\n## ", "\nOne more sentence.\n\n## ")
    saved(page)
    assert file_of(live).read_text(encoding="utf-8") == mended.replace(
        "\n## ", "\nOne more sentence.\n\n## ", 1
    )
    assert page.locator("#live-bar a[aria-current]").inner_text() == "Write"


def test_words_of_findings_are_set_as_what_has_to_be_written(open_page, live):
    page = open_page(f"/write/{NAME}")
    until(page, "document.getElementById('write-count').textContent === 'No findings'")
    typed(page, ":origin:", ":orign:")
    item = page.locator("#write-findings li", has_text="orign").first
    item.wait_for()
    assert ":orign:" in item.locator("code").all_inner_texts() and "`" not in item.inner_text()
    words = "mark it: {wait}`5 min`, or write `{item}`fig 3`` and `x`"
    codes = page.evaluate(
        "async (words) => (await import('/writing/told.js')).told(words).map((n) => n.nodeName === 'CODE' ? [n.textContent] : n)",
        words,
    )
    assert codes == ["mark it: ", ["{wait}`5 min`"], ", or write ", ["{item}`fig 3`"], " and ", ["x"]]


def test_two_versions_are_shown_and_the_writer_chooses(open_page, live):
    page = open_page(f"/write/{NAME}")
    theirs = (
        file_of(live)
        .read_text(encoding="utf-8")
        .replace("revision: A", "revision: B")
        .replace("LFT-120", "LFT-125", 1)
    )
    typed(page, "\n## ", "\nMine.\n\n## ")
    mine = page.input_value("#write-text")
    file_of(live).write_text(theirs, encoding="utf-8")
    until(page, "!document.getElementById('write-stale').hidden")
    page.click("#write-save")
    page.wait_for_selector("#write-conflict")
    versions = page.locator("#write-conflict textarea")
    assert [versions.nth(0).input_value(), versions.nth(1).input_value()] == [mine, theirs]
    assert (
        page.locator("#write-conflict .row.mine").first.inner_text().endswith("Mine.")
        or page.locator("#write-conflict .row.mine").count() > 1
    )
    page.click("#go-on")
    assert page.input_value("#write-text") == mine and file_of(live).read_text(encoding="utf-8") == theirs
    page.click("#write-save")
    page.click("#take-theirs")
    assert page.input_value("#write-text") == theirs
    until(page, "document.getElementById('write-state').textContent === 'As on the disk'")
    typed(page, "\n## ", "\nMine again.\n\n## ")
    file_of(live).write_text(theirs + "\n", encoding="utf-8")
    page.click("#write-save")
    page.click("#take-mine")
    until(page, "document.getElementById('write-state').textContent === 'Saved'")
    assert "Mine again." in file_of(live).read_text(encoding="utf-8")


def test_a_deleted_file_is_written_anew_only_when_asked(open_page, live):
    page = open_page(f"/write/{NAME}")
    text = page.input_value("#write-text")
    file_of(live).unlink()
    page.click("#write-save")
    page.wait_for_selector("#write-anew")
    assert not file_of(live).exists()
    page.click("#write-anew")
    until(page, "document.getElementById('write-state').textContent === 'Saved'")
    assert file_of(live).read_text(encoding="utf-8") == text


def test_completion_by_keyboard(open_page, live):
    page = open_page(f"/write/{NAME}")
    page.focus("#write-text")
    page.keyboard.press("Control+End")
    page.keyboard.type("\n### More\n\nPull the plug and lock it: {isola")
    page.wait_for_selector("#write-offers .option.chosen")
    page.keyboard.press("Enter")
    until(page, "document.getElementById('write-text').value.endsWith('{isolates}`')")
    page.wait_for_selector("#write-offers .option")
    labels = page.locator("#write-offers .option b").all_inner_texts()
    assert {"dock supply", "battery", "boom"} <= set(labels)
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    page.keyboard.type("do")
    until(page, "document.querySelectorAll('#write-offers .option').length === 1")
    page.keyboard.press("Enter")
    assert page.input_value("#write-text").endswith("{isolates}`dock supply`")
    page.keyboard.type(" {")
    page.wait_for_selector("#write-offers .option")
    page.keyboard.press("Escape")
    assert page.locator("#write-offers").is_hidden()
    page.keyboard.press("Enter")
    assert page.input_value("#write-text").rstrip(" ").endswith("{\n"), (
        "Enter is Enter again once the list is closed"
    )


def test_an_offer_can_be_tapped(open_page, live, chromium):
    context = chromium.new_context(viewport={"width": 820, "height": 1100}, has_touch=True)
    page = open_page(f"/write/{NAME}", context=context)
    page.focus("#write-text")
    page.keyboard.press("Control+End")
    page.keyboard.type("\nPull it: {isolates}`")
    option = page.locator("#write-offers .option", has_text="boom")
    option.wait_for()
    assert option.bounding_box()["height"] >= 44
    option.tap()
    until(page, "document.getElementById('write-text').value.endsWith('Pull it: {isolates}`boom`')")


def test_unsaved_text_is_offered_back_and_never_put_in_silently(open_page, live):
    page = open_page(f"/write/{NAME}")
    before = page.input_value("#write-text")
    typed(page, "\n## ", "\nNot saved.\n\n## ")
    mine = page.input_value("#write-text")
    page.reload()
    page.wait_for_selector(".kept-text")
    assert page.input_value("#write-text") == before
    page.click(".take-draft")
    assert page.input_value("#write-text") == mine
    saved(page)
    page.reload()
    checked(page)
    assert page.locator(".kept-text").count() == 0


def test_two_tabs_keep_to_themselves(open_page, live, chromium):
    context = chromium.new_context()
    one, two = open_page(f"/write/{NAME}", context=context), open_page(f"/write/{NAME}", context=context)
    typed(one, ":origin:", ":orign:")
    one.wait_for_selector("#write-findings li.error")
    typed(two, "\n## ", "\nSecond.\n\n## ")
    two.wait_for_timeout(800)
    assert two.locator("#write-findings li.error").count() == 0
    saved(two)
    one.click("#write-save")
    one.wait_for_selector("#write-conflict")
    assert ":orign:" not in file_of(live).read_text(encoding="utf-8")


def test_a_new_document_with_pasted_text(open_page, live):
    page = open_page("/new")
    page.select_option("#new-equipment", "egret-2")
    assert page.input_value("#new-number") == "LFT-140"
    page.fill("#new-number", "LFT-120")
    until(page, "document.getElementById('new-number-wrong').textContent.includes('taken')")
    page.click("#new-make")
    until(page, "document.getElementById('new-title-wrong').textContent !== ''")
    page.fill("#new-number", "LFT-140")
    page.select_option("#new-task", "replacement")
    page.fill("#new-title", "Change fuse F2")
    page.fill("#new-plain", "1. Unplug the dock from the wall.\n2. Pull out fuse F2.")
    until(page, "document.getElementById('new-became').textContent.includes('### Pull out fuse F2')")
    page.wait_for_selector("#new-maybe li")
    page.click("#new-make")
    page.wait_for_url("**/write/lift/lft-140-change-fuse-f2.md")
    page.wait_for_selector("#write-findings li.error")
    chosen = "() => { const a = document.getElementById('write-text'); return a.value.slice(a.selectionStart, a.selectionEnd); }"
    page.click("#write-blank")
    first = page.evaluate(chosen)
    page.click("#write-blank")
    assert (
        first.startswith("[fill in: ")
        and page.evaluate(chosen) != first
        and page.evaluate(chosen).endswith("]")
    )
    page.locator("#write-maybe-box summary").click()
    page.locator("#write-maybe button.fix", has_text="dock supply").first.click()
    assert "Unplug the dock from the wall: {isolates}`dock supply`." in page.input_value("#write-text")


def test_the_new_form_asks_what_goes_with_its_choices(open_page, live):
    page = open_page("/new")
    label, zone = page.locator('label[for="new-title"]'), page.locator("#new-zone")
    assert not zone.is_visible()
    page.select_option("#new-equipment", "egret-2")
    page.select_option("#new-task", "fault-isolation")
    assert label.inner_text() == "What is noticed?" and not zone.is_visible(), "it has one zone only"
    assert "Lift does not charge" in page.inner_text("#new-title-help")
    page.select_option("#new-equipment", "roan-3")
    assert zone.is_visible()
    page.select_option("#new-zone", "rail")
    page.select_option("#new-task", "test")
    assert label.inner_text() == "Which title?" and not zone.is_visible()
    page.select_option("#new-task", "inspection")
    page.select_option("#new-equipment", "hearth-60")
    assert page.input_value("#new-zone") == "", "a zone of another machine is not kept"
    page.select_option("#new-zone", "door head")
    page.fill("#new-title", "Look at the door head")
    page.click("#new-make")
    page.wait_for_selector("#write-text")
    assert ":zone: door head" in page.input_value("#write-text")


def test_text_pasted_with_its_formatting_keeps_it_until_it_is_changed(open_page, live):
    page = open_page("/new")
    page.evaluate(
        "() => { const a = document.getElementById('new-plain'); const d = new DataTransfer();"
        " d.setData('text/html', '<h2>Open it</h2><ol><li>Undo <b>four</b> screws</li></ol>');"
        " a.dispatchEvent(new ClipboardEvent('paste', { clipboardData: d }));"
        " a.value = 'Open it\\nUndo four screws'; a.dispatchEvent(new Event('input')); }"
    )
    until(page, "document.getElementById('new-became').textContent.includes('Undo **four** screws')")
    page.locator("#new-plain").press("End")
    page.keyboard.type(" and the clip")
    until(page, "document.getElementById('new-became').textContent.includes('and the clip')")
    assert "**" not in page.inner_text("#new-became")


def choose(page, kind, question, answer):
    box = page.locator(f"#kind-{kind} fieldset", has=page.locator("legend", has_text=question))
    box.locator("label", has_text=re.compile(rf"^\s*{re.escape(answer)}")).first.click()


def test_a_machine_from_nothing_to_a_file_that_passes(open_page, live):
    page = open_page("/new/equipment", width=820)
    until(page, "document.getElementById('form-open').textContent.includes('open')")
    page.click("#form-write")
    until(page, "document.querySelectorAll('.field.asks').length > 12")
    page.get_by_label("What is the machine called?").fill("Hob: model #2")
    page.get_by_label("Which short name?").fill("hob-2")
    page.get_by_label("What is the machine, in two sentences?").fill("A hob. It heats.")
    for kind in (
        "battery",
        "capacitor",
        "hydraulic",
        "pneumatic",
        "vacuum",
        "gravity",
        "spring",
        "motion",
        "pressure",
        "other",
    ):
        choose(page, kind, "Is there any", "no")
    choose(page, "mains", "Is there any", "yes")
    mains = page.locator("#kind-mains")
    choose(page, "mains", "How bad", "danger")
    choose(page, "mains", "How is it cut off", "by itself")
    mains.get_by_label("How exactly").fill("Plug out: of the wall, in a locked case.")
    choose(page, "mains", "Can it be locked", "yes")
    choose(page, "mains", "Does it keep energy", "no")
    choose(page, "mains", "Can it build up", "no")
    mains.get_by_label("How is it proved dead").fill("Two-pole tester at the terminals, below 10 V.")
    choose(page, "heat", "Is there any", "yes")
    heat = page.locator("#kind-heat")
    heat.get_by_label("What is this source called").fill("plate")
    choose(page, "heat", "How bad", "warning")
    choose(page, "heat", "How is it cut off", "by cutting off")
    choose(page, "heat", "What feeds it", "mains")
    choose(page, "heat", "Does it keep energy", "yes, and it drains")
    heat.get_by_label("How long does that take").fill("40")
    choose(page, "heat", "Can it build up", "no")
    heat.get_by_label("How is it proved dead").fill("Thermometer, 40 °C or less.")
    page.locator("#part-covers label", has_text="no").click()
    until(page, "document.getElementById('form-open').textContent === '1 question is open.'")
    wrong = heat.locator(".field.asks .wrong")
    assert wrong.inner_text().endswith("How long does it take to drain? Write a time, such as 5 min.")
    heat.get_by_label("How long does that take").fill("40 min")
    until(page, "document.getElementById('form-open').textContent === 'Every question is answered.'")
    mains.get_by_label("What is this source called").fill("supply")
    page.click("#form-write")
    page.wait_for_url("**/write/hob-2/profile.md")
    read = read_library(live.bench.root)
    path = next(p for p in read.sources if p.endswith("hob-2/profile.md"))
    assert check_library(read).found[path] == []
    assert read.documents[path].profile.sources["plate"].fed_by == ("supply",), "a new name goes along"


def test_a_part_of_the_form_that_may_stay_empty_has_no_tick_until_something_stands_in_it(open_page, live):
    page = open_page("/new/equipment", width=820)
    until(page, "document.getElementById('form-open').textContent.includes('open')")
    tabs = {name: page.locator(f'.form-nav a[data-section="part-{name}"]') for name in FREE}
    said = "(a) => [a.className, a.getAttribute('aria-label'), getComputedStyle(a, '::after').content]"
    for name, tab in tabs.items():
        words = f"{tab.inner_text()}: may stay empty"
        assert tab.evaluate(said) == ["free", words, '" (may stay empty)"'], name
        assert "ay stay empty" in page.locator(f"#part-{name}").inner_text()
    page.locator("#part-tests textarea").fill("full run")
    until(page, "document.querySelector('[data-section=part-tests]').className === 'done'")
    page.get_by_role("button", name="Add a place").click()
    until(page, "document.querySelector('[data-section=part-zones]').className === ''")
    assert tabs["tools"].get_attribute("class") == "free"


FREE = ("zones", "tests", "switches", "tools", "parts")


def test_the_form_works_by_keyboard_and_its_targets_are_large(open_page, live):
    page = open_page("/new/equipment/lift/profile.md", width=820)
    until(page, "document.getElementById('form-open').textContent === 'Every question is answered.'")
    small = page.evaluate(
        "() => [...document.querySelectorAll('#profile button, #profile input:not([type=radio]):not([type=checkbox]), #profile .choice, #profile .form-nav a, #profile textarea')]"
        ".filter((e) => e.offsetParent).filter((e) => e.getBoundingClientRect().height < 44).map((e) => e.outerHTML.slice(0, 80))"
    )
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 820
    unnamed = page.evaluate(
        "() => [...document.querySelectorAll('#profile input, #profile textarea')].filter((e) => !e.labels.length).length"
    )
    assert unnamed == 0
    page.locator("#kind-vacuum input").first.focus()
    page.keyboard.press("Space")
    until(page, "!document.querySelector('#kind-vacuum .sources').hidden")
    until(page, "document.getElementById('form-open').textContent.includes('open')")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('#kind-vacuum') !== null")


@pytest.mark.parametrize("width", [360, 820, 1280])
def test_nothing_is_wider_than_the_screen(open_page, live, width):
    for address in (f"/write/{NAME}", "/write", "/new", "/new/equipment"):
        page = open_page(address, width=width)
        page.wait_for_timeout(300)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, address
