"""`kilter check --fix` as a person meets it."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest
from tests.check.frame import END, FRONT, PROFILE, PROFILE_BODY, SAFE

from kilter.cli import main

WORK = """\
## Work

### Change the part
:orgin: shop rule

Pull the old part out. Push the new {part}`actuatr` in. Tighten it to {torque}`2,5 ± 0.5 N·m`.
"""
TEXT = f"---\n{FRONT}---\n{SAFE}\n{WORK}\n{END}"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "procedures"
    root.mkdir()
    (root / "rig.md").write_text(f"---\n{PROFILE}---\n{PROFILE_BODY}", encoding="utf-8")
    (root / "a.md").write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode())
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_without_a_terminal_it_only_shows(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (folder / "procedures" / "a.md").read_bytes()
    assert main(["check", "--fix", "procedures/a.md"]) == 1
    out = capsys.readouterr().out
    assert "-:orgin: shop rule\n+:origin: shop rule" in out
    assert "no terminal to ask at: add --yes to write" in out
    assert "nothing written: 2 fixes in 1 file shown above" in out
    assert (folder / "procedures" / "a.md").read_bytes() == before


def test_with_yes_it_writes_what_is_certain_and_nothing_else(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--fix", "--yes", "procedures/a.md"]) == 0
    out = capsys.readouterr().out
    assert "2 fixes in 1 file written" in out
    where = "for you to choose (tab Write of `kilter serve`, or an editor with `kilter lsp`):\n"
    assert re.search(re.escape(where) + r"  procedures/a\.md:\S+: near-miss: write `actuator`\n", out)
    mended = TEXT.replace(":orgin:", ":origin:").replace("2,5", "2.5")
    assert (folder / "procedures" / "a.md").read_bytes() == b"\xef\xbb\xbf" + mended.replace(
        "\n", "\r\n"
    ).encode()
    assert main(["check", "--fix", "--yes", "procedures/a.md"]) == 0
    assert "no fix can be made without a person who chooses" in capsys.readouterr().out


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("said", "written"), [("y", True), ("yes", True), ("", False), ("n", False)])
def test_on_a_terminal_it_asks(
    folder: Path, monkeypatch: pytest.MonkeyPatch, said: str, written: bool
) -> None:
    shown = Terminal()
    monkeypatch.setattr("sys.stdin", Terminal(f"{said}\n"))
    monkeypatch.setattr("sys.stdout", shown)
    main(["check", "--fix", "procedures"])
    assert "2 fixes in 1 file: apply? [y/N]" in shown.getvalue()
    assert (b":origin: shop rule" in (folder / "procedures" / "a.md").read_bytes()) is written


def test_an_ended_input_means_no(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", Terminal(""))
    monkeypatch.setattr("sys.stdout", Terminal())
    assert main(["check", "--fix"]) == 1
    assert b":orgin:" in (folder / "procedures" / "a.md").read_bytes()


def test_a_file_that_changes_while_it_asks_is_refused(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file = folder / "procedures" / "a.md"

    def changed(prompt: str) -> str:
        file.write_bytes(b"somebody else's text")
        return "y"

    monkeypatch.setattr("builtins.input", changed)
    monkeypatch.setattr("sys.stdin", Terminal())
    monkeypatch.setattr("sys.stdout", Terminal())
    assert main(["check", "--fix"]) == 2
    assert "a.md: changed since it was read; nothing was written" in capsys.readouterr().err
    assert file.read_bytes() == b"somebody else's text"


def test_only_the_named_files_are_mended(folder: Path) -> None:
    other = folder / "procedures" / "b.md"
    other.write_text(TEXT.replace("BENCH-1", "BENCH-2"), encoding="utf-8")
    before = other.read_bytes()
    main(["check", "--fix", "--yes", "procedures/a.md"])
    assert other.read_bytes() == before


def test_an_option_that_does_not_go_with_it_is_refused(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--fix", "--format", "json"]) == 2
    assert "--fix goes with --format text only" in capsys.readouterr().err
    assert main(["check", "--yes"]) == 2
    assert "--yes goes with --fix" in capsys.readouterr().err


def test_both_reports_tell_the_fixes(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", "procedures/a.md"])
    out = capsys.readouterr().out
    assert "  fix: write `origin` (`kilter check --fix` does it)" in out
    assert "  fix: write `actuator` (for you to choose)" in out
    main(["check", "--format", "json", "procedures/a.md"])
    data = json.loads(capsys.readouterr().out)
    (found,) = (d for d in data["findings"] if d["rule"] == "unknown-field")
    assert found["fixes"] == [
        {
            "title": "write `origin`",
            "alone": True,
            "leavesBlank": False,
            "edits": [{"place": found["place"], "text": "origin"}],
        }
    ]


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        (":exit: returned to service", ":exit: Returned to Service"),
        (":exit: left locked out, tagged", ":Exit: Left locked out, tagged"),
        ("{isolates}`", "{Isolates}`"),
        ("{all-clear}`", "{AllClear}`"),
        ("{not-ok}", "{NotOk}"),
        ("{not-zero}", "{not_zero}"),
        (":::{warning}", ":::{Warning}"),
        ("revision: A", "Revision: A"),
        (":hands: controls", ":Hands: controls"),
    ],
)
def test_a_word_of_the_format_that_differs_in_case_only_is_certain(
    folder: Path, right: str, wrong: str
) -> None:
    marks = "- Firm: [Change the part](#change-the-part)\n- Loose: [Stop](#change-the-part) {not-ok}\n"
    marks += "- Live: [Stop](#change-the-part) {not-zero}\n"
    panel = ":::{warning} battery\n**Burns.** It can burn. Isolate it.\n:::\n"
    text = TEXT.replace(":orgin: shop rule\n", f":origin: shop rule\n:hands: controls - why not\n\n{panel}")
    text += f"\n{marks}"
    if right not in text:
        text += f"\n### Leave it\n{right}\n"
    file = folder / "procedures" / "a.md"
    file.write_text(text.replace(right, wrong, 1), encoding="utf-8")
    main(["check", "--fix", "--yes", "procedures/a.md"])
    after = file.read_text(encoding="utf-8")
    assert wrong not in after and after.replace("2.5 ±", "2,5 ±").count(right) == text.count(right)


def test_names_of_the_machine_and_steps_are_never_certain(folder: Path) -> None:
    file = folder / "procedures" / "a.md"
    text = TEXT.replace("{isolates}`battery`", "{isolates}`batery`").replace(":orgin:", ":origin:")
    text = text.replace("(#change-the-part)", "(#Change-The-Part)").replace("2,5", "2.5")
    assert "batery" in text
    file.write_text(text, encoding="utf-8")
    main(["check", "--fix", "--yes", "procedures/a.md"])
    assert file.read_text(encoding="utf-8") == text


def test_an_allowance_that_allows_nothing_goes_beside_other_errors(folder: Path) -> None:
    file = folder / "procedures" / "a.md"
    comment = "\n<!-- allow vague-word: it is one movement of the hand -->\n"
    text = TEXT.replace(":orgin: shop rule\n", ":origin: shop rule\n" + comment)
    file.write_text(text.replace("{isolates}`battery`", "{isolates}`batery`"), encoding="utf-8")
    assert main(["check", "--fix", "--yes", "procedures/a.md"]) == 1
    assert "allow vague-word" not in file.read_text(encoding="utf-8")
