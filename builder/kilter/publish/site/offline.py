"""What a phone may keep: `offline.json`, the web app manifest and icons.

The lists are made from the finished files, so that a hash is always that of the bytes that are served.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from PIL import Image, ImageDraw

from kilter.publish.site.recordfiles import machine_files
from kilter.publish.view import DocumentView, equipment_address

OFFLINE, MANIFEST, SHELF = "offline.json", "app.webmanifest", "shelf.html"
ICONS = {"assets/icon-192.png": 192, "assets/icon-512.png": 512}
SCHEMA = "kilter-offline-1"
HASH = 16
"""Hex digits that tell one file from another; the worker compares as many."""

_SHELL = re.compile(
    r"^(assets/(?!vendor/.*LICENSE)(?!stylesheets/(?:modules|lang)/).+|records\.json|(index|by-equipment|by-symptom|by-number|search|shelf|404)\.html"
    r"|app\.webmanifest)$"
)
"""Kept with whatever is kept: lists, search, scripts, letters."""
_REFERENCE = re.compile(r"\b(?:src|href)=\"(pictures/[^\"?#]+)\"|\bsrcset=\"([^\"]+)\"")


def machine_sets(views: Iterable[DocumentView]) -> dict[str, tuple[str, tuple[str, ...]]]:
    """Equipment id to its title and the files that belong to it; which of them there are, the site says."""
    found: dict[str, tuple[str, list[str]]] = {}
    shown = list(views)
    searched = machine_files(shown)
    for view in shown:
        id, title = view.equipment.id, view.equipment.title
        entry = found.setdefault(id, (title, [equipment_address(id), searched[title]]))
        entry[1].append(view.address)
    return {id: (title, tuple(pages)) for id, (title, pages) in sorted(found.items())}


def offline_list(site: Path, sets: Mapping[str, tuple[str, tuple[str, ...]]]) -> bytes:
    """The list of every file that can be kept, by set, with size and hash."""
    paths = sorted(f.relative_to(site).as_posix() for f in site.rglob("*") if f.is_file())
    shell = [p for p in paths if _SHELL.match(p)]
    chosen = {"shell": {"title": "", "paths": shell}}
    for id, (title, pages) in sets.items():
        there = [p for p in pages if (site / p).is_file()]
        pictures = sorted({p for page in there for p in _pictures(site / page) if (site / p).is_file()})
        chosen[id] = {"title": title, "paths": [*there, *pictures]}
    wanted = sorted({p for entry in chosen.values() for p in entry["paths"]})
    data = {p: (site / p).read_bytes() for p in wanted}
    files = {p: hashlib.sha256(d).hexdigest()[:HASH] for p, d in data.items()}
    rev = hashlib.sha256(_json(files)).hexdigest()[:HASH]
    sizes = {p: len(d) for p, d in data.items()}
    return _json({"schema": SCHEMA, "rev": rev, "files": files, "bytes": sizes, "sets": chosen})


def _pictures(page: Path) -> Iterable[str]:
    for one, several in _REFERENCE.findall(page.read_text(encoding="utf-8")):
        yield from [one] if one else (part.split()[0] for part in several.split(",") if part.split())


def app_manifest(name: str, language: str, direction: str) -> bytes:
    """What a browser needs to put the site on the home screen (W3C Web Application Manifest)."""
    icons: list[dict[str, str]] = [{"src": "assets/icon.svg", "sizes": "any", "type": "image/svg+xml"}]
    for path, size in ICONS.items():
        icons.append({"src": path, "sizes": f"{size}x{size}", "type": "image/png", "purpose": "any maskable"})
    return _json(
        {
            "name": name, "short_name": name[:24], "lang": language, "dir": direction, "start_url": SHELF, "scope": ".",
            "display": "standalone", "background_color": "#ffffff", "theme_color": "#17404d", "icons": icons,
        }
    )  # fmt: skip


def icon(size: int) -> bytes:
    """The icon as a square PNG; its drawing stays inside the middle four fifths, so that any mask may cut it."""
    scale = 8
    drawn = Image.new("RGB", (size * scale, size * scale), "#17404d")
    pen, unit = ImageDraw.Draw(drawn), size * scale / 32
    for line in (
        ((7, 22.5), (25, 22.5)),
        ((10, 22.5), (10, 10), (15.5, 10), (15.5, 22.5)),
        ((15.5, 14.5), (22.5, 14.5), (22.5, 22.5)),
    ):
        pen.line(
            [(x * unit, y * unit) for x, y in line], fill="white", width=round(2.2 * unit), joint="curve"
        )
    out = io.BytesIO()
    drawn.resize((size, size), Image.Resampling.LANCZOS).save(out, "PNG", optimize=True)
    return out.getvalue()


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()
