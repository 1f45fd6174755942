"""`kilter new training` drafts from the documents, and what it drafts fits and is sound but for its blanks."""

import re
from datetime import date
from pathlib import Path

import pytest
from tests.training.frame import library

from kilter.check.run import check_library
from kilter.cli import main
from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton import new_text
from kilter.publish.skeleton.training import settled
from kilter.read.library import read_library

DEMO = Path(__file__).parents[2] / "procedures"
NUMBERS = [d.front.number for d in read_library(DEMO).numbers.values()]


def drafted(root: Path, *numbers: str, minutes: int = 240) -> str:
    return new_text(
        "training",
        root,
        number="TRN-900",
        title="A module",
        covers=numbers,
        minutes=minutes,
        today=date(2026, 11, 28),
    )


@pytest.mark.parametrize("number", NUMBERS)
def test_a_draft_of_each_demo_document_is_sound_but_for_its_blanks(number, tmp_path):
    text = drafted(DEMO, number)
    filled = re.sub(r"\[fill in: [^\]]*\]", "Something that is said here", settled(text))
    file = tmp_path / "new.md"
    file.write_text(filled, encoding="utf-8")
    found = read_library(DEMO, always=[file])
    shown = next(path for path, own in found.files.items() if own == file)
    told = check_library(found, only={shown}).found[shown]
    assert [d.rule for d in told] == ["step-changed"], [d.message for d in told]
    module = found.modules[shown]
    assert module.front.objectives and len(module.lessons) == len(module.front.objectives)
    covered = {r for o in module.front.objectives.values() for r in o.covers}
    assert len(covered) >= 3


def test_blanks_are_errors_until_they_are_filled(tmp_path, monkeypatch, capsys):
    root = library(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert (
        main(
            [
                "new",
                "training",
                "procedures/t.md",
                "--from",
                "BENCH-1",
                "--number",
                "TRN-2",
                "--title",
                "The rig",
            ]
        )
        == 0
    )
    assert re.search(r"the facts allow \d+ questions: ", capsys.readouterr().out)
    assert main(["check", "procedures/t.md"]) == 1
    blanks = re.findall(r"write it in place of the brackets: (.*)", capsys.readouterr().out)
    for asked in ("what the trainee can do after", "how many at a time", "months until"):
        assert any(blank.startswith(asked) for blank in blanks), blanks
    assert main(["new", "training", "procedures/t.md", "--from", "BENCH-1", "--number", "TRN-3"]) == 2
    assert (root / "t.md").is_file()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--from", "BENCH-2"], "did you mean `BENCH-1`?"),
        ([], "--from"),
        (["--from", "BENCH-1", "--equipment", "test-rig"], "--equipment is not for training"),
        (["--from", "BENCH-1", "--minutes", "20"], "too few"),
    ],
)
def test_what_is_missing_or_wrong_is_said(tmp_path, monkeypatch, capsys, arguments, told):
    library(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert main(["new", "training", "procedures/t.md", "--number", "TRN-2", *arguments]) == 2
    assert told in capsys.readouterr().err


def test_a_number_that_a_module_has_is_taken(tmp_path):
    root = library(tmp_path)
    with pytest.raises(CouldNotRunError, match="number `TRN-1` is taken by"):
        new_text("training", root, number="TRN-1", title="x", covers=["BENCH-1"])
