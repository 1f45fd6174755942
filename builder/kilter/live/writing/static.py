"""The scripts and the style sheet of writing."""

from __future__ import annotations

import re
from importlib.resources import files

from kilter.live.bench import Bench
from kilter.live.web import Request, Response

TYPES = {"js": "text/javascript; charset=utf-8", "css": "text/css; charset=utf-8"}


def asset(bench: Bench, request: Request) -> Response:
    """`/writing/<file>`."""
    name = request.path.removeprefix("/writing/")
    file = files("kilter.live.writing") / "assets" / name
    if not re.fullmatch(r"[a-z-]+\.(js|css)", name) or not file.is_file():
        return Response(b"there is no such file", "text/plain; charset=utf-8", 404)
    return Response(file.read_bytes(), TYPES[name.rpartition(".")[2]])
