"""The script, the style sheet, and the whole picture as it is placed on: upright, nothing cut off or covered."""

from __future__ import annotations

import re
from importlib.resources import files

from kilter.live.bench import Bench
from kilter.live.placing.rows import RowsError, picture_of
from kilter.live.web import Request, Response
from kilter.picture.encode import WIDEST, published

TYPES = {"js": "text/javascript; charset=utf-8", "css": "text/css; charset=utf-8"}
PICTURES = {"webp": "image/webp", "jpg": "image/jpeg", "svg": "image/svg+xml"}
NONE = Response(b"there is no such file", "text/plain; charset=utf-8", 404)


def asset(bench: Bench, request: Request) -> Response:
    """`/placing/<file>`."""
    name = request.path.removeprefix("/placing/")
    file = files("kilter.live.placing") / "assets" / name
    if not re.fullmatch(r"[a-z-]+\.(js|css)", name) or not file.is_file():
        return NONE
    return Response(file.read_bytes(), TYPES[name.rpartition(".")[2]])


def picture(bench: Bench, request: Request) -> Response:
    """`/place-picture/<path>?figure=N`: for the author's eye alone, so what will be covered is seen."""
    file = bench.file_of(request.path.removeprefix("/place-picture/"))
    number = request.query.get("figure", "1")
    if file is None or not number.isdecimal():
        return NONE
    with bench.lock:
        library = bench.workspace.library
        document = library.documents.get(bench.workspace.shown(file))
    if document is None:
        return NONE
    try:
        shown = picture_of(document, int(number))
        path = (file.parent / shown.path).resolve()
        if not path.is_relative_to(bench.root):
            return NONE
        made = published(path, WIDEST)
    except (RowsError, OSError, ValueError):
        return NONE
    return Response(made.data, PICTURES[made.name.rpartition(".")[2]])
