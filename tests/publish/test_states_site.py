"""The reviewer's page on the site: linked from its document, told apart from it, and not in the search."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.publish.site_frame import ROOT, Read, guide_example, small_library

from kilter.publish.prepare import prepare
from kilter.publish.site.assemble import assemble
from kilter.publish.site.page import Site


@pytest.fixture(scope="module")
def demo() -> Site:
    return assemble(prepare(ROOT / "procedures"), {})


def body(site: Site, address: str) -> str:
    return next(p.body for p in site.pages if p.address == address)


def test_each_document_has_one_and_ends_with_the_link(demo: Site):
    documents = [p.address for p in demo.pages if re.fullmatch(r"(lft|str|wcb)-\d+\.html", p.address)]
    assert len(documents) >= 5
    for address in documents:
        tail = body(demo, address)[-300:]
        assert f'<a href="states-{address}">For the reviewer: states step by step</a>' in tail
        assert address in next(Read(body(demo, f"states-{address}")).references())


def test_it_is_not_in_the_search(demo: Site):
    assert b"states-" not in demo.files["records.json"]


def test_it_says_what_acceptance_means_and_what_not(demo: Site):
    words = Read(body(demo, "states-lft-120.html")).text
    assert "every way through the document, as it is annotated, meets the policy" in words
    assert "It says nothing about whether the annotations are true" in words


def test_the_table_has_a_row_a_source_under_a_heading_a_step(demo: Site):
    page = body(demo, "states-lft-120.html")
    group = re.search(r'<tbody id="s\.open-mast-and-base">(.*?)</tbody>', page, re.DOTALL)
    assert group
    rows = [Read(row).text for row in group[1].split("<tr>")[1:]]
    assert rows[0] == "2.2 Open mast and baseHands: opening guards"
    assert rows[1] == "dock supplyproved zeroheld by usisolatedDANGER: read"
    assert rows[4] == "spreader springproved zeronot heldreleasedWARNING: read"
    assert 'href="lft-120.html#open-mast-and-base"' in group[1]
    assert group[1].count('scope="row"') == 4


def test_the_ways_in_are_folded(demo: Site):
    page = body(demo, "states-lft-120.html")
    way = re.search(r"<details><summary><b>A\.5</b>.*?</details>", page, re.DOTALL)
    assert way
    said = [Read(stop).text for stop in way[0].split("<li>")[1:]]
    assert said == [
        "1.1 Watch the dock lamp → Amber, but it drops out when pushed",
        "3.1 Make safe for the pads",
        "A.5 Prove it dead",
    ]
    assert "<details open" not in page


def test_values_without_an_origin_come_first_and_are_counted(tmp_path: Path):
    procedures = small_library(tmp_path)
    text = guide_example("procedure").replace(":origin: maker's manual p. 9\n", "")
    (procedures / "trl-110.md").write_text(text, encoding="utf-8")
    site = assemble(prepare(procedures), {})
    part = body(site, "states-trl-110.html").split('id="origins."')[1]
    assert "1 step with values that do not say where they come from." in part
    first, second = (Read(row).text for row in part.split("<tr>")[2:4])
    assert first == "2.1 Change the switchtorque 0.8 ± 0.1 N·mno origin given"
    assert second == "1.3 Prove it deadread L to N: ≤ 1 Vmaker's manual p. 8"


def test_a_number_that_is_the_address_of_such_a_page_is_withheld(tmp_path: Path):
    procedures = small_library(tmp_path, copies=2)
    text = (procedures / "trl-111.md").read_text(encoding="utf-8").replace("TRL-111", "STATES-TRL-110")
    (procedures / "trl-111.md").write_text(text, encoding="utf-8")
    site = assemble(prepare(procedures), {})
    assert [p.address for p in site.pages].count("states-trl-110.html") == 1
    assert "For the reviewer of" in body(site, "states-trl-110.html")
    assert "STATES-TRL-110" in body(site, "withheld.html")
