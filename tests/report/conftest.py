"""A copy of the demo library with some faults put in, and what the command says of it."""

import shutil
from pathlib import Path

import pytest

from kilter.cli import main

DEMO = Path(__file__).parent.parent.parent
CHARGE = "procedures/lift/lft-120-not-charged.md"


@pytest.fixture
def library(tmp_path, monkeypatch):
    """The demo library as it is, sound, and the working folder in it."""
    shutil.copytree(DEMO / "procedures", tmp_path / "procedures")
    shutil.copy(DEMO / "mkdocs.yml", tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def edit(library, old, new, path=CHARGE):
    file = library / path
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.fixture
def faulty(library):
    """One document that no longer makes safe, and has two vague words."""
    edit(
        library, "### Make safe for the fuse\n:do: make-safe", "### Make safe for the fuse\n\nPress `it` in."
    )
    edit(library, "Undo the mast screws.", "Undo the mast screws roughly, snug.")
    return library


@pytest.fixture
def check(capsys):
    """Runs `kilter check` with these words: exit code and what it printed."""

    def run(*words):
        capsys.readouterr()
        code = main(["check", *map(str, words)])
        told = capsys.readouterr()
        return code, told.out, told.err

    return run
