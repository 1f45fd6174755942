"""`kilter schema`."""

from __future__ import annotations

import argparse
from pathlib import Path

from kilter.outcome import OK


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument("folder", type=Path, help="folder to write to")


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.schema import schemas

    arguments.folder.mkdir(parents=True, exist_ok=True)
    for name, text in schemas().items():
        (arguments.folder / name).write_text(text, encoding="utf-8", newline="\n")
        print(arguments.folder / name)
    return OK
