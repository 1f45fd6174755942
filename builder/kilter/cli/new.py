"""`kilter new`."""

from __future__ import annotations

import argparse
from pathlib import Path

from kilter.outcome import OK, CouldNotRunError


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument("kind", choices=("procedure", "pre-use-check", "equipment"))
    command.add_argument("file", type=Path, help="the file to write; it must not exist")
    command.add_argument("--number", help="document number, such as LFT-140 (not for equipment)")
    command.add_argument("--title", help="title of the document")
    command.add_argument("--equipment", help="id of the equipment profile")
    command.add_argument("--task", default="replacement", help="for a procedure (default: replacement)")
    command.add_argument("--id", help="id of a new equipment profile, such as egret-2")


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.skeleton import skeleton

    file: Path = arguments.file
    if file.exists():
        raise CouldNotRunError(f"{file}: is there already; choose another name, nothing was written")
    text = skeleton(arguments)
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("x", encoding="utf-8", newline="\n") as stream:
        stream.write(text)
    print(f"{file}: written; fill in what stands in [fill in: ...], then `kilter check {file}`")
    return OK
