"""`kilter lsp`."""

from __future__ import annotations

import argparse
import gc


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--stdio", action="store_true", help="talk over input and output; it always does, some editors say it"
    )


def run(arguments: argparse.Namespace) -> int:
    from kilter.lsp.run import run as talk

    gc.enable()  # it runs for days
    return talk()
