"""The search as a technician uses it, in a browser, under the policy."""

from __future__ import annotations

import shutil
from collections.abc import Sequence

import pytest
from playwright.sync_api import expect
from tests.publish.site_browser import browser, need_browser, served, watch
from tests.publish.site_frame import ROOT, build_site

from kilter.publish.site import assemble
from kilter.publish.site.recordfiles import as_script, records_files

pytestmark = pytest.mark.browser
TRY = "Try another word, fewer words, or a number of a document or part; or look in the lists:"


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """The demo site, and its records as a library too large for one file would have them."""
    need_browser()
    found = {}

    def both(views, profiles):
        found.update(records_files(views, profiles, most=100))
        return records_files(views, profiles)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(assemble.recordfiles, "records_files", both)
        return build_site(ROOT, tmp_path_factory.mktemp("search") / "site"), found


@pytest.fixture(scope="module")
def opened(built):
    with served(built[0]) as base, browser() as chromium:
        yield base, chromium


@pytest.fixture(scope="module")
def split(built, opened, tmp_path_factory):
    """The same with the first file of records small and one for each machine."""
    folder = shutil.copytree(built[0], tmp_path_factory.mktemp("split") / "site")
    (folder / "records").mkdir()
    for address, data in built[1].items():
        (folder / address).write_bytes(data)
        script, text = as_script(address, data)
        (folder / script).write_bytes(text)
    with served(folder) as base:
        yield base, folder


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
    assert page.inner_text(".said") == f"Nothing found for these words. {TRY}"


@pytest.mark.parametrize("words", ["32.1 Nm", "31 Nm", "24.9 ft-lb", "32 mm", "32 lbf·in", "column 33 Nm"])
def test_a_value_is_exact_or_there_is_none(page, words: str):
    assert ask(page, words) == []
    assert page.inner_text(".said") == f"No step with exactly this value. {TRY}"


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


SPLIT_QUESTIONS = [
    "dock lamp stays green", "LFT-120", "PW-2118", "pad blok", "chargd leed", "prove zero boom", "32 N·m", "24 ft-lb",
    "front pin 32 Nm", "31 Nm", "zzzzqqq", "replace", "lamp 999", "take off rail cover",
]  # fmt: skip


def settled(page, words: str) -> tuple[set[str], str]:
    """What is found, and what is said, once everything was looked into."""
    page.fill("#q", words)
    page.wait_for_selector(f'.found[data-answers="{words}"][data-left="0"]', state="attached")
    links = page.locator(".found li a").evaluate_all("all => all.map((a) => a.getAttribute('href'))")
    return {link.partition("#")[0] for link in links}, page.inner_text(".said")


def fresh(split, chromium, hold: Sequence[str] = (), worker: bool = True):
    """A page on the split site; for so long as `hold` has something in it, files of machines wait in a list."""
    page, held = chromium.new_page(viewport={"width": 360, "height": 780}), []
    if hold:
        page.context.route(
            "**/records/*.json", lambda route: held.append(route) if hold else route.continue_()
        )
    if not worker:
        page.add_init_script("delete window.Worker")
    page.goto(f"{split}lft-010.html")
    page.focus("#q")
    answered(page, "")
    return page, held


def test_split_by_equipment_it_answers_as_if_it_were_one_file(page, split, opened):
    other, _ = fresh(split[0], opened[1])
    stick = opened[1].new_page()
    stick.goto((split[1] / "lft-010.html").as_uri())
    stick.focus("#q")
    for words in SPLIT_QUESTIONS:
        assert settled(other, words) == settled(stick, words) == settled(page, words), words
    other.close()
    stick.close()


def test_none_is_said_only_when_every_part_was_looked_into(split, opened):
    hold = ["machines"]
    page, held = fresh(split[0], opened[1], hold)
    page.fill("#q", "lamp")
    answered(page, "lamp")
    first = page.locator(".found li b").all_inner_texts()
    assert first and "found so far, still looking" in page.inner_text(".said")
    page.fill("#q", "PW-2119")
    answered(page, "PW-2119")
    assert page.inner_text(".said") == "Still looking."
    page.fill("#q", "lamp ")
    answered(page, "lamp")
    hold.clear()
    for route in held:
        route.continue_()
    page.wait_for_selector('.found[data-left="0"]', state="attached")
    assert page.locator(".found li b").all_inner_texts()[: len(first)] == first, "nothing moves"
    assert settled(page, "PW-2119") == (set(), f"Nothing found for these words. {TRY}")
    page.close()


def test_a_part_that_is_not_there_is_named(split, opened):
    page, _ = fresh(split[0], opened[1], worker=False)
    page.context.route("**/records/*.json", lambda route: route.abort())
    page.reload()
    page.focus("#q")
    answered(page, "")
    found, said = settled(page, "PW-2118")
    assert not found and said.startswith("Nothing found in what is here. Not here, so not looked into")
    assert settled(page, "LFT-120")[0] == {"lft-120.html"}
    page.close()
