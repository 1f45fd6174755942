"""A module is bound to the facts of its steps: what changed is told, and `confirm` writes the rest."""

import re

import pytest
from tests.training.frame import MODULE, PROCEDURE, library

from kilter.check.run import check_library
from kilter.cli import main
from kilter.read.library import read_library


def findings(root):
    report = check_library(read_library(root, base=root))
    return [d for d in report.found["module.md"] if d.rule == "step-changed"]


def confirm(root, monkeypatch, *more):
    monkeypatch.chdir(root.parent)
    return main(["training", "confirm", "TRN-1", *more])


def test_a_new_module_is_told_once(tmp_path):
    (only,) = findings(library(tmp_path))
    assert "never confirmed" in only.message


def test_confirming_silences_and_keeps_every_other_byte(tmp_path, monkeypatch):
    root = library(tmp_path)
    assert confirm(root, monkeypatch) == 0
    assert findings(root) == []
    text = (root / "module.md").read_text(encoding="utf-8")
    assert re.sub(r'confirmed:\n(  BENCH-1#[\w-]+: "[0-9a-f]{12}"\n)+', "", text) == MODULE
    assert confirm(root, monkeypatch) == 0
    assert (root / "module.md").read_text(encoding="utf-8") == text


def test_crlf_and_keys_after_it_stay(tmp_path, monkeypatch):
    module = MODULE.replace("sessions: 120\n", 'confirmed:\n  BENCH-1#gone: "0123456789ab"\nsessions: 120\n')
    root = library(tmp_path, module.replace("\n", "\r\n"))
    assert any("not covered any more" in d.message for d in findings(root))
    assert confirm(root, monkeypatch) == 0
    data = (root / "module.md").read_bytes()
    assert b"gone" not in data
    assert data.count(b"\n") == data.count(b"\r\n")
    assert b"sessions: 120\r\n---" in data
    assert findings(root) == []


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("22 ± 2", "22 ± 3", True),
        ("Tighten it to", "Turn it to", True),
        ("22 ± 2 N·m", "20–24 N·m", False),
        ("Tighten it to", "Tighten it\nto", False),
    ],
)
def test_a_changed_step_is_told_with_its_objective(tmp_path, monkeypatch, old, new, told):
    root = library(tmp_path)
    confirm(root, monkeypatch)
    assert old in PROCEDURE
    (root / "bench.md").write_text(PROCEDURE.replace(old, new), encoding="utf-8")
    found = findings(root)
    assert bool(found) is told
    for each in found:
        assert "BENCH-1#do-the-work has changed" in each.message
        assert "objective `tighten`" in each.message


def test_one_step_can_be_confirmed_alone(tmp_path, monkeypatch, capsys):
    root = library(tmp_path)
    assert confirm(root, monkeypatch, "--step", "BENCH-1#do-the-work") == 0
    assert (root / "module.md").read_text(encoding="utf-8").count('BENCH-1#do-the-work: "') == 1
    assert "never confirmed" in findings(root)[0].message
    assert confirm(root, monkeypatch, "--step", "BENCH-1#none") == 2
    assert "does not cover `bench-1#none`" in capsys.readouterr().err


def test_only_looking_writes_nothing(tmp_path, monkeypatch, capsys):
    root = library(tmp_path)
    assert confirm(root, monkeypatch, "--show") == 0
    assert (root / "module.md").read_text(encoding="utf-8") == MODULE
    assert "new      BENCH-1#do-the-work  (objective tighten)" in capsys.readouterr().out


def test_an_unknown_module_is_said_with_the_nearest(tmp_path, monkeypatch, capsys):
    root = library(tmp_path)
    monkeypatch.chdir(root.parent)
    assert main(["training", "confirm", "TRN-2"]) == 2
    assert "did you mean `TRN-1`?" in capsys.readouterr().err
