"""`kilter serve`."""

from __future__ import annotations

import argparse
import gc
from pathlib import Path


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--library", type=Path, default=Path(), help="folder with mkdocs.yml and procedures/ (default: here)"
    )
    command.add_argument("--port", type=int, default=8400, help="port to listen on (default: 8400; 0: any)")
    command.add_argument(
        "--host", default="127.0.0.1", help="address to listen on (default: 127.0.0.1, this machine only)"
    )


def run(arguments: argparse.Namespace) -> int:
    from kilter.live.serve import serve

    gc.enable()  # it runs for days
    return serve(arguments.library, arguments.host, arguments.port)
