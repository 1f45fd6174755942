"""The pages of a training module while it is written: listed, as in a fresh build, and gone when it has errors."""

from __future__ import annotations

import pytest
from tests.live.frame import built, edit, get, opened, shown
from tests.publish.site_frame import MKDOCS
from tests.training.frame import library

PAGES = ("index.html", "training.html", "training-trn-1.html", "quiz-trn-1.html")
HANDOUT = "/training/trn-1/handout.pdf"


@pytest.fixture
def shop(tmp_path):
    (tmp_path / "mkdocs.yml").write_text(MKDOCS, encoding="utf-8")
    return library(tmp_path)


def same(live, folder, name):
    fresh = built(folder, folder / name)
    for page in PAGES:
        assert shown(live, page) == fresh[page], page


def test_every_page_is_as_in_a_fresh_build_also_after_changes(shop):
    with opened(shop.parent) as live:
        same(live, shop.parent, "first")
        assert "22" in shown(live, "quiz-trn-1.html")
        edit(shop / "bench.md", "22 ± 2", "31 ± 2")
        live.watcher.look()
        same(live, shop.parent, "value")
        edit(shop / "module.md", "title: The rig", "title: The other rig")
        live.watcher.look()
        same(live, shop.parent, "title")
        assert get(live, HANDOUT).body[:4] == b"%PDF"
        assert get(live, "/training/trn-1/paper-a-key.pdf").status == 404, "answers come from a build alone"


def test_a_module_or_document_with_an_error_takes_its_pages_away(shop):
    with opened(shop.parent) as live:
        assert "TRN-1" in shown(live, "training.html")
        for file, old, new in (
            ("module.md", "minutes: 20", "minutes: some"),
            ("bench.md", "{torque}", "{toque}"),
        ):
            edit(shop / file, old, new)
            live.watcher.look()
            assert "TRN-1" not in shown(live, "training.html"), file
            for address in ("/training-trn-1.html", "/quiz-trn-1.html", HANDOUT):
                assert get(live, address).status == 404, (file, address)
            edit(shop / file, new, old)
            live.watcher.look()
            assert "TRN-1" in shown(live, "training.html")
