"""Whatever changes, every page is what a fresh build would make of the same files."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from PIL import Image
from tests.live.frame import LEAD, LIFT, PROFILE, built, edit, get, library, opened, shown


def text(p: Path) -> None:
    edit(p / LIFT, "Watch the dock lamp", "Watch the lamp on the dock")


def profile(p: Path) -> None:
    edit(p / PROFILE, "isolate: Boom down on the strut stand", "isolate: Boom low on the strut stand")


def shared_stage(p: Path) -> None:
    edit(p / PROFILE, "## Make safe {shared}", "## Make the lift safe {shared}")
    for name in (LIFT, LEAD, "lift/lft-010-pre-use-check.md"):
        words = (p / name).read_text(encoding="utf-8").replace("#make-safe", "#make-the-lift-safe")
        (p / name).write_text(words, encoding="utf-8")


def picture(p: Path) -> None:
    file = p / "lift/pictures/lift-held.png"
    with Image.open(file) as old:
        Image.new("RGB", old.size, "grey").save(file)


def linked_title(p: Path) -> None:
    edit(p / LEAD, "Replace the charge lead", "Replace the lead of the charger")


def number(p: Path) -> None:
    edit(p / LEAD, "number: LFT-130", "number: LFT-131")
    edit(p / LIFT, "(LFT-130)", "(LFT-131)")


def dead_number(p: Path) -> None:
    edit(p / LEAD, "number: LFT-130", "number: LFT-131")


def symptom(p: Path) -> None:
    edit(p / LIFT, "symptoms:\n", "symptoms:\n  - the boom stays down after a night on the dock\n")


def front(p: Path) -> None:
    edit(p / "front.md", "Repair procedures of", "All repair procedures of")


def front_gone(p: Path) -> None:
    (p / "front.md").unlink()


def contact(p: Path) -> None:
    edit(p.parent / "mkdocs.yml", "extension 4417", "extension 4418")


def site_name(p: Path) -> None:
    edit(p.parent / "mkdocs.yml", "site_name: Tolbeck", "site_name: Upper Tolbeck")


def site_url(p: Path) -> None:
    edit(p.parent / "mkdocs.yml", "https://procedures.", "https://pages.")


def new(p: Path) -> None:
    words = (p / LEAD).read_text(encoding="utf-8").replace("LFT-130", "LFT-140")
    (p / "lift/lft-140-again.md").write_text(
        words.replace("Replace the charge lead", "Replace it again"), "utf-8"
    )


def deleted(p: Path) -> None:
    (p / LEAD).unlink()


def renamed(p: Path) -> None:
    (p / LIFT).rename(p / "lift/other-name.md")


def folder_renamed(p: Path) -> None:
    (p / "stretcher").rename(p / "bed")


def folder_gone(p: Path) -> None:
    shutil.rmtree(p / "warming-cabinet")


def broken_profile(p: Path) -> None:
    (p / PROFILE).write_text("---\nkind: [\n---\n", encoding="utf-8")


def faulty_profile(p: Path) -> None:
    edit(p / PROFILE, "Red stop pressed, pack off", "[fill in: how], pack off")


def broken_text(p: Path) -> None:
    edit(p / LEAD, "# Replace the charge lead", "# Replace {torque}`it` charge lead")


def picture_gone(p: Path) -> None:
    (p / "lift/pictures/lift-base.svg").unlink()


def picture_broken(p: Path) -> None:
    file = p / "stretcher/pictures/rail-switch.svg"
    file.write_bytes(file.read_bytes()[:2000])


def twice_the_number(p: Path) -> None:
    shutil.copy(p / LEAD, p / "lift/copy.md")


CHANGES = [
    text, profile, shared_stage, picture, linked_title, number, dead_number, symptom, front, front_gone, contact,
    site_name, site_url, new, deleted, renamed, folder_renamed, folder_gone, broken_profile, faulty_profile,
    broken_text, picture_gone, picture_broken, twice_the_number,
]  # fmt: skip

UNSEEN = (renamed, folder_renamed)
"""Addresses come from numbers alone: no page says where its file stands."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory) -> dict[str, str]:
    """The pages of the demo library as it is."""
    folder = tmp_path_factory.mktemp("demo")
    library(folder)
    return built(folder, folder / "site")


def compare(live, folder: Path, out: Path) -> dict[str, str]:
    """Every page of a build of the same files is the live one; what it leaves out is marked or not there."""
    pages = built(folder, out)
    same_as(live, pages)
    assert get(live, "/records.json").body == (out / "records.json").read_bytes()
    return pages


def same_as(live, pages: dict[str, str]) -> None:
    for address, html in pages.items():
        assert shown(live, address) == html, address
    for path in live.bench.workspace.paths():
        page = live.bench.site.shelf.addresses.of(path)
        if page and page not in pages:
            assert "Not publishable" in shown(live, page), page


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.__name__)
def test_every_page_is_as_in_a_fresh_build(tmp_path, demo, change):
    procedures = library(tmp_path)
    with opened(tmp_path) as live:
        same_as(live, demo)  # so that every page is kept and could be stale
        change(procedures)
        live.watcher.look()
        after = compare(live, tmp_path, tmp_path / "after")
        assert (demo == after) is (change in UNSEEN), "the change is seen on some page"
        for address in demo.keys() - after.keys():
            answer = get(live, f"/{address}")
            assert answer.status == 404 or b"Not publishable" in answer.body, address


def test_changes_after_one_another_and_back_again(tmp_path, demo):
    procedures = library(tmp_path)
    kept = {f: f.read_bytes() for f in [procedures / LIFT, procedures / PROFILE, tmp_path / "mkdocs.yml"]}
    with opened(tmp_path) as live:
        same_as(live, demo)
        for change in (faulty_profile, text, contact, new, deleted):
            change(procedures)
            live.watcher.look()
            compare(live, tmp_path, tmp_path / change.__name__)
        for file, data in kept.items():
            file.write_bytes(data)
        (procedures / "lift/lft-140-again.md").rename(procedures / LEAD)
        edit(procedures / LEAD, "LFT-140", "LFT-130")
        edit(procedures / LEAD, "Replace it again", "Replace the charge lead")
        live.watcher.look()
        same_as(live, demo)


def test_unsaved_text_is_shown_and_let_go(tmp_path):
    procedures = library(tmp_path)
    file = procedures / LIFT
    with opened(tmp_path) as live:
        saved = shown(live, "lft-120.html")
        text = file.read_text(encoding="utf-8").replace("Watch the dock lamp", "Watch the lamp for a while")
        live.bench.changed(live.bench.workspace.write(file, text))
        unsaved = shown(live, "lft-120.html")
        assert "Watch the lamp for a while" in unsaved
        live.bench.changed(live.bench.workspace.let_go(file))
        assert shown(live, "lft-120.html") == saved


def test_a_page_is_made_again_only_if_something_it_shows_has_changed(tmp_path):
    procedures = library(tmp_path)
    with opened(tmp_path) as live:
        kept = {a: get(live, f"/{a}") for a in ("str-110.html", "lft-120.html", "guide.html", "lft-130.html")}
        text(procedures)
        live.watcher.look()
        again = {a: get(live, f"/{a}") for a in kept}
        assert [a for a in kept if again[a] is not kept[a]] == ["lft-120.html"]
        linked_title(procedures)
        live.watcher.look()
        last = {a: get(live, f"/{a}") for a in kept}
        assert last["lft-130.html"] is not again["lft-130.html"]
        assert last["str-110.html"] is again["str-110.html"] and last["guide.html"] is again["guide.html"]
