"""`kilter new`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from kilter.outcome import OK, CouldNotRunError


def arguments(command: argparse.ArgumentParser) -> None:
    from kilter.model.front import TASKS

    command.add_argument("kind", choices=("procedure", "pre-use-check", "equipment"))
    command.add_argument("file", type=Path, help="the file to write; it must not exist")
    command.add_argument("--number", help="document number, such as LFT-140 (not for equipment)")
    command.add_argument("--title", help="title of the document; of equipment: machine, maker and model")
    command.add_argument("--equipment", metavar="ID", help="id of the equipment profile (not for equipment)")
    command.add_argument(
        "--task",
        default="replacement",
        help=f"for a procedure: {', '.join(TASKS)} (default: replacement)",
    )
    command.add_argument(
        "--zone",
        metavar="NAME",
        help="for a procedure: the zone of the profile that is worked in (default: all)",
    )
    new = command.add_argument_group(
        "for equipment", "on a terminal, without --sources, you are asked for each kind of energy"
    )
    new.add_argument("--id", help="id of the new profile, such as egret-2")
    new.add_argument(
        "--sources",
        metavar="KINDS",
        help="kinds of energy it has, such as mains,battery,gravity; all others become `none`; '' for none at all",
    )
    new.add_argument("--guards", metavar="NAMES", help="covers that can come off, such as 'rear cover,lid'")
    new.add_argument("--tests", metavar="NAMES", help="tests before service, such as 'heating,full run'")


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.skeleton import new_text, unseen

    file: Path = arguments.file
    _refuse_misplaced(arguments)
    if file.exists():
        raise CouldNotRunError(f"{file}: is there already; choose another name, nothing was written")
    given = {
        "task": arguments.task,
        "number": arguments.number,
        "equipment": arguments.equipment,
        "title": arguments.title,
        "zone": arguments.zone,
        "id": arguments.id,
        "sources": _names(arguments.sources),
        "guards": _names(arguments.guards) or (),
        "tests": _names(arguments.tests) or (),
    }
    new_text(arguments.kind, file, **given)  # what is wrong with the options is said before anything is asked
    asked = arguments.kind == "equipment" and arguments.sources is None
    if asked and sys.stdin.isatty() and sys.stdout.isatty():
        from kilter.cli.ask import ask

        given = ask(given, lambda id: _wrong(file, id))
    text = new_text(arguments.kind, file, **given)
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("x", encoding="utf-8", newline="\n") as stream:
        stream.write(text)
    if why := unseen(file):
        print(f"kilter: {file}: the library will not see this file: {why}", file=sys.stderr)
    print(f"{file}: written; fill in what stands in [fill in: ...], then `kilter check {file}`")
    return OK


def _refuse_misplaced(arguments: argparse.Namespace) -> None:
    """An option of another kind would be dropped without a word."""
    machine = ("id", "sources", "guards", "tests")
    wrong = ("number", "equipment", "zone") if arguments.kind == "equipment" else machine
    for name in wrong:
        if getattr(arguments, name) is not None:
            raise CouldNotRunError(f"--{name} is not for {arguments.kind}")


def _wrong(file: Path, id: str) -> str:
    """What is amiss with an id for new equipment."""
    from kilter.publish.skeleton import new_text

    try:
        new_text("equipment", file, id=id)
    except CouldNotRunError as trouble:
        return str(trouble)
    return ""


def _names(given: str | None) -> tuple[str, ...] | None:
    """Names between commas; None where nothing was given, empty where nothing stands in it."""
    if given is None:
        return None
    return tuple(dict.fromkeys(name for part in given.split(",") if (name := " ".join(part.split()))))
