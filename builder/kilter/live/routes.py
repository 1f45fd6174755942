"""Which function answers which address."""

from __future__ import annotations

import importlib
import importlib.util

from kilter.live.bench import Bench
from kilter.live.placing import ROUTES as PLACING
from kilter.live.web import Handler, Request, Response, Routes


def all_routes(own: Routes) -> Routes:
    """The routes of the pages and, where it is there, of writing in the browser; and of placing by eye."""
    return {**own, **_writing(), **PLACING}


def _writing() -> Routes:
    if importlib.util.find_spec("kilter.live.writing") is None:
        return {}
    return dict(getattr(importlib.import_module("kilter.live.writing"), "ROUTES", {}))


def find(routes: Routes, method: str, path: str) -> Handler | None:
    """The route of a path: named outright, else the longest that ends in `/*`."""
    if (method, path) in routes:
        return routes[method, path]
    above, slash, _ = path.rpartition("/")
    while slash:
        if (method, f"{above}/*") in routes:
            return routes[method, f"{above}/*"]
        above, slash, _ = above.rpartition("/")
    return None


def answer(bench: Bench, routes: Routes, request: Request) -> Response | None:
    """What a route says; None where there is no such address."""
    handler = find(routes, request.method, request.path)
    return handler(bench, request) if handler else None
