"""A copy of the demo library with some faults put in, and what the command says of it."""

import pytest
from tests.demo import edit

from kilter.cli import main


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
