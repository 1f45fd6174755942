"""A new file passes the check but for its marked blanks, and wholly once they are filled."""

import re
import shutil
from pathlib import Path

import pytest

from kilter.check.run import check_library
from kilter.cli import main
from kilter.diagnostic import Severity
from kilter.read.library import read_library

DEMO = Path(__file__).parent.parent.parent / "procedures"
MACHINES = ["egret-2", "hearth-60", "roan-3"]


@pytest.fixture
def library(tmp_path, monkeypatch):
    shutil.copytree(DEMO, tmp_path / "procedures")
    monkeypatch.chdir(tmp_path)
    return tmp_path / "procedures"


def findings(library, file):
    path = f"procedures/{file}"
    return check_library(read_library(library), {path}).found[path]


def new(*arguments):
    return main(["new", *arguments])


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("kind", ["procedure", "pre-use-check"])
def test_only_blanks_are_left(library, machine, kind, capsys):
    assert (
        new(kind, "procedures/n.md", "--equipment", machine, "--number", "NEW-1", "--title", "Change it") == 0
    )
    found = findings(library, "n.md")
    assert {f.rule for f in found} == {"blank-left"}
    assert "[fill in" in capsys.readouterr().out


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("kind", ["procedure", "pre-use-check"])
def test_filled_in_it_has_no_errors(library, machine, kind):
    new(kind, "procedures/n.md", "--equipment", machine, "--number", "NEW-1", "--title", "Change it")
    file = library / "n.md"
    text = (
        file.read_text(encoding="utf-8")
        .replace("[fill in: the hazard]", "Crushing")
        .replace("[fill in: what happens to whom]", "break an arm")
    )
    file.write_text(re.sub(r"\[fill in: [^\]]*\]", "Turn the knob once", text), encoding="utf-8")
    assert [f for f in findings(library, "n.md") if f.severity is Severity.ERROR] == []


@pytest.mark.parametrize(
    "effect", ["isolates", "proves", "restores", "removes", "refits", "all-clear", "tests"]
)
def test_what_the_skeleton_does_for_energy_is_needed(library, effect):
    new("procedure", "procedures/n.md", "--equipment", "egret-2", "--number", "NEW-1", "--title", "Change it")
    file = library / "n.md"
    file.write_text(file.read_text(encoding="utf-8").replace("{" + effect + "}`", "`", 1), encoding="utf-8")
    assert {f.rule for f in findings(library, "n.md") if f.severity is Severity.ERROR} - {"blank-left"}


def test_equipment_asks_for_every_kind_of_energy(library):
    assert new("equipment", "procedures/m.md", "--id", "marl-4", "--title", "Chair scale") == 0
    assert {f.rule for f in findings(library, "m.md") if f.severity is Severity.ERROR} == {"blank-left"}


def test_a_profile_with_blanks_is_filled_in_first(library, capsys):
    new("equipment", "procedures/m.md", "--id", "marl-4", "--title", "Chair scale")
    assert new("procedure", "procedures/n.md", "--equipment", "marl-4", "--number", "NEW-1") == 2
    assert "procedures/m.md: still has blanks" in capsys.readouterr().err
    assert not (library / "n.md").exists()


def test_nothing_is_overwritten(library, capsys):
    file = library / "front.md"
    before = file.read_bytes()
    assert new("procedure", "procedures/front.md", "--equipment", "egret-2", "--number", "N-1") == 2
    assert file.read_bytes() == before
    assert "is there already" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--number", "N-1"], "which equipment"),
        (["--number", "N-1", "--equipment", "egrt-2"], "did you mean `egret-2`"),
        (["--equipment", "egret-2"], "number is missing"),
        (["--equipment", "egret-2", "--number", "N-1", "--task", "replacment"], "did you mean `replacement`"),
    ],
)
def test_a_missing_or_wrong_option_is_said(library, capsys, arguments, says):
    assert new("procedure", "procedures/n.md", *arguments) == 2
    assert says in capsys.readouterr().err
    assert not (library / "n.md").exists()
