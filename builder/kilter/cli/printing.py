"""`kilter print`."""

from __future__ import annotations

import argparse
from pathlib import Path

from kilter.cli.shared import colour_terminal

MOST_COPIES = 500


def arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "names", nargs="*", metavar="NAME", help="number or file of a document, or id of a machine"
    )
    command.add_argument(
        "--equipment", action="append", default=[], metavar="ID", help="a machine's cards and its documents'"
    )
    command.add_argument(
        "--list",
        action="append",
        default=[],
        type=Path,
        metavar="FILE",
        dest="lists",
        help="names from a file, one a line: a ward's machines, a training day",
    )
    command.add_argument("--all", action="store_true", dest="every", help="the whole library")
    command.add_argument(
        "--cards",
        action="append",
        default=[],
        metavar="KINDS",
        help="kinds of card, with commas between, or all (default: a document's own card, and all of a machine)",
    )
    command.add_argument(
        "--sheet", choices=("a3", "a4", "a5", "letter"), default="a4", help="paper (default: a4)"
    )
    command.add_argument(
        "--layout",
        choices=("cut", "same", "booklet"),
        default="cut",
        help="cut: pages in order, cut apart; same: a sheet holds one page several times, for lamination; "
        "booklet: folded in the middle (default: cut)",
    )
    command.add_argument(
        "--flip",
        choices=("long", "short", "none"),
        default="long",
        help="the edge that the printer turns the sheet over; none: one side only (default: long)",
    )
    command.add_argument("--copies", type=_copies, default=1, help="of each card (default: 1)")
    command.add_argument("--crop-marks", action="store_true", help="short lines where to cut")
    command.add_argument(
        "--out", type=Path, default=Path("print.pdf"), help="file to write (default: print.pdf)"
    )
    command.add_argument(
        "--library", type=Path, default=Path(), help="folder with mkdocs.yml and procedures/ (default: here)"
    )


def _copies(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:9]) <= MOST_COPIES):
        raise argparse.ArgumentTypeError(f"`{text}` is no number of copies: write 1 to {MOST_COPIES}")
    return int(text)


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.paper.choose import Wish
    from kilter.publish.paper.order import Job
    from kilter.publish.paper.plan import SHEETS
    from kilter.publish.paper.run import print_cards

    kinds = tuple(k.strip() for given in arguments.cards for k in given.split(",") if k.strip())
    wish = Wish(tuple(arguments.names), tuple(arguments.equipment), arguments.every, kinds)
    job = Job(SHEETS[arguments.sheet], arguments.layout, arguments.flip, arguments.copies)
    name = arguments.sheet.upper() if len(arguments.sheet) == 2 else arguments.sheet
    return print_cards(
        arguments.library,
        wish,
        arguments.lists,
        job,
        name,
        arguments.crop_marks,
        arguments.out,
        colour_terminal(),
    )
