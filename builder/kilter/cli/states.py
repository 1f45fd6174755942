"""`kilter states`."""

from __future__ import annotations

import argparse
from pathlib import Path

from kilter.cli.shared import colour_terminal


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", type=Path, metavar="FILE", help="a procedure or pre-use check")
    command.add_argument(
        "step", nargs="?", default="", metavar="STEP", help="number, such as 4.2 or A.2, or name of one step"
    )
    command.add_argument(
        "--format",
        choices=("text", "json", "svg", "html"),
        default="text",
        help="text (default), json for programs, svg for the picture, html for a page of both",
    )


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.states.run import show

    return show(arguments.file, arguments.step, arguments.format, colour_terminal())
