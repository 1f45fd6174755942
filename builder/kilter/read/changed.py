"""Which files changed against a commit, as git says."""

from __future__ import annotations

import subprocess
from pathlib import Path

from kilter.outcome import CouldNotRunError

NOW = "HEAD"


def changed_files(folder: Path, ref: str = NOW) -> frozenset[Path]:
    """Files below `folder`'s repository that differ from a commit: edited, new, deleted, also not yet added.

    What git is told to ignore is left out. Raises CouldNotRunError where git or the commit is missing.
    """
    top = Path(_git(folder, "rev-parse", "--show-toplevel").rstrip("\n"))
    against = _commit(top, ref)
    told = _git(top, "diff", "--name-only", "--no-renames", "--no-ext-diff", "-z", against, "--")
    fresh = _git(top, "ls-files", "--others", "--exclude-standard", "-z")
    return frozenset(top / name for name in (told + fresh).split("\0") if name)


def _commit(top: Path, ref: str) -> str:
    """The commit's id; before the first commit everything is new, so an empty tree stands for it."""
    found = _run(top, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{ref}^{{commit}}")
    if found.returncode == 0:
        return found.stdout.strip()
    if ref == NOW:
        return _git(top, "hash-object", "-t", "tree", "--stdin").strip()
    hint = f"; for a path write `--changed={NOW} {ref}`" if Path(ref).exists() else ""
    raise CouldNotRunError(f"--changed: no commit is called `{ref}` in {top}{hint}")


def _git(folder: Path, *words: str) -> str:
    done = _run(folder, *words)
    if done.returncode != 0:
        if "not a git repository" in done.stderr:
            raise CouldNotRunError(f"--changed: {folder} is in no git repository; name the files instead")
        said = (done.stderr.strip().splitlines() or ["it said nothing"])[-1]
        raise CouldNotRunError(f"--changed: git can't tell what changed: {said}")
    return done.stdout


def _run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    command = ["git", "-c", "core.quotePath=false", "-C", str(folder), *words]
    try:
        return subprocess.run(
            command, capture_output=True, text=True, encoding="utf-8", errors="surrogateescape",
            stdin=subprocess.DEVNULL, check=False,
        )  # fmt: skip
    except OSError:
        raise CouldNotRunError("--changed: needs the program `git`, which is not there") from None
