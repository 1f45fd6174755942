"""`kilter new`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from kilter.outcome import OK, CouldNotRunError


def arguments(command: argparse.ArgumentParser) -> None:
    from kilter.model.front import TASKS

    command.add_argument("kind", choices=("procedure", "pre-use-check", "equipment", "training"))
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
    taught = command.add_argument_group("for training")
    taught.add_argument(
        "--from", nargs="+", dest="covers", metavar="NUMBER", help="the documents that are taught"
    )
    taught.add_argument("--minutes", type=int, metavar="N", help="the time there is (default: 120)")
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
        "covers": tuple(arguments.covers or ()),
        "minutes": 120 if arguments.minutes is None else arguments.minutes,
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
    if arguments.kind == "training":
        print(_questions(file))
    print(f"{file}: written; fill in what stands in [fill in: ...], then `kilter check {file}`")
    return OK


def _refuse_misplaced(arguments: argparse.Namespace) -> None:
    """An option of another kind would be dropped without a word."""
    machine, document, taught = (
        ("id", "sources", "guards", "tests"),
        ("equipment", "zone"),
        ("covers", "minutes"),
    )
    wrong = {
        "equipment": ("number", *document, *taught),
        "training": (*machine, *document),
    }.get(arguments.kind, (*machine, *taught))
    for name in wrong:
        if getattr(arguments, name) is not None:
            option = {"covers": "from"}.get(name, name)
            raise CouldNotRunError(f"--{option} is not for {arguments.kind}")


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


def _questions(file: Path) -> str:
    """How many questions the facts allow, by kind."""
    from kilter.check.module import ModuleContext
    from kilter.publish.skeleton.training import settled
    from kilter.publish.training.questions import allowed, bank
    from kilter.read.document import read_bytes
    from kilter.read.library import library_root, read_library

    library = read_library(library_root(file))
    path = str(file)
    library.add(read_bytes(path, settled(file.read_text(encoding="utf-8")).encode()))
    module = library.modules.get(path)
    if module is None:
        return "how many questions the facts allow is told once the blanks of the front matter are filled in"
    kinds = allowed(bank(ModuleContext(library, module)))
    each = ", ".join(f"{n} {kind}" for kind, n in kinds.items())
    return f"the facts allow {sum(kinds.values())} questions: {each or 'none'}"
