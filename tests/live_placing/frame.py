"""A small library with one procedure whose figure is placed on, and the routes asked without a socket."""

from __future__ import annotations

import json
from pathlib import Path

from tests.picture.frame import saved, scene
from tests.publish.site_frame import guide_example, small_library

from kilter.live.bench import Bench
from kilter.live.placing import ROUTES
from kilter.live.routes import find
from kilter.live.web import Request

NAME = "trl-110.md"
FIGURE = """:::{figure} back.png
:id: fig-back
:alt: The back of the trolley with its door.
:1: 100,80 Upper hinge
:2:  300,60   Latch
:::"""


def library(folder: Path, figure: str = FIGURE) -> Path:
    """Returns the file of the procedure; its picture has 400 x 300 pixels. No text uses the numbers."""
    procedures = small_library(folder)
    (procedures / "back.png").write_bytes(saved(scene(400, 300).convert("P"), "PNG"))
    text = guide_example("procedure")
    begin = text.index(":::{figure}")
    end = text.index("\n:::", begin) + 4
    file = procedures / NAME
    file.write_text(text[:begin] + figure + text[end:], encoding="utf-8")
    return file


def bench(folder: Path) -> Bench:
    return Bench(folder, folder / "procedures", folder)


def post(own: Bench, address: str, **body: object):
    handler = find(ROUTES, "POST", address)
    assert handler is not None
    answer = handler(own, Request("POST", address, body=json.dumps(body).encode()))
    return answer.status, json.loads(answer.body)


def get(own: Bench, path: str, **query: str):
    handler = find(ROUTES, "GET", path)
    assert handler is not None
    return handler(own, Request("GET", path, query))


def state(own: Bench, figure: int = 1):
    status, data = post(own, "/place/state", path=NAME, figure=figure)
    assert status == 200, data
    return data
