"""`kilter picture`."""

from __future__ import annotations

import argparse
import re
from pathlib import Path
from typing import TYPE_CHECKING

from kilter.outcome import OK, CouldNotRunError

if TYPE_CHECKING:
    from kilter.picture.add import Taken

FOLDER = "pictures"
LOOK = """\
Now look at the whole picture yourself, the edges and reflections too. Nothing here can find a face, a name, a
screen or a label that may tell who somebody is. Cover what you find with `:cover: x,y,width,height` under the
figure, or add the photo again with --cover, which keeps it out of the library as well. Then say under `:looked:`
what you looked for, such as `no people, no names`."""


def arguments(command: argparse.ArgumentParser) -> None:
    names = command.add_subparsers(metavar="WHAT", required=True, dest="what")
    add = names.add_parser(
        "add",
        help="take a picture into the library, upright and without anything the camera wrote into it",
        description="Writes a clean copy of a photo or drawing beside the documents; the original stays as it is.",
        epilog="example:\n  kilter picture add ~/IMG_0412.jpg --as rail-latch --into procedures/lift/pictures",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add.add_argument("photo", type=Path, metavar="PHOTO", help="PNG, JPEG, WebP or SVG")
    add.add_argument("--as", dest="name", metavar="ID", help="a plain name, such as rail-latch")
    add.add_argument("--into", type=Path, metavar="FOLDER", help=f"where to put it (default: {FOLDER}/ here)")
    area = {"metavar": "X,Y,W,H", "type": _area}
    add.add_argument("--crop", help="keep this part only, in pixels of the upright photo", **area)  # type: ignore[arg-type]
    add.add_argument(
        "--cover",
        action="append",
        help="paint over this part for good; can be given again",
        default=[],
        **area,  # type: ignore[arg-type]
    )


def _area(text: str) -> tuple[int, int, int, int]:
    match = re.fullmatch(r"(\d{1,6}),(\d{1,6}),([1-9]\d{0,5}),([1-9]\d{0,5})", text.replace(" ", ""))
    if match is None:
        raise argparse.ArgumentTypeError(
            f"`{text}` is no area: write left edge, upper edge, width and height, such as 610,240,120,90"
        )
    x, y, width, height = (int(n) for n in match.groups())
    return x, y, width, height


def run(arguments: argparse.Namespace) -> int:
    from kilter.compute.pictureplan import Box, Plan
    from kilter.picture.add import name_of, put, take

    folder = _folder(arguments.into)
    crop = Box(*arguments.crop) if arguments.crop else None
    taken = take(arguments.photo, Plan(crop, tuple(Box(*c) for c in arguments.cover)))
    file, new = put(folder, name_of(arguments.name, taken), taken)
    print(
        f"{file}: {'written' if new else 'is there already, the same'}, {taken.width} x {taken.height} pixels"
    )
    print("\nFor a document in the folder above it:\n")
    print(_figure(file, taken))
    if taken.photograph:
        print(f"\n{LOOK}")
    return OK


def _folder(into: Path | None) -> Path:
    if into is None and Path("mkdocs.yml").is_file():
        raise CouldNotRunError(
            "say beside which documents the picture goes, such as --into procedures/lift/pictures"
        )
    folder = into or Path(FOLDER)
    if folder.exists() and not folder.is_dir():
        raise CouldNotRunError(f"{folder}: is a file, not a folder; choose another --into")
    return folder


def _figure(file: Path, taken: Taken) -> str:
    looked = ":looked: [fill in: what you looked for in the picture]\n" if taken.photograph else ""
    return (
        f":::{{figure}} {file.parent.name or FOLDER}/{file.name}\n:id: fig-{file.stem}\n"
        f":alt: [fill in: what the picture shows, in words]\n{looked}:::"
    )
