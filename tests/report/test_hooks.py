"""The hooks that other repositories can name."""

import re
from pathlib import Path

import pytest
import yaml

from kilter.cli import parse

HOOKS = yaml.safe_load(
    (Path(__file__).parent.parent.parent / ".pre-commit-hooks.yaml").read_text(encoding="utf-8")
)


@pytest.mark.parametrize("hook", HOOKS, ids=lambda hook: hook["id"])
def test_a_hook_runs_a_command_that_is_there(hook):
    program, *words = hook["entry"].split()
    assert program == "kilter" and hook["language"] == "python"
    assert parse(words).run
    assert hook["pass_filenames"] is False and hook["require_serial"] is True


@pytest.mark.parametrize("hook", HOOKS, ids=lambda hook: hook["id"])
def test_a_hook_wakes_for_documents_pictures_and_settings(hook):
    wakes = re.compile(hook["files"]).search
    for path in (
        "procedures/lift/a.md",
        "procedures/lift/pictures/a.png",
        "lib/procedures/a.md",
        "mkdocs.yml",
    ):
        assert wakes(path), path
    for path in ("README.md", "builder/x.py", "docs/procedures.md", "other/mkdocs.yml.txt"):
        assert not wakes(path), path


def test_the_names_are_ours():
    assert [hook["id"] for hook in HOOKS] == ["kilter-check", "kilter-check-changed"]
