"""A check of one document or machine says what it touches in a module that is not checked, and leaves other modules unread."""

from __future__ import annotations

import pytest
from tests.training.frame import MODULE, PROCEDURE, library

from kilter.check.run import check_library
from kilter.check.touched import touched_modules
from kilter.cli import main
from kilter.read.library import read_library

STEP = "BENCH-1#do-the-work"
OTHER = (
    MODULE.replace("TRN-1", "TRN-2")
    .replace("covers: [BENCH-1]", "covers: [BENCH-2]")
    .replace("BENCH-1", "BENCH-2")
)


@pytest.fixture
def shop(tmp_path, monkeypatch, capsys):
    root = library(tmp_path)
    (root / "other.md").write_text(OTHER, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert main(["training", "confirm", "TRN-1"]) == 0
    capsys.readouterr()
    return root


def said(root, *names):
    files = [root / name for name in names]
    found = read_library(root, always=files, only=files, base=root)
    told = check_library(found, only=set(names)).beside
    return found, [(d.span.path, d.rule, d.message) for d in told]


@pytest.mark.parametrize("name", ["bench.md", "rig.md"])
def test_a_changed_step_is_told_at_the_module(shop, name):
    assert said(shop, name)[1] == []
    if name == "bench.md":
        (shop / name).write_text(PROCEDURE.replace("22 ± 2", "23 ± 2"), encoding="utf-8")
    else:
        text = (shop / name).read_text(encoding="utf-8")
        (shop / name).write_text(text.replace("below 1 V", "below 2 V"), encoding="utf-8")
    found, told = said(shop, name)
    assert told and all(path == "module.md" and rule == "step-changed" for path, rule, _ in told)
    if name == "bench.md":
        assert [m for _, _, m in told] == [f"{STEP} has changed since it was last looked at; it bears on the objective `tighten`"]  # fmt: skip
    assert "other.md" in found.waiting, "what names none of it stays unread"


def test_nothing_is_said_twice_nor_of_a_whole_check(shop, capsys):
    (shop / "bench.md").write_text(PROCEDURE.replace("22 ± 2", "23 ± 2"), encoding="utf-8")
    (shop / "other.md").unlink()
    for paths in (["procedures/bench.md"], ["procedures/bench.md", "procedures/module.md"], []):
        assert main(["check", *paths]) == 0
        assert capsys.readouterr().out.count(f"{STEP} has changed") == 1, paths


def test_only_what_a_checked_file_touches_is_told(shop):
    (shop / "bench.md").write_text(PROCEDURE.replace("22 ± 2", "23 ± 2"), encoding="utf-8")
    found = read_library(shop, base=shop)
    assert len(list(touched_modules(found, {"bench.md"}))) == 1
    assert list(touched_modules(found, {"module.md"})) == []
