"""`kilter data`."""

from __future__ import annotations

import argparse
from pathlib import Path


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "file", type=Path, metavar="FILE", help="a procedure or pre-use check without errors"
    )


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.compiled.run import write

    return write(arguments.file)
