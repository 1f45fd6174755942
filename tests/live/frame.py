"""A copy of the demo library with a live server over it, and a fresh build to compare with."""

from __future__ import annotations

import logging
import re
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from unittest.mock import patch

from mkdocs.commands.build import build
from mkdocs.config import load_config

from kilter.live.serve import Live
from kilter.live.web import Request
from kilter.publish.cards.family import file_names
from kilter.publish.modules import modules_of
from kilter.publish.prepare import machines, prepare

ROOT = Path(__file__).parents[2]
LIFT, LEAD, PROFILE = "lift/lft-120-not-charged.md", "lift/lft-130-charge-lead.md", "lift/profile.md"


def library(folder: Path, training: bool = False) -> Path:
    """The demo library in a folder of its own; returns `procedures/`. Its module is left out unless asked for: it takes time."""
    left_out = None if training else shutil.ignore_patterns("training")
    shutil.copytree(ROOT / "procedures", folder / "procedures", ignore=left_out)
    shutil.copy(ROOT / "mkdocs.yml", folder)
    return folder / "procedures"


@contextmanager
def opened(folder: Path, running: bool = False, port: int = 0) -> Iterator[Live]:
    """The live pages of a library; `running` with sockets, watcher and threads. Lines go to `live.lines`."""
    lines: list[str] = []
    with patch("kilter.live.routes._writing", dict):  # the pages alone: writing has tests of its own
        live = Live(folder, "127.0.0.1", port, lines.append)
    live.lines = lines
    if running:
        live.start()
    try:
        yield live
    finally:
        if running:
            live.stop()
        else:
            live.server.server_close()


def get(live: Live, path: str, **query: str):
    return live.guard.answer(Request("GET", path, query))


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text, f"{file.name} does not hold {old!r}"
    file.write_text(text.replace(old, new), encoding="utf-8")


def built(folder: Path, out: Path) -> dict[str, str]:
    """Every page of a fresh build of the same files, cards taken as made."""
    logging.getLogger("mkdocs").setLevel(logging.CRITICAL)
    config = load_config(str(folder / "mkdocs.yml"), site_dir=str(out))
    ready = prepare(folder / "procedures")
    names = [name for each in (*ready.views, *machines(ready)) for name in file_names(each)]
    config.plugins["kilter"].use(ready, dict.fromkeys(names, b"card"), modules_of(ready, only_open=True))
    build(config)
    return {p.name: p.read_text(encoding="utf-8") for p in out.glob("*.html")}


def shown(live: Live, address: str) -> str:
    """A live page without what the live server puts in: then it is a page of a build."""
    html = get(live, f"/{address}").body.decode()
    html, found = re.subn(
        r'<link rel="stylesheet" href="/live/live.css">\n|<meta name="kilter-[a-z]*" content="[^"]*">\n'
        r'|<script src="/live/live.js" defer></script>\n|\n<div id="live-bar">.*?</div>',
        "",
        html,
        flags=re.DOTALL,
    )
    assert found == 5, "the page holds style, two meta lines, script and bar"
    return html


def until(true, seconds: float = 20):
    """Wait for something; returns what it came to."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        found = true()
        if found:
            return found
        time.sleep(0.02)
    raise AssertionError(f"not within {seconds} s")
