"""`kilter card`."""

from __future__ import annotations

import argparse
from pathlib import Path


def arguments(command: argparse.ArgumentParser) -> None:
    names = command.add_subparsers(metavar="WHAT", required=True, dest="what")
    verify = names.add_parser(
        "verify",
        help="say whether a printed card is what the library holds now",
        description="Says whether a printed card is what the library holds now: exit 0 only if it is.",
        epilog="example:\n  kilter card verify photo.jpg",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    verify.add_argument(
        "asked",
        nargs="+",
        metavar="CODE-OR-FILE",
        help="text of its QR code, its content hash of 12 characters, or a photo, scan or PDF of it",
    )
    verify.add_argument(
        "--library", type=Path, default=Path(), help="folder with mkdocs.yml and procedures/ (default: here)"
    )


def run(arguments: argparse.Namespace) -> int:
    from kilter.publish.paper.ask import verify

    return verify(arguments.library, arguments.asked)
