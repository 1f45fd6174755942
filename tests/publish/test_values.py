"""Values in both systems, windows of switches and calculations: the same on page, card, in data and by hand."""

from __future__ import annotations

import contextlib
import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.live.frame import built, edit, get, opened, shown
from tests.publish.site_frame import Read
from tests.publish.values_frame import BLOCKS, library

from kilter import cli
from kilter.check.calculated import calculated, calculations
from kilter.compute.calculation import NAMES, InputError, Result
from kilter.compute.published import MARKS, published
from kilter.compute.typeface import missing
from kilter.model.text import Calculation
from kilter.publish.cards.data import CardData, card_data
from kilter.publish.cards.make import main_card
from kilter.publish.prepare import Prepared, prepare
from kilter.publish.site.assemble import assemble
from kilter.publish.site.page import Page
from kilter.publish.values import other_words, unbroken
from kilter.publish.window import own_window


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return library(tmp_path_factory.mktemp("values")).parent


@pytest.fixture(scope="module")
def ready(folder: Path) -> Prepared:
    found = prepare(folder / "procedures")
    assert [v.number for v in found.views] == ["ALD-110"], [w.errors for w in found.withheld]
    return found


@pytest.fixture(scope="module")
def pages(ready: Prepared) -> dict[str, Page]:
    return {p.address: p for p in assemble(ready, {}).pages}


@pytest.fixture(scope="module")
def body(pages: dict[str, Page]) -> str:
    return pages["ald-110.html"].body


@pytest.fixture(scope="module")
def card(ready: Prepared) -> CardData:
    return card_data(ready.views[0], 148, 210)


def run(*arguments: str) -> str:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert cli.main(list(arguments)) == 0
    return out.getvalue()


@pytest.fixture(scope="module")
def data(folder: Path) -> dict[str, Any]:
    (made,) = (json.loads(line) for line in [run("data", str(folder / "procedures" / "ald-110.md"))])
    return made


def answers(ready: Prepared) -> list[tuple[Calculation, Result]]:
    found = []
    for block in calculations(ready.views[0].document):
        result = calculated(block, ready.library)
        assert not isinstance(result, InputError), result
        found.append((block, result))
    return found


def blocks_of(value: Any, key: str, kind: str) -> Iterator[dict[str, Any]]:
    """Every block of a kind, wherever it stands in plain data."""
    if isinstance(value, dict):
        if value.get(key) == kind:
            yield value
        for inner in value.values():
            yield from blocks_of(inner, key, kind)
    elif isinstance(value, list):
        for inner in value:
            yield from blocks_of(inner, key, kind)


def spaced(html: str) -> str:
    """The words of some markup, those of two elements apart."""
    return Read(html.replace("<", " <")).text


def plain(words: str) -> str:
    return " ".join(words.split())


# calculations


def test_every_calculator_stands_in_the_document(ready: Prepared):
    assert {block.name for block, _ in answers(ready)} == set(NAMES)


def test_page_card_data_and_calculator_say_the_same(
    ready: Prepared, body: str, card: CardData, data: dict[str, Any]
):
    """Every line of every calculation, letter for letter but for blanks that do not break."""
    shown_cards = [b["worked"] for b in blocks_of(card, "t", "calc")]
    told = list(blocks_of(data, "kind", "calculation"))
    parts = body.split('<div class="calc"')[1:]
    every = answers(ready)
    assert len(shown_cards) == len(told) == len(parts) == len(every) == BLOCKS.count(":::{")
    for (block, result), on_card, in_data, part in zip(every, shown_cards, told, parts, strict=True):
        wanted = sorted((line.name, line.text) for line in result.lines)
        on_page = re.findall(r'<th scope="row">(.*?)</th><td>(.*?)</td>', part)
        assert sorted((Read(n).text, Read(t).text) for n, t in on_page) == wanted
        assert sorted((e["name"], plain(e["text"])) for e in on_card["lines"]) == wanted
        assert sorted((e["name"], e["text"]) for e in in_data["lines"]) == wanted
        by_hand = by_calculator(block)
        for name, text in wanted:
            assert re.search(rf"^  {re.escape(name)} +{re.escape(text)}$", by_hand, re.MULTILINE), (
                block.name,
                name,
            )
        assert in_data["verdict"] == result.verdict and in_data["source"] == result.source
        assert [plain(c) for c in on_card["cautions"]] == list(result.cautions) == in_data["cautions"]
        for said in (*result.cautions, *result.assumptions, result.source, result.formula):
            assert plain(said) in Read(part).text, said


def by_calculator(block: Calculation) -> str:
    """What `kilter calc` prints for the inputs of a block."""
    arguments = ["calc", block.name]
    for given in block.given:
        sign = {"plus": "+ ", "minus": "− "}.get(given.name) if block.name == "stack" else None
        arguments += [f"--{'part' if sign else given.name}", f"{sign or ''}{given.value}"]
    return run(*arguments)


def test_what_was_asked_for_stands_first(body: str, card: CardData):
    for part in body.split('<div class="calc"')[1:]:
        rows = re.findall(r"<tr( class=\"main\")?>", part)
        assert rows[0] and rows == sorted(rows, reverse=True)
    for block in blocks_of(card, "t", "calc"):
        marks = [line["main"] for line in block["worked"]["lines"]]
        assert marks[0] and marks == sorted(marks, reverse=True)


def test_formula_and_source_are_folded_away_and_lead_to_the_proof(body: str):
    parts = body.split('<div class="calc"')[1:]
    assert all(re.search(r'<details>.*href="numbers.html".*</details>', part) for part in parts)
    assert all("Cautions:" not in part.split("<details>")[1].split("</details>")[0] for part in parts)


def test_the_verdict_is_said_in_words(body: str, card: CardData):
    assert "Verdict: It holds." in Read(body).text
    assert {b["worked"]["verdict"] for b in blocks_of(card, "t", "calc")} == {"It holds.", ""}


def test_drawings_stand_on_page_and_card(body: str, card: CardData):
    drawn = body.count('<svg xmlns="http://www.w3.org/2000/svg" class="drawing"')
    pictures = [b["worked"]["picture"] for b in blocks_of(card, "t", "calc")]
    windows = [w for stage in card["stages"] for s in stage["steps"] for w in s["windows"]]
    assert drawn == len([p for p in pictures if p]) + len(windows) == 9
    for picture in [*filter(None, pictures), *(w["picture"] for w in windows)]:
        assert picture is not None and picture["svg"] in body and picture["alt"] and picture["ratio"] > 0


def test_everything_on_the_card_can_be_printed(card: CardData):
    for block in blocks_of(card, "t", "calc"):
        shown_ = json.dumps({**block["worked"], "picture": None}, ensure_ascii=False)
        assert missing(shown_.replace("\u00a0", " ")) == []
        picture = block["worked"]["picture"]
        assert (
            picture is None or missing("".join(re.findall(r"<text[^>]*>(.*?)</text>", picture["svg"]))) == []
        )


def test_the_card_is_made_and_the_same_twice(ready: Prepared):
    first = main_card(ready.views[0])
    assert first == main_card(ready.views[0]) and first.startswith(b"%PDF")


def test_the_site_is_the_same_twice(folder: Path, pages: dict[str, Page]):
    again = {p.address: p.body for p in assemble(prepare(folder / "procedures"), {}).pages}
    assert again == {a: p.body for a, p in pages.items()}


# both systems of units


def test_a_value_shows_the_other_system_beside_the_author_s_own(body: str):
    """1 lbf·ft = 1.355 818 N·m, 1 in = 25.4 mm, 1 psi = 6.894 757 kPa (NIST SP 811, appendix B)."""
    pairs = [(plain(Read(a).text), plain(Read(b).text)) for a, b in re.findall(
        r'<span class="value \w+"[^>]*>([^<]*)</span> <span class="other">([^<]*)</span>', body)]  # fmt: skip
    assert ("22 ± 2 N·m", "(16.2 ± 1.4 lbf·ft)") in pairs  # 14.752 to 17.701
    assert ("7.6–8.2 mm", "(0.300–0.322 in)") in pairs  # 0.29921 to 0.32283
    assert ("45.0–48.0 °C", "(113–118 °F)") in pairs  # 113.0 to 118.4
    assert ("−80 ± 5 kPa", "(−11.6 ± 0.7 psi)") in pairs  # -12.328 to -10.878


@pytest.mark.parametrize("text", ["≥ 24.0 V", "5 min", "≤ 0.3 Ω", "55 %", "no value", ""])
def test_a_value_that_both_systems_share_stands_alone(text: str):
    assert other_words(text) == ""


def test_shared_units_have_nothing_beside_them(body: str, card: CardData):
    assert re.search(r">≥ 24.0 V</span>(?! <span class=\"other\")", body)
    rows = {v["value"]: v["other"] for s in card["stages"][0]["steps"] for v in s["values"]}
    assert rows["≥ 24.0 V"] == "" and rows["22 ± 2 N·m"] == "(16.2 ± 1.4 lbf·ft)"
    run_ = next(r for r in blocks_of(card, "t", "value") if r["s"] == "7.9 ± 0.05 mm")
    assert run_["other"] == "(0.3110 ± 0.0019 in)"  # 0.30906 to 0.31299


def test_data_tells_the_other_system(data: dict[str, Any]):
    told = {v["text"]: v["otherSystem"] for v in data["stages"][0]["steps"][0]["values"]}
    assert told["22 ± 2 N·m"] == "16.2 ± 1.4 lbf·ft" and told["supply: ≥ 24.0 V"] == ""


def test_a_number_is_not_parted_from_its_unit():
    assert (
        unbroken("29 % of it, 22 ± 2 N·m, at most 5")
        == "29\u00a0%\u00a0of it, 22\u00a0±\u00a02\u00a0N·m, at most 5"
    )


# windows of switches


def test_a_setting_shows_the_window_of_its_switch(body: str, card: CardData):
    """8.8 ± 0.2 and 1.2 mm: 9.0 − 1.2 = 7.8 to 8.6 − 0.6 = 8.0; over-driven below 9.0 − 1.2."""
    words = spaced('<div class="window"' + body.split('<div class="window"')[1].split("</div>")[0])
    assert (
        "Window of door switch : 7.80 to 8.00 mm (0.3071–0.3149 in). The setting lies inside the window."
        in words
    )
    for said in (
        "Window 7.80 to 8.00 mm",
        "Set 7.85 to 7.95 mm",
        "Operates at 8.60 to 9.00 mm",
        "below 7.80 mm",
    ):
        assert said in words
    (window,) = card["stages"][0]["steps"][0]["windows"]
    assert plain(f"{window['title']} : {window['text']}") in words


def test_a_step_without_a_switch_has_no_window(body: str, card: CardData):
    assert body.count('<div class="window"') == 1
    assert all(s["windows"] == [] for s in card["stages"][0]["steps"][1:])


def test_a_machine_shows_the_window_of_each_switch(pages: dict[str, Page]):
    """Of the foot switch no position suits every one: 9.3 − 1.2 = 8.1 is above 8.3 − 0.6 = 7.7. From its click half
    to all of 1.2 mm."""
    words = Read(pages["equipment-alder-4.html"].body).text
    assert "Window of door switch: 7.80 to 8.00 mm" in words
    assert "Window of foot switch, counted from its own click: 0.60 to 1.20 mm" in words
    assert "8.8 ± 0.2 mm (0.3465 ± 0.0078 in)" in words


def test_a_switch_without_figures_has_no_window(ready: Prepared):
    switch = ready.profiles[0].profile.switches["door switch"]
    assert own_window("s", switch.model_copy(update={"op": None, "ot": None})) is None
    empty = own_window("s", switch.model_copy(update={"op": "8.8 ± 0.5 mm", "ot": None, "ttp": "8.0 mm"}))
    assert empty is not None and "counted from its own click" in empty.title


# energies


def test_a_machine_says_when_its_battery_is_flat_and_how_long_it_drains(pages: dict[str, Page]):
    """12 Ah / (0.02 · 22 + 3 / 3 Ah a day) = 8.33 days; 470 µF · 1.2 · 105 kΩ · ln(400/60) = 112.3 s, the stated 5 min
    beside it."""
    words = spaced(pages["equipment-alder-4.html"].body)
    assert "Days until flat, if charging has stopped : battery" in words
    assert "flat after 8.3 days of use without charge" in words
    assert "Time to drain, worked out from the parts : link capacitor" in words
    assert "wait at least 113 s" in words and "the step waits 5 min" in words and "wait 5 min" in words


# how the numbers were checked


def test_the_page_of_checks_holds_every_published_value(pages: dict[str, Page]):
    page = pages["numbers.html"]
    every = published()
    rows = page.body.split("<tr>")[1:]
    topics = list(dict.fromkeys(p.topic for p in every))
    assert len(rows) == len(every) + len(topics) > 200
    text = Read(page.body).text
    for entry in every:
        assert plain(entry.source) in text
    counts = re.findall(r"<b>(\d+) (read|computed|from memory)</b>: ([^<]+)\.", page.body)
    assert [meaning for _, _, meaning in counts] == list(MARKS.values())
    assert sum(int(n) for n, _, _ in counts) == len(every)


def test_a_mark_is_never_better_than_it_is(pages: dict[str, Page]):
    rows = [re.findall(r"<td>(.*?)</td>", row) for row in pages["numbers.html"].body.split("<tr>")[1:]]
    marks = [row[-1] for row in rows if row]
    names = {"read": "read", "computed": "computed", "memory": "from memory"}
    assert marks == [names[entry.mark] for entry in published()]


def test_the_guide_leads_to_the_checks(pages: dict[str, Page]):
    assert "numbers.html" in list(Read(pages["guide.html"].body).references())


# live


def test_live_pages_are_those_of_a_build(folder: Path, tmp_path: Path):
    wanted = built(folder, tmp_path / "site")
    with opened(folder) as live:
        for address in ("ald-110.html", "equipment-alder-4.html", "numbers.html", "guide.html"):
            assert shown(live, address) == wanted[address], address


def test_a_live_page_follows_a_changed_input(tmp_path: Path):
    procedures = library(tmp_path)
    with opened(tmp_path) as live:
        assert "113 s" in plain(get(live, "/ald-110.html").body.decode())
        edit(procedures / "ald-110.md", ":capacitance: 470 µF", ":capacitance: 940 µF")
        live.watcher.look()
        assert "3.8 min" in plain(get(live, "/ald-110.html").body.decode())  # twice 112.3 s


def test_a_preview_says_why_a_calculation_is_missing(tmp_path: Path):
    procedures = library(tmp_path)
    edit(procedures / "ald-110.md", ":bore: 40 mm\n", "")
    with opened(tmp_path) as live:
        words = Read(get(live, "/ald-110.html").body.decode()).text
        assert "Calculation hydraulic can't be worked out" in words.replace("`", "")
