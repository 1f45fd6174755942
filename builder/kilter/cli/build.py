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

    return build(arguments.library, arguments.out, quiet=arguments.quiet, colour=colour_terminal())
