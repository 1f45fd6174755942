"""What stands on the pages: title block, energy, steps, ways on, exits, guide and rules."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.publish.site_frame import ROOT, Read, guide_example, small_library

from kilter.check.rule import all_rules
from kilter.publish.prepare import prepare
from kilter.publish.site.assemble import assemble
from kilter.publish.view import STANDING


@pytest.fixture(scope="module")
def demo() -> dict[str, str]:
    """Bodies of the demo library's pages by address."""
    return {p.address: p.body for p in assemble(prepare(ROOT / "procedures"), {}).pages}


def step(body: str, anchor: str) -> str:
    """The markup of one step; sections are not nested in it."""
    found = re.search(rf'<section class="step" id="{re.escape(anchor)}">(.*?)</section>', body, re.DOTALL)
    assert found, anchor
    return found[1]


def words(html: str) -> str:
    return Read(html).text


def test_the_title_block_says_which_document_this_is(demo: dict[str, str]):
    block = Read(demo["lft-120.html"].split("</header>")[0])
    for said in (
        "Find why the pack is not charged",
        "LFT-120",
        "DRAFT",
        "Fault isolation",
        "RB, MK",
        "2026-",
    ):
        assert said in block.text
    assert re.search(r"Content hash\s*[0-9a-f]{12}\b", block.text)
    assert "equipment-egret-2.html" in list(block.references())


def test_the_energy_table_says_how_each_source_is_cut_released_and_proved(demo: dict[str, str]):
    for address in ("lft-120.html", "equipment-egret-2.html"):
        table = re.search(r'<table class="stack energy".*?</table>', demo[address], re.DOTALL)
        assert table, address
        rows = [words(row) for row in table[0].split("<tr")[2:]]
        assert len(rows) == 4
        assert "dock supply" in rows[0]
        assert "DANGER" in rows[0]
        assert "Dock plug out of the wall, in a locked plug case." in rows[0]
        assert "Voltmeter across the dock plungers, 1 V or less." in rows[0]


def test_kit_columns_stay_under_their_heads(demo: dict[str, str]):
    table = re.search(r'<table class="stack kit".*?</table>', demo["lft-120.html"], re.DOTALL)
    assert table
    columns = table[0].count("<th ")
    for row in table[0].split("<tr")[2:]:
        assert row.count("<td ") == columns
    fuse = next(r for r in table[0].split("<tr") if "fuse F2" in r)
    assert 'data-label="Stock number">PW-5005<' in fuse
    assert 'data-label="New">each time<' in fuse


def test_a_step_is_cited_by_number_and_by_name(demo: dict[str, str]):
    ids = Read(demo["lft-120.html"]).ids
    assert "measure-the-dock" in ids
    assert "1.4" in ids
    assert "A.1" in ids, "steps of the machine's shared stages too"


def test_the_strip_never_says_that_something_was_done(demo: dict[str, str]):
    first = step(demo["lft-120.html"], "watch-the-dock-lamp")
    strip = words(re.search(r'<div class="strip">.*?</ul></div></div>', first, re.DOTALL)[0])
    assert "Treat as live" in strip
    assert not re.search(r"Must be[^T]*dock supply", strip)
    opened = step(demo["lft-120.html"], "open-mast-and-base")
    assert re.search(r"Must be.*dock supply proved zero.*boom proved zero", words(opened))
    for body in demo.values():
        assert not re.search(r'class="strip">.{0,80}(was|is|has been) ', body)


def test_panels_carry_word_hazard_and_sources(demo: dict[str, str]):
    body = demo["lft-120.html"]
    panel = re.search(r'<div class="panel danger" role="note" aria-label="Danger">.*?</div>', body, re.DOTALL)
    assert panel
    assert 'class="sign"' in panel[0]
    assert words(panel[0]).startswith("DANGER")
    assert "Electric shock." in words(panel[0])
    assert body.index(panel[0]) < body.index('id="watch-the-dock-lamp"')


def test_answers_name_the_step_they_lead_to(demo: dict[str, str]):
    shown = step(demo["lft-120.html"], "watch-the-dock-lamp")
    assert re.search(r'Green all the time</span><a class="to" href="#measure-the-dock"><b>1\.4</b>', shown)


def test_a_call_names_the_shared_stage_and_its_end_leads_back(demo: dict[str, str]):
    body = demo["lft-120.html"]
    call = step(body, "make-safe-for-the-fuse")
    assert 'href="#stage.a"' in call
    assert "Then come back here" in words(call)
    assert re.search(r"Do this only when a step sends you here: step 2\.1, 3\.1", words(body))
    assert "Go back to the step that sent you here" in words(step(body, "a.prove-it-dead"))


def test_a_tagged_exit_says_what_stays_and_whom_to_call(demo: dict[str, str]):
    tagged = words(step(demo["lft-120.html"], "lead-is-chafed"))
    assert "End: Left locked out and tagged" in tagged
    assert re.search(r"Must stay locked or held\s*dock supply, battery, boom", tagged)
    assert re.search(r"May be off\s*mast cover, base cover", tagged)
    assert "Biomedical workshop, extension 4417" in tagged
    failed = words(step(demo["lft-120.html"], "a.leave-it-locked"))
    assert "Treat as live. Keep others away." in failed
    as_found = words(step(demo["lft-120.html"], "no-fault-found"))
    assert "Must stay" not in as_found


def test_values_stand_apart_and_do_not_break(demo: dict[str, str]):
    shown = step(demo["lft-120.html"], "measure-the-dock")
    assert '<span class="value read" title="read against this limit">27.3 ± 0.3 V</span>' in shown
    assert "dock output: <span" in shown
    assert "Values from: maker's manual p. 31" in words(shown)
    css = (ROOT / "builder/kilter/publish/site/assets/document.css").read_text(encoding="utf-8")
    assert re.search(r"\.value \{[^}]*white-space: nowrap", css)


def test_figures_have_size_alt_numbers_and_items(demo: dict[str, str]):
    figure = re.search(r"<figure.*?</figure>", demo["lft-120.html"], re.DOTALL)
    assert figure
    tags = dict(Read(figure[0]).tags)
    assert int(tags["img"]["width"]) > 300
    assert int(tags["img"]["height"]) > 100
    assert tags["img"]["alt"].startswith("Charge path")
    for sheet in figure[0].split('class="sheet ')[1:]:
        numbers = re.findall(r'<text x="[\d.]+%" y="[\d.]+%" text-anchor="(?:start|end)">(\d+)</text>', sheet)
        assert sorted(numbers, key=int) == [str(n) for n in range(1, 10)]
    assert "Jacks J1 to J3" in words(figure[0])


def test_items_stand_where_the_author_put_them(tmp_path: Path):
    """120,150 of a picture of 400 x 300 is 30 % and 50 %; 8 or 5 % of the sheet are margin on either side."""
    body = {p.address: p.body for p in assemble(prepare(small_library(tmp_path)), {}).pages}["trl-110.html"]
    dots = re.findall('<circle cx="([^"]+)" cy="([^"]+)" r="2.5"', body)
    assert {("33.20%", "50.00%"), ("32.00%", "50.00%")} <= set(dots)
    assert '<a class="item" href="#fig.1">fig. 1, item 1</a>' in body


def test_the_machine_lists_its_procedures_by_task(demo: dict[str, str]):
    page = words(demo["equipment-egret-2.html"])
    assert (
        page.index("Pre-use check")
        < page.index("LFT-010")
        < page.index("Fault isolation")
        < page.index("LFT-120")
    )
    assert "STR-" not in page
    assert "Not on this machine: capacitor" in page


def test_synonyms_are_never_printed(demo: dict[str, str]):
    for address, body in demo.items():
        assert "never goes amber" not in body, address
    assert "dock lamp stays green when the lift is docked" in words(demo["by-symptom.html"])


def test_every_rule_has_a_page_and_stands_in_the_list(demo: dict[str, str]):
    assert len(all_rules()) > 40
    listed = list(Read(demo["rules.html"]).references())
    for rule in all_rules().values():
        assert f"rule-{rule.name}.html" in listed
        page = Read(demo[f"rule-{rule.name}.html"])
        assert page.text.startswith(f"{rule.code} {rule.name}")
        for example in re.findall(r"^```[^\n]*\n(.*?)^```", rule.page, re.DOTALL | re.MULTILINE):
            assert " ".join(example.split()) in page.text, rule.name


def test_the_guide_says_what_acceptance_means(demo: dict[str, str]):
    guide = words(demo["guide.html"])
    assert "Every way through the document, as annotated, meets the policy." in guide
    assert "It does not say that the annotations are true" in guide
    assert "A qualified person reviews both" in guide


def test_the_examples_of_the_guide_pass_and_would_fail_without_the_lock(tmp_path: Path):
    procedures = small_library(tmp_path / "good")
    assert prepare(procedures).report.all() == []
    unlocked = guide_example("procedure").replace("{isolates}`mains`", "mains", 1)
    (procedures / "trl-110.md").write_text(unlocked, encoding="utf-8")
    ready = prepare(procedures)
    assert ready.views == []
    assert ready.report.failed


def test_the_standing_caution_stands_under_the_title(demo: dict[str, str]):
    for address in ("lft-120.html", "lft-010.html", "equipment-egret-2.html"):
        assert STANDING in words(demo[address])
