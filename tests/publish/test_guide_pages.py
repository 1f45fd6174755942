"""The guide's pages are found by looking, stand in order, and lead to one another; rules are found by code and by name."""

import re

import pytest

from kilter.check.rule import all_rules
from kilter.model.base import fold
from kilter.publish.site import handbook
from kilter.publish.site.guide import FIRST, WORDS, _page
from kilter.publish.site.prose import prose
from kilter.publish.site.scope import Directory

KNOWN = handbook.resolver(Directory({}))
PAGES = handbook.guide_pages(KNOWN)


def test_every_file_is_a_page_and_the_words_come_last():
    addresses = [p.address for p in PAGES]
    assert addresses[0] == FIRST and addresses[-1] == WORDS
    assert addresses[1:5] == [
        "guide-start.html",
        "guide-reference.html",
        "guide-traps.html",
        "guide-reviewer.html",
    ]
    assert set(addresses) == handbook.guide_addresses() and len(addresses) == len(set(addresses))


def test_a_page_without_a_head_stands_after_those_with_one():
    bare, headed = _page("bare", "# Bare\n"), _page("headed", "---\norder: 3\nshort: H\n---\n# Headed\n")
    assert (headed.order, headed.short, headed.title, headed.markdown) == (3, "H", "Headed", "# Headed\n")
    assert bare.order > headed.order and bare.title == "Bare" and bare.address == "guide-bare.html"


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.address)
def test_a_page_leads_to_all_others_and_to_the_next(page):
    nav = page.body.split("</nav>", 1)[0]
    assert re.findall(r'href="([^"]+)"', nav) == [p.address for p in PAGES if p is not page]
    assert nav.count('aria-current="page"') == 1
    at = PAGES.index(page)
    following = PAGES[at + 1].address if at + 1 < len(PAGES) else None
    assert re.findall(r'<p class="next">Next: <a href="([^"]+)"', page.body) == (
        [following] if following else []
    )


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.address)
def test_a_list_of_parts_leads_to_every_part(page):
    parts = re.search(r'aria-label="On this page">(.*?)</nav>', page.body)
    if parts is not None:
        ids = re.findall(r'<h2 id="([^"]+)"', page.body)
        assert re.findall(r'href="#([^"]+)"', parts[1]) == ids


def test_links_between_the_pages_are_alive(caplog):
    handbook.guide_pages(KNOWN)
    assert [r.getMessage() for r in caplog.records] == []


def test_a_rule_is_found_by_code_and_by_name():
    rules = handbook.rules_page().body
    codes = re.findall(r'<li id="(k\d+)">', rules)
    assert len(codes) == len(set(codes)) == len(all_rules())
    for rule in all_rules().values():
        assert f'id="{handbook.code_address(rule).partition("#")[2]}"' in rules
        assert f'href="rule-{rule.name}.html"' in rules
        assert KNOWN[fold(rule.code)] == KNOWN[fold(rule.name)] == f"rule-{rule.name}.html"


@pytest.mark.parametrize(
    "info", ["file", "kilter file", "kilter fails", "kilter fails no-such-rule", "console", ""]
)
def test_a_fence_of_a_library_s_own_front_page_is_shown_whatever_it_is_called(info):
    html = prose(f"```{info}\n<x>\n```\n", lambda t: t, "front page")
    assert "&lt;x&gt;" in html and "<a " not in html
