"""`--changed` checks what differs from a commit, and what leans on it."""

import json
import os
import subprocess

import pytest
from tests.demo import CHARGE, edit

from kilter.check.leaning import leaning_on
from kilter.read.library import read_library

LEAD = "procedures/lift/lft-130-charge-lead.md"
DAILY = "procedures/lift/lft-010-pre-use-check.md"
PROFILE = "procedures/lift/profile.md"
LIFT = {CHARGE, LEAD, DAILY, PROFILE}
SETTINGS = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}


def git(folder, *words):
    who = ("-c", "user.name=A", "-c", "user.email=a@b.invalid", "-c", "commit.gpgsign=false")
    subprocess.run(
        ("git", *who, *words), cwd=folder, check=True, capture_output=True, env=os.environ | SETTINGS
    )


@pytest.fixture
def kept(library):
    """The demo library in a repository with one commit, called `start`."""
    git(library, "init", "-q", "-b", "main")
    git(library, "add", ".")
    git(library, "commit", "-q", "-m", "start")
    git(library, "tag", "start")
    return library


@pytest.fixture
def seen(check):
    """The documents that a run looks at."""

    def run(*words):
        code, out, err = check("--format", "sarif", *words)
        assert code in (0, 1), err
        return {a["location"]["uri"] for a in json.loads(out)["runs"][0]["artifacts"]}

    return run


def test_nothing_changed_nothing_checked(kept, check):
    assert check("--changed") == (0, "0 files checked: nothing to mend\n", "")


def test_an_edited_document(kept, seen):
    edit(kept, "Undo the mast screws.", "Undo both mast screws.", LEAD)
    assert LEAD in seen("--changed")
    assert PROFILE not in seen("--changed")


def test_a_document_that_links_to_the_changed_one(kept, seen):
    edit(kept, "# ", "# ", LEAD)
    (kept / LEAD).write_text((kept / LEAD).read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert "](LFT-130)" in (kept / CHARGE).read_text(encoding="utf-8")
    assert seen("--changed") == {LEAD, CHARGE}


def test_staged_and_not_yet_added_files_count(kept, seen):
    new = kept / "procedures" / "lift" / "new.md"
    text = (kept / DAILY).read_text(encoding="utf-8").replace("LFT-010", "LFT-011")
    new.write_text(text, encoding="utf-8")
    assert seen("--changed") == {"procedures/lift/new.md"}
    git(kept, "add", ".")
    assert seen("--changed") == {"procedures/lift/new.md"}
    git(kept, "commit", "-q", "-m", "new")
    assert seen("--changed") == set()
    assert seen("--changed=start") == {"procedures/lift/new.md"}


def test_a_profile_brings_its_procedures(kept, seen):
    (kept / PROFILE).write_text((kept / PROFILE).read_text(encoding="utf-8") + "\n", encoding="utf-8")
    assert seen("--changed") == LIFT


def test_a_fault_in_the_profile_shows_in_the_procedures(kept, check):
    edit(kept, "mast cover", "mast lid", PROFILE)
    code, out, _ = check("--changed")
    assert code == 1
    assert f"{CHARGE}:" in out or f"{LEAD}:" in out


def test_a_deleted_profile_brings_its_procedures(kept, seen):
    (kept / PROFILE).unlink()
    assert seen("--changed") == LIFT - {PROFILE}


def test_a_deleted_procedure_brings_those_that_link_to_it(kept, check, seen):
    (kept / LEAD).unlink()
    assert CHARGE in seen("--changed")
    assert check("--changed")[0] == 1


def test_a_picture_brings_the_documents_that_show_it(kept, seen):
    picture = kept / "procedures" / "lift" / "pictures" / "charge-path.svg"
    assert "pictures/charge-path.svg" in (kept / CHARGE).read_text(encoding="utf-8")
    picture.write_bytes(picture.read_bytes() + b"\0")
    assert CHARGE in seen("--changed")
    assert not any("stretcher" in path for path in seen("--changed"))


def test_a_renamed_picture_brings_the_documents_that_showed_it(kept, check, seen):
    git(kept, "mv", "procedures/lift/pictures/charge-path.svg", "procedures/lift/pictures/other.png")
    assert CHARGE in seen("--changed")
    assert "picture-missing]" in check("--changed")[1]


def test_the_settings_bring_everything(kept, seen):
    with (kept / "mkdocs.yml").open("a", encoding="utf-8") as stream:
        stream.write("\n# more\n")
    assert seen("--changed") == seen()


def test_another_file_brings_nothing(kept, seen):
    (kept / "notes.txt").write_text("x")
    (kept / "procedures" / "front.md").write_text("# Other\n")
    assert seen("--changed") == set()


def test_what_git_ignores_is_left_out(kept, seen):
    (kept / ".gitignore").write_text("*.draft.md\n")
    (kept / "procedures" / "x.draft.md").write_text("---\n---\n")
    assert seen("--changed") == set()


def test_paths_narrow_it(kept, seen):
    edit(kept, "Undo the mast screws.", "Undo both mast screws.", LEAD)
    edit(kept, "Press each latch.", "Press every latch.", DAILY)
    assert seen("--changed=HEAD", DAILY) == {DAILY}
    assert seen("--changed=HEAD", "procedures/stretcher") == set()


def test_before_the_first_commit_everything_is_new(library, seen):
    git(library, "init", "-q")
    assert seen("--changed") == seen()


def test_a_library_below_the_top_of_its_repository(kept, seen, monkeypatch):
    edit(kept, "Press each latch.", "Press every latch.", DAILY)
    monkeypatch.chdir(kept / "procedures" / "lift")
    assert seen("--changed") == {(kept / DAILY).name}


def test_an_unknown_commit_is_said(kept, check):
    code, out, err = check("--changed=nowhere")
    assert code == 2 and out == ""
    assert err.startswith("kilter: --changed: no commit is called `nowhere`")


def test_a_path_taken_for_a_commit_is_said(kept, check):
    code, _, err = check("--changed", "procedures")
    assert code == 2 and "`--changed=HEAD procedures`" in err


@pytest.mark.parametrize("ref", ["--help", "-h", "HEAD:procedures", "", "a b", "@{"])
def test_an_odd_commit_is_only_refused(kept, check, ref):
    code, out, err = check(f"--changed={ref}")
    assert code == 2 and out == "" and err.startswith("kilter: --changed: no commit is called")


def test_outside_a_repository_is_said(library, check, monkeypatch):
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(library.parent))
    code, out, err = check("--changed")
    assert code == 2 and out == ""
    assert "is in no git repository; name the files instead" in err


def test_without_git_is_said(kept, check, monkeypatch):
    monkeypatch.setenv("PATH", str(kept))
    code, _, err = check("--changed")
    assert code == 2
    assert err == "kilter: --changed: needs the program `git`, which is not there\n"


def test_names_that_git_would_quote(kept, seen):
    name = 'größe "1"\t.md'
    (kept / "procedures" / name).write_text("---\n---\n")
    assert seen("--changed=HEAD") == {"procedures/gr%C3%B6%C3%9Fe%20%221%22%09.md"}


def test_a_document_without_a_known_profile_is_looked_at_again(library):
    edit(library, "equipment: egret-2", "equipment: nowhere", CHARGE)
    read = read_library(library / "procedures")
    assert leaning_on(read, {library / "procedures" / "gone.md"}) == {CHARGE}
    assert leaning_on(read, {library / "gone.txt"}) == frozenset()
