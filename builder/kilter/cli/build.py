"""`kilter build`."""

from __future__ import annotations

import argparse
from pathlib import Path

from kilter.cli.shared import colour_terminal


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--library", type=Path, default=Path(), help="folder with mkdocs.yml and procedures/ (default: here)"
    )
    command.add_argument(
        "--out", type=Path, help="where to put site/ and cards/ (default: out/ beside mkdocs.yml)"
    )
    command.add_argument("--quiet", action="store_true", help="print errors only")


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.build import build

    code = build(arguments.library, arguments.out, quiet=arguments.quiet, colour=colour_terminal())
    _remember(arguments.library, arguments.out or arguments.library / "out")
    return code


def _remember(library: Path, out: Path) -> None:
    """A shop that keeps records keeps what its documents asked for: a record may come in revisions later."""
    folder = library / "records"
    if folder.is_dir():
        from kilter.records.plans import keep_built
        from kilter.records.store import RecordStore

        keep_built(out, RecordStore(folder))
