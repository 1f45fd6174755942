"""The forms make files: a document with a free number, a machine that passes its check."""

import html
import json
import re

import pytest

from kilter.check.run import check_library
from kilter.live.writing.merge import merged
from kilter.live.writing.numbers import next_number, trouble_with
from kilter.live.writing.paste import pasted
from kilter.read.library import read_library

from .forms import small
from .frame import bench, findings, get, post


@pytest.fixture
def own(tmp_path):
    return bench(tmp_path)


NEW = {
    "kind": "procedure",
    "equipment": "egret-2",
    "task": "replacement",
    "number": "LFT-140",
    "title": "Change the fuse: F2",
}
PASTE = "WARNING: Short circuit. It can burn the hand. Take rings off.\n1. Pull out fuse F2.\n2. Push in the new fuse."


def test_the_next_number_follows_the_machine(own):
    library = own.workspace.library
    assert next_number(library, "egret-2") == "LFT-140"
    assert next_number(library, "hearth-60") == "WCB-240"
    assert next_number(library, "new-lamp-1") not in library.numbers
    assert trouble_with(library, next_number(library, "new-lamp-1")) == ""


@pytest.mark.parametrize("number", ["LFT-120", "lft-120", "index", "a b", "", "-", "x" * 41])
def test_a_number_that_can_not_be_had_is_refused_at_once(own, number):
    assert post(own, "/new/number", {"number": number})[1]["trouble"]
    status, said = post(own, "/new", {**NEW, "number": number})
    assert status == 422 and said["questions"]["number"]


def test_each_open_question_is_named(own):
    status, said = post(own, "/new", {})
    assert status == 422 and set(said["questions"]) == {"kind", "equipment", "number", "title"}
    assert "task" in post(own, "/new", {**NEW, "task": ""})[1]["questions"]


@pytest.mark.parametrize("kind", ["procedure", "pre-use-check"])
def test_the_document_stands_beside_its_machine_and_waits_only_for_its_blanks(own, kind):
    status, said = post(own, "/new", {**NEW, "kind": kind})
    assert (status, said["open"]) == (200, "/write/lift/lft-140-change-the-fuse-f2.md")
    library = read_library(own.root)
    path = next(p for p in library.sources if p.endswith("lft-140-change-the-fuse-f2.md"))
    found = check_library(library).errors(path)
    assert found and {d.rule for d in found} == {"blank-left"}
    assert post(own, "/new", {**NEW, "kind": kind})[0] == 422, "the number is taken now"


def test_a_module_is_drafted_from_the_documents_of_a_machine(own):
    given = {
        **NEW,
        "kind": "training",
        "number": "TRN-900",
        "title": "The lift",
        "covers": "LFT-120, LFT-010",
        "minutes": "240",
    }
    status, said = post(own, "/new", given)
    assert (status, said["open"]) == (200, "/write/training/trn-900-the-lift.md")
    library = read_library(own.root)
    path = next(p for p in library.sources if p.endswith("trn-900-the-lift.md"))
    assert {d.rule for d in check_library(library).errors(path)} == {"blank-left"}
    assert (
        "There is no document" in post(own, "/new", {**given, "covers": "LFT-999"})[1]["questions"]["covers"]
    )
    assert post(own, "/new", {**given, "covers": "", "minutes": "x"})[1]["questions"].keys() >= {
        "covers",
        "minutes",
    }


def test_pasted_text_stands_between_opening_and_closing(own):
    assert post(own, "/new", {**NEW, "plain": PASTE})[0] == 200
    text = (own.root / "lift/lft-140-change-the-fuse-f2.md").read_text(encoding="utf-8")
    at = [
        text.index(w)
        for w in (
            "{removes}`base cover`",
            "**Short circuit.**",
            "Pull out fuse F2.",
            "Push in the new fuse.",
            "{refits}`base cover`",
        )
    ]
    assert at == sorted(at)
    found = [
        f for f in next(v for p, v in findings(own).items() if "lft-140" in p) if "link" in f or "step" in f
    ]
    assert [f for f in found if "no step" in f or "unknown" in f] == []


def test_pasted_text_can_stand_alone(own):
    assert post(own, "/new", {**NEW, "plain": PASTE, "frame": "none"})[0] == 200
    text = (own.root / "lift/lft-140-change-the-fuse-f2.md").read_text(encoding="utf-8")
    assert "{removes}" not in text and "Pull out fuse F2." in text and "number: LFT-140" in text


def test_links_into_what_the_pasted_text_replaces_lead_to_its_first_step():
    frame = (
        "---\nx: y\n---\n# T\n\n## A\n\n### Prove\n\nMeasure: {proves}`m`.\n\n- zero: [On](#work)\n- else: [Stop](#stop)\n\n"
        "### Work\n\n[fill in: it]\n\n### Put back\n\nOn: {refits}`c`.\n\n### Stop\n:exit: left as found\n\nStop.\n"
    )
    text = merged(frame, pasted("1. Open it\n2. Shut it"))
    assert "[On](#step-1)" in text and "[Stop](#stop)" in text and "fill in: it" not in text


def test_what_becomes_of_pasted_text_is_shown_first(own):
    status, said = post(
        own, "/new/paste", {"plain": "1. Unplug the dock from the wall.", "equipment": "egret-2"}
    )
    assert status == 200 and "### Unplug the dock from the wall\n:id: step-1" in said["text"]
    assert (
        said["candidates"][0]["message"]
        == "`Unplug` here may be {isolates}`dock supply`: mark it if it is true"
    )


# machines


def form(own, path):
    status, page = get(own, path)
    assert status == 200
    given = {k: html.unescape(v) for k, v in re.findall(r'data-(\w+)="([^"]*)"', page)}
    return json.loads(given["answers"]), given["hash"], given


def test_a_machine_is_made_and_passes_its_check(own):
    status, said = post(own, "/new/equipment", {"answers": small()})
    assert (status, said["open"]) == (200, "/write/hob-2/profile.md")
    library = read_library(own.root)
    path = next(p for p in library.sources if p.endswith("hob-2/profile.md"))
    assert check_library(library).found[path] == []
    assert post(own, "/new", {**NEW, "equipment": "hob-2", "number": "HOB-110"})[0] == 200
    assert post(own, "/new/equipment", {"answers": small()})[1]["questions"][0]["at"] == "id"


def test_a_kind_of_energy_without_an_answer_keeps_the_machine_from_being_made(own):
    answers = small()
    answers["energy"]["vacuum"] = {"any": "", "sources": []}
    status, said = post(own, "/new/equipment", {"answers": answers})
    assert status == 422
    assert said["questions"] == [
        {"at": "energy.vacuum.any", "text": "Is there any energy of the kind vacuum? Answer yes or no."}
    ]
    assert not (own.root / "hob-2").exists()


def test_an_existing_machine_comes_back_and_only_what_is_answered_anew_changes(own):
    file = own.root / "lift/profile.md"
    before = file.read_text(encoding="utf-8")
    answers, base, _ = form(own, "/new/equipment/lift/profile.md")
    assert answers["energy"]["mains"]["sources"][0]["name"] == "dock supply"
    body = {"answers": answers, "path": "lift/profile.md", "base": base}
    assert post(own, "/new/equipment", body)[0] == 200
    assert file.read_text(encoding="utf-8") == before, "the same answers change nothing"
    answers["title"] = "Mobile patient lift Pellwin Egret 2b"
    assert post(own, "/new/equipment", body)[0] == 200
    after = file.read_text(encoding="utf-8")
    assert after.split("\n---\n", 1)[1] == before.split("\n---\n", 1)[1].replace(
        "# Mobile patient lift Pellwin Egret 2", "# Mobile patient lift Pellwin Egret 2b", 1
    )
    assert post(own, "/new/equipment", {**body, "answers": {**answers, "title": "Other"}})[0] == 409


def test_a_machine_that_was_broken_meanwhile_keeps_its_text(own):
    answers, base, _ = form(own, "/new/equipment/lift/profile.md")
    file = own.root / "lift/profile.md"
    file.write_text("---\nkind: [\n", encoding="utf-8")
    status, said = post(own, "/new/equipment", {"answers": answers, "path": "lift/profile.md", "base": base})
    assert status == 409 and "can't be read" in said["error"]
    assert file.read_text(encoding="utf-8") == "---\nkind: [\n"


def test_taking_out_a_source_that_procedures_use_is_told_before_it_is_written(own):
    answers, base, _ = form(own, "/new/equipment/lift/profile.md")
    before = (own.root / "lift/profile.md").read_text(encoding="utf-8")
    answers["energy"]["spring"] = {"any": "no", "sources": []}
    answers["zones"][0]["reach"].remove("spreader spring")
    body = {"answers": answers, "path": "lift/profile.md", "base": base}
    status, said = post(own, "/new/equipment", body)
    assert status == 422 and said["problems"] and said["anyway"] is True
    assert (own.root / "lift/profile.md").read_text(encoding="utf-8") == before
    assert post(own, "/new/equipment", {**body, "anyway": True})[0] == 200


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [("id: egret-2\n", "id: egret-2 # the old one\n", "comments"), ("kind: mains", "kind: steam", "can&#x27;t be read"), ("kind: mains", "kind: [", "can&#x27;t be read")],
)  # fmt: skip
def test_what_the_form_can_not_say_is_left_to_the_text(own, old, new, why):
    file = own.root / "lift/profile.md"
    file.write_text(file.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    own.refresh([file])
    status, page = get(own, "/new/equipment/lift/profile.md")
    assert status == 200 and "Edit it as text" in page and why.replace("&#x27;", "'") in html.unescape(page)
    assert get(own, "/new/equipment/lift/lft-120-not-charged.md")[1].count("no profile of a machine") == 1
    assert get(own, "/new/equipment/lift/nothing.md")[0] == 404


def test_the_page_for_a_new_document_proposes_numbers_and_asks_everything(own):
    status, page = get(own, "/new", equipment="egret-2")
    assert status == 200 and 'data-next="LFT-140"' in page
    assert all(
        f'id="new-{name}"' in page for name in ("kind", "equipment", "task", "number", "title", "plain")
    )
    assert not re.search(r"<style|\sstyle=|\son\w+=", page)


def test_in_a_zone_only_its_cover_comes_off(own):
    new = {**NEW, "equipment": "roan-3", "number": "STR-140"}
    status, said = post(own, "/new", {**new, "zone": "mast"})
    assert status == 422 and set(said["questions"]) == {"zone"}
    status, said = post(own, "/new", {**new, "zone": "rail"})
    assert status == 200
    text = (own.root / said["open"].removeprefix("/write/")).read_text(encoding="utf-8")
    assert ":zone: rail\n" in text and "{removes}`rail cover`" in text and "base cover" not in text


def test_a_zone_left_over_from_another_choice_does_not_count(own):
    new = {**NEW, "equipment": "roan-3", "number": "STR-140", "zone": "mast", "task": "test"}
    assert post(own, "/new", new)[0] == 200


def test_zones_are_offered_for_machines_with_several(own):
    page = get(own, "/new")[1]
    offered = set(re.findall(r'<option value="([^"]*)" data-of="([^"]*)"', page))
    assert offered == {
        ("rail", "roan-3"),
        ("base", "roan-3"),
        ("door head", "hearth-60"),
        ("chamber", "hearth-60"),
    }
    assert 'data-symptom="What is noticed?"' in page
