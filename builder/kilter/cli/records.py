"""`kilter records`."""

from __future__ import annotations

import argparse
from pathlib import Path

from kilter.cli.shared import colour_terminal


def arguments(command: argparse.ArgumentParser) -> None:
    actions = command.add_subparsers(metavar="ACTION", required=True)
    for name, help, add in _ACTIONS:
        action = actions.add_parser(name, help=help, description=help[:1].upper() + help[1:] + ".")
        action.add_argument(
            "--library",
            type=Path,
            default=Path(),
            help="folder with mkdocs.yml and procedures/ (default: here)",
        )
        action.add_argument(
            "--records", type=Path, help="folder of the records (default: records/ beside mkdocs.yml)"
        )
        add(action)


def run(arguments: argparse.Namespace) -> int:
    from kilter.records import command

    store = command.store_of(arguments.library, arguments.records)
    arguments.colour = colour_terminal()
    code: int = getattr(command, arguments.does)(store, arguments)
    return code


def _files(action: argparse.ArgumentParser, does: str) -> None:
    action.add_argument(
        "files",
        nargs="+",
        type=Path,
        metavar="FILE",
        help="files of records, folders of them, texts or pictures of their codes",
    )
    action.add_argument(
        "--clock-was-set",
        action="store_true",
        help="the phone's clock was put right during the work: times may step back",
    )
    action.set_defaults(does=does)


def _take(action: argparse.ArgumentParser) -> None:
    _files(action, "take")
    action.add_argument(
        "--qr", type=Path, metavar="PNG", help="also draw the receipt as a QR code for the phone"
    )


def _check(action: argparse.ArgumentParser) -> None:
    _files(action, "check")


def _list(action: argparse.ArgumentParser) -> None:
    _which(action)
    action.add_argument("--open", action="store_true", help="only work that has not ended")
    action.add_argument(
        "--out-of-limits", action="store_true", help="only where something was found out of its limits"
    )
    action.set_defaults(does="listed")


def _which(action: argparse.ArgumentParser) -> None:
    action.add_argument("--document", default="", metavar="NUMBER", help="of this document")
    action.add_argument("--asset", default="", metavar="NUMBER", help="of this machine")


def _table(action: argparse.ArgumentParser) -> None:
    _which(action)
    action.add_argument("--to", type=Path, required=True, metavar="CSV", help="file to write")
    action.add_argument(
        "--columns", type=Path, metavar="TOML", help="which columns, and what the shop calls them"
    )
    action.set_defaults(does="table")


def _page(action: argparse.ArgumentParser) -> None:
    action.add_argument("record", help="the first characters of the record's id")
    action.add_argument("--to", type=Path, required=True, metavar="PDF", help="file to write")
    action.set_defaults(does="paper")


def _receipt(action: argparse.ArgumentParser) -> None:
    action.add_argument(
        "records", nargs="*", metavar="ID", help="first characters of ids (default: all that is here)"
    )
    action.add_argument("--to", type=Path, metavar="JSON", help="also write the receipt as a file")
    action.add_argument("--qr", type=Path, metavar="PNG", help="also draw its codes as a QR code")
    action.set_defaults(does="receipt")


def _remarks(action: argparse.ArgumentParser) -> None:
    action.add_argument("--document", default="", metavar="NUMBER", help="of this document")
    action.add_argument("--all", action="store_true", help="also those that were answered")
    action.set_defaults(does="remarks")


def _answer(action: argparse.ArgumentParser) -> None:
    action.add_argument("record", help="the first characters of the remark's id")
    action.add_argument("words", help="what was done about it, or why nothing")
    action.set_defaults(does="answer")


def _settle(action: argparse.ArgumentParser) -> None:
    action.add_argument("record", help="the first characters of the record's digest, as `list` shows it")
    action.add_argument("--leave-out", action="store_true", help="it does not count (default: it counts)")
    action.set_defaults(does="settle")


def _keep(action: argparse.ArgumentParser) -> None:
    action.add_argument("out", type=Path, help="output folder of a build, with built.json in it")
    action.set_defaults(does="keep")


def _count(action: argparse.ArgumentParser) -> None:
    _which(action)
    action.set_defaults(does="count")


_ACTIONS = (
    ("take", "take in what phones handed over, and write a receipt", _take),
    ("check", "say what is wrong with records, and take nothing in", _check),
    ("list", "list the jobs", _list),
    ("remarks", "list what was said to be wrong with steps", _remarks),
    ("answer", "say what was done about a remark", _answer),
    ("settle", "decide which of two records counts", _settle),
    ("csv", "write a table for the maintenance system, one row a reading", _table),
    ("page", "write a record as a page to print", _page),
    ("receipt", "say again what was received, so that a phone may delete it", _receipt),
    ("count", "how often readings were found out of limits, and how they drift", _count),
    ("keep", "remember what a build's documents ask for, so that later records of it can be checked", _keep),
)
