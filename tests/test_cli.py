"""The command as a person meets it: exit codes, what is printed, what is left on the disk."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from kilter.cli import main

DEMO = Path(__file__).parent.parent
BROKEN = "---\nkind: procedure\ntask: replacement\nnumber: BAD-1\nrevision: A\nequipment: egret-2\ntitle: Bad\n---\n# Bad\n\n## Stage\n\n### Reach in\nReach in.\n"


@pytest.fixture
def small(tmp_path, monkeypatch):
    """A library of one machine: for what a build does with its output, whatever stands in it."""
    (tmp_path / "procedures").mkdir()
    shutil.copytree(DEMO / "procedures" / "warming-cabinet", tmp_path / "procedures" / "warming-cabinet")
    shutil.copy(DEMO / "procedures" / "front.md", tmp_path / "procedures")
    shutil.copy(DEMO / "mkdocs.yml", tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def tree(folder):
    return {
        f.relative_to(folder).as_posix(): f.read_bytes() for f in sorted(folder.rglob("*")) if f.is_file()
    }


def test_the_demo_is_clean(library, capsys):
    assert main(["check"]) == 0
    assert capsys.readouterr().out.strip().endswith("nothing to mend")


def test_a_finding_begins_with_its_place(library, capsys):
    (library / "procedures" / "bad.md").write_text(BROKEN)
    assert main(["check", "procedures/bad.md"]) == 1
    out = capsys.readouterr().out
    first = out.splitlines()[0]
    assert first.startswith("procedures/bad.md:13:1: error: ")
    assert "   13 | ### Reach in" in out
    assert "help: " in out
    assert "\x1b[" not in out


def test_json_carries_the_same(library, capsys):
    (library / "procedures" / "bad.md").write_text(BROKEN)
    assert main(["check", "--format", "json", "procedures/bad.md"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["version"] == "1"
    assert {f["place"]["path"] for f in data["findings"]} == {"procedures/bad.md"}
    assert all(
        f["code"].startswith("K") and f["message"] and f["place"]["line"] >= 1 for f in data["findings"]
    )


def test_one_broken_file_does_not_hide_the_others(library, capsys):
    (library / "procedures" / "bad.md").write_text(BROKEN)
    (library / "procedures" / "worse.md").write_bytes(b"---\nkind: [\n---\n")
    (library / "procedures" / "worst.md").write_bytes(b"\xff\xfe\x00")
    assert main(["check"]) == 1
    out = capsys.readouterr().out
    for name in ("bad.md", "worse.md", "worst.md"):
        assert f"procedures/{name}:" in out


def test_warnings_change_the_exit_only_when_asked(library, capsys):
    file = library / "procedures" / "lift" / "lft-010-pre-use-check.md"
    file.write_text(
        file.read_text(encoding="utf-8").replace("Press each latch.", "Press each latch snug."),
        encoding="utf-8",
    )
    assert main(["check", str(file)]) == 0
    assert "warning" in capsys.readouterr().out
    assert main(["check", "--strict", str(file)]) == 1


def test_a_file_outside_a_library_is_checked_in_its_own_folder(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "README.md").write_text("# not a document\n")
    (tmp_path / "bad.md").write_text(BROKEN)
    assert main(["check", "bad.md"]) == 1
    out = capsys.readouterr().out
    assert "bad.md:6:12: error" in out
    assert "README" not in out


@pytest.mark.parametrize(
    "arguments", [["check", "nowhere.md"], ["build", "--library", "nowhere"], ["explain", "no-such-rule"]]
)
def test_what_could_not_run_is_two(library, capsys, arguments):
    assert main(arguments) == 2
    error = capsys.readouterr().err
    assert error.startswith("kilter: ")
    assert "Traceback" not in error


@pytest.mark.parametrize("made", ["", "other", "procedures", "procedures/lift"])
@pytest.mark.parametrize("more", [[], ["--fix", "--yes"], ["--format", "json"]])
def test_a_folder_without_documents_is_said_not_praised(tmp_path, monkeypatch, capsys, made, more):
    (tmp_path / made).mkdir(parents=True, exist_ok=True)
    (tmp_path / "README.md").write_text("# not a document\n")
    monkeypatch.chdir(tmp_path)
    assert main(["check", *more]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "no documents here: " in said.err and "begin with `kilter new equipment procedures/" in said.err
    assert ("no folder procedures/" in said.err) is ("procedures" not in made)


def test_what_is_advised_in_an_empty_folder_leads_on(tmp_path, monkeypatch, capsys):
    for folder in (tmp_path, tmp_path / "procedures"):
        folder.mkdir(exist_ok=True)
        monkeypatch.chdir(folder)
        main(["check"])
        _, kind, file = capsys.readouterr().err.split("`")[1].removeprefix("kilter ").split(" ")
        assert main(["new", kind, file, "--sources", "mains"]) == 0
        assert main(["check"]) == 1, "its blanks are found"
        capsys.readouterr()
        (folder / file).unlink()


def test_a_build_without_documents_says_where_to_begin(library, capsys):
    shutil.rmtree(library / "procedures")
    assert main(["build"]) == 2
    said = capsys.readouterr()
    assert said.err.startswith("kilter: procedures: not there; begin with `kilter new equipment ")
    assert said.err.count("\n") == 1 and not (library / "out").exists()


def test_explain_by_name_and_code(capsys):
    assert main(["explain", "stray-brace"]) == 0
    page = capsys.readouterr().out
    code = page.split()[1]
    assert main(["explain", code.lower()]) == 0
    assert capsys.readouterr().out == page
    assert main(["explain"]) == 0
    assert "stray-brace" in capsys.readouterr().out


def test_the_demo_builds_twice_alike(library, capsys):
    assert main(["build", "--out", "first"]) == 0
    assert main(["build", "--out", "second"]) == 0
    first, second = tree(library / "first"), tree(library / "second")
    assert first.keys() == second.keys()
    assert [name for name in first if first[name] != second[name]] == []
    assert {"site/index.html", "site/records.json", "cards/lft-120.pdf", "built.json"} <= first.keys()


def test_a_document_with_errors_is_withheld_and_the_rest_published(small, capsys):
    (small / "procedures" / "bad.md").write_text(BROKEN)
    assert main(["build"]) == 1
    out = small / "out"
    assert not (out / "site" / "bad-1.html").exists()
    assert not (out / "cards" / "bad-1.pdf").exists()
    assert (out / "site" / "wcb-210.html").exists()
    page = (out / "site" / "withheld.html").read_text(encoding="utf-8")
    assert "BAD-1" in page
    assert "withheld: BAD-1 Bad (procedures/bad.md): it has errors" in capsys.readouterr().out


def test_a_broken_profile_withholds_its_procedures(library, capsys):
    profile = library / "procedures" / "lift" / "profile.md"
    profile.write_text(
        profile.read_text(encoding="utf-8").replace("kind: battery", "kind: batery"), encoding="utf-8"
    )
    assert main(["build"]) == 1
    site = library / "out" / "site"
    assert not list(site.glob("lft-*.html"))
    assert list(site.glob("str-*.html"))


def test_mkdocs_build_withholds_the_same(library):
    (library / "procedures" / "bad.md").write_text(BROKEN)
    command = [sys.executable, "-m", "mkdocs", "build", "-q", "-d", "elsewhere"]
    subprocess.run(command, cwd=library, capture_output=True, check=True)
    assert not (library / "elsewhere" / "bad-1.html").exists()
    assert (library / "elsewhere" / "lft-120.html").exists()


def test_a_build_that_could_not_run_leaves_the_last_output(small, capsys):
    assert main(["build"]) == 0
    before = tree(small / "out")
    (small / "mkdocs.yml").write_text("site_name: x\nplugins: [nowhere]\n")
    assert main(["build"]) == 2
    assert "mkdocs.yml" in capsys.readouterr().err
    assert tree(small / "out") == before
    assert [p.name for p in small.iterdir() if p.name.startswith(".out")] == []


def test_a_killed_build_leaves_the_last_output(small):
    assert main(["build", "--quiet"]) == 0
    before = tree(small / "out")
    process = subprocess.Popen(
        [sys.executable, "-m", "kilter", "build"],
        cwd=small,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    deadline = time.monotonic() + 60
    while not list(small.glob(".out-[0-9]*/site")) and process.poll() is None and time.monotonic() < deadline:
        time.sleep(0.01)
    assert process.poll() is None, "the build was over before it could be killed"
    os.kill(process.pid, signal.SIGKILL)
    process.wait()
    assert tree(small / "out") == before
    assert main(["build", "--quiet"]) == 0
    assert tree(small / "out") == before
    assert [p.name for p in small.iterdir() if p.name.startswith(".out")] == []


def test_output_moved_away_by_a_killed_swap_comes_back(small):
    assert main(["build", "--quiet"]) == 0
    before = tree(small / "out")
    (small / "out").rename(small / ".out-before")
    (small / "mkdocs.yml").write_text("site_name: x\nplugins: [nowhere]\n")
    assert main(["build"]) == 2
    assert tree(small / "out") == before


def test_a_foreign_folder_is_never_swapped_away(small, capsys):
    (small / "out").mkdir()
    (small / "out" / "thesis.txt").write_text("mine")
    assert main(["build"]) == 2
    assert (small / "out" / "thesis.txt").read_text() == "mine"
    assert "not an output of `kilter build`" in capsys.readouterr().err
