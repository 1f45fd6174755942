"""`kilter serve`."""

from __future__ import annotations

import argparse
import gc
from pathlib import Path


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--library", type=Path, default=Path(), help="folder with mkdocs.yml and procedures/ (default: here)"
    )
    command.add_argument("--port", type=int, default=8400, help="port on this machine (default: 8400)")


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.serve import serve

    gc.enable()  # it runs for days
    return serve(arguments.library, arguments.port)
