"""Every link, picture, anchor and style of the built site resolves, and nothing asks another origin."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from tests.publish.site_frame import ROOT, Read, build_site, guide_example, read, small_library

from kilter.publish.site.page import POLICY


@pytest.fixture(scope="module", params=["demo", "small"])
def site(request, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp(request.param)
    if request.param == "demo":
        return build_site(ROOT, folder / "site")
    small_library(folder)
    return build_site(folder, folder / "site", {"trl-110.pdf": b"%PDF-1.7"})


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[str, Read]:
    return {p.name: read(p) for p in sorted(site.glob("*.html"))}


def dead(site: Path, pages: dict[str, Read]) -> list[str]:
    found = []
    for name, page in pages.items():
        for reference in page.references():
            parts = urlsplit(reference)
            target = parts.path or name
            if parts.scheme or parts.netloc:
                found.append(f"{name}: leaves the site: {reference}")
            elif not (site / target).is_file():
                found.append(f"{name}: no such file: {reference}")
            elif parts.fragment and parts.fragment not in pages[target].ids:
                found.append(f"{name}: no such anchor: {reference}")
    return found


def test_every_reference_resolves(site: Path, pages: dict[str, Read]):
    assert sum(1 for p in pages.values() for _ in p.references()) > 500
    assert dead(site, pages) == []


def test_the_crawler_sees_dead_references(site: Path):
    html = '<a href="nowhere.html"></a><img src="https://other.example/a.png"><a href="index.html#no"></a>'
    pages = {"x.html": Read(html), "index.html": read(site / "index.html")}
    assert len(dead(site, {"x.html": pages["x.html"], "index.html": Read("")})) == 3


def test_ids_are_unique(pages: dict[str, Read]):
    for name, page in pages.items():
        assert len(page.ids) == len(set(page.ids)), name


def test_policy_stands_first_and_nothing_is_inline(site: Path, pages: dict[str, Read]):
    for name, page in pages.items():
        tags = [t for t in page.tags if t[0] not in ("html", "head")]
        assert tags[0] == ("meta", {"http-equiv": "Content-Security-Policy", "content": POLICY}), name
        for tag, attributes in page.tags:
            assert tag != "style", name
            assert tag != "script" or attributes.get("src") or attributes.get("type") == "application/json", (
                name
            )
            assert "style" not in attributes, name
            assert not [a for a in attributes if a.startswith("on")], name


def test_style_sheets_ask_only_for_our_own_files(site: Path):
    for sheet in site.rglob("*.css"):
        for target in re.findall(r"url\(([^)]*)\)", sheet.read_text(encoding="utf-8")):
            target = target.strip("\"'")
            assert target.startswith("data:") or (sheet.parent / target).is_file(), (sheet.name, target)


def test_every_page_carries_the_standing_caution(pages: dict[str, Read]):
    for name, page in pages.items():
        assert "Follow the maker's service manual and local rules." in page.text, name


def test_a_link_to_a_withheld_document_says_so(tmp_path: Path):
    procedures = small_library(tmp_path, copies=2)
    link = "Hang your tag on the trolley. Go on with [the other](TRL-111)."
    text = guide_example("procedure").replace("Hang your tag on the trolley.", link)
    (procedures / "trl-110.md").write_text(text, encoding="utf-8")
    other = (procedures / "trl-111.md").read_text(encoding="utf-8").replace("0.8 ± 0.1 N·m", "0.8 N·m")
    (procedures / "trl-111.md").write_text(other, encoding="utf-8")
    out = build_site(tmp_path, tmp_path / "out")
    page = read(out / "trl-110.html")
    assert "the other (TRL-111, not published)" in page.text
    assert dead(out, {p.name: read(p) for p in out.glob("*.html")}) == []
