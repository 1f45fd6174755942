"""Cards in the output of a build: files, links of the pages, and the manifest say the same."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from kilter.cli import main

from .cards_family_frame import ROOT


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("cards")
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copytree(ROOT / "procedures/stretcher", folder / "procedures/stretcher")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        assert main(["build", "--quiet"]) == 0
    return folder / "out"


def test_manifest_names_every_card(out: Path) -> None:
    built = json.loads((out / "built.json").read_text(encoding="utf-8"))
    entries = [*built["documents"].values(), *built["equipment"].values()]
    named = [card for entry in entries for card in entry["cards"]]
    assert sorted(named) == sorted(f"cards/{p.name}" for p in (out / "cards").iterdir())
    assert built["equipment"]["roan-3"]["revision"] == "2026-10-05"
    assert "cards/str-110.pocket.pdf" in built["documents"]["STR-110"]["cards"]


def test_site_has_the_same_cards_and_each_page_links_its_own(out: Path) -> None:
    """Every card is linked from exactly one page, that of its document or machine."""
    files = {p.name: p.read_bytes() for p in (out / "cards").iterdir()}
    assert files == {p.name: p.read_bytes() for p in (out / "site/cards").iterdir()}
    linked = {}
    for page in (out / "site").glob("*.html"):
        for name in re.findall(r'href="cards/([^"]+)"', page.read_text(encoding="utf-8")):
            assert name not in linked
            linked[name] = page.stem
    assert linked.keys() == files.keys()
    assert all(name.startswith(f"{page}.") for name, page in linked.items())
