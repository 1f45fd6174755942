"""A library of one's own with its bench, and routes asked without a socket."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from kilter.live.bench import Bench
from kilter.live.routes import find
from kilter.live.web import Request
from kilter.live.writing import ROUTES

ROOT = Path(__file__).parent.parent.parent


def library(folder: Path) -> Path:
    """A copy of the demo library; returns the folder of its documents."""
    shutil.copytree(ROOT / "procedures", folder / "procedures")
    shutil.copy(ROOT / "mkdocs.yml", folder)
    return folder / "procedures"


def bench(folder: Path) -> Bench:
    return Bench(folder, library(folder), folder)


def get(own: Bench, path: str, **query: str):
    handler = find(ROUTES, "GET", path)
    assert handler is not None, path
    answer = handler(own, Request("GET", path, query))
    return answer.status, answer.body.decode()


def post(own: Bench, path: str, body: object):
    handler = find(ROUTES, "POST", path)
    assert handler is not None, path
    answer = handler(own, Request("POST", path, body=json.dumps(body).encode()))
    assert "json" in answer.type
    return answer.status, json.loads(answer.body)


def findings(own: Bench) -> dict[str, list[str]]:
    """All that the shared library says, by file."""
    with own.lock:
        return {p: [d.message for d in own.workspace.findings(p)] for p in own.workspace.paths()}
