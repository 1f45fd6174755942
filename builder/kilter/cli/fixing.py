"""`kilter check --fix`: shows what it would change, asks, and writes all of it or nothing."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from kilter.cli.shared import chosen_files, libraries, no_documents
from kilter.outcome import FINDINGS, OK, CouldNotRunError

if TYPE_CHECKING:
    from kilter.diagnostic import Diagnostic
    from kilter.mend.write import Change


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--fix",
        action="store_true",
        help="apply the fixes that are certain and touch no safety; shows the difference and asks first",
    )
    command.add_argument("--yes", action="store_true", help="with --fix: write without asking")


@dataclass
class _Work:
    """What is found and what would be written, over all libraries that were named."""

    before: list[Diagnostic] = field(default_factory=list)
    after: list[Diagnostic] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    differences: str = ""
    made: int = 0
    files: int = 0


def fix(arguments: argparse.Namespace) -> int:
    """Mend the named files; returns the exit code of a check of what is on the disk afterwards."""
    from kilter.diagnostic import Severity
    from kilter.report.text import summary

    work = _Work()
    named = libraries(arguments.paths)
    for root, only in named.items():
        _mend(root, only, work)
    if not work.files:
        raise no_documents(next(iter(named)))
    print(work.differences, end="\n" if work.differences else "")
    written = _written(work, arguments.yes)
    findings = work.after if written else work.before
    _left(findings)
    print(summary(findings, work.files))
    worst = max((f.severity for f in findings), default=None)
    return FINDINGS if worst is Severity.ERROR or (arguments.strict and worst is not None) else OK


def _mend(root: Path, only: list[Path], work: _Work) -> None:
    from kilter.check.workspace import Workspace
    from kilter.mend.difference import difference
    from kilter.mend.rounds import found_in, mend
    from kilter.mend.write import Change
    from kilter.read.library import document_files

    chosen = chosen_files(only, document_files(root)) if only else []
    workspace = Workspace(root, always=chosen)
    paths = [workspace.shown(f) for f in chosen] if only else workspace.paths()
    work.before += found_in(workspace, paths)
    mended = mend(workspace, paths)
    work.after += mended.left
    work.made += len(mended.made)
    work.files += len(paths)
    for path, text in mended.texts.items():
        if text != mended.originals[path]:
            before, after = mended.originals[path].encode(), text.encode()
            work.changes.append(Change(workspace.library.files[path], before, after))
            work.differences += difference(path, mended.originals[path], text)


def _written(work: _Work, yes: bool) -> bool:
    from kilter.mend.write import ChangedMeanwhileError, write

    if not work.changes:
        print("no fix can be made without a person who chooses")
        return False
    said = f"{_counted(work.made, 'fix', 'fixes')} in {_counted(len(work.changes), 'file', 'files')}"
    if not (yes or _agreed(said)):
        print(f"nothing written: {said} shown above")
        return False
    try:
        write(work.changes)
    except ChangedMeanwhileError as trouble:
        raise CouldNotRunError(str(trouble)) from None
    print(f"{said} written")
    return True


def _agreed(said: str) -> bool:
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        print("no terminal to ask at: add --yes to write")
        return False
    try:
        return input(f"{said}: apply? [y/N] ").strip().casefold() in ("y", "yes")
    except EOFError:
        return False


def _left(findings: Iterable[Diagnostic]) -> None:
    """The fixes that a person has to choose, and where."""
    rows = []
    for found in findings:
        for cure in found.fixes:
            if not cure.alone:
                blank = ", then fill in its blank" if cure.leaves_blank else ""
                rows.append(f"{found.span}: {found.rule}: {cure.title}{blank}")
    if rows:
        print("for you to choose (tab Write of `kilter serve`, or an editor with `kilter lsp`):")
    print("".join(f"  {row}\n" for row in rows), end="")


def _counted(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"
