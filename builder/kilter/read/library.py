"""Which files make up a library, and reading them all."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import yaml

from kilter.model.base import fold
from kilter.model.library import Claim, Library, Settings
from kilter.read.document import read_file

FOLDER = "procedures"
FRONT_PAGE = "front.md"
"""The plain page that opens the site; it is not a document."""


def library_root(path: Path) -> Path:
    """The nearest folder `procedures` at or above a path, or one right inside it, else its own folder."""
    path = path.resolve()
    folder = path if path.is_dir() else path.parent
    for above in (folder, *folder.parents):
        if above.name == FOLDER:
            return above
    if path.is_dir() and (path / FOLDER).is_dir():
        return path / FOLDER
    return folder


def document_files(root: Path) -> list[Path]:
    """Every Markdown file of a library in a fixed order; hidden folders and the front page are left out."""
    found: list[Path] = []
    for folder, names, files in os.walk(root):
        names[:] = sorted(n for n in names if not n.startswith("."))
        found += [Path(folder) / f for f in files if f.endswith(".md") and not f.startswith(".")]
    return sorted(f for f in found if f != root / FRONT_PAGE)


def shown_path(file: Path, base: Path | None = None) -> str:
    """How a path is shown: relative to where the user stands if that is above it."""
    base = base or Path.cwd()
    try:
        return file.relative_to(base).as_posix()
    except ValueError:
        return file.as_posix()


def read_library(
    root: Path, always: Iterable[Path] = (), base: Path | None = None, only: Iterable[Path] | None = None
) -> Library:
    """Read the documents of a library; never raises for what is in them.

    In a folder that is not called `procedures`, files without front matter are somebody else's and are
    left out, but for those in `always`. With `only`, the other files are glanced at and wait until a look-up
    asks for them, so that checking one document does not read a thousand.
    """
    library, base = Library(root, settings=read_settings(root)), base or Path.cwd()
    own, wanted = root.name == FOLDER, set(always)
    only = None if only is None else set(only)
    for file in sorted({*document_files(root), *wanted}):
        if own or file in wanted or _has_front(file):
            shown = shown_path(file, base)
            library.files[shown] = file
            claim = None if only is None or file in only else glance(file)
            if claim is not None:
                library.waiting[shown] = claim
            else:
                library.add(read_file(file, shown))
    library.fetch = lambda shown: read_file(library.files[shown], shown)
    return library


_GLANCE = re.compile(rb"^(kind|id|number)[ \t]*:[ \t]*([A-Za-z0-9-]+)[ \t]*\r?$", re.MULTILINE)
_ALL = re.compile(rb"^[\"']?(?:kind|id|number)\b", re.MULTILINE)


def glance(file: Path) -> Claim | None:
    """What a file is, if its front matter says it in the plainest way; None where it has to be read to know."""
    try:
        data = file.read_bytes()
    except OSError:
        return None
    front = data.removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n").partition(b"\n---\n")[0]
    said = {key.decode(): value.decode() for key, value in _GLANCE.findall(front)}
    profile = said.get("kind") == "equipment"
    name = said.get("id" if profile else "number")
    if not front.startswith(b"---\n") or "kind" not in said or name is None or len(_ALL.findall(front)) != 2:
        return None
    return Claim(profile, fold(name), said["kind"] == "training")


def _has_front(file: Path) -> bool:
    try:
        with file.open("rb") as stream:
            return begins_with_front(stream.read(8))
    except OSError:
        return False


def begins_with_front(data: bytes) -> bool:
    """Whether a file's first bytes open a front matter."""
    return data.removeprefix(b"\xef\xbb\xbf").startswith(b"---")


def is_document(file: Path, root: Path) -> bool:
    """Whether a Markdown file at this place belongs to the library's documents."""
    if file.suffix != ".md" or file == root / FRONT_PAGE or not file.is_relative_to(root):
        return False
    return not any(part.startswith(".") for part in file.relative_to(root).parts)


def read_settings(root: Path) -> Settings:
    """What the `mkdocs.yml` beside the library and its table of limits say; defaults where there are none."""
    file, limits = root.parent / "mkdocs.yml", _limits(root)
    try:
        data = yaml.load(file.read_text(encoding="utf-8"), Loader=_Lenient) or {}
    except (OSError, yaml.YAMLError, UnicodeDecodeError):
        return Settings(limits=limits)
    if not isinstance(data, dict):
        return Settings(limits=limits)
    given: dict[str, Any] = {}
    plugins = data.get("plugins")
    for entry in plugins if isinstance(plugins, list) else []:
        if isinstance(entry, dict) and isinstance(entry.get("kilter"), dict):
            given = entry["kilter"]
    words = given.get("hold-words") or ()
    idle, days = given.get("idle-minutes"), given.get("shelf-days")
    return Settings(
        name=str(data.get("site_name") or Settings.name),
        site_url=str(data.get("site_url") or ""),
        contact=str(given.get("contact") or ""),
        idle=idle if isinstance(idle, int) and 1 <= idle <= 24 * 60 else Settings.idle,
        shelf_days=days if isinstance(days, int) and 1 <= days <= 366 else Settings.shelf_days,
        hold_words=tuple(str(w) for w in words) if isinstance(words, list) else (),
        limits=limits,
    )


LIMITS = "limits.toml"
"""The library's own electrical limits; `compute/electrical_limits.toml` shows the form."""


def _limits(root: Path) -> str:
    try:
        return (root / LIMITS).read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""


class _Lenient(yaml.SafeLoader):
    """mkdocs lets its file hold tags of its own; here they are only passed over."""


_Lenient.add_multi_constructor("", lambda loader, suffix, node: None)
